package shop_test

import (
	"bytes"
	"fmt"
	"net/http"
	"net/url"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"kinwain/internal/staff"
	"kinwain/internal/store"
	"kinwain/web/webtest"
)

func change(v *webtest.Visitor, p store.Person, do string, more ...string) *webtest.Answer {
	values := url.Values{"do": {do}}
	if len(more) > 0 {
		values.Set(fmt.Sprintf("role-%d", p.ID), more[0])
	}
	return v.Post(fmt.Sprintf("/settings/staff/%d", p.ID), values)
}

// TestFirstManager goes from the printed link to an account.
func TestFirstManager(t *testing.T) {
	t.Parallel()
	s := webtest.Open(t)
	v := s.Staff()
	if got := v.Get("/").One(".invite a").AttrOr("href", ""); got != "/me" {
		t.Errorf("the invitation leads to %q", got)
	}
	a := v.Post("/me", url.Values{"do": {"account"}, "name": {"manager (printed LINK)"}, "new": {"short"}}).Is(http.StatusUnprocessableEntity, "/me")
	if a.Text("#name-error") == "" || a.Text("#new-error") == "" || a.One("#name").AttrOr("value", "") != "manager (printed LINK)" {
		t.Error(a.Text("main"))
	}
	before := cookie(v, "kinwain")
	a = v.Post("/me", url.Values{"do": {"account"}, "name": {"Ansa"}, "new": {webtest.Passphrase}}).Is(http.StatusOK, "/me")
	if a.Text("h1") != "Ansa" || a.Text(".done") == "" || cookie(v, "kinwain") == before {
		t.Errorf("%s; the token of the session was renewed: %v", a.Text("main"), cookie(v, "kinwain") != before)
	}
	v.Get("/").Count(".invite", 0)
	v.Get("/settings/staff").Count(".holders > li", 1)
	s.Staff().Get("/").Count(".invite", 0)
	s.Staff().Post("/me", url.Values{"do": {"account"}, "name": {"ansa"}, "new": {webtest.Passphrase}}).Is(http.StatusUnprocessableEntity, "/me")
	s.As("Ansa").Get("/settings/staff").Is(http.StatusOK, "/settings/staff")
}

// cookie returns the value of a cookie that the visitor holds.
func cookie(v *webtest.Visitor, name string) string {
	u, err := url.Parse(v.Server.URL)
	if err != nil {
		v.Fatal(err)
	}
	for _, c := range v.Client.Jar.Cookies(u) {
		if c.Name == name {
			return c.Value
		}
	}
	return ""
}

func TestRightsChangeAtOnce(t *testing.T) {
	t.Parallel()
	s := webtest.Open(t)
	s.Hire("Ansa", staff.Manager)
	belto := s.Hire("Belto", staff.Salesperson)
	manager, v := s.As("Ansa"), s.As("Belto")
	v.Get("/settings/staff").Is(http.StatusForbidden, "/settings/staff")
	before := cookie(v, "kinwain")
	if got := change(manager, belto, "role", "manager").Is(http.StatusOK, "/settings/staff").Text(".done"); got != "Belto is a manager now." {
		t.Error(got)
	}
	v.Get("/settings/staff").Is(http.StatusOK, "/settings/staff")
	after := cookie(v, "kinwain")
	if after == before {
		t.Error("other rights, and the same token of the session")
	}
	old := s.Stranger()
	r := old.Request(http.MethodGet, "/", nil)
	r.AddCookie(&http.Cookie{Name: "kinwain", Value: before})
	old.Send(r).Is(http.StatusOK, "/sign-in") // the token of before
	change(manager, belto, "role", "salesperson").Is(http.StatusOK, "/settings/staff")
	v.Get("/settings/staff").Is(http.StatusForbidden, "/settings/staff")
	change(manager, belto, "role", "owner").Is(http.StatusBadRequest, fmt.Sprintf("/settings/staff/%d", belto.ID))
	change(manager, belto, "dance").Is(http.StatusBadRequest, fmt.Sprintf("/settings/staff/%d", belto.ID))

	v.Get("/").Is(http.StatusOK, "/")
	change(manager, belto, "disable").Is(http.StatusOK, "/settings/staff")
	v.Get("/").Is(http.StatusOK, "/sign-in")
	change(manager, belto, "enable").Is(http.StatusOK, "/settings/staff")
	v.Get("/").Is(http.StatusOK, "/sign-in") // the session stays void
	s.As("Belto")
}

