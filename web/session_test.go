package web_test

import (
	"log/slog"
	"net/http"
	"net/http/httptest"
	"net/url"
	"slices"
	"strings"
	"testing"
	"testing/synctest"
	"time"

	"github.com/go-chi/chi/v5"

	"kinwain/internal/store"
	"kinwain/web"
)

func TestSignInLink(t *testing.T) {
	s := open(t)
	s.staff().get("/").is(http.StatusOK, "/").one(".start")
	for name, path := range map[string]string{
		"garbage": "/sign-in/nonsense", "another token": "/sign-in/B0123456789ABCDEFGHIJKLMNO", "a longer one": "/sign-in/" + token + "A",
		"in small letters": "/sign-in/" + strings.ToLower(token), "a hostile one": "/sign-in/%00%ff'%20or%201=1",
	} {
		v := s.stranger()
		if a := v.get(path); a.status != http.StatusNotFound || a.text("h1") != "This link does not sign in" {
			t.Errorf("%s: %d %s", name, a.status, a.text("h1"))
		}
		v.get("/").is(http.StatusForbidden, "/")
	}
}

func TestSignInLinkLastsUntilItsTime(t *testing.T) {
	s := open(t)
	s.passes(24*time.Hour - time.Second)
	s.staff()
	s.passes(time.Second)
	s.stranger().get("/sign-in/"+token).is(http.StatusNotFound, "/sign-in/"+token)
}

func TestNewerSignInLinkReplacesTheOlder(t *testing.T) {
	s := open(t)
	in := s.staff()
	const newer = "Z0123456789ABCDEFGHIJKLMNO"
	if err := s.store.ReplaceSignInLink(t.Context(), newer, morning.Add(time.Hour)); err != nil {
		t.Fatal(err)
	}
	s.stranger().get("/sign-in/"+token).is(http.StatusNotFound, "/sign-in/"+token)
	s.stranger().get("/sign-in/"+newer).is(http.StatusOK, "/")
	in.get("/").is(http.StatusOK, "/") // who is in stays in
}

func TestSignOut(t *testing.T) {
	s := open(t)
	v, other := s.staff(), s.staff()
	v.post("/sign-out", nil).is(http.StatusOK, "/sign-in")
	v.get("/").is(http.StatusForbidden, "/")
	other.get("/").is(http.StatusOK, "/")
}

// TestSessionEnds lets days pass within one test: a session lasts a day
// without a request and a week with any number of them.
func TestSessionEnds(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		s, err := store.Open(t.Context(), t.TempDir())
		if err == nil {
			err = s.ReplaceSignInLink(t.Context(), token, time.Now().Add(24*time.Hour))
		}
		if err != nil {
			t.Fatal(err)
		}
		app := web.New(web.Options{Store: s, Now: time.Now, Log: slog.New(slog.NewTextHandler(complaints{t}, nil))})
		idle, busy := cookieFor(t, app), cookieFor(t, app)
		for range 6 {
			time.Sleep(24*time.Hour - time.Second)
			if status := startFor(app, busy); status != http.StatusOK {
				t.Errorf("%d for somebody at work", status)
			}
		}
		if status := startFor(app, idle); status != http.StatusForbidden {
			t.Errorf("%d for somebody who was away for days", status)
		}
		time.Sleep(24 * time.Hour)
		if status := startFor(app, busy); status != http.StatusForbidden {
			t.Errorf("%d after a week", status)
		}
		if err := s.Close(); err != nil {
			t.Error(err)
		}
	})
}

func cookieFor(t *testing.T, app http.Handler) *http.Cookie {
	t.Helper()
	w := httptest.NewRecorder()
	app.ServeHTTP(w, httptest.NewRequest(http.MethodGet, "/sign-in/"+token, nil))
	cookie, err := http.ParseSetCookie(w.Header().Get("Set-Cookie"))
	if err != nil {
		t.Fatal(err)
	}
	return cookie
}

func startFor(app http.Handler, cookie *http.Cookie) int {
	r := httptest.NewRequest(http.MethodGet, "/", nil)
	r.AddCookie(cookie)
	w := httptest.NewRecorder()
	app.ServeHTTP(w, r)
	return w.Code
}

