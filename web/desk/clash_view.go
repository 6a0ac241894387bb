package desk

import "kinwain/web/kit"

// ClashView is the page that asks where two people gave two answers.
type ClashView struct {
	kit.Shell
	News News
}

// News is what a page has to show of what others have changed.
type News struct {
	Version int          // of the answers as they are saved now
	Action  string       // where the choice is posted
	Rows    bool         // the lists have other rows than the page
	Others  []kit.Hidden // fields and what they hold now
	Clashes []Clash
	Told    Profile // what the form says of itself now
	Hearing Hearing
	Heard   bool // the line was read
}

// Clash is a question with the answer that is saved and the one that was sent.
type Clash struct {
	Name, Label  string
	Theirs, Mine string
	Hidden       bool   // neither is shown
	At           string // when theirs was saved, where that is known
}

// says is an answer as it may be seen.
func (c Clash) says(value string) string {
	switch {
	case value == "":
		return "no answer"
	case c.Hidden:
		return "a hidden weight"
	}
	return value
}

// theirs says whose the answer is that is saved.
func (c Clash) theirs() string {
	if c.At != "" {
		return "saved by somebody else at " + c.At
	}
	return "saved by somebody else"
}