func TestTheLastManagerStays(t *testing.T) {
	t.Parallel()
	s := webtest.Open(t)
	ansa := s.Hire("Ansa", staff.Manager)
	id, err := s.Store.AddPerson(t.Context(), "Invited", staff.Manager, webtest.Morning) // cannot sign in yet
	if err != nil {
		t.Fatal(err)
	}
	v := s.As("Ansa")
	for _, a := range []*webtest.Answer{change(v, ansa, "disable"), change(v, ansa, "role", "salesperson")} {
		if a.Status != http.StatusUnprocessableEntity || !strings.HasPrefix(a.Text(".alert"), "This is the last manager") {
			t.Errorf("%d %s", a.Status, a.Text(".alert"))
		}
	}
	v.Get("/settings/staff").Is(http.StatusOK, "/settings/staff")
	change(v, store.Person{ID: id}, "disable").Is(http.StatusOK, "/settings/staff")
	s.Hire("Orsin", staff.Manager)
	change(v, ansa, "role", "salesperson")
	v.Get("/settings/staff").Is(http.StatusForbidden, "/settings/staff")
	if p := s.Person("Ansa"); p.Role != staff.Salesperson {
		t.Errorf("%+v", p)
	}
}

func TestOwnPage(t *testing.T) {
	t.Parallel()
	s := webtest.Open(t)
	s.Hire("Belto", staff.Salesperson)
	v, elsewhere := s.As("Belto"), s.As("Belto")
	const newer = "a boat of my own"
	wrong := v.Post("/me", url.Values{"do": {"passphrase"}, "current": {"not this"}, "new": {newer}}).Is(http.StatusUnprocessableEntity, "/me")
	if wrong.Text("#current-error") == "" || strings.Contains(string(wrong.Body), newer) {
		t.Error(wrong.Text("main"))
	}
	if a := v.Post("/me", url.Values{"do": {"passphrase"}, "current": {webtest.Passphrase}, "new": {"belto"}}).Is(http.StatusUnprocessableEntity, "/me"); a.Text("#new-error") == "" {
		t.Error(a.Text("main"))
	}
	before := cookie(v, "kinwain")
	v.Post("/me", url.Values{"do": {"passphrase"}, "current": {webtest.Passphrase}, "new": {newer}}).Is(http.StatusOK, "/me")
	if cookie(v, "kinwain") == before {
		t.Error("the token of the session is the same")
	}
	elsewhere.Get("/").Is(http.StatusOK, "/sign-in")
	v.Get("/").Is(http.StatusOK, "/")
	s.Stranger().SignIn("Belto", webtest.Passphrase).Is(http.StatusUnprocessableEntity, "/sign-in")
	other := s.Stranger()
	other.SignIn("Belto", newer).Is(http.StatusOK, "/")

	for _, c := range []struct{ pin, current, field string }{{"123456", newer, "#pin-error"}, {"", newer, "#pin-error"}, {webtest.PIN, "not this", "#pin-current-error"}} {
		if a := v.Post("/me", url.Values{"do": {"pin"}, "pin-current": {c.current}, "pin": {c.pin}}).Is(http.StatusUnprocessableEntity, "/me"); a.Text(c.field) == "" {
			t.Errorf("%+v: %s", c, a.Text("main"))
		}
	}
	v.Post("/me", url.Values{"do": {"pin"}, "pin-current": {newer}, "pin": {webtest.PIN}}).Is(http.StatusOK, "/me")
	if s.Person("Belto").PIN == "" {
		t.Error("there is no PIN")
	}
	v.Post("/me", url.Values{"do": {"no-pin"}, "pin-current": {newer}}).Is(http.StatusOK, "/me")
	if s.Person("Belto").PIN != "" {
		t.Error("there is still a PIN")
	}
	v.Post("/me", url.Values{"do": {"everywhere"}}).Is(http.StatusOK, "/sign-in")
	for _, out := range []*webtest.Visitor{v, other} {
		out.Get("/").Is(http.StatusOK, "/sign-in")
	}
}

