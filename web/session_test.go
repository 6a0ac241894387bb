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

	"kinwain/internal/staff"
	"kinwain/internal/store"
	"kinwain/web"
	"kinwain/web/webtest"
)

// quiet is a log in which a failure fails the test.
func quiet(t *testing.T) *slog.Logger {
	return slog.New(slog.NewTextHandler(webtest.Complaints{T: t}, &slog.HandlerOptions{Level: slog.LevelError}))
}

const linkPath = "/sign-in/" + webtest.Token

// TestSignInLink opens the link as often as somebody likes; its button works
// once.
func TestSignInLink(t *testing.T) {
	t.Parallel()
	s := webtest.Open(t)
	s.PrintLink()
	for range 3 { // a preview, and whoever looks at it again
		v := s.Stranger()
		if a := v.Get(linkPath).Is(http.StatusOK, linkPath); a.Text("main h1") != "Sign in as the manager" || a.One("main form").AttrOr("action", "") != linkPath {
			t.Error(a.Text("main"))
		}
		v.Get("/").Is(http.StatusOK, "/sign-in")
	}
	s.Stranger().Post(linkPath, nil).Is(http.StatusOK, "/").One(".start")
	for _, again := range []*webtest.Answer{s.Stranger().Get(linkPath), s.Stranger().Post(linkPath, nil)} {
		if again.Status != http.StatusNotFound || again.Text("h1") != "This link does not sign in" {
			t.Errorf("again: %d %s", again.Status, again.Text("h1"))
		}
	}
	s.PrintLink()
	for name, path := range map[string]string{
		"garbage": "/sign-in/nonsense", "another token": "/sign-in/B0123456789ABCDEFGHIJKLMNO", "a longer one": linkPath + "A",
		"in small letters": strings.ToLower(linkPath), "a hostile one": "/sign-in/%00%ff'%20or%201=1",
	} {
		v := s.Stranger()
		for _, a := range []*webtest.Answer{v.Get(path), v.Post(path, nil)} {
			if a.Status != http.StatusNotFound || a.Text("h1") != "This link does not sign in" {
				t.Errorf("%s: %d %s", name, a.Status, a.Text("h1"))
			}
		}
		v.Get("/").Is(http.StatusOK, "/sign-in")
	}
}

func TestSignInLinkLastsUntilItsTime(t *testing.T) {
	t.Parallel()
	s := webtest.Open(t)
	s.PrintLink()
	s.Passes(24*time.Hour - time.Second)
	s.Stranger().Get(linkPath).Is(http.StatusOK, linkPath)
	s.Passes(time.Second)
	s.Stranger().Get(linkPath).Is(http.StatusNotFound, linkPath)
	s.Stranger().Post(linkPath, nil).Is(http.StatusNotFound, linkPath)
}

func TestNewerSignInLinkReplacesTheOlder(t *testing.T) {
	t.Parallel()
	s := webtest.Open(t)
	in := s.Staff()
	s.PrintLink()
	const newer = "Z0123456789ABCDEFGHIJKLMNO"
	if err := s.Store.ReplaceSignInLink(t.Context(), newer, webtest.Morning.Add(time.Hour)); err != nil {
		t.Fatal(err)
	}
	s.Stranger().Post(linkPath, nil).Is(http.StatusNotFound, linkPath)
	s.Stranger().Post("/sign-in/"+newer, nil).Is(http.StatusOK, "/")
	in.Get("/").Is(http.StatusOK, "/") // who is in stays in
}

func TestSignOut(t *testing.T) {
	t.Parallel()
	s := webtest.Open(t)
	v, other := s.Staff(), s.Staff()
	v.Post("/sign-out", nil).Is(http.StatusOK, "/sign-in")
	v.Get("/").Is(http.StatusOK, "/sign-in")
	other.Get("/").Is(http.StatusOK, "/")
}

