package web_test

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"log/slog"
	"net/http"
	"net/http/httptest"
	"net/url"
	"strconv"
	"strings"
	"testing"
	"time"

	"kinwain/internal/staff"
	"kinwain/internal/store"
	"kinwain/web"
	"kinwain/web/kit"
	"kinwain/web/webtest"
)

// secrets are what nobody may find in a log.
type secrets map[string]string

// sent makes a request to the app and collects the secrets that its answer
// sets.
func (s secrets) sent(app http.Handler, method, path string, form url.Values, edit ...func(*http.Request)) *httptest.ResponseRecorder {
	r := httptest.NewRequest(method, path, strings.NewReader(form.Encode()))
	r.Header.Set("Content-Type", "application/x-www-form-urlencoded")
	for _, e := range edit {
		e(r)
	}
	w := httptest.NewRecorder()
	app.ServeHTTP(w, r)
	for _, cookie := range w.Result().Cookies() {
		if len(cookie.Value) > 10 {
			s[path+" "+cookie.Name] = cookie.Value
		}
	}
	return w
}

// TestNoSecretReachesALog sends every kind of secret to an app whose every word
// is logged: as it should be, wrongly, while its clock has stopped, and while
// its store takes nothing, as on a full disk.
func TestNoSecretReachesALog(t *testing.T) {
	t.Parallel()
	s := webtest.Open(t)
	broken := false
	var log bytes.Buffer
	app := web.New(web.Options{Store: s.Store, Log: slog.New(slog.NewJSONHandler(&log, &slog.HandlerOptions{Level: slog.LevelDebug})), PublicURL: webtest.Public, Now: func() time.Time {
		if broken {
			panic("the clock has stopped at /fit/" + strings.Repeat("z", 32) + " with Bearer kinwain_leak")
		}
		return webtest.Morning
	}})
	belto := s.Hire("Belto", staff.Salesperson)
	s.PrintLink()
	known := secrets{"link": webtest.Token, "passphrase": webtest.Passphrase, "wrong passphrase": "a passphrase typed as a name", "PIN": webtest.PIN, "token": s.APIToken("matches"), "of the panic": strings.Repeat("z", 32), "too": "kinwain_leak"}
	for name, make := range map[string]func() (string, error){
		"invitation": func() (string, error) {
			return s.Store.IssueLink(t.Context(), belto.ID, webtest.Morning.Add(time.Hour))
		},
		"tablet": func() (string, error) {
			return s.Store.IssueDeviceLink(t.Context(), "tablet", "Ansa", webtest.Morning, webtest.Morning.Add(time.Hour))
		},
		"device": func() (string, error) { return s.Store.EnrolDevice(t.Context(), "tablet", "Ansa", webtest.Morning) },
	} {
		token, err := make()
		if err != nil {
			t.Fatal(err)
		}
		known[name] = token
	}
	all := func() {
		cookie := func(name, value string) func(*http.Request) {
			return func(r *http.Request) { r.AddCookie(&http.Cookie{Name: name, Value: value}) }
		}
		byHeader := func(r *http.Request) {
			r.Header.Set("Authorization", "Bearer "+known["token"])
			r.Header.Set("Content-Type", "application/json")
		}
		person := strconv.FormatInt(belto.ID, 10)
		for _, method := range []string{http.MethodGet, http.MethodPost, http.MethodPut} {
			for _, path := range []string{"/sign-in/" + webtest.Token, "/sign-in/new/" + known["invitation"], "/sign-in/device/" + known["tablet"], "/fit/" + strings.Repeat("z", 32), "/fit/" + strings.Repeat("z", 32) + "/qr.svg", "/sign-in/" + webtest.Token + "/x"} {
				known.sent(app, method, path, url.Values{"new": {"short"}})
			}
		}
		known.sent(app, http.MethodPost, "/sign-in", url.Values{"do": {"passphrase"}, "name": {"Belto"}, "passphrase": {webtest.Passphrase}})
		known.sent(app, http.MethodPost, "/sign-in", url.Values{"do": {"passphrase"}, "name": {known["wrong passphrase"]}, "passphrase": {webtest.Passphrase}})
		known.sent(app, http.MethodPost, "/sign-in", url.Values{"do": {"passphrase"}, "name": {"Belto"}, "passphrase": {known["wrong passphrase"]}})
		known.sent(app, http.MethodPost, "/sign-in", url.Values{"do": {"pin"}, "person": {person}, "pin": {webtest.PIN}}, cookie("kinwain_device", known["device"]))
		known.sent(app, http.MethodPost, "/matches", nil, byHeader)
		known.sent(app, http.MethodGet, "/me", nil, cookie("kinwain", known["/sign-in kinwain"]), cookie("kinwain_known", known["/sign-in kinwain_known"]))
	}
	all()
	broken = true
	all()
	broken = false
	if err := s.Store.Close(); err != nil {
		t.Fatal(err)
	}
	all()
	for name, secret := range known {
		if secret == "" || strings.Contains(log.String(), secret) {
			t.Errorf("the %s is in the log, or there was none", name)
		}
	}
	for _, said := range []string{`"msg":"answered"`, `"msg":"sign-in refused"`, `"msg":"signed in by the printed link"`, `"msg":"request failed"`, `"msg":"session failed"`, "the clock has stopped", "/fit/…", "/sign-in/new/…"} {
		if !strings.Contains(log.String(), said) {
			t.Errorf("%s is not in the log", said)
		}
	}
	var err error
	if s.Store, err = store.Open(t.Context(), t.TempDir()); err != nil { // to be closed at the end
		t.Fatal(err)
	}
}

