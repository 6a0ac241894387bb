package page

// SignIn is the page on which staff sign in.
type SignIn struct {
	Shell
	Next       string // where to go then
	Alert      string // what was wrong
	Name       Field
	Passphrase Field
	Device     string // label of the enrolled device; none if empty
	Person     Field  // who has a PIN
	PIN        Field
}

// NewAccount is the page on which a link lets somebody choose a passphrase.
type NewAccount struct {
	Shell
	Action     string
	Person     string
	Role       string
	Passphrase Field
}

// Me is the page of who is signed in.
type Me struct {
	Shell
	Said    string // what was done
	Alert   string
	ByLink  bool // by the printed link: there is no account yet
	Role    string
	HasPIN  bool
	Devices string // where the PIN works, in words
	Account []Field
	Change  []Field // of the passphrase; the current one first
	PIN     []Field // the current passphrase first
}

// Staff is the page of the people and the devices.
type Staff struct {
	Shell
	Said    string
	Alert   string
	Issued  *Issued
	People  []Person
	Add     []Field
	Devices []Device
	Label   Field // of this device
	This    string
}

// Issued is a link or a token, shown this once.
type Issued struct {
	Title string
	Text  string
	Value string
}

// Person is one line of the people.
type Person struct {
	ID       string
	Name     string
	State    string // can sign in; has no passphrase yet; switched off
	Since    string
	You      bool
	Disabled bool
	Role     Field
}

// Device is an enrolled device.
type Device struct{ ID, Label, Since string }

// Tokens is the page of the API tokens.
type Tokens struct {
	Shell
	Said   string
	Issued *Issued
	Tokens []Token
	Fields []Field
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