// TestSessionEnds lets days pass within one test: a session lasts a day
// without a request and a week with any number of them; one by the printed link
// ends within the day whatever it does.
func TestSessionEnds(t *testing.T) {
	t.Parallel()
	synctest.Test(t, func(t *testing.T) {
		s, err := store.Open(t.Context(), t.TempDir())
		if err != nil {
			t.Fatal(err)
		}
		if _, err := s.AddManager(t.Context(), "Ansa", staff.Hash(webtest.Passphrase), time.Now()); err != nil {
			t.Fatal(err)
		}
		app := web.New(web.Options{Store: s, Now: time.Now, Log: quiet(t)})
		in := func() *http.Cookie {
			return cookieOf(t, app, "/sign-in", url.Values{"do": {"passphrase"}, "name": {"Ansa"}, "passphrase": {webtest.Passphrase}})
		}
		idle, busy, byLink := in(), in(), cookieFor(t, s, app)
		time.Sleep(12*time.Hour - time.Second)
		if status := startFor(app, byLink); status != http.StatusOK {
			t.Errorf("%d for somebody in by the link", status)
		}
		time.Sleep(time.Second)
		if status := startFor(app, byLink); status != http.StatusSeeOther {
			t.Errorf("%d for somebody in by the link after 12 hours", status)
		}
		time.Sleep(12*time.Hour - time.Second)
		for range 6 {
			if status := startFor(app, busy); status != http.StatusOK {
				t.Errorf("%d for somebody at work", status)
			}
			time.Sleep(24*time.Hour - time.Second)
		}
		if status := startFor(app, idle); status != http.StatusSeeOther {
			t.Errorf("%d for somebody who was away for days", status)
		}
		time.Sleep(24 * time.Hour)
		if status := startFor(app, busy); status != http.StatusSeeOther {
			t.Errorf("%d after a week", status)
		}
		if err := s.Close(); err != nil {
			t.Error(err)
		}
	})
}

// cookieFor returns the session of somebody who signs in by the printed link.
func cookieFor(t *testing.T, s *store.Store, app http.Handler) *http.Cookie {
	t.Helper()
	if err := s.ReplaceSignInLink(t.Context(), webtest.Token, time.Now().Add(24*time.Hour)); err != nil {
		t.Fatal(err)
	}
	return cookieOf(t, app, linkPath, nil)
}

// cookieOf returns the session that a form begins.
func cookieOf(t *testing.T, app http.Handler, path string, form url.Values) *http.Cookie {
	t.Helper()
	w := httptest.NewRecorder()
	r := httptest.NewRequest(http.MethodPost, path, strings.NewReader(form.Encode()))
	r.Header.Set("Content-Type", "application/x-www-form-urlencoded")
	app.ServeHTTP(w, r)
	return sessionIn(t, w.Header())
}

// sessionIn returns the session that an answer sets.
func sessionIn(t *testing.T, h http.Header) *http.Cookie {
	t.Helper()
	for _, line := range h.Values("Set-Cookie") {
		if cookie, err := http.ParseSetCookie(line); err == nil && cookie.Name == "kinwain" {
			return cookie
		}
	}
	t.Fatalf("no session begins: %v", h)
	return nil
}

func startFor(app http.Handler, cookie *http.Cookie) int {
	r := httptest.NewRequest(http.MethodGet, "/", nil)
	r.AddCookie(cookie)
	w := httptest.NewRecorder()
	app.ServeHTTP(w, r)
	return w.Code
}

func TestSessionCookie(t *testing.T) {
	t.Parallel()
	s := webtest.Open(t)
	v := s.Stranger()
	v.Client.CheckRedirect = func(*http.Request, []*http.Request) error { return http.ErrUseLastResponse }
	s.PrintLink()
	r := v.Request(http.MethodPost, linkPath, nil)
	r.AddCookie(&http.Cookie{Name: "kinwain", Value: "planted"})
	cookie := sessionIn(t, v.Send(r).Header)
	if !cookie.HttpOnly || cookie.SameSite != http.SameSiteLaxMode || cookie.Path != "/" || cookie.Domain != "" || len(cookie.Value) < 32 || cookie.Secure {
		t.Errorf("%+v", cookie)
	}
	overTLS := web.New(web.Options{Store: s.Store, Now: s.Clock, Log: quiet(t), Secure: true})
	if cookie := cookieFor(t, s.Store, overTLS); !cookie.Secure || !cookie.HttpOnly {
		t.Errorf("over TLS: %+v", cookie)
	}
}

// route is one way into the app.
type route struct{ method, path string }

