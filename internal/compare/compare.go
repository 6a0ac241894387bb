// Package compare puts frames side by side for one customer: which answers
// differ, which frame is the better one in each, and by how much.
package compare

// Better says which way a figure of a comparison is better.
type Better int8

// The ways. A row that is Neither has no winner.
const (
	Neither Better = iota
	More
	Less
)

// State says what a cell of a comparison holds.
type State int8

// The states of a cell.
const (
	NotStated State = iota // the maker or the customer leaves it out: it could be anything
	Stated
	Partial // stated, but of a build that leaves out something asked for: it does not compete
	None    // there is none, such as a score of a frame that does not fit
)

// Cell is one frame's answer in one row.
type Cell struct {
	State  State
	Figure int64  // in the small unit of the row's quantity
	Words  string // what is not a figure, or what qualifies it
}

// Quantity says what the figures of a row count.
type Quantity string

// The quantities, each with its small unit.
const (
	Wording     Quantity = ""       // no figures: Words alone
	Points      Quantity = "points" // tenths of the 100 points
	Cents       Quantity = "cents"
	Grams       Quantity = "grams"
	Millimetres Quantity = "millimetres"
	Months      Quantity = "months"
	Parts       Quantity = "parts" // ten-thousandths of a whole
	People      Quantity = "people"
	Hourly      Quantity = "hourly" // metres an hour
	Rolled      Quantity = "rolled" // millimetres a turn of the cranks
)

// Row is one line of a comparison, with a cell a frame in the order asked for.
type Row struct {
	Code     string
	Rider    string // whose row it is, where it is one rider's
	Label    string // of a fact of the frame, as its table names it
	Quantity Quantity
	Better   Better
	Cells    []Cell
}

// Same reports whether every frame has exactly the same answer.
func (r *Row) Same() bool {
	for _, c := range r.Cells {
		if c != r.Cells[0] {
			return false
		}
	}
	return true
}

// Win is the one frame that is strictly better than all others in a row.
type Win struct {
	Best, Next int   // of the cells: the winner, and a next best
	Lead       int64 // by how much; positive
}

// Winner returns the winner of a row. There is none where two are equally
// good, where fewer than two compete, or where the answer of one is not
// stated: that could be better still.
func (r *Row) Winner() (Win, bool) {
	best, next := -1, -1
	for i, c := range r.Cells {
		switch {
		case r.Better == Neither || c.State == NotStated:
			return Win{}, false
		case c.State != Stated:
		case best < 0 || r.beats(i, best):
			best, next = i, best
		case next < 0 || r.beats(i, next):
			next = i
		}
	}
	if next < 0 || !r.beats(best, next) {
		return Win{}, false
	}
	lead := r.Cells[best].Figure - r.Cells[next].Figure
	return Win{best, next, max(lead, -lead)}, true
}

// beats reports whether a frame's figure is strictly better than another's.
func (r *Row) beats(a, b int) bool {
	if r.Better == Less {
		a, b = b, a
	}
	return r.Cells[a].Figure > r.Cells[b].Figure
}
