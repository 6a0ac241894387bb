package catalog

import (
	"kinwain/internal/measure"
	"kinwain/internal/tongue"
)

// AddOn is something fitted to a frame: a seat, a rack, a stand.
type AddOn struct {
	Code           string
	Name           string
	Weight         measure.Mass
	Price          measure.Money
	FittingMinutes int // to fit it, or to take it off

	Fits     []string // frame codes
	Uses     []Use
	Needs    [][]string // of every group one member: an add-on code or a tag
	Excludes []string
	Provides []string // tags

	StandMax measure.Mass // of a stand: the loaded bike without its rider

	Zone        string         // empty: counts toward the gross rating and on the axles only
	Ahead       measure.Length // of the rear axle, where it is in no zone; zero is not stated
	MaxLoad     measure.Mass   // over all that it carries
	Cargo       measure.Mass
	CargoVolume measure.Volume
	Pet         measure.Mass
	UpTo        int // zero means one
	Places      []Place

	// What it takes of its zone's own room for cargo while it is fitted.
	DisplacesCargo  measure.Mass
	DisplacesVolume measure.Volume

	FrontOverhang    measure.Length
	RearOverhang     measure.Length
	OverallWidth     measure.Length
	OverallHeight    measure.Length
	BlocksUpright    bool
	RemovableSeconds int
	Names            Spoken

	Supplier string
	Article  string // the supplier's number for it
	Stock    *int   // count in the store room; nil where nobody counts it

	OnFrame map[string]Pair

	Evidence []Evidence // where its figures come from
}

// Use is how much of a mount an add-on takes.
type Use struct {
	Mount string
	Count int
}

// Pair is what differs when an add-on is fitted to one certain frame. A nil
// field leaves the add-on's own figure.
type Pair struct {
	FittingMinutes *int
	MaxLoad        *measure.Mass
	FrontOverhang  *measure.Length
	RearOverhang   *measure.Length
	OverallWidth   *measure.Length
	OverallHeight  *measure.Length
	BlocksUpright  *bool
	Note           string
	NoteFrench     string
	NoteGerman     string
	NoteDutch      string
}

// Told returns the note in every language.
func (p *Pair) Told() tongue.Said {
	return tongue.In(p.Note, p.NoteFrench, p.NoteGerman, p.NoteDutch)
}

// Most returns how many times the add-on may be fitted.
func (a *AddOn) Most() int { return max(a.UpTo, 1) }

// On returns the add-on with the facts of its pair with a frame applied.
func (a *AddOn) On(frame string) AddOn {
	on := *a
	pair, ok := a.OnFrame[frame]
	if !ok {
		return on
	}
	override(&on.FittingMinutes, pair.FittingMinutes)
	override(&on.MaxLoad, pair.MaxLoad)
	override(&on.FrontOverhang, pair.FrontOverhang)
	override(&on.RearOverhang, pair.RearOverhang)
	override(&on.OverallWidth, pair.OverallWidth)
	override(&on.OverallHeight, pair.OverallHeight)
	override(&on.BlocksUpright, pair.BlocksUpright)
	return on
}

func override[T any](figure *T, with *T) {
	if with != nil {
		*figure = *with
	}
}

// Unit is one bike of the shop, to ride or to take home.
type Unit struct {
	Tag       string
	Serial    string
	Frame     string
	Kind      string
	Colour    string
	Fitted    []string
	Status    string
	Arrival   measure.Date  // of what is ordered, when it is expected; else when it came
	Price     measure.Money // of this very bike; zero is that of its frame
	Weighed   measure.Mass  // replaces the computed weight
	WeighedOn measure.Date
	Odometer  Kilometres
	Evidence  []Evidence // where its weight comes from
}

// Kilometres is a distance on an odometer.
type Kilometres int

// The words of a unit.
var (
	UnitKinds    = []string{"demo", "stock"}
	UnitStatuses = []string{"available", "on_test_ride", "reserved", "sold", Ordered, InRepair}
)

// The statuses of a unit that the shop has, or will have, and nobody can ride.
const (
	Ordered  = "ordered"
	InRepair = "in_repair"
)

// PriceOf returns what a unit costs without what is added to it.
func (f *Frame) PriceOf(u *Unit) measure.Money {
	if u.Price > 0 {
		return u.Price
	}
	return f.Price
}

// Shop is whose catalogue this is and how it charges.
type Shop struct {
	Name             string
	Currency         string // ISO 4217
	LabourPerHour    measure.Money
	Tax              measure.Percentage
	PricesIncludeTax bool
}

// Labour returns the charge for a number of minutes, rounded half up to a
// cent.
func (s Shop) Labour(minutes int) measure.Money {
	return (s.LabourPerHour*measure.Money(minutes) + 30) / 60
}

// AddOnNames are the names of all add-ons in every language, by code.
func (c *Catalogue) AddOnNames() map[string]tongue.Said {
	names := make(map[string]tongue.Said, len(c.AddOns))
	for i := range c.AddOns {
		names[c.AddOns[i].Code] = c.AddOns[i].Names.With(c.AddOns[i].Name)
	}
	return names
}

// Catalogue is all that a shop offers: one document.
type Catalogue struct {
	Version int     `json:"catalogue"` // 1
	Shop    Shop    `json:"shop"`
	Frames  []Frame `json:"frames"`
	AddOns  []AddOn `json:"add_ons"`
	Units   []Unit  `json:"units"`
}

// Frame returns the frame of a code, or nil.
func (c *Catalogue) Frame(code string) *Frame {
	for i := range c.Frames {
		if c.Frames[i].Code == code {
			return &c.Frames[i]
		}
	}
	return nil
}

// AddOn returns the add-on of a code, or nil.
func (c *Catalogue) AddOn(code string) *AddOn {
	for i := range c.AddOns {
		if c.AddOns[i].Code == code {
			return &c.AddOns[i]
		}
	}
	return nil
}

// Unit returns the unit of a tag, or nil.
func (c *Catalogue) Unit(tag string) *Unit {
	for i := range c.Units {
		if c.Units[i].Tag == tag {
			return &c.Units[i]
		}
	}
	return nil
}
