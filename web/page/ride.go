package page

// RideForm is the page on which a test ride is booked.
type RideForm struct {
	Shell
	Name       string // of the frame
	Back       string
	Action     string
	Choice     []Hidden
	Demos      []Demo
	DemoError  string
	Date, Time Field
	Minutes    Field
	Rider      Field
	Faults     bool
	Coming     []Coming // of anybody on these bikes
	Rides      []Coming // of this customer, on any bike
	Passengers bool
}

// Demo is one bike to ride and what it is like beside the proposed build.
type Demo struct {
	Tag, Detail, Status string
	Fitted              string
	Differences         string // from the proposed build
	Weight              string
	Ride                string // who could ride on it as it stands
	Stop                bool   // not everybody
	Why                 []string
	Booked              []string
	Chosen              bool
}

// Coming is a test ride in a list.
type Coming struct {
	Href, When, At string
	What, Who      string
}

// Ride is one test ride.
type Ride struct {
	Shell
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
	Open       string // what was not gone through
	Checks     []Field
	Rider      Field
	Feel       Field
	Felt       Field
	Notes      Field
	Buttons    []Button // how it may go on
	Passengers bool
}
