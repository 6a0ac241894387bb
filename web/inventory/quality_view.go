package inventory

import (
	"kinwain/web/kit"
)

// Quality is what is missing or contradictory in the catalogue.
type Quality struct {
	kit.Shell
	Tabs    []kit.Step
	Summary string
	Groups  []QualityGroup
	Judged  string // what was asked of the last consultations, or nothing yet
	Ask     string // where that is asked; nothing where it was
	Sources string // how many figures have none, in words
	Proof   string // where they are listed
}

// UnprovedList is which figures have no source.
type UnprovedList struct {
	kit.Shell
	Tabs    []kit.Step
	Summary string
	Leaned  string // what is counted
	Rows    []UnprovedRow
	Pages   *Pages
	Back    string
}

// UnprovedRow is one of them.
type UnprovedRow struct {
	Href        string // where its source is chosen
	Figure      string
	Thing, Code string
	Leaned      string // a count
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
	Code  string // nothing where the name says it
	Field string
	Text  string
}
