package kit

// Hidden is what a form sends along without showing it.
type Hidden struct{ Name, Value string }

// Coming is a test ride in a list.
type Coming struct {
	Href, When, At string
	What, Who      string
}

// Shell is what every page has around it.
type Shell struct {
	Title    string
	Shop     string
	CSS      string // address of the style sheet
	Desk     string // and of the one of the pages at the desk; none on others
	JS       string // address of the script
	DeskJS   string // and of the one of the pages at the desk
	Icon     string
	SignedIn bool
	Who      string // name of who is signed in
	Manager  bool   // and whether they manage the shop
	Steps    []Step // of the open consultation
}

// Link leads out of the app.
type Link struct{ Label, Href string }

// Tongue leads to a page in a language.
type Tongue struct {
	Label, Lang, Href string
	Current           bool
}

// Step is one screen of a consultation.
type Step struct {
	Label   string
	Href    string
	Done    string // that it was done, and when
	Current bool   // it is shown, or comes next
}

// Message is a page that only says something: an error, or what to do first.
type Message struct {
	Shell
	Heading string
	Text    string
	Back    string // an address to go on from
	BackTo  string // and its words
	Request string // what the log calls the request
	Resend  *Resend
}

// Resend is a form that was not taken and may be sent again.
type Resend struct {
	Action string
	Fields []Hidden
	Files  bool // were chosen, and are to be chosen again
}

// Button sends the form with an action.
type Button struct {
	Label string
	Value string
}

// Field is one question.
type Field struct {
	Name     string
	Label    string
	Hint     string
	HintAt   string // id of the hint, where it stands elsewhere
	Echo     bool   // says back what was understood
	Reads    string // and this is that
	Value    string
	Error    string
	Begin    bool   // what is wrong with it is where reading goes on
	Mode     string // inputmode
	Month    bool   // a script may offer the wheel of the device
	List     string // id of what is offered while something is typed
	Unit     string
	Options  []Option // a choice instead of typing
	Check    string   // a box to tick instead of typing: its value
	MayOpen  bool     // has a box "don't know yet"
	Unknown  bool
	Needed   bool
	Password bool
}

// hints reports whether a hint of its own stands under the field.
func (f Field) hints() bool { return f.Hint != "" && f.HintAt == "" }

// Option is one choice.
type Option struct{ Value, Label string }

// Verdict is a verdict in a word and, for its shape, a code.
type Verdict struct{ Code, Word string }

// Judged reports whether there is a build to show.
func (v Verdict) Judged() bool { return v.Code != "not_judged" }

// Sheet is the load sheet under one rider.
type Sheet struct {
	Title    string
	Rider    string
	Rows     []SheetRow
	Total    string
	Limit    string
	Spare    string
	Unit     string
	Over     bool
	Hidden   bool   // nothing but the verdict is shown
	Verdict  string // 41.2 kg to spare
	Line     string // what the line of the bar is
	Photo    string // page of a photo of where that comes from; nothing where there is none to be seen
	Bar      Bar
	Zones    []Zone
	Carry    string
	Axles    string // what is not known of what they bear
	Estimate string
}

// SheetRow is one mass of the sum.
type SheetRow struct {
	Label  string
	Amount string
	Class  string
}

// Bar is a stacked bar against a line, in units of a picture 1000 wide.
type Bar struct {
	Parts []BarPart
	Line  int
	Label string
	Over  bool
}

// BarPart is one mass of a bar.
type BarPart struct {
	X, Width int
	Class    string
	Title    string
}

// Zone is what sits in one zone against its rating.
type Zone struct {
	Name   string
	From   string // where its rating comes from; nothing where that is not told
	Photo  string // page of a photo of that; nothing where there is none to be seen
	Alike  bool   // it is the same under every rider
	Load   string
	Rating string
	Spare  string
	// Unrated says that the maker states no rating, instead of both.
	Unrated string
	Bar     Bar
}

// Amount is one line of a bill.
type Amount struct{ Label, Amount string }
