package web_test

import (
	"bytes"
	"fmt"
	"log/slog"
	"net/http"
	"net/http/httptest"
	"net/url"
	"strconv"
	"strings"
	"testing"
	"time"

	"kinwain/internal/staff"
	"kinwain/web"
)

func TestSignInByName(t *testing.T) {
	s := open(t)
	s.hire("Ansa of the Quay", staff.Manager)
	off := s.hire("Rail", staff.Salesperson)
	s.hire("Other", staff.Manager)
	if err := s.store.SetDisabled(t.Context(), off.ID, true); err != nil {
		t.Fatal(err)
	}
	if _, err := s.store.AddPerson(t.Context(), "Newcomer", staff.Salesperson, morning); err != nil {
		t.Fatal(err)
	}
	for _, name := range []string{"Ansa of the Quay", " ansa  OF the quay"} {
		s.stranger().signIn(name, passphrase).is(http.StatusOK, "/").one(".start")
	}
	var said string
	for _, c := range []struct{ name, secret string }{
		{"Ansa of the Quay", passphrase + "x"}, {"Ansa of the Quay", ""}, {"Nobody", passphrase}, {"", ""}, {"Rail", passphrase}, {"Newcomer", ""}, {"Newcomer", passphrase}, {"' OR 1=1 --", passphrase},
	} {
		v := s.stranger()
		a := v.signIn(c.name, c.secret).is(http.StatusUnprocessableEntity, "/sign-in")
		if said == "" {
			said = a.text(".alert")
		}
		if a.text(".alert") != said || said == "" {
			t.Errorf("%+v: %q, of others it says %q", c, a.text(".alert"), said)
		}
		if a.one("#name").AttrOr("value", "") != c.name || a.one("#passphrase").AttrOr("value", "") != "" || c.secret != "" && strings.Contains(string(a.body), c.secret) {
			t.Errorf("%+v: the name is lost, or the secret is shown", c)
		}
		v.get("/").is(http.StatusForbidden, "/")
		s.passes(10 * time.Minute)
	}
}

func TestSignInGoesOnToWhatWasAsked(t *testing.T) {
	s := open(t)
	s.hire("Ansa", staff.Manager)
	for asked, want := range map[string]string{
		"/me": "/me", "/settings/staff?a=b": "/settings/staff?a=b", "": "/", "//elsewhere.example/": "/", "///elsewhere.example": "/", "https://elsewhere.example/": "/", `/\elsewhere.example`: "/", "me": "/",
		"/sign-in": "/", "/sign-out": "/", "/\t/elsewhere.example": "/", "javascript:alert(1)": "/", "/%": "/",
	} {
		v := s.stranger()
		form := v.get("/sign-in?"+url.Values{"next": {asked}}.Encode()).is(http.StatusOK, "/sign-in?"+url.Values{"next": {asked}}.Encode())
		if got := form.one(`input[name="next"]`).AttrOr("value", ""); got != want {
			t.Errorf("%q is carried as %q", asked, got)
		}
		v.post("/sign-in", url.Values{"do": {"passphrase"}, "name": {"Ansa"}, "passphrase": {passphrase}, "next": {asked}}).is(http.StatusOK, want)
	}
}

// TestGuessingTakesTime gets the passphrase wrong until it has to wait, and
// looks at both sides of every edge.
func TestGuessingTakesTime(t *testing.T) {
	s := open(t)
	s.hire("Ansa", staff.Manager)
	s.hire("Belto", staff.Salesperson)
	v := s.stranger()
	for range 3 {
		v.signIn("Ansa", "wrong").is(http.StatusUnprocessableEntity, "/sign-in")
	}
	for _, seconds := range []int{1, 2, 4} {
		s.passes(time.Duration(seconds)*time.Second - time.Millisecond)
		a := v.signIn("ANSA", passphrase).is(http.StatusTooManyRequests, "/sign-in")
		if got := a.text(".alert"); got != "Too many wrong tries. Wait 1 second, then try again." || a.header.Get("Retry-After") != "1" {
			t.Errorf("%q, %s", got, a.header.Get("Retry-After"))
		}
		s.passes(time.Millisecond)
		v.signIn("Ansa", "wrong").is(http.StatusUnprocessableEntity, "/sign-in")
	}
	if got := v.signIn("Ansa", passphrase).text(".alert"); got != "Too many wrong tries. Wait 8 seconds, then try again." {
		t.Error(got)
	}
	s.as("Belto")
	s.passes(8 * time.Second)
	v.signIn("Ansa", passphrase).is(http.StatusOK, "/")
	s.stranger().signIn("Ansa", "wrong").is(http.StatusUnprocessableEntity, "/sign-in") // and all is forgiven
}