// routes lists every way into the app, with the parameters of a consultation
// and a frame that exist.
func routes(s *webtest.Shop) []route {
	c, err := s.Store.CreateConsultation(s.Context(), "", "", []byte(`{"values":{},"unknown":[]}`), webtest.Morning)
	if err != nil {
		s.Fatal(err)
	}
	var list []route
	fill := strings.NewReplacer("{id}", c.ID, "{code}", "sedge", "{token}", webtest.Token, "*", "app.css")
	err = chi.Walk(s.App.(chi.Routes), func(method, pattern string, _ http.Handler, _ ...func(http.Handler) http.Handler) error {
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
var forAnyone = []string{"/static/app.css", "/manifest.webmanifest", "/offline", "/worker.js", "/openapi.json", "/sign-in", "/sign-in/" + webtest.Token, "/sign-in/new/" + webtest.Token, "/sign-in/device/" + webtest.Token, "/sign-out"}

func TestNothingForStrangers(t *testing.T) {
	t.Parallel()
	s := webtest.Open(t)
	for _, way := range routes(s) {
		if slices.Contains(forAnyone, way.path) || strings.HasPrefix(way.path, "/fit") { // those with a link of their own
			continue
		}
		v := s.Stranger()
		a := v.Send(v.Request(way.method, way.path, strings.NewReader("do=save")))
		if way.method == http.MethodGet && way.path == "/" { // the door leads to where one signs in
			a.Is(http.StatusOK, "/sign-in").Count("nav, [data-frame], .resume", 0)
			continue
		}
		if way.path == "/matches" {
			if w := a.Is(http.StatusUnauthorized, way.path).Wrong(); w.Error.Code != "token" {
				t.Errorf("%s %s: %s", way.method, way.path, a.Body)
			}
			continue
		}
		if way.path == "/" { // whoever opens the app
			a.Is(http.StatusOK, "/sign-in").Count("nav, [data-frame]", 0)
			continue
		}
		if a.Status != http.StatusForbidden || a.Header.Get("Location") != "" {
			t.Errorf("%s %s: %d", way.method, way.path, a.Status)
		}
		if a.Text("main h1") != "Please sign in" || !strings.HasPrefix(a.One("main a.button").AttrOr("href", ""), "/sign-in") {
			t.Errorf("%s %s says %q", way.method, way.path, a.Text("main"))
		}
		// what was sent is all that may be sent again
		for _, selector := range []string{"input:not([type=hidden][name=do][value=save])", "select", "textarea", "nav", "[data-frame]"} {
			a.Count(selector, 0)
		}
		a.Count(`link[rel="stylesheet"]`, 1)
	}
	if list, err := s.Store.RecentConsultations(t.Context(), 10); err != nil || len(list) != 1 {
		t.Errorf("%d consultations, %v", len(list), err)
	}
}

// TestOtherSitesAreRefused sends what a page of another site can make a
// browser send, with the cookie of somebody signed in.
func TestOtherSitesAreRefused(t *testing.T) {
	t.Parallel()
	s := webtest.Open(t)
	v := s.Staff()
	posts := 0
	for _, way := range routes(s) {
		if way.method != http.MethodPost {
			continue
		}
		posts++
		for name, value := range map[string]string{"Sec-Fetch-Site": "cross-site", "Origin": "https://elsewhere.example"} {
			r := v.Request(way.method, way.path, strings.NewReader("units=imperial&do=add+riders"))
			r.Header.Set("Content-Type", "application/x-www-form-urlencoded")
			r.Header.Set(name, value)
			if a := v.Send(r); a.Status != http.StatusForbidden || way.path != "/matches" && a.Text("h1") != "Not from here" {
				t.Errorf("%s %s with %s: %s: %d %s", way.method, way.path, name, value, a.Status, a.Text("h1"))
			}
		}
	}
	if posts < 5 {
		t.Errorf("%d ways to post", posts)
	}
	v.Get("/").Is(http.StatusOK, "/").Count(".resume li", 1) // still in, and nothing was made
	list, err := s.Store.RecentConsultations(t.Context(), 10)
	if err != nil || len(list) != 1 || list[0].Version != 1 {
		t.Errorf("%+v, %v", list, err)
	}
	own := v.Request(http.MethodPost, "/consultations", nil)
	own.Header.Set("Sec-Fetch-Site", "same-origin")
	own.Header.Set("Origin", v.Server.URL)
	if a := v.Send(own); a.Status != http.StatusOK {
		t.Errorf("our own page is refused: %d", a.Status)
	}
}

func TestAddressesThatLeadNowhere(t *testing.T) {
	t.Parallel()
	s := webtest.Open(t)
	v := s.Staff()
	address, f := v.Consultation()
	f.Set("riders[0].height_cm", "178")
	f.Set("riders[0].weight_kg", "82")
	v.Press(f, address, "save").Is(http.StatusOK, address)
	unknown := "/consultations/" + strings.Repeat("a", 26)
	for _, path := range []string{
		"/nowhere", unknown, unknown + "/frames", unknown + "/frames/sedge", unknown + "/frames/sedge/by-hand", address + "/frames/no-such-frame", address + "/nothing",
		address + "/frames/no-such-frame/by-hand", address + "/frames/SEDGE", "/consultations/%00", "/consultations/..%2f..",
		"/quotes/" + strings.Repeat("a", 26), "/quotes/x.csv", "/quotes/", "/rides/x", "/rides/x.ics", unknown + "/frames/sedge/quote", unknown + "/frames/sedge/ride",
		address + "/frames/no-such-frame/quote", address + "/frames/no-such-frame/ride",
		address + "/frames/no-such-frame/by-hand", address + "/frames/SEDGE", "/consultations/%00", "/consultations/..%2f..", address + "/frames/no-such-frame/send", unknown + "/frames/sedge/send", unknown + "/measure",
	} {
		if a := v.Get(path); a.Status != http.StatusNotFound || a.Text("main h1") != "Nothing here" || a.One("main a.button").AttrOr("href", "") != "/" {
			t.Errorf("%s: %d %q", path, a.Status, a.Text("main"))
		}
	}
	for _, path := range []string{unknown, unknown + "/live"} {
		if a := v.Post(path, url.Values{"units": {"metric"}, "do": {"save"}}); a.Status != http.StatusNotFound {
			t.Errorf("posting to %s: %d", path, a.Status)
		}
	}
	for _, path := range []string{"/static/", "/static/nothing.css", "/static/static.go", "/static/../web/server.go"} {
		if a := v.Get(path); a.Status != http.StatusNotFound || strings.Contains(string(a.Body), "app.css") {
			t.Errorf("%s: %d %s", path, a.Status, a.Body)
		}
	}
}

func TestWrongMethods(t *testing.T) {
	t.Parallel()
	s := webtest.Open(t)
	v := s.Staff()
	address, _ := v.Consultation()
	for path, allow := range map[string][]string{
		"/": {"GET"}, "/consultations": {"POST"}, address: {"GET", "POST"}, address + "/live": {"POST"}, address + "/frames": {"GET"}, "/matches": {"POST"},
	} {
		for _, method := range []string{http.MethodGet, http.MethodPost, http.MethodPut, http.MethodDelete} {
			if slices.Contains(allow, method) {
				continue
			}
			a := v.Send(v.Request(method, path, nil))
			if got := a.Header.Values("Allow"); a.Status != http.StatusMethodNotAllowed || !slices.Equal(got, allow) {
				t.Errorf("%s %s: %d, allowed are %v", method, path, a.Status, got)
			}
		}
	}
	if a := v.Send(v.Request(http.MethodHead, "/", nil)); a.Status != http.StatusOK || len(a.Body) > 0 {
		t.Errorf("only the head: %d, %d bytes", a.Status, len(a.Body))
	}
}

// TestReadingWritesNothing opens pages by those who are signed in and by
// customers, and looks at the store in between.
func TestReadingWritesNothing(t *testing.T) {
	t.Parallel()
	s := webtest.Open(t)
	in := s.Staff()
	address := in.Interview([]byte(webtest.Family))
	in.Get(address + "/frames") // what was to be said once has been said
	before, err := s.Store.Version(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	for _, path := range []string{"/", address, address + "/frames", address + "/frames/sedge", address + "/frames/sedge/by-hand", address + "/compare?frame=sedge&frame=osier-m",
		"/inventory", "/inventory/history", "/settings", "/inventory/quality", "/static/app.css", "/sign-in"} {
		if a := in.Get(path); a.Status >= 500 {
			t.Errorf("%s: %d", path, a.Status)
		}
		if now, err := s.Store.Version(t.Context()); err != nil || now != before {
			t.Errorf("%s has written to the store, %v", path, err)
		}
	}
}
