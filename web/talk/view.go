package talk

// Reason is one finding.
type Reason struct {
	Weight string // stop, care, note
	Word   string
	Text   string
}

// Seat is who sits where.
type Seat struct {
	Who, Where, Limits, Note string
	Plain                    string // the limits alone, where each says in Limits where it comes from
	From                     string // where the limits come from; nothing where each says it, or that is not told
	Photo                    string // page of a photo of that
}

// AddOn is one add-on of the build.
type AddOn struct {
	Name  string
	Why   string
	Mass  string
	Price string
	Note  string
}

// Part is one part of the way home.
type Part struct {
	Name, How, Slack string
	Tight            bool
}
