// Package catalog holds what the shop sells and lends: frames, add-ons and
// units, with their validation and their interchange documents.
//
// Figures that the maker does not state are zero. A limit that is not stated
// does not bind, and is never shown as safe.
package catalog

import (
	"strconv"
	"strings"

	"kinwain/internal/measure"
)

// Frame is one model of bike as it leaves the maker, ready to ride.
type Frame struct {
	Code     string `json:"code"`
	Name     string `json:"name"`
	Family   string `json:"family"`
	Type     string `json:"type"`
	Material string `json:"material"`
	Size     string `json:"size"`

	GrossRating   measure.Mass   `json:"gross_rating_kg"` // everything: bike, add-ons, rider, load
	BareWeight    measure.Mass   `json:"bare_weight_kg"`  // ready to ride, with pedals, lights, battery and ComesWith
	RiderMin      measure.Length `json:"rider_min_cm"`
	RiderMax      measure.Length `json:"rider_max_cm"`
	RiderMaxMass  measure.Mass   `json:"rider_max_kg"`
	PassengersMax int            `json:"passengers_max"`
	Standover     measure.Length `json:"standover_cm"`
	SaddleMin     measure.Length `json:"saddle_min_cm"` // bottom bracket to saddle top
	SaddleMax     measure.Length `json:"saddle_max_cm"`
	Price         measure.Money  `json:"price_cents"`

	Length  measure.Length `json:"length_cm"`
	Width   measure.Length `json:"width_cm"`
	Height  measure.Length `json:"height_cm"`
	Upright Box            `json:"upright,omitzero"` // zero where it cannot stand on its tail

	Wheelbase       measure.Length `json:"wheelbase_cm"`
	RiderAhead      measure.Length `json:"rider_ahead_of_rear_axle_cm"`
	BareFrontShare  measure.Share  `json:"bare_front_share"` // of the bare weight, on the front axle
	FrontAxleRating measure.Mass   `json:"front_axle_max_kg"`
	RearAxleRating  measure.Mass   `json:"rear_axle_max_kg"`
	FrontTyre       string         `json:"front_tyre"` // ISO 5775 designation, such as 50-406
	RearTyre        string         `json:"rear_tyre"`
	OddWheel        bool           `json:"odd_wheel"` // only the maker supplies this wheel
	FrontBrake      string         `json:"front_brake"`
	RearBrake       string         `json:"rear_brake"`
	Chainrings      []int          `json:"chainring"` // teeth
	Sprockets       []int          `json:"sprockets"` // teeth
	AssistWatts     int            `json:"assist_watts"`

	Zones     []Zone     `json:"zones"`
	Combined  []Combined `json:"combined"`
	Mounts    []Mount    `json:"mounts"`
	Places    []Place    `json:"places"`
	Provides  []string   `json:"provides"`
	ComesWith []string   `json:"comes_with"` // add-on codes, fitted by the maker
	Notes     string     `json:"notes"`
}

// Box is the outer size of something.
type Box struct {
	Length measure.Length `json:"length_cm"`
	Width  measure.Length `json:"width_cm"`
	Height measure.Length `json:"height_cm"`
}

// Zone is a part of a frame where load sits, with its own rating.
type Zone struct {
	Code        string         `json:"code"`
	Rating      measure.Mass   `json:"rating_kg"`
	Ahead       measure.Length `json:"ahead_of_rear_axle_cm"` // negative behind the axle
	Height      measure.Length `json:"height_cm"`
	Steered     bool           `json:"steered"`
	Side        string         `json:"side"`
	Cargo       measure.Mass   `json:"cargo_kg"` // carried without any add-on
	CargoVolume measure.Volume `json:"cargo_litres"`
}

// Combined is a rating over several zones together.
type Combined struct {
	Zones  []string     `json:"zones"`
	Rating measure.Mass `json:"rating_kg"`
}

// Mount is where add-ons are fixed. Its capacity is counted in bolts, in
// centimetres of deck, or in whatever the maker counts.
type Mount struct {
	Code     string `json:"code"`
	Capacity int    `json:"capacity"`
}

// Place is one seat for one passenger.
type Place struct {
	Zone       string         `json:"zone,omitzero"` // for a frame's own place; an add-on's lies in the add-on's zone
	Kind       string         `json:"kind"`
	MinMonths  int            `json:"min_months"`
	MaxMonths  int            `json:"max_months"`
	MinMass    measure.Mass   `json:"min_kg"`
	MaxMass    measure.Mass   `json:"max_kg"`
	MaxStature measure.Length `json:"max_stature_cm"`
	Needs      [][]string     `json:"needs"`                 // must hold when somebody sits here
	Ahead      measure.Length `json:"ahead_of_rear_axle_cm"` // zero: where the zone is
	Height     measure.Length `json:"height_cm"`
}

// The words that a document may use.
var (
	Types      = []string{"compact_longtail", "longtail", "front_loader", "tricycle", "loaded_tourer", "other"}
	Brakes     = []string{"hydraulic_disc", "cable_disc", "hydraulic_rim", "cable_rim", "drum", "roller", "coaster"}
	PlaceKinds = []string{"harnessed", "belted", "bench"}
	Sides      = []string{"centre", "left", "right"}
)

// ZoneIndex returns the position of the zone in Zones, or -1.
func (f *Frame) ZoneIndex(code string) int {
	for i := range f.Zones {
		if f.Zones[i].Code == code {
			return i
		}
	}
	return -1
}

// Capacity returns the capacity of a mount, zero where the frame has none of
// that code.
func (f *Frame) Capacity(mount string) int {
	for _, m := range f.Mounts {
		if m.Code == mount {
			return m.Capacity
		}
	}
	return 0
}

// CanStand reports whether the bare frame can be stood on its tail.
func (f *Frame) CanStand() bool { return f.Upright != Box{} }

// StatesAxles reports whether the frame states all that the loads on its
// axles are computed from.
func (f *Frame) StatesAxles() bool {
	return f.Wheelbase > 0 && f.RiderAhead != 0 && f.BareFrontShare > 0
}

// BeadSeat returns the bead seat diameter of an ISO 5775 designation such as
// 50-406, zero where the text is none.
func BeadSeat(tyre string) measure.Length {
	if !tyreForm.MatchString(tyre) {
		return 0
	}
	_, bead, _ := strings.Cut(tyre, "-")
	n, err := strconv.Atoi(bead)
	if err != nil {
		return 0
	}
	return measure.Length(n)
}
