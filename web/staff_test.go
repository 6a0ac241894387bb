package web_test

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
)

func (v *visitor) change(p store.Person, do string, more ...string) *answer {
	values := url.Values{"do": {do}}
	if len(more) > 0 {
		values.Set(fmt.Sprintf("role-%d", p.ID), more[0])
	}
	return v.post(fmt.Sprintf("/settings/staff/%d", p.ID), values)
}

// TestFirstManager goes from the printed link to an account.
func TestFirstManager(t *testing.T) {
	s := open(t)
	v := s.staff()
	if got := v.get("/").one(".invite a").AttrOr("href", ""); got != "/me" {
		t.Errorf("the invitation leads to %q", got)
	}
	a := v.post("/me", url.Values{"do": {"account"}, "name": {"manager (printed LINK)"}, "new": {"short"}}).is(http.StatusUnprocessableEntity, "/me")
	if a.text("#name-error") == "" || a.text("#new-error") == "" || a.one("#name").AttrOr("value", "") != "manager (printed LINK)" {
		t.Error(a.text("main"))
	}
	before := v.cookie("kinwain")
	a = v.post("/me", url.Values{"do": {"account"}, "name": {"Ansa"}, "new": {passphrase}}).is(http.StatusOK, "/me")
	if a.text("h1") != "Ansa" || a.text(".done") == "" || v.cookie("kinwain") == before {
		t.Errorf("%s; the token of the session was renewed: %v", a.text("main"), v.cookie("kinwain") != before)
	}
	v.get("/").count(".invite", 0)
	v.get("/settings/staff").count(".holders > li", 1)
	s.staff().get("/").count(".invite", 0)
	s.staff().post("/me", url.Values{"do": {"account"}, "name": {"ansa"}, "new": {passphrase}}).is(http.StatusUnprocessableEntity, "/me")
	s.as("Ansa").get("/settings/staff").is(http.StatusOK, "/settings/staff")
}

// cookie returns the value of a cookie that the visitor holds.
func (v *visitor) cookie(name string) string {
	u, err := url.Parse(v.server.URL)
	if err != nil {
		v.Fatal(err)
	}
	for _, c := range v.client.Jar.Cookies(u) {
		if c.Name == name {
			return c.Value
		}
	}
	return ""
}

func TestRightsChangeAtOnce(t *testing.T) {
	s := open(t)
	s.hire("Ansa", staff.Manager)
	belto := s.hire("Belto", staff.Salesperson)
	manager, v := s.as("Ansa"), s.as("Belto")
	v.get("/settings/staff").is(http.StatusForbidden, "/settings/staff")
	before := v.cookie("kinwain")
	if got := manager.change(belto, "role", "manager").is(http.StatusOK, "/settings/staff").text(".done"); got != "Belto is a manager now." {
		t.Error(got)
	}
	v.get("/settings/staff").is(http.StatusOK, "/settings/staff")
	after := v.cookie("kinwain")
	if after == before {
		t.Error("other rights, and the same token of the session")
	}
	old := s.stranger()
	r := old.request(http.MethodGet, "/", nil)
	r.AddCookie(&http.Cookie{Name: "kinwain", Value: before})
	if a := old.send(r); a.status != http.StatusForbidden {
		t.Errorf("the token of before: %d", a.status)
	}
	manager.change(belto, "role", "salesperson").is(http.StatusOK, "/settings/staff")
	v.get("/settings/staff").is(http.StatusForbidden, "/settings/staff")
	manager.change(belto, "role", "owner").is(http.StatusBadRequest, fmt.Sprintf("/settings/staff/%d", belto.ID))
	manager.change(belto, "dance").is(http.StatusBadRequest, fmt.Sprintf("/settings/staff/%d", belto.ID))

	v.get("/").is(http.StatusOK, "/")
	manager.change(belto, "disable").is(http.StatusOK, "/settings/staff")
	v.get("/").is(http.StatusForbidden, "/")
	manager.change(belto, "enable").is(http.StatusOK, "/settings/staff")
	v.get("/").is(http.StatusForbidden, "/") // the session stays void
	s.as("Belto")
}

func TestTheLastManagerStays(t *testing.T) {
	s := open(t)
	ansa := s.hire("Ansa", staff.Manager)
	id, err := s.store.AddPerson(t.Context(), "Invited", staff.Manager, morning) // cannot sign in yet
	if err != nil {
		t.Fatal(err)
	}
	v := s.as("Ansa")
	for _, a := range []*answer{v.change(ansa, "disable"), v.change(ansa, "role", "salesperson")} {
		if a.status != http.StatusUnprocessableEntity || !strings.HasPrefix(a.text(".alert"), "This is the last manager") {
			t.Errorf("%d %s", a.status, a.text(".alert"))
		}
	}
	v.get("/settings/staff").is(http.StatusOK, "/settings/staff")
	v.change(store.Person{ID: id}, "disable").is(http.StatusOK, "/settings/staff")
	s.hire("Rail", staff.Manager)
	v.change(ansa, "role", "salesperson")
	v.get("/settings/staff").is(http.StatusForbidden, "/settings/staff")
	if p := s.person("Ansa"); p.Role != staff.Salesperson {
		t.Errorf("%+v", p)
	}
}

