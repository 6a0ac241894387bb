package inventory

import (
	"kinwain/web/kit"
)

// Import is the page on which the catalogue comes in and goes out.
type Import struct {
	kit.Shell
	Tabs       []kit.Step
	Action     string
	Accept     string // what the file field offers
	Most       string // how much may be sent, in words
	Done       string // what was just imported, or nothing
	Exports    []kit.Step
	Dictionary string // where it is told what the columns hold
	Checking   kit.Checking
	Faults     []FileFault // of the files that were sent
	Heading    string      // over the faults
	More       string      // how many faults are not shown
}

// FileFault is one fault of a file.
type FileFault struct {
	Where string // the file, the row and the column
	Text  string
}

// DryRun shows what an import would change, before anything is changed.
type DryRun struct {
	kit.Shell
	Tabs    []kit.Step
	Name    string // of the files
	Summary string
	Stale   string // says that somebody has changed the catalogue meanwhile
	Action  string // where the import is confirmed; nothing where there is nothing to import
	At      string // tells these differences from others
	Back    string
	Lost    Notices // the ratings, limits and needs that go
	Leaps   Notices // figures that change by far
	Sources Notices // of figures, that go
	Photos  Notices // of sources, that are not here
	Groups  []ChangeGroup
	More    string // how many differences are not shown
	Whom    string // whom it may concern; nothing where nothing changes
}

// ChangeGroup is what would change among the frames, the add-ons or the units.
type ChangeGroup struct {
	Heading string
	Changed []ChangedThing
	Added   []Thing
	Removed []Thing
	Moved   string // says that the order would change
}

// Thing is one frame, add-on or unit.
type Thing struct{ Code, Name string }

// ChangedThing is one of them with its changed fields.
type ChangedThing struct {
	Thing
	Fields []ChangedField
}

// ChangedField is one field as it is and as it would be.
type ChangedField struct{ Field, Column, Old, New string }

// Notices are changes to be looked at before all others.
type Notices struct {
	Heading string
	Lead    string
	Lines   []Notice
	More    string // how many are not shown
}

// Notice is one of them, in words.
type Notice struct {
	Thing
	Text string
}
