package desk

import (
	"slices"

	"kinwain/web/kit"
)

// Profile is the profile form beside the ranking.
type Profile struct {
	kit.Shell
	Script   string // saves every answer without a button
	Action   string // where the form is posted
	Live     string // where the script posts it
	Customer kit.Field
	Units    kit.Field
	Language kit.Field
	Hide     kit.Field
	Hides    bool   // riders' weights are hidden
	Says     string // those before in one line
	Line     kit.Field
	Hearing  Hearing
	Steps    []Step
	Faults   int
	Version  string // of the answers that it shows
	Had      string // names of the questions whose boxes it shows
	Unsaved  string // why what it shows could not be saved
	Ranking  Ranking
	Ask      Ask
	Kept     string // how long the answers are
	Erase    string // where they are erased at once
}

// Step is one step of the talk. One is open at a time; the others say their
// answer in one line.
type Step struct {
	ID        string
	Title     string
	Says      string
	Open      bool
	Sections  []Section
	Next      string // the step after it; none after the last
	NextTitle string
}

// fields yields every field of the step.
func (s Step) fields(yield func(kit.Field) bool) {
	for _, part := range s.Sections {
		lists := [][]kit.Field{part.Fields, part.More}
		for _, r := range part.Rows {
			lists = append(lists, r.Fields, r.More)
		}
		for _, f := range slices.Concat(lists...) {
			if !yield(f) {
				return
			}
		}
	}
}

// faulty reports whether something is said to be wrong within the step.
func (s Step) faulty() bool {
	for f := range s.fields {
		if f.Error != "" {
			return true
		}
	}
	return slices.ContainsFunc(s.Sections, func(part Section) bool { return part.Error != "" })
}

// Section is a part of a step, with a title where the step has several.
type Section struct {
	ID      string
	Title   string
	Lead    string
	Hints   []Hint // for the fields of every row
	List    string // path of the list that it holds
	Error   string // what is wrong with that list as a whole
	Rows    []Row
	Fields  []kit.Field
	More    []kit.Field // folded away until asked for
	MoreTo  string
	Open    bool // More is unfolded
	Usual   []Usual
	Add     kit.Button
	Unknown kit.Field // "don't know yet" for the whole section
}

// Usual is a tap for what many bring along, with its figures.
type Usual struct{ Label, Value, Says string }

// Hint is what is said of one field of every row.
type Hint struct{ ID, Label, Text string }

// Row is one rider, passenger, doorway or corner.
type Row struct {
	Title  string
	Remove kit.Button
	Again  kit.Button // appends a row that is like it, or leads to the scale
	Fields []kit.Field
	More   []kit.Field
	Open   bool // More is unfolded: something in it was typed
}
