package desk

import (
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
	Sections []Section
	Faults   int
	Version  string // of the answers that it shows
	Had      string // names of the questions whose boxes it shows
	Unsaved  string // why what it shows could not be saved
	Ranking  Ranking
	Ask      Ask
	Kept     string // how long the answers are
	Erase    string // where they are erased at once
}

// Section is one step of the talk.
type Section struct {
	ID      string
	Title   string
	Lead    string
	List    string // path of the list that it holds
	Error   string // what is wrong with that list as a whole
	Rows    []Row
	Fields  []kit.Field
	More    []kit.Field // folded away until asked for
	MoreTo  string
	Open    bool // More is unfolded
	Add     kit.Button
	Unknown kit.Field // "don't know yet" for the whole section
}

// Row is one rider, passenger, doorway or corner.
type Row struct {
	Title  string
	Remove kit.Button
	Fields []kit.Field
	More   []kit.Field
	Open   bool // More is unfolded: something in it was typed
}
