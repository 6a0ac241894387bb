package web_test

import (
	"net/http"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/go-chi/chi/v5"

	"kinwain/internal/staff"
	"kinwain/internal/store"
)

// passphrase is the one of everybody in the tests; hashing it takes its time.
const passphrase = "tide tables and teasel"

var hashed = sync.OnceValue(func() string { return staff.Hash(passphrase) })

// hire gives somebody an account with the passphrase of the tests.
func (s *shop) hire(name string, role staff.Role) store.Person {
	s.Helper()
	id, err := s.store.AddPerson(s.Context(), name, role, s.clock())
	if err == nil {
		err = s.store.SetPassphrase(s.Context(), id, hashed())
	}
	if err != nil {
		s.Fatal(err)
	}
	return s.person(name)
}

func (s *shop) person(name string) store.Person {
	s.Helper()
	p, err := s.store.PersonNamed(s.Context(), name)
	if err != nil {
		s.Fatal(err)
	}
	return p
}

// as returns a visitor who has signed in by name.
func (s *shop) as(name string) *visitor {
	s.Helper()
	v := s.stranger()
	v.signIn(name, passphrase).is(http.StatusOK, "/")
	return v
}

func (v *visitor) signIn(name, passphrase string) *answer {
	return v.post("/sign-in", map[string][]string{"do": {"passphrase"}, "name": {name}, "passphrase": {passphrase}})
}

// apiToken returns a token that lasts an hour.
func (s *shop) apiToken(scope string) string {
	s.Helper()
	t, err := s.store.IssueAPIToken(s.Context(), store.APIToken{Label: "web site", Scope: scope, MadeBy: "Ansa", Created: s.clock(), Expires: s.clock().Add(time.Hour)})
	if err != nil {
		s.Fatal(err)
	}
	return t
}

// may says who may take the ways in under a pattern, as the shop wants it:
// this test's own table.
func may(who, pattern string) bool {
	under := func(prefixes ...string) bool {
		return slices.ContainsFunc(prefixes, func(p string) bool { return pattern == p || strings.HasPrefix(pattern, p+"/") })
	}
	switch {
	case under("/static", "/fit", "/sign-in", "/sign-out"):
		return true
	case who == "nobody":
		return false
	case who == "program":
		return pattern == "/matches"
	case who == "salesperson":
		return !under("/inventory", "/settings")
	}
	return who == "manager"
}

// patterns lists the ways in by their pattern, with the methods that each
// takes.
func (s *shop) patterns() map[string][]string {
	all := map[string][]string{}
	err := chi.Walk(s.app.(chi.Routes), func(method, pattern string, _ http.Handler, _ ...func(http.Handler) http.Handler) error {
		all[pattern] = append(all[pattern], method)
		if method == http.MethodGet {
			all[pattern] = append(all[pattern], http.MethodHead)
		}
		return nil
	})
	if err != nil || len(all) < 20 {
		s.Fatalf("%d ways in, %v", len(all), err)
	}
	return all
}

// TestWhoMayTakeWhichWay sends every method to every way in as everybody. A
// way in without a rule lets nobody in, and so fails here as the manager's.
func TestWhoMayTakeWhichWay(t *testing.T) {
	s := open(t)
	s.hire("Ansa", staff.Manager)
	s.hire("Belto", staff.Salesperson)
	c, err := s.store.CreateConsultation(t.Context(), "", []byte(`{"values":{},"unknown":[]}`), morning)
	if err != nil {
		t.Fatal(err)
	}
	fill := strings.NewReplacer("{id}", c.ID, "{code}", "sedge", "{token}", token, "*", "app.css")
	bearer := s.apiToken("matches")
	enter := map[string]func() *visitor{"nobody": s.stranger, "program": s.stranger,
		"salesperson": func() *visitor { return s.as("Belto") }, "manager": func() *visitor { return s.as("Ansa") }}
	for who, open := range enter {
		v := open()
		for pattern, takes := range s.patterns() {
			for _, method := range []string{http.MethodGet, http.MethodHead, http.MethodPost, http.MethodPut, http.MethodPatch, http.MethodDelete, http.MethodOptions} {
				r := v.request(method, fill.Replace(pattern), strings.NewReader("do=nothing"))
				r.Header.Set("Content-Type", "application/x-www-form-urlencoded")
				if who == "program" {
					r.Header.Set("Authorization", "Bearer "+bearer)
				}
				status := v.once(r)
				refused := status == http.StatusForbidden || status == http.StatusUnauthorized
				wrongMethod := status == http.StatusMethodNotAllowed
				switch {
				case wrongMethod && !slices.Contains(takes, method):
				case wrongMethod || refused == may(who, pattern) || status >= 500: // a pattern may cover another's address
					t.Errorf("%s: %s %s: %d", who, method, pattern, status)
				}
				if strings.HasPrefix(pattern, "/sign-") && v.get("/me").text("h1") != s.nameOf(who) {
					v = open() // that was the way out, or in as somebody else
				}
			}
		}
	}
}

