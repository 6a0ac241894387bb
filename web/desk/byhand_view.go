package desk

import (
	"kinwain/web/kit"
	"kinwain/web/talk"
)

// ByHand is the page on which somebody chooses add-ons for a frame.
type ByHand struct {
	kit.Shell
	Name       string
	Back       string
	Action     string
	Picks      []Pick
	Verdict    kit.Verdict
	Line       string
	Relaxed    string
	Reasons    []talk.Reason
	Offers     []Offer
	Price      []kit.Amount
	Total      string
	Sheets     []kit.Sheet
	Passengers bool
	Next       []kit.Step // what to do with the set as it is ticked
}

// Pick is one copy of an add-on to tick.
type Pick struct {
	Code, Name, Detail string
	On                 bool
}

// Offer is one add-on that would meet a need: a link that ticks it.
type Offer struct{ Label, Href string }

// Alternative is the best build for one objective.
type Alternative struct {
	Name        string
	Shown       bool // it is the build on the page
	Differences []string
	Price       string
	Weight      string
	Until       string
}
