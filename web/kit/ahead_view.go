package kit

// Ahead is what a bike carries in the years ahead under one rider: drawn, and
// in figures.
type Ahead struct {
	Drawn   Drawing
	Caption string   // of the figures
	Head    []string // of their columns
	Rows    []AheadRow
}

// AheadRow is a month with its figures, and what happens in it.
type AheadRow struct {
	When    string
	Figures []string
	Happens []string
}

// Plan is the stages of a bike as a timetable: what is on it from when to when,
// who rides where, and what is due at each step.
type Plan struct {
	Answer string      // all of it in a line
	Stages []PlanStage // none where nothing changes
	Until  string      // where the line ends, and why
	Sums   []Amount
	Tax    string
	Notes  []string
}

// PlanStage is one stop of the timetable.
type PlanStage struct {
	When    string // from and to
	Changes []string
	Seats   []Seating
	Happens []string // who joins and leaves in it
	Due     string   // to be paid when it begins
	Parts   string   // what that is for
}

// Seating is who sits where.
type Seating struct{ Who, Where string }
