// Package profile holds what a customer told the shop: who rides, who and
// what comes along, where the bike will live and what it may cost; with its
// validation and its interchange document.
package profile

import (
	"bytes"
	"slices"

	"github.com/go-json-experiment/json"
	"github.com/go-json-experiment/json/jsontext"

	"kinwain/internal/measure"
	"kinwain/internal/problem"
)

// Profile is one customer's answers on one day.
type Profile struct {
	Version    int                        `json:"profile"` // 1
	AsOf       measure.Date               `json:"as_of"`   // the day all of it is judged from
	Objective  Objective                  `json:"objective,omitzero"`
	Riders     []Rider                    `json:"riders"`
	Passengers Answer[[]Passenger]        `json:"passengers,omitzero"`
	Pet        Answer[measure.Mass]       `json:"pet_kg,omitzero"`
	Cargo      Answer[measure.Mass]       `json:"cargo_kg,omitzero"`
	CargoSize  Answer[measure.Volume]     `json:"cargo_litres,omitzero"`
	Home       Answer[Home]               `json:"home,omitzero"`
	Budget     Answer[measure.Money]      `json:"budget_cents,omitzero"`
	BudgetFirm Answer[bool]               `json:"budget_firm,omitzero"`
	Years      Answer[int]                `json:"years,omitzero"` // how long it should last
	Hill       Answer[measure.Percentage] `json:"hill_percent,omitzero"`
}

// Objective is what the choice of add-ons is best at.
type Objective string

// The objectives. The zero Objective means LeastCost.
const (
	LeastCost Objective = "least_cost"
	Lightest  Objective = "lightest"
	Longest   Objective = "longest"
)

// Objectives lists them all.
var Objectives = []Objective{LeastCost, Lightest, Longest}

// Rider is one of the people who will ride; a shared bike has several.
type Rider struct {
	Label   string                 `json:"label"`
	Height  Answer[measure.Length] `json:"height_cm,omitzero"`
	Inseam  Answer[measure.Length] `json:"inseam_cm,omitzero"`
	Weight  Answer[measure.Mass]   `json:"weight_kg,omitzero"` // as read
	Weighed Answer[Weighed]        `json:"weighed,omitzero"`
	Grip    Answer[Grip]           `json:"grip,omitzero"`
	Age     Answer[int]            `json:"age_years,omitzero"`
}

// Weighed says how a rider's weight came to be known.
type Weighed string

// The ways to know a weight. Dressed is the scale's reading dressed to ride:
// shoes, clothes, helmet, lock, bag. An absent answer counts as Stated.
const (
	Dressed   Weighed = "dressed"
	Undressed Weighed = "undressed"
	Stated    Weighed = "stated"
)

// Grip is how well a rider's hands pull a brake lever.
type Grip string

// The grips.
const (
	FullGrip    Grip = "full"
	ReducedGrip Grip = "reduced"
)

// Sex chooses the growth reference of a passenger.
type Sex string

// The sexes of the growth reference. An absent answer counts as Unstated.
const (
	Girl     Sex = "girl"
	Boy      Sex = "boy"
	Unstated Sex = "unstated"
)

// Passenger is somebody who comes along.
type Passenger struct {
	Label         string                 `json:"label"`
	Born          Answer[measure.Date]   `json:"born,omitzero"`
	Sex           Answer[Sex]            `json:"sex,omitzero"`
	Weight        Answer[measure.Mass]   `json:"weight_kg,omitzero"` // estimated where it is not given
	Stature       Answer[measure.Length] `json:"stature_cm,omitzero"`
	SitsUnaided   Answer[bool]           `json:"sits_unaided,omitzero"`
	Joins         Answer[Month]          `json:"joins,omitzero"`           // rides along from this month
	LeavesAtYears Answer[int]            `json:"leaves_at_years,omitzero"` // rides alone from this birthday

	// The days of the two readings, where they are others than the profile's;
	// see Later. No document has them.
	WeighedOn measure.Date `json:"-"`
	TapedOn   measure.Date `json:"-"`
}

// Month is a month that may be written as an empty text, meaning none.
type Month struct{ measure.Month }

// MarshalText writes the month as "2006-01", none as nothing.
func (m Month) MarshalText() ([]byte, error) {
	if m.Month == 0 {
		return nil, nil
	}
	return []byte(m.String()), nil
}

// UnmarshalText reads what MarshalText writes.
func (m *Month) UnmarshalText(text []byte) error {
	m.Month = 0
	if len(text) == 0 {
		return nil
	}
	var err error
	m.Month, err = measure.ParseMonth(string(text))
	return err
}

