package desk

import (
	"kinwain/web/kit"
)

// Start is the first page of the staff.
type Start struct {
	kit.Shell
	Invite bool // nobody has an account to manage the shop with
	Recent []Consultation
	Rides  []kit.Coming // a few test rides that are out or still to come
}

// Consultation is one line of the list to resume from.
type Consultation struct {
	Href string
	Name string
	Who  string // in words: 2 riders, 1 passenger
	When string
	At   string // the same, for machines
	Mark string // that the shop has since changed something, or nothing
}
