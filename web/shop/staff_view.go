package shop

import (
	"kinwain/web/kit"
)

// SignIn is the page on which staff sign in.
type SignIn struct {
	kit.Shell
	Next       string // where to go then
	Alert      string // what was wrong
	Name       kit.Field
	Passphrase kit.Field
	Device     string    // label of the enrolled device; none if empty
	Person     kit.Field // who has a PIN
	PIN        kit.Field
}

// NewAccount is the page on which a link lets somebody choose a passphrase.
type NewAccount struct {
	kit.Shell
	Action     string
	Person     string
	Role       string
	Passphrase kit.Field
}

// Me is the page of who is signed in.
type Me struct {
	kit.Shell
	Said    string // what was done
	Alert   string
	ByLink  bool // by the printed link: there is no account yet
	Role    string
	HasPIN  bool
	Devices string // where the PIN works, in words
	SignIns []SignedIn
	Account []kit.Field
	Change  []kit.Field // of the passphrase; the current one first
	PIN     []kit.Field // the current passphrase first
}

// SignedIn is one time that somebody signed in, or failed to.
type SignedIn struct {
	When, Where, How string
	Wrong            bool
}

// OneButton is a page of a link that does one thing, when somebody says so.
type OneButton struct {
	kit.Shell
	Heading string
	Text    string
	Action  string
	Button  string
}

// Staff is the page of the people and the devices.
type Staff struct {
	kit.Shell
	Said    string
	Alert   string
	Issued  *Issued
	People  []Person
	Add     []kit.Field
	Devices []Device
	Label   kit.Field // of this device
	Tablet  kit.Field // label of another one, that scans a code
	Entries []Entry
	This    string
}

// Issued is a link or a token, shown this once.
type Issued struct {
	Title string
	Text  string
	Value string
	Code  string // the value as a drawing to scan; none if empty
}

// Entry is somebody who is in by the printed link.
type Entry struct {
	ID    string
	Since string
	You   bool
}

// Person is one line of the people.
type Person struct {
	ID       string
	Name     string
	State    string // can sign in; has no passphrase yet; switched off
	Since    string
	You      bool
	Disabled bool
	Role     kit.Field
}

// Device is an enrolled device.
type Device struct{ ID, Label, Since string }

// Tokens is the page of the API tokens.
type Tokens struct {
	kit.Shell
	Said   string
	Issued *Issued
	Tokens []Token
	Fields []kit.Field
}

// Token is one line of the API tokens.
type Token struct {
	ID    string
	Label string
	Scope string
	Made  string
	Until string
	Used  string
	State string
	Live  bool // it can be revoked
}