// TestGuessingNamesTakesTime tries one name after the other from one address,
// and from another that only the proxy on this computer tells.
func TestGuessingNamesTakesTime(t *testing.T) {
	s := open(t)
	s.hire("Ansa", staff.Manager)
	from := func(address, name string) int {
		v := s.stranger()
		r := v.request(http.MethodPost, "/sign-in", strings.NewReader(url.Values{"do": {"passphrase"}, "name": {name}, "passphrase": {passphrase}}.Encode()))
		r.Header.Set("Content-Type", "application/x-www-form-urlencoded")
		r.Header.Set("X-Forwarded-For", "192.0.2.77, "+address)
		return v.send(r).status
	}
	for i := range 10 {
		if status := from("192.0.2.1", fmt.Sprint("name ", i)); status != http.StatusUnprocessableEntity {
			t.Fatalf("name %d: %d", i, status)
		}
	}
	if status := from("192.0.2.1", "Ansa"); status != http.StatusTooManyRequests {
		t.Errorf("the eleventh: %d", status)
	}
	if status := from("192.0.2.2", "Ansa"); status != http.StatusOK {
		t.Errorf("from elsewhere: %d", status)
	}
}

// enrolled returns a visitor on an enrolled device, signed out.
func (s *shop) enrolled() *visitor {
	s.Helper()
	v := s.staff()
	a := v.post("/settings/staff/devices", url.Values{"label": {"counter  tablet"}}).is(http.StatusOK, "/settings/staff")
	if a.text(".done") != "This device is enrolled as counter tablet." {
		s.Fatal(a.text("main"))
	}
	v.post("/sign-out", nil)
	return v
}

func (v *visitor) pin(person int64, pin string) *answer {
	return v.post("/sign-in", url.Values{"do": {"pin"}, "person": {strconv.FormatInt(person, 10)}, "pin": {pin}})
}

const pin = "481516"

// withPIN gives a person a PIN, as they do it on their own page.
func (s *shop) withPIN(name string) {
	s.Helper()
	v := s.as(name)
	v.post("/me", url.Values{"do": {"pin"}, "pin-current": {passphrase}, "pin": {pin}}).is(http.StatusOK, "/me")
}

func TestPINOnAnEnrolledDevice(t *testing.T) {
	s := open(t)
	belto := s.hire("Belto", staff.Salesperson)
	rail := s.hire("Rail", staff.Salesperson)
	s.withPIN("Belto")
	elsewhere := s.stranger()
	elsewhere.get("/sign-in").count("#pin", 0)
	if a := elsewhere.pin(belto.ID, pin); a.status != http.StatusForbidden || a.text("h1") != "No PIN on this device" {
		t.Errorf("elsewhere: %d %s", a.status, a.text("h1"))
	}
	tablet := s.enrolled()
	a := tablet.get("/sign-in")
	if got := a.text("#person option"); got != "Belto" || !strings.Contains(a.text("main"), "counter tablet") {
		t.Errorf("to pick: %q", got)
	}
	tablet.pin(rail.ID, "").is(http.StatusUnprocessableEntity, "/sign-in")
	tablet.pin(99, pin).is(http.StatusUnprocessableEntity, "/sign-in")
	tablet.post("/sign-in", url.Values{"do": {"pin"}, "person": {"x"}, "pin": {pin}}).is(http.StatusBadRequest, "/sign-in")
	if got := tablet.pin(belto.ID, pin).is(http.StatusOK, "/").text("header .me"); got != "Signed in as Belto" {
		t.Error(got)
	}
	tablet.post("/sign-out", nil)
	devices, err := s.store.Devices(t.Context())
	if err != nil || len(devices) != 1 {
		t.Fatalf("%v, %v", devices, err)
	}
	s.staff().post(fmt.Sprintf("/settings/staff/devices/%d", devices[0].ID), nil).is(http.StatusOK, "/settings/staff").count(".holders form[action*=devices]", 0)
	tablet.pin(belto.ID, pin).is(http.StatusForbidden, "/sign-in")
	tablet.get("/sign-in").count("#pin", 0)
}

