// Package staff knows who works in the shop: what a role may be, which names
// are the same, which passphrases and PINs will do, how they are hashed, and
// how long somebody waits who keeps getting them wrong.
package staff

import (
	"strings"
	"unicode"
	"unicode/utf8"

	"golang.org/x/text/cases"
	"golang.org/x/text/unicode/norm"
)

// Role is what a person may do.
type Role string

// The roles. A manager may do all that a salesperson may.
const (
	Manager     Role = "manager"
	Salesperson Role = "salesperson"
)

// KnownRole returns the role of that name.
func KnownRole(name string) (Role, bool) {
	r := Role(name)
	return r, r == Manager || r == Salesperson
}

// Limits of what people choose, in characters. NIST SP 800-63B (from memory)
// asks for at least 8 characters, better 15, for no rules about which, and for
// room for at least 64. A PIN works on an enrolled device only and locks.
const (
	MinPassphrase = 12
	MaxPassphrase = 128
	MinPIN        = 6
	MaxPIN        = 10
	MaxName       = 60
)

// Name returns a name as it is shown: no space around it, single ones within,
// and one spelling of each character.
func Name(typed string) string { return strings.Join(strings.Fields(norm.NFC.String(typed)), " ") }

// Fold returns what tells people apart: two names with the same fold are one.
func Fold(name string) string { return cases.Fold().String(norm.NFKC.String(Name(name))) }

// CheckName says in a sentence why a name will not do, or nothing.
func CheckName(name string) string {
	name = Name(name)
	switch {
	case name == "":
		return "Write the name."
	case utf8.RuneCountInString(name) > MaxName:
		return "Write a name of at most 60 characters."
	case strings.ContainsFunc(name, func(r rune) bool { return !unicode.IsGraphic(r) }):
		return "Write the name in letters that can be seen."
	}
	return ""
}

// CheckPassphrase says in a sentence why the passphrase of a person will not
// do, or nothing. Every character counts as one, whatever it is.
func CheckPassphrase(passphrase, name string) string {
	n := utf8.RuneCountInString(norm.NFKC.String(passphrase))
	switch {
	case n < MinPassphrase:
		return "Use at least 12 characters. A few words in a row are easy to keep."
	case n > MaxPassphrase:
		return "Use at most 128 characters."
	case Fold(passphrase) == Fold(name):
		return "Use something other than the name."
	case strings.Count(passphrase, passphrase[:1]) == len(passphrase):
		return "Use more than one character over and over."
	}
	return ""
}

// CheckPIN says in a sentence why a PIN will not do, or nothing.
func CheckPIN(pin string) string {
	switch {
	case len(pin) < MinPIN || len(pin) > MaxPIN || strings.Trim(pin, "0123456789") != "":
		return "Use 6 to 10 digits."
	case strings.Count(pin, pin[:1]) == len(pin) || strings.Contains("01234567890123456789", pin) || strings.Contains("98765432109876543210", pin):
		return "Others would try this first. Use digits that do not run in order."
	}
	return ""
}
