package kit

// Consequences says for whom a change of the catalogue changes something.
type Consequences struct {
	Summary string
	Unsure  string // what could not be judged, or nothing
	Rows    []Consequence
	More    string // how many are not shown
	Seen    string // tells these from others
}

// Consequence is what changes for one customer on one frame.
type Consequence struct {
	Href  string // the consultation
	Whom  string
	Frame string
	Sent  bool // it is about a fit summary that the customer has
	Parts []string
	Worse bool // the verdict is worse, or it lasts less long
}
