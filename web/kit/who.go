package kit

import (
	"context"
	"net/http"

	"kinwain/internal/staff"
	"kinwain/internal/store"
)

// ScopeMatches is the scope of a token that may ask for matches.
const ScopeMatches = "matches"

// Identity is who sends a request: a person, whoever has the printed link, or
// a program.
type Identity struct {
	Person int64  // id; 0 for the link and for programs
	Name   string // as the header shows it
	Role   staff.Role
	Entry  int64  // by the printed link; 0 for everybody else
	Scope  string // of a program's token; it has no role
}

// ByLink reports whether somebody is in by the printed link.
func (i *Identity) ByLink() bool { return i.Person == 0 && i.Role != "" }

type identityKey struct{}

// WithIdentity returns the request with who sends it.
func WithIdentity(r *http.Request, i *Identity) *http.Request {
	return r.WithContext(context.WithValue(r.Context(), identityKey{}, i))
}

// Who returns who sends a request, or nil where nobody has signed in.
func Who(r *http.Request) *Identity {
	i, _ := r.Context().Value(identityKey{}).(*Identity)
	return i
}

// Author is the person behind a request, for the history: how they change
// something, and when.
func (k *Kit) Author(r *http.Request, how string) store.Author {
	by := store.Author{How: how, At: k.Now()}
	if i := Who(r); i != nil {
		by.Who = i.Name
	}
	return by
}

// LinkName is what whoever is in by the printed link is called.
const LinkName = "manager (printed link)"
