package inventory

import (
	"kinwain/web/kit"
)

// Quality is what is missing or contradictory in the catalogue.
type Quality struct {
	kit.Shell
	Summary string
	Groups  []QualityGroup
	Judged  string // what was asked of the last consultations, or nothing yet
	Ask     string // where that is asked; nothing where it was
}

// QualityGroup is all findings of one kind.
type QualityGroup struct {
	Severity string // a word
	Class    string
	Title    string
	Why      string
	Findings []QualityFinding
	Folded   bool
}

// QualityFinding is one thing to look at.
type QualityFinding struct {
	Href  string // the field
	Thing string
	Field string
	Text  string
}