// TestLinesOfALogAreOfARequest holds that the page of an error, its header and
// the lines of the log call the request the same.
func TestLinesOfALogAreOfARequest(t *testing.T) {
	t.Parallel()
	s := webtest.Open(t)
	var log bytes.Buffer
	app := web.New(web.Options{Store: s.Store, Now: func() time.Time { panic("the clock has stopped") }, Log: slog.New(slog.NewJSONHandler(&log, nil))})
	w := secrets{}.sent(app, http.MethodGet, "/sign-in/x", nil)
	id := w.Header().Get(kit.RequestHeader)
	if len(id) < 8 || !strings.Contains(w.Body.String(), "request "+id) {
		t.Errorf("%q is not on the page: %s", id, w.Body)
	}
	lines := 0
	for line := range strings.Lines(log.String()) {
		var one struct{ Request string }
		if err := json.Unmarshal([]byte(line), &one); err != nil || one.Request != id {
			t.Errorf("%v: %s", err, line)
		}
		lines++
	}
	if lines != 2 { // what failed, and what was answered
		t.Errorf("%d lines: %s", lines, &log)
	}
	if again := (secrets{}).sent(app, http.MethodGet, "/sign-in/x", nil).Header().Get(kit.RequestHeader); again == id {
		t.Error("two requests are called the same")
	}
}

// TestDiscreet holds what is left out of a line, and what is not.
func TestDiscreet(t *testing.T) {
	t.Parallel()
	var log bytes.Buffer
	l := slog.New(web.Discreet(web.Discreet(slog.NewTextHandler(&log, nil)))).With("at", "/fit/abc").WithGroup("g")
	l.ErrorContext(kit.WithRequestID(httptest.NewRequest("GET", "/", nil), "ID").Context(), `open "/sign-in/new/abc?x"`, "error", errors.New("Get /sign-in/abc: Bearer abc, Cookie: abc"), slog.Group("h", "token", "kinwain_abc"), "path", "/consultations/kept", "n", 7)
	l.InfoContext(context.Background(), "no request")
	for _, want := range []string{"/sign-in/new/…?x", "at=/fit/…", "Get /sign-in/…", "Bearer …", "g.h.token=kinwain_…", "/consultations/kept", "g.request=ID", "g.n=7"} {
		if !strings.Contains(log.String(), want) {
			t.Errorf("%s is not in %s", want, &log)
		}
	}
	if strings.Contains(log.String(), "abc") || strings.Count(log.String(), "request=") != 1 {
		t.Error(log.String())
	}
}
