// Package page draws the pages. Every page gets a view: a plain struct of
// strings and figures that are computed already; a page never computes.
package page

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

// Step is one screen of a consultation.
type Step struct {
	Label   string
	Href    string
	Current bool
}

// Message is a page that only says something: an error, or what to do first.
type Message struct {
	Shell
	Heading string
	Text    string
	Back    string // an address to go on from
	BackTo  string // and its words
}

// Start is the first page of the staff.
type Start struct {
	Shell
	Invite bool // nobody has an account to manage the shop with
	Recent []Consultation
	Rides  []Coming // a few test rides that are out or still to come
}

// Consultation is one line of the list to resume from.
type Consultation struct {
	Href string
	Name string
	Who  string // in words: 2 riders, 1 passenger
	When string
	At   string // the same, for machines
	Mark string // that the shop has since changed something, or nothing
}

// Profile is the profile form beside the ranking.
type Profile struct {
	Shell
	Action   string // where the form is posted
	Live     string // where the script posts it
	Customer Field
	Units    Field
	Sections []Section
	Faults   int
	Ranking  Ranking
}

// Section is one step of the talk.
type Section struct {
	ID      string
	Title   string
	Lead    string
	List    string // path of the list that it holds
	Error   string // what is wrong with that list as a whole
	Rows    []Row
	Fields  []Field
	More    []Field // folded away until asked for
	MoreTo  string
	Open    bool // More is unfolded
	Add     Button
	Unknown Field // "don't know yet" for the whole section
}

// Row is one rider, passenger, doorway or corner.
type Row struct {
	Title  string
	Remove Button
	Fields []Field
	More   []Field
	Open   bool // More is unfolded: something in it was typed
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
	Value    string
	Error    string
	Mode     string // inputmode
	Unit     string
	Options  []Option // a choice instead of typing
	Check    string   // a box to tick instead of typing: its value
	MayOpen  bool     // has a box "don't know yet"
	Unknown  bool
	Needed   bool
	Password bool
}

// Option is one choice.
type Option struct{ Value, Label string }

// Ranking is the list of frames for one customer.
type Ranking struct {
	Summary  string // 3 fit, 4 fit with care, 7 do not fit
	Fit      []Ranked
	Unfit    []Ranked
	Open     []string // open questions, in words
	Common   []string // what needs attention whichever frame it is
	Faults   []Fault
	Waiting  string // why there is no list yet
	Profile  string // address of the form
	Compare  string // where ticked frames are compared
	Unfolded bool   // those that do not fit are in sight
	Version  int    // of the answers that it follows from
}

// Fault is what is wrong with one field, and the address where to mend it.
type Fault struct{ Field, Href, Label, Text string }

// Ranked is one frame of the ranking.
type Ranked struct {
	Code    string
	Href    string
	Name    string
	Kind    string // compact longtail, steel, one size
	Verdict Verdict
	Line    string
	Score   string
	Price   string
	Size    string // empty where there is one only
	Ride    string // which demo can be ridden now
	Stock   string
	Change  string // the one change that would make it fit
	Points  []Points
	Ticked  bool // to be compared
}

// Verdict is a verdict in a word and, for its shape, a code.
type Verdict struct{ Code, Word string }

// Judged reports whether there is a build to show.
func (v Verdict) Judged() bool { return v.Code != "not_judged" }

// Points is what one criterion brings to the score.
type Points struct {
	Name   string
	Value  string // of 0 to 100
	Points string
	Most   string
}

// Frames is the page of the ranking.
type Frames struct {
	Shell
	Marks   Marks
	Ranking Ranking
}

// Frame is the page of one frame.
type Frame struct {
	Shell
	Name    string
	Kind    string
	Back    string
	Verdict Verdict
	Line    string
	Relaxed string
	Change  string
	Reasons []Reason
	Open    []string
	Sheets  []Sheet
	Seats   []Seat
	AddOns  []AddOn
	Horizon string
	Cause   string
	Home    []Part
	HomeSum string
	Price   []Amount
	Total   string
	Tax     string
	Score   string
	Points  []Points
	Ride    string
	Stock   string
	Notes   string
	// Alternatives are the best builds for every objective; ByHand is where
	// add-ons are chosen by hand.
	Alternatives []Alternative
	ByHand       string
	Next         []Step // what to do with this frame
	Rides        Riding
	// With says who or what the bike would carry, for the cautions.
	Passengers bool
}

// Reason is one finding.
type Reason struct {
	Weight string // stop, care, note
	Word   string
	Text   string
}

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
	Verdict  string // 41.2 kg to spare
	Line     string // what the line of the bar is
	Bar      Bar
	Zones    []Zone
	Carry    string
	Axles    string
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
	Load   string
	Rating string
	Spare  string
	Bar    Bar
}

// Seat is who sits where.
type Seat struct {
	Who, Where, Limits, Note string
}

// AddOn is one add-on of the build.
type AddOn struct {
	Name  string
	Why   string
	Mass  string
	Price string
	Note  string
}

// Part is one part of the way home.
type Part struct {
	Name, How, Slack string
	Tight            bool
}

// Amount is one line of a bill.
type Amount struct{ Label, Amount string }
