package inventory

import (
	"kinwain/web/kit"
)

// Inventory is the first page of the inventory.
type Inventory struct {
	kit.Shell
	Tabs   []kit.Step
	Query  string
	Action string // of the search
	Counts []WareCount
	Found  []Wares

	Checking kit.Checking
}

// WareCount says how many of a list there are.
type WareCount struct {
	kit.Step
	Count    string
	New      string // where one is added
	NewLabel string
	Retired  int
}

// Search is a field that looks through a list.
type Search struct {
	Action, Query, Label string
	Keep                 []kit.Hidden // of the address
	Narrows              bool         // all of the list is on the page
	Begins               bool         // whoever has a keyboard begins there
}

// Wares is one list of the inventory.
type Wares struct {
	kit.Shell
	Tabs     []kit.Step
	Heading  string
	Slug     string
	Query    string
	Action   string // of the search
	New      string
	NewLabel string
	Done     string
	Total    int
	Found    int      // of these, what the search finds
	Offered  int      // of these, what is not retired
	Columns  []Column // behind the name
	Rows     []WareRow
	Retired  []WareRow
	Pages    *Pages     // where not all of it is here
	Besides  []kit.Step // what is done with several of them
	All      string     // address of all that was found, where this is a part
	Alert    string
	Typing   Typing
}

// Quiet reports whether nothing is to be looked at before the list.
func (w Wares) Quiet() bool {
	return w.Alert == "" && w.Typing.Ask == nil && len(w.Typing.Faults) == 0
}

// search looks through the list in the order and with the column that are shown.
func (w Wares) search() Search {
	s := Search{Action: w.Action, Query: w.Query, Label: "Search", Narrows: w.Pages == nil, Begins: w.Quiet() && (w.Typing.Field == "" || w.Done != "")}
	if w.Typing.Field != "" {
		s.Keep = []kit.Hidden{{Name: "edit", Value: w.Typing.Field}}
	}
	for _, h := range w.Typing.Keep {
		if h.Name == "sort" {
			s.Keep = append(s.Keep, h)
		}
	}
	return s
}

// Typing is a column of a list that is typed in place.
type Typing struct {
	Fields []kit.Option // what can be typed so
	Field  string       // what is; empty where nothing is
	Label  string
	Head   Column
	Unit   string
	Mode   string       // of the keyboard
	Words  []kit.Option // to choose from
	Action string
	Leave  string // the list as it is read
	Keep   []kit.Hidden
	Ask    *kit.Asking
	Counts bool // it can be reckoned with
	Found  int  // how many things that is done to
	Much   string
	How    string
	Round  string
	Error  string // about that sum
	List   string // pasted
	Faults []string
	// Unsaved says that what is typed in the rows was sent and is not kept yet.
	Unsaved bool
}

// InPlace is a figure of a row that is typed in place.
type InPlace struct{ Value, Was, Error string }

// Pages says which part of a list is shown, and links to the rest.
type Pages struct {
	Label string
	Shown string
	Links []kit.Step
}

// Column is a heading of a list.
type Column struct {
	Label string
	Field string // that it shows and is sorted by; empty where it is sorted by none
	Order string // ascending, descending or not by this
	Sort  string // the list in the order of this
	Text  bool   // aligned as a text, not as a figure
	Minor bool   // left out where there is little room
	Roomy bool   // shown only where there is much
}

// WareRow is one frame, add-on or unit of a list.
type WareRow struct {
	Href  string
	Code  string
	Name  string
	Photo string // address of its small picture
	Alt   string
	Cells []string
	Text  string // what a search looks through
	Typed *InPlace
}

// Ware is the form of one frame, add-on or unit.
type Ware struct {
	kit.Shell
	Tabs     []kit.Step
	Heading  string
	Code     string // empty for a new one
	Named    bool   // the heading says the code
	One      string // what it is, in words
	Retired  bool
	Done     string
	Alert    string
	Others   []FileFault // what a save would break elsewhere
	Clashes  []Clash
	Changer  string      // who changed it meanwhile
	Ask      *kit.Asking // what is to be looked at before it is saved
	Checking kit.Checking
	Action   string
	Base     string // its document when the form was opened
	Unsaved  bool   // what is in the form is not kept yet
	Sections []WareSection
	Lists    []OfferedList
	NewTags  []string // that the catalogue does not know yet
	// Confirmed are those among them that somebody has said yes to.
	Confirmed []string
	Tags      string // that it knows
	Copy      string // where another one like it is begun
	Family    string // where next year's of its family are
	Like      string // of a new frame: whose add-ons may be brought along
	Bring     string // says so
	Brings    bool   // they are
	Life      string // where it is retired, deleted and photographed
	NamedBy   string // what keeps it from being deleted
	Weighed   []Tallied
	Held      string    // for which quote it is held; nothing where it is not
	HeldAt    string    // where that quote is
	Since     kit.Since // what the shop has changed since for that quote
	Photo     string
	Alt       string
	PhotoMax  string
	Saves     []SaveView
	History   string   // where all of its history is
	Promises  Promised // of an add-on
}

