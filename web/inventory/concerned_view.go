package inventory

import (
	"kinwain/web/kit"
)

// Asked is a page that asks before something is done.
type Asked struct {
	kit.Shell
	kit.Asking
	Button string
	Action string
	Back   string
	Also   []kit.Hidden
}

// Concerned lists whom changes concern.
type Concerned struct {
	kit.Shell
	Tabs     []kit.Step
	Checking kit.Checking
	Rows     []ConcernedRow
	More     int // that are not listed
}

// ConcernedRow is one answer that is another one now.
type ConcernedRow struct {
	Href, Whom, Text string
	Worse            bool // for the customer
}
