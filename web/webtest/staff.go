package webtest

import (
	"encoding/base64"
	"fmt"
	"net/http"
	"net/url"
	"sync"
	"time"

	"golang.org/x/crypto/argon2"

	"kinwain/internal/staff"
	"kinwain/internal/store"
)

// Passphrase is the one of everybody in the tests.
const Passphrase = "tide tables and teasel"

// hashed is the hash of the passphrase with the least parameters there are, for
// those whom a test hires: what they choose themselves, and what is guessed of a
// name that nobody has, takes as long as in the shop.
var hashed = sync.OnceValue(func() string {
	salt := []byte("of the tests all")
	tag := argon2.IDKey([]byte(Passphrase), salt, 1, 8, 1, 32)
	b64 := base64.RawStdEncoding.EncodeToString
	return fmt.Sprintf("$argon2id$v=%d$m=8,t=1,p=1$%s$%s", argon2.Version, b64(salt), b64(tag))
})

// Hire gives somebody an account with the passphrase of the tests.
func (s *Shop) Hire(name string, role staff.Role) store.Person {
	s.Helper()
	id, err := s.Store.AddPerson(s.Context(), name, role, s.Clock())
	if err == nil {
		err = s.Store.SetPassphrase(s.Context(), id, hashed())
	}
	if err != nil {
		s.Fatal(err)
	}
	return s.Person(name)
}

// Person returns an account by its name.
func (s *Shop) Person(name string) store.Person {
	s.Helper()
	p, err := s.Store.PersonNamed(s.Context(), name)
	if err != nil {
		s.Fatal(err)
	}
	return p
}

// As returns a visitor who has signed in by name.
func (s *Shop) As(name string) *Visitor {
	s.Helper()
	v := s.Stranger()
	v.SignIn(name, Passphrase).Is(http.StatusOK, "/")
	return v
}

// SignIn signs in by name and passphrase.
func (v *Visitor) SignIn(name, passphrase string) *Answer {
	return v.Post("/sign-in", map[string][]string{"do": {"passphrase"}, "name": {name}, "passphrase": {passphrase}})
}

// APIToken returns a token that lasts an hour.
func (s *Shop) APIToken(scope string) string {
	s.Helper()
	t, err := s.Store.IssueAPIToken(s.Context(), store.APIToken{Label: "web site for " + scope, Scope: scope, MadeBy: "Ansa", Created: s.Clock(), Expires: s.Clock().Add(time.Hour)})
	if err != nil {
		s.Fatal(err)
	}
	return t
}

// PIN is the one of everybody in the tests who has one.
const PIN = "481516"

// WithPIN gives a person a PIN, as they do it on their own page.
func (s *Shop) WithPIN(name string) {
	s.Helper()
	v := s.As(name)
	v.Post("/me", url.Values{"do": {"pin"}, "pin-current": {Passphrase}, "pin": {PIN}}).Is(http.StatusOK, "/me")
}
