package web_test

import (
	"bytes"
	"log/slog"
	"net/http"
	"net/http/httptest"
	"strings"
	"testing"
	"time"

	"github.com/PuerkitoBio/goquery"

	"kinwain/web"
	"kinwain/web/webtest"
)

// TestWhatBreaksIsLoggedAndNotTold makes the app fail in the middle of a page.
// The visitor gets a whole page that tells nothing of the inside; the log
// tells it all.
func TestWhatBreaksIsLoggedAndNotTold(t *testing.T) {
	t.Parallel()
	s := webtest.Open(t)
	saved, err := s.Store.CreateConsultation(t.Context(), "", "", []byte(`{"values":{},"unknown":[]}`), webtest.Morning)
	if err != nil {
		t.Fatal(err)
	}
	broken := false
	var log bytes.Buffer
	app := web.New(web.Options{Store: s.Store, Log: slog.New(slog.NewTextHandler(&log, nil)), Now: func() time.Time {
		if broken {
			panic("the clock has stopped")
		}
		return webtest.Morning
	}})
	cookie := cookieFor(t, s.Store, app)
	broken = true
	for accept, wantTitle := range map[string]string{"text/html": "Something broke on our side", "application/json": ""} {
		r := httptest.NewRequest(http.MethodGet, "/consultations/"+saved.ID, nil)
		r.AddCookie(cookie)
		r.Header.Set("Accept", accept)
		w := httptest.NewRecorder()
		app.ServeHTTP(w, r)
		body := w.Body.String()
		page, err := goquery.NewDocumentFromReader(strings.NewReader(body))
		if err != nil {
			t.Fatal(err)
		}
		if w.Code != http.StatusInternalServerError || webtest.Words(page.Find("main h1")) != wantTitle || strings.Contains(body, "clock") || strings.Contains(body, ".go:") {
			t.Errorf("%d: %s", w.Code, body)
		}
		if !strings.HasPrefix(w.Header().Get("Content-Type"), accept) {
			t.Errorf("%s is answered with %s", accept, w.Header().Get("Content-Type"))
		}
		if logged := log.String(); !strings.Contains(logged, "the clock has stopped") || !strings.Contains(logged, "front.go") {
			t.Errorf("logged: %s", logged)
		}
		log.Reset()
	}
	broken = false
	if status := startFor(app, cookie); status != http.StatusOK {
		t.Errorf("and then %d", status)
	}
}
