package desk

import (
	"kinwain/web/kit"
)

// Start is the first page of the staff.
type Start struct {
	kit.Shell
	Once   string // token of the form that begins a consultation
	Said   string // what was done just now
	Invite bool   // nobody has an account to manage the shop with
	Sought string // what was looked for, as typed
	Recent []Consultation
	// Samples are the families that nobody is, offered while there is no
	// customer; Invented says that there are consultations of theirs.
	Samples  []Sample
	Invented bool
	Rides    []kit.Coming // a few test rides that are out or still to come
	Backup   Backup       // for managers
	Checking kit.Checking // for managers
}

// Consultation is one line of the list to resume from.
type Consultation struct {
	Href string
	Name string
	Who  string // in words: 2 riders, 1 passenger
	When string
	At   string // the same, for machines
	Sent string // what was sent home and how often that was opened, or nothing
	Mark string // that the shop has since changed something, or nothing
}

// Sample is a card of an invented family.
type Sample struct{ Code, Name, Who string }

// Backup says when a backup was last opened and found whole.
type Backup struct {
	Said string // nothing where nobody has to know
	Bad  bool   // it is too long ago, or there never was one
}
