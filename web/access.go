package web

import (
	"context"
	"net/http"
	"net/url"
	"strings"

	"github.com/go-chi/chi/v5"

	"kinwain/internal/staff"
	"kinwain/internal/store"
)

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
	{"/fit", anyone},
	{"/sign-in", anyone},
	{"/sign-out", anyone},
	{"/inventory", managerOnly},
	{"/settings", managerOnly},
	{"/consultations", staffOnly},
	{"/quotes", staffOnly},
	{"/rides", staffOnly},
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

// scopeMatches is the scope of a token that may ask for matches.
const scopeMatches = "matches"

// identity is who sends a request: a person, whoever has the printed link, or
// a program.
type identity struct {
	person int64  // id; 0 for the link and for programs
	name   string // as the header shows it
	role   staff.Role
	scope  string // of a program's token; it has no role
}

// byLink reports whether somebody is in by the printed link.
func (i *identity) byLink() bool { return i.person == 0 && i.role != "" }

type identityKey struct{}

// who returns who sends a request, or nil where nobody has signed in.
func who(r *http.Request) *identity {
	i, _ := r.Context().Value(identityKey{}).(*identity)
	return i
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
			r = r.WithContext(context.WithValue(r.Context(), identityKey{}, i))
		}
		next.ServeHTTP(w, r)
	})
}

func (s *server) identityOf(r *http.Request) (*identity, error) {
	if token, is := bearer(r); is {
		t, err := s.Store.UseAPIToken(r.Context(), token, s.Now())
		if store.CodeOf(err) == store.NotFound {
			return nil, nil
		}
		return &identity{name: t.Label, scope: t.Scope}, err
	}
	role := staff.Role(s.sessions.GetString(r.Context(), roleKey))
	id := s.sessions.GetInt64(r.Context(), personKey)
	switch {
	case role == "":
		return nil, nil
	case id == 0:
		return &identity{name: linkName, role: role}, nil
	}
	p, err := s.Store.Person(r.Context(), id)
	if err != nil && store.CodeOf(err) != store.NotFound {
		return nil, err
	}
	if err != nil || p.Disabled || p.Epoch != s.sessions.GetInt64(r.Context(), epochKey) {
		return nil, s.sessions.Destroy(r.Context())
	}
	if p.Role != role { // other rights, another token
		if err := s.sessions.RenewToken(r.Context()); err != nil {
			return nil, err
		}
		s.sessions.Put(r.Context(), roleKey, string(p.Role))
	}
	return &identity{person: p.ID, name: p.Name, role: p.Role}, nil
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

// guard lets past who may take the way in, by its rule.
func (s *server) guard(next http.Handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		if err := refusal(ruleFor(chi.RouteContext(r.Context()).RoutePattern()), r); err != nil {
			s.fail(w, r, err)
			return
		}
		next.ServeHTTP(w, r)
	})
}

// refusal says why a request may not pass, or nothing.
func refusal(rule access, r *http.Request) error {
	i := who(r)
	switch {
	case rule == anyone:
		return nil
	case rule == denied:
		return errForbidden
	case i == nil && rule == staffOrToken:
		return errToken
	case i == nil || i.role == "" && rule != staffOrToken:
		return errStaff
	case i.role == "" && i.scope != scopeMatches:
		return errScope
	case rule == managerOnly && i.role != staff.Manager:
		return errForbidden
	}
	return nil
}

// challenge tells a program what was wrong with its token, as RFC 6750 has it.
func challenge(r *http.Request, f *failure) string {
	_, sent := bearer(r)
	switch {
	case f == errScope:
		return `Bearer realm="kinwain", error="insufficient_scope", scope="` + scopeMatches + `"`
	case f == errToken && sent:
		return `Bearer realm="kinwain", error="invalid_token"`
	case f == errToken:
		return `Bearer realm="kinwain"`
	}
	return ""
}

// local returns an address within the app to go on to, or the start where it
// is none.
func local(next string) string {
	u, err := url.Parse(next)
	if err != nil || u.IsAbs() || u.Host != "" || !strings.HasPrefix(next, "/") || strings.HasPrefix(next, "//") || strings.ContainsAny(next, "\\\r\n\t") ||
		strings.HasPrefix(u.Path, "/sign-") {
		return "/"
	}
	return next
}
