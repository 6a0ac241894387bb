package desk

import "kinwain/web/kit"

// Forget is the page that asks whether a consultation should be erased.
type Forget struct {
	kit.Shell
	Alert  string   // why it cannot be erased now
	Goes   []string // what is erased with it
	Stays  string   // what is not, and why
	Action string
	Export string // address of all that is kept, as one document
	Back   string
}
