package desk

import (
	"slices"

	"kinwain/web/kit"
	"kinwain/web/talk"
)

// Frame is the page of one frame: what decides is in sight, and the rest is
// folded under headings that say their answer.
type Frame struct {
	kit.Shell
	Name      string
	Kind      string
	Back      string
	Verdict   kit.Verdict
	Line      string
	Relaxed   string
	Change    string
	Reasons   []talk.Reason // stops and cares
	Known     []talk.Reason // what is good to know
	Open      []string
	Ask       Ask
	One       *OneBike // the very bike that was scanned
	Heads     FrameHeads
	Nothing   string      // instead of add-ons
	Side      kit.Drawing // the bike as it is built, under a rider
	Sheets    []kit.Sheet
	Seats     []talk.Seat
	AddOns    []talk.AddOn
	Horizon   string
	Cause     string
	Ahead     []kit.Ahead
	Plan      *kit.Plan // none where nobody on it grows
	Home      []talk.Part
	HomeSum   string
	HomeDrawn []kit.Drawing
	Price     []kit.Amount
	Total     string
	Tax       string
	Score     string
	Points    []Points
	Ride      string
	Stock     string
	Notes     string
	Links     []kit.Link // outside, such as to the maker’s manual
	// Alternatives are the best builds for every objective; ByHand is where
	// add-ons are chosen by hand.
	Alternatives []Alternative
	ByHand       string
	Next         []kit.Step // what to do with this frame
	Rides        Riding
	WhatIf       WhatIf
	// With says who or what the bike would carry, for the cautions.
	Passengers bool
}

// FrameHeads are the headings of the page of a frame, with what was left out
// where the frame does not do what was asked.
type FrameHeads struct {
	Sheets, Known, AddOns, Ways, Rides, Time, Plan, Home, Price, Shop string
}

// limitsDiffer reports whether the limits of a place do not all come from the
// same.
func limitsDiffer(list []talk.Seat) bool {
	return slices.ContainsFunc(list, func(s talk.Seat) bool { return s.Plain != s.Limits })
}
