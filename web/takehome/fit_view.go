package takehome

import (
	"kinwain/web/kit"
	"kinwain/web/talk"
)

// FitShell is what the pages for a customer have around them. They know no
// session and lead nowhere else in the app.
type FitShell struct {
	Title string
	Lang  string // of the html
	Say   kit.Words
	CSS   string // address of the style sheet
	Own   string // and of the one of these pages
	JS    string // address of the script
	Icon  string
}

// FitNotice is a page for a customer that only says something.
type FitNotice struct {
	FitShell
	Heading, Text string
}

// Fit is the page that the customer takes home.
type Fit struct {
	FitShell
	Name    string
	Kind    string
	Shop    string
	Verdict kit.Verdict
	Line    string
	Change  string // the one change that would make it fit
	Relaxed string
	Since   []string // what the shop has changed since
	Ask     string   // said instead of the verdict, where that matters to it
	Was     string   // and when the verdict was told
	// SheetHead, AddHead and PriceHead are headings, with what was left out
	// where the frame does not do what was asked.
	SheetHead, AddHead, PriceHead string

	Side      kit.Drawing // the bike as it is built, under a rider
	Nothing   string      // instead of add-ons
	Sheets    []kit.Sheet
	Empty     bool   // no rider is weighed
	Hide      bool   // riders' weights are left out, and the sums with them
	Steps     string // how coarse what is said instead is
	Seats     []talk.Seat
	AddOns    []talk.AddOn
	Reasons   []talk.Reason
	Again     []string // what to weigh, measure and find out
	Measure   string   // where the card is of what to measure at home; empty where nothing is open
	Horizon   string
	Cause     string
	Ahead     []kit.Ahead // none where no rider's weight may be told
	Plan      *kit.Plan
	HomeSum   string
	HomeDrawn []kit.Drawing
	Home      []talk.Part
	Price     []kit.Amount
	Total     string
	Tax       string
	Notes     string // the shop's own, of the bike
	Links     []kit.Link
	Contact   []Contact
	Lives     Lives // where it fits
	Made      string
	Until     string
	Address   string // the link itself, for paper
	Code      string // where the link is drawn as a code
	// Languages and Units are links to the same page, said otherwise.
	Languages []Switch
	Units     []Switch
}

// Contact is one line of how the shop is reached.
type Contact struct{ Label, Text, Href string }

// Switch is a link to the same page in another language or other units.
type Switch struct {
	Label   string
	Lang    string // of the label, where it is the name of a language
	Href    string
	Current bool
}

// Send is the page on which staff make a fit summary.
type Send struct {
	kit.Shell
	Name     string
	Kind     string
	Verdict  kit.Verdict
	Line     string
	Refused  string // why nothing is sent home of it
	Back     string
	Action   string
	ByHand   bool
	On       []string // codes of the add-ons, where they were chosen by hand
	Language kit.Field
	Units    kit.Field
	Hide     bool
	Once     string // token of the form
	Days     string // that a link lasts
	Link     string // the new one, shown this once
	Code     string // where it is drawn
	Live     []LiveLink
}

// LiveLink is a link that opens a fit summary. What it is nobody knows any
// more.
type LiveLink struct{ ID, Frame, Made, Until, Opened string }