func TestSessionCookie(t *testing.T) {
	s := open(t)
	v := s.stranger()
	v.client.CheckRedirect = func(*http.Request, []*http.Request) error { return http.ErrUseLastResponse }
	r := v.request(http.MethodGet, "/sign-in/"+token, nil)
	r.AddCookie(&http.Cookie{Name: "kinwain", Value: "planted"})
	a := v.send(r)
	cookie, err := http.ParseSetCookie(a.header.Get("Set-Cookie"))
	if err != nil {
		t.Fatal(err)
	}
	if !cookie.HttpOnly || cookie.SameSite != http.SameSiteLaxMode || cookie.Path != "/" || cookie.Domain != "" || len(cookie.Value) < 32 || cookie.Secure {
		t.Errorf("%+v", cookie)
	}
	overTLS := web.New(web.Options{Store: s.store, Now: s.clock, Log: slog.New(slog.NewTextHandler(complaints{t}, nil)), Secure: true})
	if cookie := cookieFor(t, overTLS); !cookie.Secure || !cookie.HttpOnly {
		t.Errorf("over TLS: %+v", cookie)
	}
}

// route is one way into the app.
type route struct{ method, path string }

// routes lists every way into the app, with the parameters of a consultation
// and a frame that exist.
func (s *shop) routes() []route {
	c, err := s.store.CreateConsultation(s.Context(), "", []byte(`{"values":{},"unknown":[]}`), morning)
	if err != nil {
		s.Fatal(err)
	}
	var list []route
	fill := strings.NewReplacer("{id}", c.ID, "{code}", "sedge", "{token}", token, "*", "app.css")
	err = chi.Walk(s.app.(chi.Routes), func(method, pattern string, _ http.Handler, _ ...func(http.Handler) http.Handler) error {
		path := fill.Replace(pattern)
		if len(path) > 1 {
			path = strings.TrimSuffix(path, "/")
		}
		list = append(list, route{method, path})
		return nil
	})
	if err != nil || len(list) < 11 {
		s.Fatalf("%d ways in, %v", len(list), err)
	}
	return list
}

// forAnyone are the ways in that need no session.
var forAnyone = []string{"/static/app.css", "/sign-in", "/sign-in/" + token, "/sign-in/new/" + token, "/sign-out"}

func TestNothingForStrangers(t *testing.T) {
	s := open(t)
	for _, way := range s.routes() {
		if slices.Contains(forAnyone, way.path) || strings.HasPrefix(way.path, "/fit") { // those with a link of their own
			continue
		}
		v := s.stranger()
		a := v.send(v.request(way.method, way.path, strings.NewReader("do=save")))
		if way.path == "/matches" {
			if w := a.is(http.StatusUnauthorized, way.path).wrong(); w.Error.Code != "token" {
				t.Errorf("%s %s: %s", way.method, way.path, a.body)
			}
			continue
		}
		if a.status != http.StatusForbidden || a.header.Get("Location") != "" {
			t.Errorf("%s %s: %d", way.method, way.path, a.status)
		}
		if a.text("main h1") != "Please sign in" || !strings.HasPrefix(a.one("main a.button").AttrOr("href", ""), "/sign-in") {
			t.Errorf("%s %s says %q", way.method, way.path, a.text("main"))
		}
		for _, selector := range []string{"form", "input", "nav", "[data-frame]"} {
			a.count(selector, 0)
		}
		a.count(`link[rel="stylesheet"]`, 1)
	}
	if list, err := s.store.RecentConsultations(t.Context(), 10); err != nil || len(list) != 1 {
		t.Errorf("%d consultations, %v", len(list), err)
	}
}