func TestOwnPage(t *testing.T) {
	s := open(t)
	s.hire("Belto", staff.Salesperson)
	v, elsewhere := s.as("Belto"), s.as("Belto")
	const newer = "a boat of my own"
	wrong := v.post("/me", url.Values{"do": {"passphrase"}, "current": {"not this"}, "new": {newer}}).is(http.StatusUnprocessableEntity, "/me")
	if wrong.text("#current-error") == "" || strings.Contains(string(wrong.body), newer) {
		t.Error(wrong.text("main"))
	}
	if a := v.post("/me", url.Values{"do": {"passphrase"}, "current": {passphrase}, "new": {"belto"}}).is(http.StatusUnprocessableEntity, "/me"); a.text("#new-error") == "" {
		t.Error(a.text("main"))
	}
	before := v.cookie("kinwain")
	v.post("/me", url.Values{"do": {"passphrase"}, "current": {passphrase}, "new": {newer}}).is(http.StatusOK, "/me")
	if v.cookie("kinwain") == before {
		t.Error("the token of the session is the same")
	}
	elsewhere.get("/").is(http.StatusForbidden, "/")
	v.get("/").is(http.StatusOK, "/")
	s.stranger().signIn("Belto", passphrase).is(http.StatusUnprocessableEntity, "/sign-in")
	other := s.stranger()
	other.signIn("Belto", newer).is(http.StatusOK, "/")

	for _, c := range []struct{ pin, current, field string }{{"123456", newer, "#pin-error"}, {"", newer, "#pin-error"}, {pin, "not this", "#pin-current-error"}} {
		if a := v.post("/me", url.Values{"do": {"pin"}, "pin-current": {c.current}, "pin": {c.pin}}).is(http.StatusUnprocessableEntity, "/me"); a.text(c.field) == "" {
			t.Errorf("%+v: %s", c, a.text("main"))
		}
	}
	v.post("/me", url.Values{"do": {"pin"}, "pin-current": {newer}, "pin": {pin}}).is(http.StatusOK, "/me")
	if s.person("Belto").PIN == "" {
		t.Error("there is no PIN")
	}
	v.post("/me", url.Values{"do": {"no-pin"}, "pin-current": {newer}}).is(http.StatusOK, "/me")
	if s.person("Belto").PIN != "" {
		t.Error("there is still a PIN")
	}
	v.post("/me", url.Values{"do": {"everywhere"}}).is(http.StatusOK, "/sign-in")
	for _, out := range []*visitor{v, other} {
		out.get("/").is(http.StatusForbidden, "/")
	}
}

func TestTokensPage(t *testing.T) {
	s := open(t)
	s.hire("Ansa", staff.Manager)
	v := s.as("Ansa")
	for _, values := range []url.Values{{"label": {"x"}, "scope": {"all"}, "days": {"30"}}, {"label": {"x"}, "scope": {"matches"}, "days": {"31"}}, {"label": {"x"}, "scope": {"matches"}}} {
		v.post("/settings/tokens", values).is(http.StatusBadRequest, "/settings/tokens")
	}
	if a := v.post("/settings/tokens", url.Values{"label": {" "}, "scope": {"matches"}, "days": {"365"}}).is(http.StatusUnprocessableEntity, "/settings/tokens"); a.text("#label-error") == "" || a.one("#days option[selected]").AttrOr("value", "") != "365" {
		t.Error(a.text("main"))
	}
	a := v.post("/settings/tokens", url.Values{"label": {"web site"}, "scope": {"matches"}, "days": {"30"}}).is(http.StatusOK, "/settings/tokens")
	secret := a.text(".issued .secret")
	ask := func() int {
		r := s.stranger().request(http.MethodPost, "/matches", strings.NewReader(plain))
		r.Header.Set("Content-Type", "application/json")
		r.Header.Set("Authorization", "Bearer "+secret)
		return s.stranger().send(r).status
	}
	s.passes(time.Hour)
	if status := ask(); status != http.StatusOK {
		t.Fatalf("the token %q: %d", secret, status)
	}
	a = v.get("/settings/tokens")
	if got := a.text(".holders"); got != "web site matchesWorks. Until 25 December 2026. Last used 25 November 2026, 10:30. Made by Ansa, 25 November 2026.Revoke web site" || strings.Contains(string(a.body), secret) {
		t.Error(got)
	}
	v.post(a.one(".holders form").AttrOr("action", ""), nil).is(http.StatusOK, "/settings/tokens").count(".holders form", 0)
	if status := ask(); status != http.StatusUnauthorized {
		t.Errorf("revoked: %d", status)
	}
}

// TestSecretsAreKeptNowhere looks for every secret in a copy of the store.
func TestSecretsAreKeptNowhere(t *testing.T) {
	s := open(t)
	s.hire("Ansa", staff.Manager)
	s.withPIN("Ansa")
	v := s.enrolled()
	v.signIn("Ansa", passphrase).is(http.StatusOK, "/")
	link := v.post("/settings/staff", url.Values{"name": {"Belto"}, "role": {"salesperson"}}).text(".issued .secret")
	secrets := []string{passphrase, pin, link[strings.LastIndex(link, "/")+1:], v.cookie("kinwain"), v.cookie("kinwain_device"), s.apiToken("matches")}
	name := filepath.Join(t.TempDir(), "copy")
	if err := s.store.Backup(t.Context(), name); err != nil {
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