// nameOf is what the own page of a role is headed with.
func (s *shop) nameOf(role string) string {
	return map[string]string{"manager": "Ansa", "salesperson": "Belto", "nobody": "Please sign in", "program": "Please sign in"}[role]
}

// once sends a request without following where it leads.
func (v *visitor) once(r *http.Request) int {
	v.Helper()
	follow := v.client.CheckRedirect
	v.client.CheckRedirect = func(*http.Request, []*http.Request) error { return http.ErrUseLastResponse }
	defer func() { v.client.CheckRedirect = follow }()
	return v.send(r).status
}

// TestRefusalsSayWhatToDo looks at the pages of those who may not.
func TestRefusalsSayWhatToDo(t *testing.T) {
	s := open(t)
	s.hire("Belto", staff.Salesperson)
	a := s.as("Belto").get("/settings/staff").is(http.StatusForbidden, "/settings/staff")
	if a.text("main h1") != "For managers" || !strings.Contains(a.text("main p"), "Ask a manager") || a.one("main a.button").AttrOr("href", "") != "/" {
		t.Error(a.text("main"))
	}
	a.count(`header a[href="/settings"], header a[href="/inventory"]`, 0)
	s.as("Belto").get("/").count(`a[href^="/inventory"], a[href^="/settings"]`, 0)
	if a.text("header .me") != "Signed in as Belto" {
		t.Error(a.text("header"))
	}
	a = s.stranger().get("/quotes/x?a=b").is(http.StatusForbidden, "/quotes/x?a=b")
	if got := a.one("main a.button").AttrOr("href", ""); got != "/sign-in?next=%2Fquotes%2Fx%3Fa%3Db" {
		t.Error(got)
	}
	s.hire("Ansa", staff.Manager)
	s.as("Ansa").get("/").count(`header a[href="/settings"], header a[href="/inventory"]`, 2)
}

// TestProgramsAskForMatches sends tokens of every kind from another site,
// which no cookie may.
func TestProgramsAskForMatches(t *testing.T) {
	s := open(t)
	good, other := s.apiToken("matches"), s.apiToken("other")
	ask := func(authorization, document string, edit ...func(*http.Request)) *answer {
		v := s.stranger()
		r := v.request(http.MethodPost, "/matches", strings.NewReader(document))
		r.Header.Set("Content-Type", "application/json")
		r.Header.Set("Origin", "https://elsewhere.example")
		r.Header.Set("Authorization", authorization)
		for _, e := range edit {
			e(r)
		}
		return v.send(r)
	}
	for _, scheme := range []string{"Bearer ", "bearer ", "BEARER  "} {
		if n := len(toldByDocument(t, ask(scheme+good, plain).is(http.StatusOK, "/matches").body)); n != 14 {
			t.Errorf("%s: %d frames", scheme, n)
		}
	}
	ask("Bearer "+good, "{").is(http.StatusUnprocessableEntity, "/matches")
	refused := func(name, authorization string, status int, code, challenge string) {
		t.Helper()
		a := ask(authorization, plain).is(status, "/matches")
		if w := a.wrong(); w.Error.Code != code || a.header.Get("WWW-Authenticate") != challenge {
			t.Errorf("%s: %s, %q", name, a.body, a.header.Get("WWW-Authenticate"))
		}
	}
	// The challenges are those of RFC 6750, section 3.
	const invalid = `Bearer realm="kinwain", error="invalid_token"`
	refused("another scope", "Bearer "+other, http.StatusForbidden, "scope", `Bearer realm="kinwain", error="insufficient_scope", scope="matches"`)
	refused("a made-up token", "Bearer kinwain_aaaa", http.StatusUnauthorized, "token", invalid)
	refused("no token", "Bearer", http.StatusUnauthorized, "token", invalid)
	refused("in large letters", "Bearer "+strings.ToUpper(good), http.StatusUnauthorized, "token", invalid)
	refused("another scheme", "Basic "+good, http.StatusForbidden, "origin", "")
	s.passes(time.Hour - time.Second)
	ask("Bearer "+good, plain).is(http.StatusOK, "/matches")
	s.passes(time.Second)
	refused("too old", "Bearer "+good, http.StatusUnauthorized, "token", invalid)

	cookie := cookieFor(t, s.app)
	if a := ask("Bearer kinwain_aaaa", plain, func(r *http.Request) { r.AddCookie(cookie) }); a.status != http.StatusUnauthorized {
		t.Errorf("a wrong token with the cookie of a manager: %d", a.status)
	}
}
