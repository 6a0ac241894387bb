package web_test

import (
	"bytes"
	"log/slog"
	"net/http"
	"net/http/httptest"
	"net/url"
	"regexp"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"kinwain/web"
	"kinwain/web/webtest"
)

// tokens of forms differ at every look, so that each is sent once.
var tokens = regexp.MustCompile(`name="once" value="\w+"`)

// TestWarmPages opens the pages of every sample customer twice, and by an app
// that has just started on the same store: all are the same, byte for byte.
func TestWarmPages(t *testing.T) {
	t.Parallel()
	s := webtest.Open(t)
	in := s.Staff()
	root, err := url.Parse(s.Server.URL)
	if err != nil {
		t.Fatal(err)
	}
	open := func(app http.Handler, path string) []byte {
		t.Helper()
		r := httptest.NewRequest(http.MethodGet, path, nil)
		if path == "/matches" {
			r = httptest.NewRequest(http.MethodPost, path, bytes.NewReader([]byte(webtest.Family)))
			r.Header.Set("Content-Type", "application/json")
		}
		for _, c := range in.Client.Jar.Cookies(root) {
			r.AddCookie(c)
		}
		w := httptest.NewRecorder()
		app.ServeHTTP(w, r)
		if w.Code != http.StatusOK && w.Code != http.StatusUnprocessableEntity { // of a frame that does not fit
			t.Fatalf("%s: %d", path, w.Code)
		}
		return tokens.ReplaceAll(w.Body.Bytes(), []byte(`name="once"`))
	}
	for name, document := range webtest.Customers(t) {
		at := in.Interview(document)
		paths := []string{"/matches", at, at + "/frames", at + "/compare?frame=sedge&frame=osier-m"}
		if best := webtest.ToldByRanking(in.Get(at + "/frames"))[0]; best.Verdict != "does_not_fit" {
			paths = append(paths, in.SendHome(at, best.Frame, nil))
		}
		for _, frame := range []string{"sedge", "osier-m", "teasel", "yarrow-assist"} {
			for _, page := range []string{"", "/by-hand", "/quote", "/ride"} {
				paths = append(paths, at+"/frames/"+frame+page)
			}
		}
		fresh := web.New(web.Options{Store: s.Store, Now: s.Clock, Log: slog.New(slog.NewTextHandler(webtest.Complaints{T: t}, &slog.HandlerOptions{Level: slog.LevelError})), PublicURL: webtest.Public})
		for _, path := range paths {
			if strings.HasSuffix(path, "/frames") {
				in.Get(path) // whatever was to be said once
			}
			cold, warm, fresh := open(s.App, path), open(s.App, path), open(fresh, path)
			if !bytes.Equal(cold, warm) || !bytes.Equal(warm, fresh) {
				t.Errorf("%s: %s is another page the second time, or after a new start: %s%s", name, path,
					cmp.Diff(strings.Split(string(cold), ">"), strings.Split(string(warm), ">")), cmp.Diff(strings.Split(string(warm), ">"), strings.Split(string(fresh), ">")))
			}
		}
	}
}
