package web

import (
	"net/http"
	"strings"
	"time"

	"github.com/go-chi/chi/v5"

	"kinwain/internal/staff"
	"kinwain/internal/store"
	"kinwain/web/kit"
)

// Who sends a request is found out anew each time, so that whoever is disabled
// is out at once; other rights renew the token of the session. A request with a
// bearer token is a program's: no cookie counts for it, and so no check of its
// origin is needed.

// access is who may take a way in.
type access int

const (
	denied       access = iota // nobody: the way in has no rule
	anyone                     // no session needed; a link may carry its own secret
	staffOnly                  // whoever has signed in
	managerOnly                // managers
	staffOrToken               // whoever has signed in, or a program with a token of the scope of the path
)

// rules say who may take which way in: by the pattern of its route, or by
// whole segments that it begins with. The first that applies decides; a route
// without a rule lets nobody in.
var rules = []struct {
	pattern string
	who     access
}{
	{"/static", anyone},
	{kit.OpenAPIAddress, anyone},
	{kit.ManifestAddress, anyone},
	{workerAddress, anyone},
	{offlineAddress, anyone},
	{"/fit", anyone},
	{"/sign-in", anyone},
	{"/sign-out", anyone},
	{"/inventory", managerOnly},
	{"/settings", managerOnly},
	{"/consultations", staffOnly},
	{"/quotes", staffOnly},
	{"/rides", staffOnly},
	{"/units", staffOnly},
	{kit.SourcesAddress, staffOnly},
	{"/labels", staffOnly},
	{"/stocktakes", staffOnly},
	{"/me", staffOnly},
	{"/matches", staffOrToken},
}

// ruleFor returns who may take the route of a pattern.
func ruleFor(pattern string) access {
	if pattern == "/" {
		return staffOnly
	}
	for _, rule := range rules {
		if pattern == rule.pattern || strings.HasPrefix(pattern, rule.pattern+"/") {
			return rule.who
		}
	}
	return denied
}

// bearer returns the token that a request carries, and whether it carries one.
// Such a request comes from a program: no session counts for it.
func bearer(r *http.Request) (token string, is bool) {
	scheme, token, _ := strings.Cut(r.Header.Get("Authorization"), " ")
	return strings.TrimSpace(token), strings.EqualFold(scheme, "Bearer")
}

// identify finds out who sends a request, anew each time: whoever was disabled
// or signed out elsewhere is out at once.
func (s *server) identify(next http.Handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		i, err := s.identityOf(r)
		if err != nil {
			s.fail(w, r, err)
			return
		}
		if i != nil {
			r = kit.WithIdentity(r, i)
		}
		next.ServeHTTP(w, r)
	})
}

func (s *server) identityOf(r *http.Request) (*kit.Identity, error) {
	if token, is := bearer(r); is {
		t, err := s.store.UseAPIToken(r.Context(), token, s.Now())
		if store.CodeOf(err) == store.NotFound {
			return nil, nil
		}
		return &kit.Identity{Name: t.Label, Scope: t.Scope}, err
	}
	in := s.Session(r)
	switch {
	case in.Role == "":
		return nil, nil
	case in.Person == 0:
		stands, err := s.store.LinkEntryStands(r.Context(), in.Entry, time.Now()) // it ends with its session, by the clock of sessions
		if err == nil && !stands {
			err = s.Sessions.Destroy(r.Context())
		}
		if err != nil || !stands {
			return nil, err
		}
		return &kit.Identity{Name: kit.LinkName, Role: in.Role, Entry: in.Entry}, nil
	}
	p, err := s.store.Person(r.Context(), in.Person)
	if err != nil && store.CodeOf(err) != store.NotFound {
		return nil, err
	}
	if err != nil || p.Disabled || p.Epoch != in.Epoch {
		return nil, s.Sessions.Destroy(r.Context())
	}
	if p.Role != in.Role {
		if err := s.Promote(r, p.Role); err != nil {
			return nil, err
		}
	}
	return &kit.Identity{Person: p.ID, Name: p.Name, Role: p.Role}, nil
}

// sameOrigin refuses what a page of another site makes a browser send. What
// carries a token comes from a program, and no browser adds that by itself.
func sameOrigin(origins *http.CrossOriginProtection) func(http.Handler) http.Handler {
	return func(next http.Handler) http.Handler {
		checked := origins.Handler(next)
		return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
			if _, is := bearer(r); is {
				next.ServeHTTP(w, r)
				return
			}
			checked.ServeHTTP(w, r)
		})
	}
}

// fromHere refuses what a page of another site makes a browser send to the
// pages of strangers. These let no address be passed on, so where a browser
// says nothing else of a form, it names no origin either: such a form is let
// past, as it can do nothing but ask.
func fromHere(fail failing) func(http.Handler) http.Handler {
	origins := http.NewCrossOriginProtection()
	origins.SetDenyHandler(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) { fail(w, r, errOrigin) }))
	return func(next http.Handler) http.Handler {
		checked := origins.Handler(next)
		return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
			if r.Header.Get("Origin") == "null" && r.Header.Get("Sec-Fetch-Site") == "" {
				next.ServeHTTP(w, r)
				return
			}
			checked.ServeHTTP(w, r)
		})
	}
}

// guard lets past who may take the way in, by its rule.
func (s *server) guard(next http.Handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		err := refusal(ruleFor(chi.RouteContext(r.Context()).RoutePattern()), r)
		if err == errStaff && kit.Who(r) == nil && r.URL.Path == kit.StartAddress && !kit.WantsJSON(r) {
			err = kit.Elsewhere(kit.SignInAddress) // whoever opens the app is not told off at its door
		}
		if err != nil {
			s.fail(w, r, err)
			return
		}
		next.ServeHTTP(w, r)
	})
}

// refusal says why a request may not pass, or nothing.
func refusal(rule access, r *http.Request) error {
	i := kit.Who(r)
	switch {
	case rule == anyone:
		return nil
	case rule == denied:
		return errForbidden
	case i == nil && rule == staffOrToken:
		return errToken
	case i == nil || i.Role == "" && rule != staffOrToken:
		return errStaff
	case i.Role == "" && i.Scope != kit.ScopeMatches:
		return errScope
	case rule == managerOnly && i.Role != staff.Manager:
		return errForbidden
	}
	return nil
}

// challenge tells a program what was wrong with its token, as RFC 6750 has it.
func challenge(r *http.Request, f *kit.Failure) string {
	_, sent := bearer(r)
	switch {
	case f == errScope:
		return `Bearer realm="kinwain", error="insufficient_scope", scope="` + kit.ScopeMatches + `"`
	case f == errToken && sent:
		return `Bearer realm="kinwain", error="invalid_token"`
	case f == errToken:
		return `Bearer realm="kinwain"`
	}
	return ""
}
