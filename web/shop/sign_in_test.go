package shop_test

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
	"kinwain/web/webtest"
)

func TestSignInByName(t *testing.T) {
	t.Parallel()
	s := webtest.Open(t)
	s.Hire("Ansa of the Quay", staff.Manager)
	off := s.Hire("Orsin", staff.Salesperson)
	s.Hire("Other", staff.Manager)
	if err := s.Store.SetDisabled(t.Context(), off.ID, true); err != nil {
		t.Fatal(err)
	}
	if _, err := s.Store.AddPerson(t.Context(), "Newcomer", staff.Salesperson, webtest.Morning); err != nil {
		t.Fatal(err)
	}
	for _, name := range []string{"Ansa of the Quay", " ansa  OF the quay"} {
		s.Stranger().SignIn(name, webtest.Passphrase).Is(http.StatusOK, "/").One(".start")
	}
	var said string
	for _, c := range []struct{ name, secret string }{
		{"Ansa of the Quay", webtest.Passphrase + "x"}, {"Ansa of the Quay", ""}, {"Nobody", webtest.Passphrase}, {"", ""}, {"Orsin", webtest.Passphrase}, {"Newcomer", ""}, {"Newcomer", webtest.Passphrase}, {"' OR 1=1 --", webtest.Passphrase},
	} {
		v := s.Stranger()
		a := v.SignIn(c.name, c.secret).Is(http.StatusUnprocessableEntity, "/sign-in")
		if said == "" {
			said = a.Text(".alert")
		}
		if a.Text(".alert") != said || said == "" {
			t.Errorf("%+v: %q, of others it says %q", c, a.Text(".alert"), said)
		}
		if a.One("#name").AttrOr("value", "") != c.name || a.One("#passphrase").AttrOr("value", "") != "" || c.secret != "" && strings.Contains(string(a.Body), c.secret) {
			t.Errorf("%+v: the name is lost, or the secret is shown", c)
		}
		v.Get("/").Is(http.StatusOK, "/sign-in")
		s.Passes(10 * time.Minute)
	}
}

func TestSignInGoesOnToWhatWasAsked(t *testing.T) {
	t.Parallel()
	s := webtest.Open(t)
	s.Hire("Ansa", staff.Manager)
	for asked, want := range map[string]string{
		"/me": "/me", "/settings/staff?a=b": "/settings/staff?a=b", "": "/", "//elsewhere.example/": "/", "///elsewhere.example": "/", "https://elsewhere.example/": "/", `/\elsewhere.example`: "/", "me": "/",
		"/sign-in": "/", "/sign-out": "/", "/\t/elsewhere.example": "/", "javascript:alert(1)": "/", "/%": "/",
	} {
		v := s.Stranger()
		form := v.Get("/sign-in?"+url.Values{"next": {asked}}.Encode()).Is(http.StatusOK, "/sign-in?"+url.Values{"next": {asked}}.Encode())
		if got := form.One(`input[name="next"]`).AttrOr("value", ""); got != want {
			t.Errorf("%q is carried as %q", asked, got)
		}
		v.Post("/sign-in", url.Values{"do": {"passphrase"}, "name": {"Ansa"}, "passphrase": {webtest.Passphrase}, "next": {asked}}).Is(http.StatusOK, want)
	}
}

// TestGuessingTakesTime gets the passphrase wrong until it has to wait, and
// looks at both sides of every edge.
func TestGuessingTakesTime(t *testing.T) {
	t.Parallel()
	s := webtest.Open(t)
	s.Hire("Ansa", staff.Manager)
	s.Hire("Belto", staff.Salesperson)
	v := s.Stranger()
	for range 3 {
		v.SignIn("Ansa", "wrong").Is(http.StatusUnprocessableEntity, "/sign-in")
	}
	for _, seconds := range []int{1, 2, 4} {
		s.Passes(time.Duration(seconds)*time.Second - time.Millisecond)
		a := v.SignIn("ANSA", webtest.Passphrase).Is(http.StatusTooManyRequests, "/sign-in")
		if got := a.Text(".alert"); got != "Too many wrong tries. Wait 1 second, then try again." || a.Header.Get("Retry-After") != "1" {
			t.Errorf("%q, %s", got, a.Header.Get("Retry-After"))
		}
		s.Passes(time.Millisecond)
		v.SignIn("Ansa", "wrong").Is(http.StatusUnprocessableEntity, "/sign-in")
	}
	if got := v.SignIn("Ansa", webtest.Passphrase).Text(".alert"); got != "Too many wrong tries. Wait 8 seconds, then try again." {
		t.Error(got)
	}
	s.As("Belto")
	s.Passes(8 * time.Second)
	v.SignIn("Ansa", webtest.Passphrase).Is(http.StatusOK, "/")
	s.Stranger().SignIn("Ansa", "wrong").Is(http.StatusUnprocessableEntity, "/sign-in") // and all is forgiven
}