// Clash is a field that two people have changed.
type Clash struct{ Name, Field, Mine, Theirs, Old string }

// Tallied is a line of a sum.
type Tallied struct {
	Label, Figure string
	Total         bool
}

// OfferedList is what is offered while something is typed.
type OfferedList struct {
	ID      string
	Options []kit.Option
}

// WareSection is a part of the form under a heading.
type WareSection struct {
	ID     string
	Title  string
	Lead   string
	Fields []WareField
	Error  string // about the list as a whole
	Rows   []WareFields
	Add    kit.Button
	Next   string // the first field of the row that would be added
	Fold   string // in front of fields that are folded away; nothing where they are not
	Open   bool   // what is folded
}

// WareFields is a row of a list.
type WareFields struct {
	Title  string
	Fields []WareField
	Source *WareSource // of all of the row
	Remove kit.Button
}

// WareField is a field of the form: a plain one, or of a shape of its own.
type WareField struct {
	kit.Field
	Shape  string   // "", area, choices, boxes, groups, photo
	Chosen []string // of choices: one to type for each, and for each blank
	Groups []WareGroup
	Source *WareSource  // where its figure comes from; nil where nobody is asked
	Fits   []WareSource // where it is said that it fits, by frame
	Photo  *PhotoField  // of a photo that is chosen
}

// WareSource is the choice of where a figure comes from.
type WareSource struct {
	kit.Field
	Was       string // the source that was noted, for whoever reads the form
	Kept      string // the same, in words; nothing where none was
	Link      string // where that is on the web
	KeptPhoto string // the page of its photo
	KeptSmall string // address of the small picture
	NotHere   string // says that its photo is not
	Shown     string // the frame of which it is, where there are several
	Photo     *PhotoField
}

// PhotoField is where a photo of a source is chosen.
type PhotoField struct {
	Name, Label, Error string
	Of                 string // goes on from the label, for those who do not see where it stands
	Sent               string // the name of the photo that was sent already; nothing where none was
	Small              string // address of its small picture
}

// SourcePhoto is a photo of where figures come from.
type SourcePhoto struct {
	kit.Shell
	Picture, Alt string
	Figures      []PhotoFigure
}

// PhotoFigure is a figure that comes from what a photo shows.
type PhotoFigure struct {
	Thing
	Href           string // of its form; empty for whoever may not change it
	Figure, Source string
}

// WareGroup is one row of needs.
type WareGroup struct {
	Name   string
	Chosen []string
	Error  string
}

// Has reports whether a box is ticked.
func (f WareField) Has(value string) bool {
	for _, v := range f.Chosen {
		if v == value {
			return true
		}
	}
	return false
}

// History is who changed what.
type History struct {
	kit.Shell
	Tabs       []kit.Step
	Action     string
	List, Code string
	Lists      []kit.Option
	Alert      string
	Done       string
	Saves      []SaveView
	Checking   kit.Checking
	Newest     string // addresses
	Earlier    string
}

// SaveView is all that somebody changed at once.
type SaveView struct {
	Who, How, When, At string
	Changes            []HistoryChange
	More               string
	UndoAll            string // where all of it is undone at once; empty where that is one change
	All                string // how many that are, in words
}

// HistoryChange is one changed field.
type HistoryChange struct {
	Thing, Href, Field, Old, New string
	Undo                         string // where it is undone; empty where it cannot be
}

// Fits is the grid of what fits what.
type Fits struct {
	kit.Shell
	Tabs     []kit.Step
	Action   string
	Done     string
	Alert    string
	Was      []string // pairs when it was opened
	Query    string   // for add-ons
	Of       string   // for frames
	Frames   []Thing
	AddOns   *Pages
	Columns  *Pages
	Rows     []FitRow
	Misfits  []Misfit
	More     int         // misfits that are not listed
	Unsaved  bool        // what is ticked was sent and is not kept yet
	Ask      *kit.Asking // what is to be looked at before it is saved
	Checking kit.Checking
}

// Narrowed reports whether somebody has asked for a part of the grid.
func (f Fits) Narrowed() bool { return f.Of != "" || f.Query != "" }

// shownMisfits are those that are in sight above the grid, beside all that
// cannot be saved.
const shownMisfits = 2

// FirstMisfits are those that are in sight.
func (f Fits) FirstMisfits() []Misfit { return f.Misfits[:len(f.Misfits)-len(f.OtherMisfits())] }

// OtherMisfits are folded.
func (f Fits) OtherMisfits() []Misfit {
	n := min(shownMisfits, len(f.Misfits))
	for n < len(f.Misfits) && f.Misfits[n].Faulty {
		n++
	}
	return f.Misfits[n:]
}

// FitRow is one add-on against every frame.
type FitRow struct {
	Thing
	Href  string
	Cells []FitCell
}

// FitCell is one pair.
type FitCell struct {
	Value, Label string
	On, Bad      bool
}

// Misfit is a pair that can never be used.
type Misfit struct {
	Pair, Text string
	Faulty     bool
}
