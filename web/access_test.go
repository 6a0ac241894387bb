package web_test

import (
	"net/http"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/go-chi/chi/v5"

	"kinwain/internal/staff"
	"kinwain/web/webtest"
)

// may says who may take the ways in under a pattern, as the shop wants it:
// this test's own table.
func may(who, pattern string) bool {
	under := func(prefixes ...string) bool {
		return slices.ContainsFunc(prefixes, func(p string) bool { return pattern == p || strings.HasPrefix(pattern, p+"/") })
	}
	switch {
	case under("/static", "/openapi.json", "/manifest.webmanifest", "/worker.js", "/offline", "/fit", "/sign-in", "/sign-out"):
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
func patterns(s *webtest.Shop) map[string][]string {
	all := map[string][]string{}
	err := chi.Walk(s.App.(chi.Routes), func(method, pattern string, _ http.Handler, _ ...func(http.Handler) http.Handler) error {
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
	t.Parallel()
	s := webtest.Open(t)
	s.Hire("Ansa", staff.Manager)
	s.Hire("Belto", staff.Salesperson)
	c, err := s.Store.CreateConsultation(t.Context(), "", "", []byte(`{"values":{},"unknown":[]}`), webtest.Morning)
	if err != nil {
		t.Fatal(err)
	}
	fill := strings.NewReplacer("{id}", c.ID, "{code}", "sedge", "{token}", webtest.Token, "*", "app.css")
	bearer := s.APIToken("matches")
	enter := map[string]func() *webtest.Visitor{"nobody": s.Stranger, "program": s.Stranger,
		"salesperson": func() *webtest.Visitor { return s.As("Belto") }, "manager": func() *webtest.Visitor { return s.As("Ansa") }}
	for who, open := range enter {
		v := open()
		for pattern, takes := range patterns(s) {
			for _, method := range []string{http.MethodGet, http.MethodHead, http.MethodPost, http.MethodPut, http.MethodPatch, http.MethodDelete, http.MethodOptions} {
				r := v.Request(method, fill.Replace(pattern), strings.NewReader("do=nothing"))
				r.Header.Set("Content-Type", "application/x-www-form-urlencoded")
				if who == "program" {
					r.Header.Set("Authorization", "Bearer "+bearer)
				}
				status := once(v, r)
				refused := status == http.StatusForbidden || status == http.StatusUnauthorized || who == "nobody" && pattern == "/" && status == http.StatusSeeOther // to the sign-in
				wrongMethod := status == http.StatusMethodNotAllowed
				switch {
				case wrongMethod && !slices.Contains(takes, method):
				case wrongMethod || refused == may(who, pattern) || status >= 500: // a pattern may cover another's address
					t.Errorf("%s: %s %s: %d", who, method, pattern, status)
				}
				if strings.HasPrefix(pattern, "/sign-") && v.Get("/me").Text("h1") != headingOf(s, who) {
					v = open() // that was the way out, or in as somebody else
				}
			}
		}
	}
}

// headingOf is what the own page of a role is headed with.
func headingOf(s *webtest.Shop, role string) string {
	return map[string]string{"manager": "Ansa", "salesperson": "Belto", "nobody": "Please sign in", "program": "Please sign in"}[role]
}

// once sends a request without following where it leads.
func once(v *webtest.Visitor, r *http.Request) int {
	v.Helper()
	follow := v.Client.CheckRedirect
	v.Client.CheckRedirect = func(*http.Request, []*http.Request) error { return http.ErrUseLastResponse }
	defer func() { v.Client.CheckRedirect = follow }()
	return v.Send(r).Status
}

// TestRefusalsSayWhatToDo looks at the pages of those who may not.
func TestRefusalsSayWhatToDo(t *testing.T) {
	t.Parallel()
	s := webtest.Open(t)
	s.Hire("Belto", staff.Salesperson)
	a := s.As("Belto").Get("/settings/staff").Is(http.StatusForbidden, "/settings/staff")
	if a.Text("main h1") != "For managers" || !strings.Contains(a.Text("main p"), "Ask a manager") || a.One("main a.button").AttrOr("href", "") != "/" {
		t.Error(a.Text("main"))
	}
	a.Count(`header a[href="/settings"], header a[href="/inventory"]`, 0)
	s.As("Belto").Get("/").Count(`a[href^="/inventory"], a[href^="/settings"]`, 0)
	if a.Text("header .me") != "Signed in as Belto" {
		t.Error(a.Text("header"))
	}
	a = s.Stranger().Get("/quotes/x?a=b").Is(http.StatusForbidden, "/quotes/x?a=b")
	if got := a.One("main a.button").AttrOr("href", ""); got != "/sign-in?next=%2Fquotes%2Fx%3Fa%3Db" {
		t.Error(got)
	}
	s.Hire("Ansa", staff.Manager)
	s.As("Ansa").Get("/").Count(`header a[href="/settings"], header a[href="/inventory"]`, 2)
}

// TestProgramsAskForMatches sends tokens of every kind from another site,
// which no cookie may.
func TestProgramsAskForMatches(t *testing.T) {
	t.Parallel()
	s := webtest.Open(t)
	good, other := s.APIToken("matches"), s.APIToken("other")
	ask := func(authorization, document string, edit ...func(*http.Request)) *webtest.Answer {
		v := s.Stranger()
		r := v.Request(http.MethodPost, "/matches", strings.NewReader(document))
		r.Header.Set("Content-Type", "application/json")
		r.Header.Set("Origin", "https://elsewhere.example")
		r.Header.Set("Authorization", authorization)
		for _, e := range edit {
			e(r)
		}
		return v.Send(r)
	}
	for _, scheme := range []string{"Bearer ", "bearer ", "BEARER  "} {
		if n := len(webtest.ToldByDocument(t, ask(scheme+good, webtest.Plain).Is(http.StatusOK, "/matches").Body)); n != 14 {
			t.Errorf("%s: %d frames", scheme, n)
		}
	}
	ask("Bearer "+good, "{").Is(http.StatusUnprocessableEntity, "/matches")
	refused := func(name, authorization string, status int, code, challenge string) {
		t.Helper()
		a := ask(authorization, webtest.Plain).Is(status, "/matches")
		if w := a.Wrong(); w.Error.Code != code || a.Header.Get("WWW-Authenticate") != challenge {
			t.Errorf("%s: %s, %q", name, a.Body, a.Header.Get("WWW-Authenticate"))
		}
	}
	// The challenges are those of RFC 6750, section 3.
	const invalid = `Bearer realm="kinwain", error="invalid_token"`
	refused("another scope", "Bearer "+other, http.StatusForbidden, "scope", `Bearer realm="kinwain", error="insufficient_scope", scope="matches"`)
	refused("a made-up token", "Bearer kinwain_aaaa", http.StatusUnauthorized, "token", invalid)
	refused("no token", "Bearer", http.StatusUnauthorized, "token", invalid)
	refused("in large letters", "Bearer "+strings.ToUpper(good), http.StatusUnauthorized, "token", invalid)
	refused("another scheme", "Basic "+good, http.StatusForbidden, "origin", "")
	s.Passes(time.Hour - time.Second)
	ask("Bearer "+good, webtest.Plain).Is(http.StatusOK, "/matches")
	s.Passes(time.Second)
	refused("too old", "Bearer "+good, http.StatusUnauthorized, "token", invalid)

	cookie := cookieFor(t, s.Store, s.App)
	if a := ask("Bearer kinwain_aaaa", webtest.Plain, func(r *http.Request) { r.AddCookie(cookie) }); a.Status != http.StatusUnauthorized {
		t.Errorf("a wrong token with the cookie of a manager: %d", a.Status)
	}
}
