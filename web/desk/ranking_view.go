package desk

import (
	"kinwain/web/kit"
)

// Marks says on the pages of a consultation what the shop has since changed.
type Marks struct {
	List    []string
	Dismiss string // where the button goes
	UpTo    string // the last of them
	ToCheck bool   // something is not judged again yet
}

// Ranking is the list of frames for one customer.
type Ranking struct {
	Summary  string // 3 fit, 4 fit with care, 7 do not fit
	Moves    string // what the last answer has moved
	Fit      []Ranked
	Unfit    []Ranked
	Open     []string // open questions, in words
	Common   []Common // what needs attention whichever frame it is
	Faults   []Fault
	Waiting  string // why there is no list yet
	Profile  string // address of the form
	Compare  string // where ticked frames are compared
	Later    string // where changes are fetched from that are not in it yet
	Unfolded bool   // those that do not fit are in sight
	Version  int    // of the answers that it follows from

	Frames    string   // address of the whole list
	Family    string   // the only one in the list, where one is asked for
	MoreFit   More     // those that fit and are not in the list
	MoreUnfit More     // those that do not
	NotFit    int      // how many frames of those asked for do not fit
	Elsewhere []Ranked // ticked, and not in the list
}

// Common is a care that all frames share, or the question that settles it where
// that is open.
type Common struct {
	Text string
	Path string // of the question, to be answered yes or no
	Save string // where the answer goes
}

// More says which rows of a list are shown, and where the others are.
type More struct {
	Name             string // what the address calls the place in the list
	First, Last, All int    // counted from 1
	Previous, Next   string // places
}

// Cut reports whether the list is longer than what is shown.
func (m More) Cut() bool { return m.Previous != "" || m.Next != "" }

// Fault is what is wrong with one field, and the address where to mend it.
type Fault struct{ Field, Href, Label, Text string }

// Ranked is one frame of the ranking.
type Ranked struct {
	Code     string
	Href     string
	Name     string
	Kind     string // compact longtail, steel, one size
	Verdict  kit.Verdict
	Line     string
	Score    string
	Price    string
	Ride     string // which demo can be ridden now
	Stock    string
	Change   string // the one change that would make it fit
	Unhelped string // why none is said
	Points   []Points
	Ticked   bool // to be compared
	Glance   kit.Drawing

	Others   int    // more of its family that do not fit, folded into this row
	Family   string // their name
	OfFamily string // and their address
}

// Points is what one criterion brings to the score.
type Points struct {
	Name   string
	Value  string // of 0 to 100
	Points string
	Most   string
}

// Frames is the page of the ranking.
type Frames struct {
	kit.Shell
	Marks   Marks
	Ranking Ranking
	Ask     Ask
}