// TestOtherSitesAreRefused sends what a page of another site can make a
// browser send, with the cookie of somebody signed in.
func TestOtherSitesAreRefused(t *testing.T) {
	s := open(t)
	v := s.staff()
	posts := 0
	for _, way := range s.routes() {
		if way.method != http.MethodPost {
			continue
		}
		posts++
		for name, value := range map[string]string{"Sec-Fetch-Site": "cross-site", "Origin": "https://elsewhere.example"} {
			r := v.request(way.method, way.path, strings.NewReader("units=imperial&do=add+riders"))
			r.Header.Set("Content-Type", "application/x-www-form-urlencoded")
			r.Header.Set(name, value)
			if a := v.send(r); a.status != http.StatusForbidden || way.path != "/matches" && a.text("h1") != "Not from here" {
				t.Errorf("%s %s with %s: %s: %d %s", way.method, way.path, name, value, a.status, a.text("h1"))
			}
		}
	}
	if posts < 5 {
		t.Errorf("%d ways to post", posts)
	}
	v.get("/").is(http.StatusOK, "/").count(".resume li", 1) // still in, and nothing was made
	list, err := s.store.RecentConsultations(t.Context(), 10)
	if err != nil || len(list) != 1 || list[0].Version != 1 {
		t.Errorf("%+v, %v", list, err)
	}
	own := v.request(http.MethodPost, "/consultations", nil)
	own.Header.Set("Sec-Fetch-Site", "same-origin")
	own.Header.Set("Origin", v.server.URL)
	if a := v.send(own); a.status != http.StatusOK {
		t.Errorf("our own page is refused: %d", a.status)
	}
}

func TestAddressesThatLeadNowhere(t *testing.T) {
	s := open(t)
	v := s.staff()
	address, f := v.consultation()
	f.set("riders[0].height_cm", "178")
	f.set("riders[0].weight_kg", "82")
	v.press(f, address, "save").is(http.StatusOK, address)
	unknown := "/consultations/" + strings.Repeat("a", 26)
	for _, path := range []string{
		"/nowhere", unknown, unknown + "/frames", unknown + "/frames/sedge", unknown + "/frames/sedge/by-hand", address + "/frames/no-such-frame", address + "/nothing",
		address + "/frames/no-such-frame/by-hand", address + "/frames/SEDGE", "/consultations/%00", "/consultations/..%2f..",
		"/quotes/" + strings.Repeat("a", 26), "/quotes/x.csv", "/quotes/", "/rides/x", "/rides/x.ics", unknown + "/frames/sedge/quote", unknown + "/frames/sedge/ride",
		address + "/frames/no-such-frame/quote", address + "/frames/no-such-frame/ride",
		address + "/frames/no-such-frame/by-hand", address + "/frames/SEDGE", "/consultations/%00", "/consultations/..%2f..", address + "/frames/no-such-frame/send", unknown + "/frames/sedge/send",
	} {
		if a := v.get(path); a.status != http.StatusNotFound || a.text("main h1") != "Nothing here" || a.one("main a.button").AttrOr("href", "") != "/" {
			t.Errorf("%s: %d %q", path, a.status, a.text("main"))
		}
	}
	for _, path := range []string{unknown, unknown + "/live"} {
		if a := v.post(path, url.Values{"units": {"metric"}, "do": {"save"}}); a.status != http.StatusNotFound {
			t.Errorf("posting to %s: %d", path, a.status)
		}
	}
	for _, path := range []string{"/static/", "/static/nothing.css", "/static/static.go", "/static/../web/server.go"} {
		if a := v.get(path); a.status != http.StatusNotFound || strings.Contains(string(a.body), "app.css") {
			t.Errorf("%s: %d %s", path, a.status, a.body)
		}
	}
}

func TestWrongMethods(t *testing.T) {
	s := open(t)
	v := s.staff()
	address, _ := v.consultation()
	for path, allow := range map[string][]string{
		"/": {"GET"}, "/consultations": {"POST"}, address: {"GET", "POST"}, address + "/live": {"POST"}, address + "/frames": {"GET"}, "/matches": {"POST"},
	} {
		for _, method := range []string{http.MethodGet, http.MethodPost, http.MethodPut, http.MethodDelete} {
			if slices.Contains(allow, method) {
				continue
			}
			a := v.send(v.request(method, path, nil))
			if got := a.header.Values("Allow"); a.status != http.StatusMethodNotAllowed || !slices.Equal(got, allow) {
				t.Errorf("%s %s: %d, allowed are %v", method, path, a.status, got)
			}
		}
	}
	if a := v.send(v.request(http.MethodHead, "/", nil)); a.status != http.StatusOK || len(a.body) > 0 {
		t.Errorf("only the head: %d, %d bytes", a.status, len(a.body))
	}
}
