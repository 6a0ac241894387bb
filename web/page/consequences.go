package page

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

// Marks says on the pages of a consultation what the shop has since changed.
type Marks struct {
	List    []string
	Dismiss string // where the button goes
	UpTo    string // the last of them
}
