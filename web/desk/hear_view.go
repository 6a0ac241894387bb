package desk

import "kinwain/web/kit"

// Hearing is what was understood of a line, and what was not.
type Hearing struct {
	Understood []string
	Doubts     []Doubt
}

// Doubt is a part of a line that was not understood. Where it may mean several
// things, or lacks one, it asks.
type Doubt struct {
	Words    string
	Lacks    string
	Readings []kit.Button
}
