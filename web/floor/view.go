package floor

import "kinwain/web/kit"

// Scan is the field into which a scanner types, and where it leads.
type Scan struct {
	Action  string
	Fault   string // what was read and is no bike
	Front   *Front // for whom what is scanned opens; nil: for nobody
	Nobody  string // where the customer in front is forgotten
	Working string // the stocktake that goes on; empty where none does
}

// Front is the customer in front of the tablet.
type Front struct{ Name, Href string }

// ScanPageView is the page with nothing but the field.
type ScanPageView struct {
	kit.Shell
	Scan
}

// Bike is the page of one bike.
type Bike struct {
	kit.Shell
	Scan
	Tag, Name string
	Status    string
	Held      string // for which quote
	HeldAt    string
	Rows      []kit.Amount
	Once      string // token of the form that begins a consultation
	Retired   bool
	Edit      string // where a manager changes it; empty for others
	Seen      string // where it is noted in the stocktake that goes on; empty: none does, or it is
	Label     string // where its label is
}

// Labels is the page on which labels are chosen and printed.
type Labels struct {
	kit.Shell
	Said    string // what was done just now
	Action  string
	Leads   string // where the codes lead
	Groups  []LabelGroup
	Tongue  kit.Field
	Lang    string
	Sheet   []Label
	Unknown []string // tags that were asked for and are no bike's
}

// LabelGroup are the bikes of a frame to choose from.
type LabelGroup struct {
	Name  string
	Units []LabelChoice
}

// LabelChoice is one bike to choose.
type LabelChoice struct {
	Tag, Detail string
	Chosen      bool
}

// Label is one label.
type Label struct {
	Tag, Name, Rating string
	Code              string // SVG
}

// Stocktakes is the page on which one is begun.
type Stocktakes struct {
	kit.Shell
	Action  string
	GoesOn  *kit.Step
	List    []kit.Step // those that are finished
	Expects string     // how many are to be there
}

// Stocktake is the page of one.
type Stocktake struct {
	kit.Shell
	Action  string // without what is done
	Said    string
	Begun   string
	Ended   string // when and by whom; empty while it goes on
	Summary string
	Missing []StocktakeRow
	Strange []StocktakeRow // seen although it is not to be there
	Unknown []StocktakeRow // no bike has the tag
	Seen    []StocktakeRow
}

// StocktakeRow is one bike or tag of a stocktake.
type StocktakeRow struct {
	Tag, Href, Name, Status, When string
	TakeBack                      string     // where it is, of one that was seen, while the stocktake goes on
	Promised                      []kit.Step // to whom it is, of one that was not seen
}
