package web_test

import (
	"bytes"
	"context"
	"fmt"
	"io"
	"log/slog"
	"mime/multipart"
	"net/http"
	"net/http/httptest"
	"net/url"
	"strings"
	"testing"
	"testing/synctest"
	"time"

	"kinwain/internal/store"
	"kinwain/web"
	"kinwain/web/kit"
	"kinwain/web/webtest"
)

// TestTooOften asks from one address until it is refused, from another of the
// same connection and from elsewhere, and again after the minute.
func TestTooOften(t *testing.T) {
	t.Parallel()
	for path, most := range map[string]int{"/sign-in": 60, "/sign-in/new/x": 60, "/settings/tokens": 20, "/settings/tokens/1": 20, "/inventory/import": 20, "/inventory/import/x": 20, "/matches": 120, "/fit/x/weigh": 120} {
		s := webtest.Open(t)
		synctest.Test(t, func(t *testing.T) {
			app := web.New(web.Options{Store: s.Store, Now: s.Clock, Log: quiet(t)})
			ask := func(method, from string) *httptest.ResponseRecorder {
				return secrets{}.sent(app, method, path, url.Values{"do": {"nothing"}}, func(r *http.Request) { r.RemoteAddr = from })
			}
			for i := range most {
				if w := ask(http.MethodPost, fmt.Sprintf("[2001:db8::%x]:7", i)); tooOften(w) {
					t.Fatalf("%s: the request %d is too many", path, i+1)
				}
			}
			w := ask(http.MethodPost, "[2001:db8::ffff]:7")
			if !tooOften(w) || w.Header().Get("Retry-After") != "60" {
				t.Errorf("%s: %d %s", path, w.Code, w.Body)
			}
			for name, w := range map[string]*httptest.ResponseRecorder{"a neighbour": ask(http.MethodPost, "[2001:db8:0:1::1]:7"), "only looking": ask(http.MethodGet, "[2001:db8::1]:7")} {
				if tooOften(w) {
					t.Errorf("%s: %s is refused", path, name)
				}
			}
			time.Sleep(2 * time.Minute)
			if w := ask(http.MethodPost, "[2001:db8::1]:7"); tooOften(w) {
				t.Errorf("%s: still refused", path)
			}
		})
	}
}

// tooOften tells the refusal of what is asked for too often from that of a guess
// that comes too early.
func tooOften(w *httptest.ResponseRecorder) bool {
	return w.Code == http.StatusTooManyRequests && strings.Contains(w.Body.String(), "more often than anybody")
}

// TestFieldsAreBounded sends one field to every way that takes a form, as long
// as it may be and one character longer.
func TestFieldsAreBounded(t *testing.T) {
	t.Parallel()
	s := webtest.Open(t)
	v := s.Staff()
	ways := 0
	for _, way := range routes(s) {
		if way.method != http.MethodPost || way.path == "/matches" || way.path == "/sign-out" {
			continue
		}
		ways++
		for _, c := range []struct {
			field, value string
			long         bool
		}{
			{"name", strings.Repeat("é", 4000), false}, {"name", strings.Repeat("é", 4001), true}, {strings.Repeat("n", 201), "", true},
			{"base", strings.Repeat("x", 64<<10), false}, {"base", strings.Repeat("x", 64<<10+1), true},
		} {
			if strings.HasPrefix(way.path, "/sign-in") && !c.long {
				continue // that would cost tries
			}
			a := v.Post(way.path, url.Values{c.field: {c.value}})
			if (a.Text("main h1") == "Far too long") != c.long || c.long && a.Status != http.StatusRequestEntityTooLarge {
				t.Errorf("%s: %d characters in %.10s: %d %s", way.path, len([]rune(c.value)), c.field, a.Status, a.Text("main h1"))
			}
		}
	}
	if ways < 20 {
		t.Errorf("only %d ways take a form", ways)
	}
	var body bytes.Buffer
	form := multipart.NewWriter(&body)
	if err := form.WriteField("alt", strings.Repeat("x", 4001)); err != nil {
		t.Fatal(err)
	}
	if err := form.Close(); err != nil {
		t.Fatal(err)
	}
	r := v.Request(http.MethodPost, "/inventory/frames/sedge/photo", &body)
	r.Header.Set("Content-Type", form.FormDataContentType())
	if a := v.Send(r); a.Text("main h1") != "Far too long" {
		t.Errorf("with files: %d %s", a.Status, a.Text("main h1"))
	}
}

