package desk

import "kinwain/web/kit"

// WhatIf asks what becomes of a frame where one thing more, or less, comes
// along. Nothing of it is kept.
type WhatIf struct {
	Action string
	Hidden []kit.Hidden // the add-ons that were chosen by hand
	Fields []kit.Field
	Faults []string
	Asked  bool   // there is an answer
	Head   string // of the part of the page
	Result WhatIfResult
}

// WhatIfResult is what becomes of the frame.
type WhatIfResult struct {
	With    string // what was supposed
	Verdict kit.Verdict
	Line    string
	Total   string
	Limits  []Moved
}

// Moved is a rating with the load on it before and after.
type Moved struct {
	Name, Figures string
	Bar           *kit.Bar // none where it would tell what a rider weighs
}
