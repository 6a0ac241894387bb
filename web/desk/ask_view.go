package desk

import "kinwain/web/kit"

// Ask is what to ask the customer next.
type Ask struct {
	Href      string // the page with it
	Measure   string // address of the card of what to measure at home
	Save      string // where answers go
	Page      string // where they come back to, after the address of the consultation
	Worked    bool   // it was worked out
	Nothing   string // what is said where no question would change anything
	Questions []Asked
}

// Asked is one question with what its answer decides.
type Asked struct {
	Field kit.Field // its label is the question
	Says  []string
}
