package catalog

import "kinwain/internal/measure"

// AddOn is something fitted to a frame: a seat, a rack, a stand.
type AddOn struct {
	Code           string        `json:"code"`
	Name           string        `json:"name"`
	Weight         measure.Mass  `json:"weight_kg"`
	Price          measure.Money `json:"price_cents"`
	FittingMinutes int           `json:"fitting_minutes"` // to fit it, or to take it off

	Fits     []string   `json:"fits"` // frame codes
	Uses     []Use      `json:"uses"`
	Needs    [][]string `json:"needs"` // of every group one member: an add-on code or a tag
	Excludes []string   `json:"excludes"`
	Provides []string   `json:"provides"` // tags

	Zone        string         `json:"zone"`        // empty: counts toward the gross rating only
	MaxLoad     measure.Mass   `json:"max_load_kg"` // over all that it carries
	Cargo       measure.Mass   `json:"cargo_kg"`
	CargoVolume measure.Volume `json:"cargo_litres"`
	Pet         measure.Mass   `json:"pet_kg"`
	UpTo        int            `json:"up_to"` // zero means one
	Places      []Place        `json:"places"`

	FrontOverhang    measure.Length `json:"front_overhang_cm"`
	RearOverhang     measure.Length `json:"rear_overhang_cm"`
	OverallWidth     measure.Length `json:"overall_width_cm"`
	OverallHeight    measure.Length `json:"overall_height_cm"`
	BlocksUpright    bool           `json:"blocks_upright"`
	RemovableSeconds int            `json:"removable_seconds"`

	OnFrame map[string]Pair `json:"on_frame,omitempty"`
}

// Use is how much of a mount an add-on takes.
type Use struct {
	Mount string `json:"mount"`
	Count int    `json:"count"`
}

// Pair is what differs when an add-on is fitted to one certain frame. A nil
// field leaves the add-on's own figure.
type Pair struct {
	FittingMinutes *int            `json:"fitting_minutes,omitzero"`
	MaxLoad        *measure.Mass   `json:"max_load_kg,omitzero"`
	FrontOverhang  *measure.Length `json:"front_overhang_cm,omitzero"`
	RearOverhang   *measure.Length `json:"rear_overhang_cm,omitzero"`
	OverallWidth   *measure.Length `json:"overall_width_cm,omitzero"`
	OverallHeight  *measure.Length `json:"overall_height_cm,omitzero"`
	BlocksUpright  *bool           `json:"blocks_upright,omitzero"`
	Note           string          `json:"note,omitzero"`
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

// Unit is one bike in the shop, to ride or to take home.
type Unit struct {
	Tag       string       `json:"tag"`
	Frame     string       `json:"frame"`
	Kind      string       `json:"kind"`
	Colour    string       `json:"colour"`
	Fitted    []string     `json:"fitted"`
	Status    string       `json:"status"`
	Weighed   measure.Mass `json:"weighed_kg"` // replaces the computed weight
	WeighedOn measure.Date `json:"weighed_on"`
	Odometer  Kilometres   `json:"odometer_km"`
}

// Kilometres is a distance on an odometer.
type Kilometres int

// The words of a unit.
var (
	UnitKinds    = []string{"demo", "stock"}
	UnitStatuses = []string{"available", "on_test_ride", "reserved", "sold"}
)

// Shop is whose catalogue this is and how it charges.
type Shop struct {
	Name             string             `json:"name"`
	Currency         string             `json:"currency"` // ISO 4217
	LabourPerHour    measure.Money      `json:"labour_cents_per_hour"`
	Tax              measure.Percentage `json:"tax_percent"`
	PricesIncludeTax bool               `json:"prices_include_tax"`
}

// Labour returns the charge for a number of minutes, rounded half up to a
// cent.
func (s Shop) Labour(minutes int) measure.Money {
	return (s.LabourPerHour*measure.Money(minutes) + 30) / 60
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
