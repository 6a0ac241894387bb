// Package catalog holds what the shop sells and lends: frames, add-ons and
// units, with their validation and their interchange documents.
//
// Figures that the maker does not state are zero. A limit that is not stated
// does not bind, and is never shown as safe.
package catalog

import (
	"slices"
	"strconv"
	"strings"

	"kinwain/internal/measure"
	"kinwain/internal/tongue"
)

// Frame is one model of bike as it leaves the maker, ready to ride.
type Frame struct {
	Code     string
	Name     string
	Family   string
	Type     string
	Material string
	Size     string

	GrossRating   measure.Mass // everything: bike, add-ons, rider, load
	BareWeight    measure.Mass // ready to ride, with pedals, lights, battery and ComesWith
	RiderMin      measure.Length
	RiderMax      measure.Length
	RiderMaxMass  measure.Mass
	PassengersMax int
	Standover     measure.Length
	SaddleMin     measure.Length // bottom bracket to saddle top
	SaddleMax     measure.Length
	Price         measure.Money

	Length  measure.Length
	Width   measure.Length
	Height  measure.Length
	Upright Box // zero where it cannot stand on its tail

	Wheelbase       measure.Length
	RiderAhead      measure.Length
	BareFrontShare  measure.Share // of the bare weight, on the front axle
	FrontAxleRating measure.Mass
	RearAxleRating  measure.Mass
	FrontTyre       string // ISO 5775 designation, such as 50-406
	RearTyre        string
	FrontTyreMin    int // least pressure, in kilopascals
	FrontTyreMax    int
	RearTyreMin     int
	RearTyreMax     int
	OddWheel        bool // only the maker supplies this wheel
	FrontBrake      string
	RearBrake       string
	Chainrings      []int // teeth
	Sprockets       []int // teeth
	AssistWatts     int

	Zones     []Zone
	Combined  []Combined
	Mounts    []Mount
	Places    []Place
	Provides  []string
	ComesWith []string // add-on codes, fitted by the maker
	Notes     string
	Manual    string // web address of the maker's manual
	Names     Spoken
	NotesIn   Spoken
	Evidence  []Evidence // where its figures come from
}

// Spoken is a text of the shop in the other languages of its customers, empty
// where nobody wrote it.
type Spoken struct{ French, German, Dutch string }

// With returns the text in every language.
func (s Spoken) With(english string) tongue.Said {
	return tongue.In(english, s.French, s.German, s.Dutch)
}

// Box is the outer size of something.
type Box struct {
	Length measure.Length
	Width  measure.Length
	Height measure.Length
}

// Zone is a part of a frame where load sits, with its own rating.
type Zone struct {
	Code        string
	Rating      measure.Mass
	Ahead       measure.Length // negative behind the axle
	Height      measure.Length
	Steered     bool
	Side        string
	Cargo       measure.Mass // carried without any add-on
	CargoVolume measure.Volume
}

// Combined is a rating over several zones together.
type Combined struct {
	Zones  []string
	Rating measure.Mass
}

// Mount is where add-ons are fixed. Its capacity is counted in bolts, in
// centimetres of deck, or in whatever the maker counts.
type Mount struct {
	Code     string
	Capacity int
}

// Place is one seat for one passenger.
type Place struct {
	Zone       string // for a frame's own place; an add-on's lies in the add-on's zone
	Kind       string
	MinMonths  int
	MaxMonths  int
	MinMass    measure.Mass
	MaxMass    measure.Mass
	MaxStature measure.Length
	Needs      [][]string     // must hold when somebody sits here
	Ahead      measure.Length // zero: where the zone is
	Height     measure.Length
}

// Unlimited reports whether the place states neither from what age nor up to
// what weight it takes anybody.
func (p *Place) Unlimited() bool { return p.MinMonths == 0 && p.MaxMass == 0 }

// The words that a document may use.
var (
	Types      = []string{"compact_longtail", "longtail", "front_loader", "tricycle", "loaded_tourer", "other"}
	Brakes     = []string{"hydraulic_disc", "cable_disc", "hydraulic_rim", "cable_rim", "drum", "roller", "coaster"}
	PlaceKinds = []string{"harnessed", "belted", "bench"}
	Sides      = []string{"centre", LeftSide, RightSide}
)

// The sides of a zone that are held against each other.
const (
	LeftSide  = "left"
	RightSide = "right"
)

// OfASeat reports whether a tag is something that whoever sits in a place has
// to have within reach. Where it comes from an add-on with places of its own it
// serves those alone; from one without places, all places of its zone; from the
// frame, all places.
func OfASeat(tag string) bool { return slices.Contains(seatTags, tag) }

var seatTags = []string{"foot_support", "hand_hold", "backrest"}

// Called is the name that tells frames of one family apart.
func (f *Frame) Called() string { return f.CalledAs(f.Name, f.Size) }

// CalledAs is the same with the name and the size as another language has them.
func (f *Frame) CalledAs(name, size string) string {
	if f.Size == "" || f.Size == "one size" || strings.HasSuffix(name, " "+size) {
		return name
	}
	return name + " " + size
}

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

// TyreWidth returns the width of an ISO 5775 designation such as 50-406, zero
// where the text is none.
func TyreWidth(tyre string) measure.Length {
	if !tyreForm.MatchString(tyre) {
		return 0
	}
	width, _, _ := strings.Cut(tyre, "-")
	n, err := strconv.Atoi(width)
	if err != nil {
		return 0
	}
	return measure.Length(n)
}