// Home is where the bike will sleep and the way in. Zero lengths do not
// constrain.
type Home struct {
	Length           Answer[measure.Length] `json:"length_cm,omitzero"`
	Width            Answer[measure.Length] `json:"width_cm,omitzero"`
	Height           Answer[measure.Length] `json:"height_cm,omitzero"`
	Clearance        Answer[measure.Length] `json:"clearance_cm,omitzero"` // kept free along length and width
	MustStandUpright Answer[bool]           `json:"must_stand_upright,omitzero"`
	Doorways         Answer[[]Doorway]      `json:"doorways,omitzero"`
	Corners          Answer[[]Corner]       `json:"corners,omitzero"`
	Lift             Answer[Lift]           `json:"lift,omitzero"`
	Steps            Answer[int]            `json:"steps,omitzero"`
}

// Doorway is an opening that the bike is wheeled straight through.
type Doorway struct {
	Width  Answer[measure.Length] `json:"width_cm,omitzero"`
	Height Answer[measure.Length] `json:"height_cm,omitzero"`
}

// Corner is a right-angled turn from one corridor into another, each of its
// own width.
type Corner struct {
	In  Answer[measure.Length] `json:"in_cm,omitzero"`
	Out Answer[measure.Length] `json:"out_cm,omitzero"`
}

// Lift is a lift car and the width of its door.
type Lift struct {
	Length Answer[measure.Length] `json:"length_cm,omitzero"`
	Width  Answer[measure.Length] `json:"width_cm,omitzero"`
	Height Answer[measure.Length] `json:"height_cm,omitzero"`
	Door   Answer[measure.Length] `json:"door_cm,omitzero"`
}

// Goal returns the objective, LeastCost where none is chosen.
func (p *Profile) Goal() Objective {
	if p.Objective == "" {
		return LeastCost
	}
	return p.Objective
}

// JoinsIn returns the month from which the passenger rides along, if a later
// one than today was given.
func (p *Passenger) JoinsIn() (measure.Month, bool) {
	m, ok := p.Joins.Get()
	return m.Month, ok && m.Month != 0
}

// JoinsOn returns the day from which the passenger rides along, as the profile
// of a day has it. Where a month was given that is its first, but never a day
// before the first birthday; a child that is expected joins on the first
// birthday unless a later month was given. A birth month without a day counts
// as its last day.
func (p *Passenger) JoinsOn(asOf measure.Date) (measure.Date, bool) {
	month, ok := p.JoinsIn()
	if !ok && !p.Expected(asOf) {
		return measure.Date{}, false
	}
	var day measure.Date
	if ok {
		day = month.First()
	}
	if born, known := p.Born.Get(); known && !born.IsZero() {
		if first := born.Latest().AddMonths(FirstRideMonths); day.Before(first) {
			day = first
		}
	}
	return day, true
}

// Known returns the profile without the passengers of whom neither birth nor
// weight is known. There is nothing to seat or weigh them by: they are not
// judged, and stay open questions.
func (p *Profile) Known() *Profile {
	unknown := func(c Passenger) bool { return !c.Born.IsGiven() && !c.Weight.IsGiven() }
	all := p.Passengers.Or(nil)
	if !slices.ContainsFunc(all, unknown) {
		return p
	}
	c := *p
	c.Passengers = Given(slices.DeleteFunc(slices.Clone(all), unknown))
	return &c
}

// Expected reports whether the passenger is a child whose birth lies ahead of
// a day, however early in the month of birth it may come.
func (p *Passenger) Expected(asOf measure.Date) bool {
	born, known := p.Born.Get()
	return known && !born.IsZero() && asOf.Before(born.Earliest())
}

// Parse reads a profile document and checks it. The error is a problem.List.
func Parse(data []byte) (*Profile, error) {
	var p Profile
	if err := problem.Read(data, &p); err != nil {
		return nil, err
	}
	if err := p.Check(); err != nil {
		return nil, err
	}
	return &p, nil
}

// Document writes the profile so that Parse reads the same back.
func (p *Profile) Document() ([]byte, error) {
	return json.Marshal(p, json.Deterministic(true), jsontext.WithIndent("  "))
}

// OpenQuestions returns the paths of every answer that is not known yet, in
// the order of the document. A null in the document is an open question and
// nothing else is, so the document itself is asked.
func (p *Profile) OpenQuestions() []string {
	paths := []string{}
	data, err := json.Marshal(p)
	if err != nil {
		return paths // cannot be: every type here marshals
	}
	d := jsontext.NewDecoder(bytes.NewReader(data))
	for {
		token, err := d.ReadToken()
		if err != nil {
			return paths
		}
		if token.Kind() == 'n' {
			paths = append(paths, problem.Path(d.StackPointer()))
		}
	}
}
