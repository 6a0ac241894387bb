package desk

import (
	"kinwain/web/kit"
)

// Compare is the page of two to four frames side by side.
type Compare struct {
	kit.Shell
	Lang       string // of the customer
	Say        kit.Words
	Tongues    []kit.Tongue
	Back       string
	Frames     []Compared
	Groups     []CompareGroup // what differs
	Measures   []RiderMeasure // what differs rider by rider, where a bike is shared
	Same       []SameRow      // what is the same for all
	Open       string         // the open questions, in words
	Passengers bool
}

// Compared is one frame: what stands over its column, and its row of the table
// with riders in columns.
type Compared struct {
	Name, Kind, Href string
	Glance           kit.Drawing // all at one scale
	Without          string      // what its build leaves out; its figures are marked
	Remove           string      // the comparison without it; empty where too few are left
	Riders           []CompareCell
}

// CompareGroup is a part of the table.
type CompareGroup struct {
	Title string
	Rows  []CompareRow
}

// CompareRow is one line of the table, with a cell a frame.
type CompareRow struct {
	Code, Label string
	Cells       []CompareCell
}

// CompareCell is one answer: a text, a verdict or a list.
type CompareCell struct {
	Text    string
	Hint    string
	Verdict *kit.Verdict
	Items   []CompareItem
	Win     string // by how much it is the better one; empty where it is not
	Dim     bool   // there is no answer
	Partial bool   // of a build that leaves out something
}

// CompareItem is one line of a list in a cell.
type CompareItem struct{ Tag, Word, Text string }

// RiderMeasure is one figure that every rider has: a group of columns.
type RiderMeasure struct {
	Label  string
	Riders []string
}

// SameRow is a row that is the same for every frame.
type SameRow struct {
	Label string
	Cell  CompareCell
}
