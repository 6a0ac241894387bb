package takehome

import (
	"kinwain/web/kit"
	"kinwain/web/talk"
)

// LivesPage is the page to which the form of Lives leads.
type LivesPage struct {
	FitShell
	Shop, Name   string
	Back, BackTo string
	Languages    []Switch
	Units        []Switch
	Ask          string // the shop has changed since what matters to the answer
	Contact      []Contact
	Lives        Lives
}

// Lives is the form on which a customer types who was weighed or measured
// again, and what comes of it.
type Lives struct {
	Action string // where it is sent; empty where there is nothing to type
	People []Person
	Hints  []string
	Failed string // said where a script gets no answer
	Fault  string // of the form as a whole
	Moved  *Moved // nil before anything was typed
}

// Person is somebody who may have been weighed or measured again.
type Person struct {
	Name   string
	Fields []kit.Field
}

// Moved is what comes of new weights and heights, beside what was told.
type Moved struct {
	Verdict          kit.Verdict
	Line             string
	Ask              string // to ask the shop first
	Stops, Cares     []talk.Reason
	WasHead, NowHead string // empty WasHead: nothing is compared
	Rows             []MovedRow
	Gap              string      // from when on no stage of the plan serves
	Seats            []talk.Seat // who sits elsewhere now
}

// MovedRow is one thing as it was told and as it is now.
type MovedRow struct{ Label, Was, Now string }