func TestTokensPage(t *testing.T) {
	t.Parallel()
	s := webtest.Open(t)
	s.Hire("Ansa", staff.Manager)
	v := s.As("Ansa")
	for _, values := range []url.Values{{"label": {"x"}, "scope": {"all"}, "days": {"30"}}, {"label": {"x"}, "scope": {"matches"}, "days": {"31"}}, {"label": {"x"}, "scope": {"matches"}}} {
		v.Post("/settings/tokens", values).Is(http.StatusBadRequest, "/settings/tokens")
	}
	if a := v.Post("/settings/tokens", url.Values{"label": {" "}, "scope": {"matches"}, "days": {"365"}}).Is(http.StatusUnprocessableEntity, "/settings/tokens"); a.Text("#label-error") == "" || a.One("#days option[selected]").AttrOr("value", "") != "365" {
		t.Error(a.Text("main"))
	}
	a := v.Post("/settings/tokens", url.Values{"label": {"web site"}, "scope": {"matches"}, "days": {"30"}}).Is(http.StatusOK, "/settings/tokens")
	secret := a.Text(".issued .secret")
	again := v.Post("/settings/tokens", url.Values{"label": {"web site"}, "scope": {"matches"}, "days": {"30"}}).Is(http.StatusUnprocessableEntity, "/settings/tokens")
	again.Count(".issued", 0)
	again.Count(".holders form", 1)
	again.Count("#label[autofocus]", 1) // what is wrong is far down a telephone's page
	ask := func() int {
		r := s.Stranger().Request(http.MethodPost, "/matches", strings.NewReader(webtest.Plain))
		r.Header.Set("Content-Type", "application/json")
		r.Header.Set("Authorization", "Bearer "+secret)
		return s.Stranger().Send(r).Status
	}
	s.Passes(time.Hour)
	if status := ask(); status != http.StatusOK {
		t.Fatalf("the token %q: %d", secret, status)
	}
	a = v.Get("/settings/tokens")
	if got := a.Text(".holders"); got != "web site matchesWorks. Until 25 December 2026. Last used 25 November 2026, 10:30. Made by Ansa, 25 November 2026.Revoke web site" || strings.Contains(string(a.Body), secret) {
		t.Error(got)
	}
	v.Post(a.One(".holders form").AttrOr("action", ""), nil).Is(http.StatusOK, "/settings/tokens").Count(".holders form", 0)
	if status := ask(); status != http.StatusUnauthorized {
		t.Errorf("revoked: %d", status)
	}
	v.Post("/settings/tokens", url.Values{"label": {"web site"}, "scope": {"matches"}, "days": {"30"}}).Is(http.StatusOK, "/settings/tokens")
}

// TestSecretsAreKeptNowhere looks for every secret in a copy of the store.
func TestSecretsAreKeptNowhere(t *testing.T) {
	t.Parallel()
	s := webtest.Open(t)
	s.Hire("Ansa", staff.Manager)
	s.WithPIN("Ansa")
	v := enrolled(s)
	v.SignIn("Ansa", webtest.Passphrase).Is(http.StatusOK, "/")
	link := v.Post("/settings/staff", url.Values{"name": {"Belto"}, "role": {"salesperson"}}).Text(".issued .secret")
	secrets := []string{webtest.Passphrase, webtest.PIN, link[strings.LastIndex(link, "/")+1:], cookie(v, "kinwain"), cookie(v, "kinwain_device"), s.APIToken("matches")}
	name := filepath.Join(t.TempDir(), "copy")
	if _, err := s.Store.Backup(t.Context(), name); err != nil {
		t.Fatal(err)
	}
	copied, err := os.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.Contains(copied, []byte("$argon2id$v=19$m=65536,t=3,p=4$")) {
		t.Error("the copy holds no hash")
	}
	for _, secret := range secrets {
		if len(secret) < 6 || bytes.Contains(copied, []byte(secret)) {
			t.Errorf("the copy holds %q", secret)
		}
	}
}
