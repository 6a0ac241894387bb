package counter

import (
	"kinwain/web/kit"
)

// Bill is what a build costs, line by line.
type Bill struct {
	Lines []BillLine
	Sums  []kit.Amount // subtotal and tax
	Total string
	Notes []string // how it was worked out
}

// BillLine is one line of a bill.
type BillLine struct {
	Label, Note    string
	Count          string
	Each, Amount   string
	Labour, Saving bool
}

// Paper is what a quote says in the language of the customer.
type Paper struct {
	Lang       string
	Say        kit.Words
	Name, Kind string // of the frame
	Spare      string // what the bike has to spare, and where least
	Outlook    []string
	Bill       Bill
	Deposit    string
	Warnings   []string
	Passengers bool
}

// QuoteDraft is the page on which a quote is made.
type QuoteDraft struct {
	kit.Shell
	Paper
	Back     string
	Action   string
	Choice   []kit.Hidden
	Customer kit.Field
	Unit     kit.Field    // the very bike that it is for
	Again    []kit.Hidden // what is chosen besides, where that is
	Valid    string
	Tongues  []kit.Tongue // in which it may be made
	Earlier  []kit.Step   // quotes that were made already
}

// Quote is a quote as the customer gets it, and what staff do with it.
type Quote struct {
	kit.Shell
	Paper
	Number   string // Q-2026-0007
	Seller   string
	Reach    []string // where the shop is and how to reach it
	Customer string
	Back     string
	CSV      string
	Made     string
	Valid    string
	Expired  bool
	Since    kit.Since  // what the shop has changed since, for staff
	Long     bool       // the bill takes smaller print to keep to one page
	Accept   string     // where it is noted that the customer accepted it, or did not
	Accepted string     // when they did; empty: they have not
	HandOver string     // where it is noted that all of it left the shop with them
	Handed   string     // when it did; empty: it has not
	TakeBack string     // where that is undone
	Which    kit.Hidden // which hand-over the page shows
	Said     string     // what was done just now
	Alert    string     // what stands against what was asked
	Hold     Hold
}

// Hold is where a bike is reserved for a quote.
type Hold struct {
	Action string
	Until  kit.Field
	Alert  string
	Units  []HoldUnit
	Closed string // why nothing can be held
}

// HoldUnit is one bike of the quoted frame.
type HoldUnit struct {
	Tag, Detail, Fitted string
	Status              string
	Free, Ours          bool
	Quote               string // address of the quote that holds it, if another
}