// TestDeadline lets the time of a request run out within a page: it is
// answered, and logged.
func TestDeadline(t *testing.T) {
	t.Parallel()
	synctest.Test(t, func(t *testing.T) {
		handler := kit.Deadline(30 * time.Second)(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
			<-r.Context().Done()
			if kit.Gone(r) {
				return
			}
			r, err := kit.InTime(r, context.DeadlineExceeded)
			if r.Context().Err() != nil {
				t.Error("there is no time for an answer")
			}
			w.WriteHeader(kit.FailureOf(err).Status)
		}))
		began := time.Now()
		w := httptest.NewRecorder()
		handler.ServeHTTP(w, httptest.NewRequest(http.MethodGet, "/", nil))
		if w.Code != http.StatusServiceUnavailable || time.Since(began) != 30*time.Second {
			t.Errorf("%d after %v", w.Code, time.Since(began))
		}
		ctx, leave := context.WithCancel(t.Context())
		leave()
		gone := httptest.NewRecorder()
		handler.ServeHTTP(gone, httptest.NewRequest(http.MethodGet, "/", nil).WithContext(ctx))
		if gone.Code != http.StatusOK || gone.Body.Len() > 0 {
			t.Errorf("somebody who has left is told %d", gone.Code)
		}
	})
}

// sleeper is a body that comes only after a while.
type sleeper time.Duration

func (s sleeper) Read([]byte) (int, error) {
	time.Sleep(time.Duration(s))
	return 0, io.EOF
}

// TestEveryPageHasADeadline sends what takes longer to arrive than a request may
// take: it is answered that it took too long, and does nothing any more.
func TestEveryPageHasADeadline(t *testing.T) {
	t.Parallel()
	synctest.Test(t, func(t *testing.T) {
		s, err := store.Open(t.Context(), t.TempDir())
		if err != nil {
			t.Fatal(err)
		}
		var log bytes.Buffer
		app := web.New(web.Options{Store: s, Now: time.Now, Log: slog.New(slog.NewTextHandler(&log, nil))})
		cookie := cookieFor(t, s, app)
		if err := s.ReplaceSignInLink(t.Context(), webtest.Token, time.Now().Add(time.Hour)); err != nil {
			t.Fatal(err)
		}
		for _, path := range []string{linkPath, "/consultations", "/settings/staff/link/1"} {
			r := httptest.NewRequest(http.MethodPost, path, sleeper(31*time.Second))
			r.Header.Set("Content-Type", "application/x-www-form-urlencoded")
			r.AddCookie(cookie)
			w := httptest.NewRecorder()
			app.ServeHTTP(w, r)
			if w.Code != http.StatusServiceUnavailable || !strings.Contains(w.Body.String(), "That took too long") || w.Header().Get("Retry-After") == "" {
				t.Errorf("%s: %d %s", path, w.Code, w.Body)
			}
		}
		if list, err := s.RecentConsultations(t.Context(), 10); err != nil || len(list) != 0 {
			t.Errorf("%d consultations, %v", len(list), err)
		}
		if valid, err := s.SignInLinkValid(t.Context(), webtest.Token, time.Now()); err != nil || !valid {
			t.Errorf("the link is used: %v, %v", valid, err)
		}
		if strings.Count(log.String(), "request failed") != 3 {
			t.Errorf("logged: %s", &log)
		}
		if err := s.Close(); err != nil {
			t.Error(err)
		}
	})
}
