package kit

import (
	"crypto/rand"
	"crypto/sha256"
	"encoding/base32"
	"net/http"
	"strings"
)

// OnceField is the name of the token of a form that makes something.
const OnceField = "once"

// leastOnce is the length of a token that nobody can guess.
const leastOnce = 26

// NewOnce draws the token of a form that makes something.
func NewOnce() string { return rand.Text() }

// Once is the ID of what a posted form makes. It follows from the token of the
// form and from all that was typed, so that a form which is sent twice makes
// one thing, and one that was changed in between another. It is empty where
// the form has no such token.
func Once(r *http.Request) string {
	if len(r.PostForm.Get(OnceField)) < leastOnce {
		return ""
	}
	sum := sha256.Sum256([]byte(r.URL.Path + "\x00" + r.PostForm.Encode()))
	return strings.ToLower(base32.StdEncoding.WithPadding(base32.NoPadding).EncodeToString(sum[:20]))
}