// TestGuessingNamesTakesTime tries one name after the other from one address,
// and from another that only the proxy on this computer tells.
func TestGuessingNamesTakesTime(t *testing.T) {
	t.Parallel()
	s := webtest.Open(t)
	s.Hire("Ansa", staff.Manager)
	from := func(address, name string) int {
		v := s.Stranger()
		r := v.Request(http.MethodPost, "/sign-in", strings.NewReader(url.Values{"do": {"passphrase"}, "name": {name}, "passphrase": {webtest.Passphrase}}.Encode()))
		r.Header.Set("Content-Type", "application/x-www-form-urlencoded")
		r.Header.Set("X-Forwarded-For", "192.0.2.77, "+address)
		return v.Send(r).Status
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
func enrolled(s *webtest.Shop) *webtest.Visitor {
	s.Helper()
	v := s.Staff()
	a := v.Post("/settings/staff/devices", url.Values{"label": {"counter  tablet"}}).Is(http.StatusOK, "/settings/staff")
	if a.Text(".done") != "This device is enrolled as counter tablet." {
		s.Fatal(a.Text("main"))
	}
	v.Post("/sign-out", nil)
	return v
}

func pin(v *webtest.Visitor, person int64, pin string) *webtest.Answer {
	return v.Post("/sign-in", url.Values{"do": {"pin"}, "person": {strconv.FormatInt(person, 10)}, "pin": {pin}})
}

func TestPINOnAnEnrolledDevice(t *testing.T) {
	t.Parallel()
	s := webtest.Open(t)
	belto := s.Hire("Belto", staff.Salesperson)
	orsin := s.Hire("Orsin", staff.Salesperson)
	s.WithPIN("Belto")
	elsewhere := s.Stranger()
	elsewhere.Get("/sign-in").Count("#pin", 0)
	if a := pin(elsewhere, belto.ID, webtest.PIN); a.Status != http.StatusForbidden || a.Text("h1") != "No PIN on this device" {
		t.Errorf("elsewhere: %d %s", a.Status, a.Text("h1"))
	}
	tablet := enrolled(s)
	a := tablet.Get("/sign-in")
	if got := a.Text("#person option"); got != "Belto" || !strings.Contains(a.Text("main"), "counter tablet") {
		t.Errorf("to pick: %q", got)
	}
	pin(tablet, orsin.ID, "").Is(http.StatusUnprocessableEntity, "/sign-in")
	pin(tablet, 99, webtest.PIN).Is(http.StatusUnprocessableEntity, "/sign-in")
	tablet.Post("/sign-in", url.Values{"do": {"pin"}, "person": {"x"}, "pin": {webtest.PIN}}).Is(http.StatusBadRequest, "/sign-in")
	if got := pin(tablet, belto.ID, webtest.PIN).Is(http.StatusOK, "/").Text("header .me"); got != "Signed in as Belto" {
		t.Error(got)
	}
	tablet.Post("/sign-out", nil)
	devices, err := s.Store.Devices(t.Context())
	if err != nil || len(devices) != 1 {
		t.Fatalf("%v, %v", devices, err)
	}
	s.Staff().Post(fmt.Sprintf("/settings/staff/devices/%d", devices[0].ID), nil).Is(http.StatusOK, "/settings/staff").Count(".holders form[action*=devices]", 0)
	pin(tablet, belto.ID, webtest.PIN).Is(http.StatusForbidden, "/sign-in")
	tablet.Get("/sign-in").Count("#pin", 0)
}

func TestPINLocks(t *testing.T) {
	t.Parallel()
	s := webtest.Open(t)
	belto := s.Hire("Belto", staff.Salesperson)
	s.WithPIN("Belto")
	tablet := enrolled(s)
	for range 4 {
		pin(tablet, belto.ID, "999999").Is(http.StatusUnprocessableEntity, "/sign-in")
		s.Passes(time.Minute)
	}
	pin(tablet, belto.ID, webtest.PIN).Is(http.StatusOK, "/") // the fifth is right, and forgives
	for range 5 {
		if a := pin(tablet, belto.ID, "999999"); a.Status != http.StatusUnprocessableEntity || !strings.HasPrefix(a.Text(".alert"), "That is not the PIN.") {
			t.Errorf("%d %s", a.Status, a.Text(".alert"))
		}
		s.Passes(time.Hour)
	}
	if a := pin(tablet, belto.ID, webtest.PIN); a.Status != http.StatusUnprocessableEntity || !strings.Contains(a.Text(".alert"), "locked") {
		t.Errorf("the sixth: %d %s", a.Status, a.Text(".alert"))
	}
	if got := s.Staff().Get("/settings/staff").Text(".holders"); !strings.Contains(got, "locked") {
		t.Errorf("the manager sees %q", got)
	}
	s.Passes(time.Hour)
	tablet.SignIn("Belto", webtest.Passphrase).Is(http.StatusOK, "/")
	tablet.Post("/sign-out", nil)
	pin(tablet, belto.ID, webtest.PIN).Is(http.StatusOK, "/")
}

// TestInvited goes the way of somebody new, from the manager's page to the
// first sign-in.
func TestInvited(t *testing.T) {
	t.Parallel()
	s := webtest.Open(t)
	s.Hire("Ansa", staff.Manager)
	manager := s.As("Ansa")
	a := manager.Post("/settings/staff", url.Values{"name": {" Belto "}, "role": {"salesperson"}}).Is(http.StatusOK, "/settings/staff")
	link, found := strings.CutPrefix(a.Text(".issued .secret"), webtest.Public)
	if !found || !strings.HasPrefix(link, "/sign-in/new/") {
		t.Fatalf("the link is %q", a.Text(".issued .secret"))
	}
	manager.Get("/settings/staff").Count(".issued", 0)
	for name, fault := range map[string]string{"BELTO": "Somebody has this name", "": "Write the name", " Manager  (printed link)": "Somebody has this name"} {
		a := manager.Post("/settings/staff", url.Values{"name": {name}, "role": {"salesperson"}}).Is(http.StatusUnprocessableEntity, "/settings/staff")
		if !strings.HasPrefix(a.Text("#name-error"), fault) || a.One("#name").AttrOr("value", "") != name {
			t.Errorf("%q: %q", name, a.Text("#name-error"))
		}
	}
	v := s.Stranger()
	v.Get(link).Is(http.StatusOK, link)
	if a := v.Post(link, url.Values{"new": {"too short"}}).Is(http.StatusUnprocessableEntity, link); !strings.HasPrefix(a.Text("#new-error"), "Use at least 12") {
		t.Error(a.Text("main"))
	}
	if got := v.Post(link, url.Values{"new": {"a boat of my own"}}).Is(http.StatusOK, "/").Text("header .me"); got != "Signed in as Belto" {
		t.Error(got)
	}
	for _, again := range []*webtest.Answer{s.Stranger().Get(link), s.Stranger().Post(link, url.Values{"new": {"a boat of my own"}})} {
		if again.Status != http.StatusNotFound || again.Text("h1") != "This link is used up" {
			t.Errorf("again: %d %s", again.Status, again.Text("h1"))
		}
	}
	s.Stranger().SignIn("belto", "a boat of my own").Is(http.StatusOK, "/")

	// A new link leaves the passphrase until it is used, and lasts a day.
	reset := func() string {
		a := manager.Post(fmt.Sprintf("/settings/staff/%d", s.Person("Belto").ID), url.Values{"do": {"reset"}}).Is(http.StatusOK, fmt.Sprintf("/settings/staff/%d", s.Person("Belto").ID))
		return strings.TrimPrefix(a.Text(".issued .secret"), webtest.Public)
	}
	older, newer := reset(), reset()
	s.Stranger().Get(older).Is(http.StatusNotFound, older)
	s.Passes(24*time.Hour - time.Second)
	s.Stranger().Get(newer).Is(http.StatusOK, newer)
	s.Passes(time.Second)
	s.Stranger().Get(newer).Is(http.StatusNotFound, newer)
	v.Get("/").Is(http.StatusOK, "/")
}

// TestSecretsOfLinksAreNotLogged breaks the store under a link.
func TestSecretsOfLinksAreNotLogged(t *testing.T) {
	t.Parallel()
	s := webtest.Open(t)
	var log bytes.Buffer
	app := web.New(web.Options{Store: s.Store, Log: slog.New(slog.NewTextHandler(&log, nil)), Now: func() time.Time { panic("the clock has stopped") }})
	for _, path := range []string{"/sign-in/" + webtest.Token, "/sign-in/new/" + webtest.Token} {
		w := httptest.NewRecorder()
		app.ServeHTTP(w, httptest.NewRequest(http.MethodGet, path, nil))
		if logged := log.String(); w.Code != http.StatusInternalServerError || !strings.Contains(logged, "the clock has stopped") || strings.Contains(logged, webtest.Token) {
			t.Errorf("%s: %d, %s", path, w.Code, logged)
		}
		log.Reset()
	}
}
