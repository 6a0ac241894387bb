package counter

import (
	"kinwain/web/kit"
)

// RideForm is the page on which a test ride is booked.
type RideForm struct {
	kit.Shell
	Name       string // of the frame
	Back       string
	Action     string
	Choice     []kit.Hidden
	Demos      []Demo
	DemoError  string
	Date, Time kit.Field
	Minutes    kit.Field
	Rider      kit.Field
	Faults     bool
	Coming     []kit.Coming // of anybody on these bikes
	Rides      []kit.Coming // of this customer, on any bike
	Passengers bool
}

// Demo is one bike to ride and what it is like beside the proposed build.
type Demo struct {
	Tag, Detail, Status string
	Fitted              string
	Differences         string // what it weighs, and what it lacks of the proposed build
	Ride                string // who could ride on it as it stands
	Stop                bool   // not everybody
	Why                 []string
	Booked              []string
	Chosen              bool
}

// Ride is one test ride.
type Ride struct {
	kit.Shell
	Lang       string // of what the customer is handed
	Say        kit.Words
	Tongues    []kit.Tongue
	Title      string
	Back       string
	Action     string
	Calendar   string
	When       string
	Status     string
	Code       string // of the status
	Unit       string
	Along      string // whether anybody may ride along
	Alert      string
	Since      kit.Since // what the shop has changed since, for staff
	Open       string    // what was not gone through
	Checks     []kit.Field
	Rider      kit.Field
	Feel       kit.Field
	Felt       kit.Field
	Notes      kit.Field
	Buttons    []kit.Button // how it may go on
	Passengers bool
}
