package inventory

import "kinwain/web/kit"

// Own is which bikes the shop should own.
type Own struct {
	kit.Shell
	Tabs    []kit.Step
	Lead    string
	Working string // how far the customers are judged; nothing where that is done
	Seen    int    // of these
	Of      int
	Again   string // where the page looks again
	Pause   string // where it does not by itself; nothing there
	TooFew  string // instead of everything below
	Said    []string
	Chart   *kit.Drawing
	Tables  []OwnTable
	Notes   []string
	CSV     string
}

// OwnTable is one table of counts.
type OwnTable struct {
	ID, Title, Why string
	Empty          string // said where it has no rows
	Name           string // heading of the names
	Columns        []Column
	Rows           []OwnRow
	More           string // that there are more rows than these
}

// OwnRow is one line of it.
type OwnRow struct {
	Href  string // nothing where the name leads nowhere
	Name  string
	Cells []string
}