func TestPINLocks(t *testing.T) {
	s := open(t)
	belto := s.hire("Belto", staff.Salesperson)
	s.withPIN("Belto")
	tablet := s.enrolled()
	for range 4 {
		tablet.pin(belto.ID, "999999").is(http.StatusUnprocessableEntity, "/sign-in")
		s.passes(time.Minute)
	}
	tablet.pin(belto.ID, pin).is(http.StatusOK, "/") // the fifth is right, and forgives
	for range 5 {
		if a := tablet.pin(belto.ID, "999999"); a.status != http.StatusUnprocessableEntity || !strings.HasPrefix(a.text(".alert"), "That is not the PIN.") {
			t.Errorf("%d %s", a.status, a.text(".alert"))
		}
		s.passes(time.Hour)
	}
	if a := tablet.pin(belto.ID, pin); a.status != http.StatusUnprocessableEntity || !strings.Contains(a.text(".alert"), "locked") {
		t.Errorf("the sixth: %d %s", a.status, a.text(".alert"))
	}
	if got := s.staff().get("/settings/staff").text(".holders"); !strings.Contains(got, "locked") {
		t.Errorf("the manager sees %q", got)
	}
	s.passes(time.Hour)
	tablet.signIn("Belto", passphrase).is(http.StatusOK, "/")
	tablet.post("/sign-out", nil)
	tablet.pin(belto.ID, pin).is(http.StatusOK, "/")
}

// TestInvited goes the way of somebody new, from the manager's page to the
// first sign-in.
func TestInvited(t *testing.T) {
	s := open(t)
	s.hire("Ansa", staff.Manager)
	manager := s.as("Ansa")
	a := manager.post("/settings/staff", url.Values{"name": {" Belto "}, "role": {"salesperson"}}).is(http.StatusOK, "/settings/staff")
	link, found := strings.CutPrefix(a.text(".issued .secret"), public)
	if !found || !strings.HasPrefix(link, "/sign-in/new/") {
		t.Fatalf("the link is %q", a.text(".issued .secret"))
	}
	manager.get("/settings/staff").count(".issued", 0)
	for name, fault := range map[string]string{"BELTO": "Somebody has this name", "": "Write the name", " Manager  (printed link)": "Somebody has this name"} {
		a := manager.post("/settings/staff", url.Values{"name": {name}, "role": {"salesperson"}}).is(http.StatusUnprocessableEntity, "/settings/staff")
		if !strings.HasPrefix(a.text("#name-error"), fault) || a.one("#name").AttrOr("value", "") != name {
			t.Errorf("%q: %q", name, a.text("#name-error"))
		}
	}
	v := s.stranger()
	v.get(link).is(http.StatusOK, link)
	if a := v.post(link, url.Values{"new": {"too short"}}).is(http.StatusUnprocessableEntity, link); !strings.HasPrefix(a.text("#new-error"), "Use at least 12") {
		t.Error(a.text("main"))
	}
	if got := v.post(link, url.Values{"new": {"a boat of my own"}}).is(http.StatusOK, "/").text("header .me"); got != "Signed in as Belto" {
		t.Error(got)
	}
	for _, again := range []*answer{s.stranger().get(link), s.stranger().post(link, url.Values{"new": {"a boat of my own"}})} {
		if again.status != http.StatusNotFound || again.text("h1") != "This link is used up" {
			t.Errorf("again: %d %s", again.status, again.text("h1"))
		}
	}
	s.stranger().signIn("belto", "a boat of my own").is(http.StatusOK, "/")

	// A new link leaves the passphrase until it is used, and lasts a day.
	reset := func() string {
		a := manager.post(fmt.Sprintf("/settings/staff/%d", s.person("Belto").ID), url.Values{"do": {"reset"}}).is(http.StatusOK, fmt.Sprintf("/settings/staff/%d", s.person("Belto").ID))
		return strings.TrimPrefix(a.text(".issued .secret"), public)
	}
	older, newer := reset(), reset()
	s.stranger().get(older).is(http.StatusNotFound, older)
	s.passes(24*time.Hour - time.Second)
	s.stranger().get(newer).is(http.StatusOK, newer)
	s.passes(time.Second)
	s.stranger().get(newer).is(http.StatusNotFound, newer)
	v.get("/").is(http.StatusOK, "/")
}

// TestSecretsOfLinksAreNotLogged breaks the store under a link.
func TestSecretsOfLinksAreNotLogged(t *testing.T) {
	s := open(t)
	var log bytes.Buffer
	app := web.New(web.Options{Store: s.store, Log: slog.New(slog.NewTextHandler(&log, nil)), Now: func() time.Time { panic("the clock has stopped") }})
	for _, path := range []string{"/sign-in/" + token, "/sign-in/new/" + token} {
		w := httptest.NewRecorder()
		app.ServeHTTP(w, httptest.NewRequest(http.MethodGet, path, nil))
		if logged := log.String(); w.Code != http.StatusInternalServerError || !strings.Contains(logged, "the clock has stopped") || strings.Contains(logged, token) {
			t.Errorf("%s: %d, %s", path, w.Code, logged)
		}
		log.Reset()
	}
}
