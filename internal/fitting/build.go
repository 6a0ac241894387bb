package fitting

import (
	"context"
	"errors"
	"slices"

	"kinwain/internal/catalog"
	"kinwain/internal/load"
	"kinwain/internal/measure"
	"kinwain/internal/parking"
	"kinwain/internal/profile"
)

// ErrInfeasible says that no set of add-ons holds.
var ErrInfeasible = errors.New("no set of add-ons keeps every rule")

// ErrUnsettled says that the time was over before a set was found that holds,
// and before it was proved that none does.
var ErrUnsettled = errors.New("whether any set of add-ons keeps every rule was not settled in time")

// Seat is one passenger's place.
type Seat struct {
	Passenger string `json:"passenger"` // the label
	AddOn     string `json:"add_on"`    // empty for the frame's own place
	Place     int    `json:"place"`     // within the add-on or the frame
	Copy      int    `json:"-"`         // of an add-on that is fitted twice
}

// CargoShare is the part of the cargo that one carrier takes.
type CargoShare struct {
	Carrier string         `json:"carrier"` // an add-on, or the zone itself
	Zone    string         `json:"zone"`
	Mass    measure.Mass   `json:"kg"`
	Volume  measure.Volume `json:"litres"`
}

// Build is a frame with a chosen set of add-ons and everyone seated.
type Build struct {
	AddOns   []string      `json:"add_ons"` // bought; sorted, with repeats
	TakenOff []string      `json:"taken_off"`
	Price    measure.Money `json:"price_cents"` // of the add-ons
	Labour   measure.Money `json:"labour_cents"`
	Weight   measure.Mass  `json:"weight_kg"` // added to the bare weight; taking off subtracts
	Seating  []Seat        `json:"seating"`
	Pet      string        `json:"pet,omitzero"` // the add-on that carries it
	Cargo    []CargoShare  `json:"cargo"`

	// Unproved tells that the time was over before every other set was ruled
	// out. None costs less than Least then, price and labour; where it was not
	// cost that was looked for, Least is zero.
	Unproved bool          `json:"-"`
	Least    measure.Money `json:"-"`

	counts  []int
	rules   Rules
	holds   bool // under the rules; else nobody is seated
	seats   []seated
	shares  []share
	pet     int // option, or -1
	petCopy int
}

// Solve returns the best build of the frame by the objective under the rules.
// The error is ErrInfeasible, ErrUnsettled where the time of the context was
// over before any was found, or that of the context where it was cancelled.
func (p *Problem) Solve(ctx context.Context, objective profile.Objective, rules Rules) (*Build, error) {
	a := aim{objective: objective, rules: rules, stages: []Stage{p.Demand.Today}}
	found, err := p.best(ctx, a)
	if err == nil && found.set != nil && objective == profile.Longest {
		found, err = p.prolong(ctx, a, found)
	}
	switch {
	case err != nil:
		return nil, err
	case found.set == nil && found.proved:
		return nil, ErrInfeasible
	case found.set == nil:
		return nil, ErrUnsettled
	}
	b := p.Describe(found.set.counts, rules)
	if !found.proved {
		b.Unproved, b.Least = true, p.least(found, objective)
	}
	return b, nil
}

// Delivered returns the frame as it comes, or with the add-ons chosen already,
// and with nobody and nothing on it.
func (p *Problem) Delivered() *Build {
	if p.only != nil {
		return p.Describe(p.only.counts, 0)
	}
	return p.Describe(p.base.counts, 0)
}

// stateOf sums up a set given by its counts.
func (p *Problem) stateOf(counts []int) state {
	s := p.empty()
	p.assemble(&s, &p.base, counts)
	return s
}

// Describe seats everyone in a set and sums it up. Where the set does not
// hold under the rules, nobody is seated.
func (p *Problem) Describe(counts []int, rules Rules) *Build {
	c := p.newSeating(false)
	defer c.done()
	return p.describe(counts, rules, c)
}

func (p *Problem) describe(counts []int, rules Rules, c *seating) *Build {
	set := p.stateOf(counts)
	b := &Build{counts: slices.Clone(counts), rules: rules, pet: -1, Seating: []Seat{}, Cargo: []CargoShare{}, Weight: set.weight}
	b.AddOns, b.TakenOff = p.codes(counts)
	for i, n := range counts {
		o := &p.options[i]
		b.Price += measure.Money(max(n-o.delivered, 0)) * o.Price
	}
	b.Labour = set.cost - b.Price
	if b.holds = rules == 0 || c.settle(&set, p.Demand.Today, rules); rules == 0 || !b.holds {
		return b
	}
	// None are nil, whatever the memory was that they were found in.
	b.seats, b.shares = c.places(), append([]share(nil), c.shares...)
	if c.pet >= 0 {
		b.pet, b.petCopy = c.carriers[c.pet].option, c.carriers[c.pet].copy
		b.Pet = p.options[b.pet].Code
	}
	for _, s := range b.seats {
		seat := Seat{Passenger: p.Demand.Labels[s.passenger], Place: s.index, Copy: s.copy}
		if s.option >= 0 {
			seat.AddOn = p.options[s.option].Code
		}
		b.Seating = append(b.Seating, seat)
	}
	for _, s := range b.shares {
		b.Cargo = append(b.Cargo, CargoShare{Carrier: s.code, Zone: s.zone, Mass: s.mass, Volume: s.volume})
	}
	return b
}

// Items returns every mass of the build for the load sheet.
func (p *Problem) Items(b *Build) []load.Item {
	var items []load.Item
	for i, n := range b.counts {
		o := &p.options[i]
		for k := range max(n, o.delivered) {
			kind := load.Added
			switch {
			case k >= n:
				kind = load.TakenOff
			case k < o.delivered:
				kind = load.Delivered
			}
			items = append(items, load.Item{Kind: kind, Code: o.Code, Mass: o.Weight, Spot: o.spot})
		}
	}
	for _, s := range b.seats {
		item := load.Item{Kind: load.Passenger, Label: p.Demand.Labels[s.passenger], Mass: p.Demand.Today[s.passenger].Load, Spot: p.placeOf(s).spot}
		if s.option >= 0 {
			item.Code = p.options[s.option].Code
		}
		items = append(items, item)
	}
	if b.pet >= 0 {
		items = append(items, load.Item{Kind: load.Pet, Code: b.Pet, Mass: p.Demand.Pet, Spot: p.options[b.pet].spot})
	}
	for _, s := range b.shares {
		items = append(items, load.Item{Kind: load.Cargo, Code: s.code, Mass: s.mass, Spot: s.spot})
	}
	return items
}

// placeOf returns the place that somebody sits in.
func (p *Problem) placeOf(s seated) *place {
	if s.option < 0 {
		return &p.framed[s.index]
	}
	return &p.options[s.option].places[s.index]
}

// Seated is one passenger of a build with the place they have.
type Seated struct {
	Seat
	Index    int // of the passenger in the profile
	Standing Standing
	Place    *catalog.Place
}

// Seated returns everyone who has a place, in profile order.
func (p *Problem) Seated(b *Build) []Seated {
	list := make([]Seated, len(b.seats))
	for i, s := range b.seats {
		list[i] = Seated{b.Seating[i], s.passenger, p.Demand.Today[s.passenger], p.placeOf(s).Place}
	}
	return list
}

// Bike returns the outline of the build.
func (p *Problem) Bike(b *Build) parking.Bike {
	s := p.stateOf(b.counts)
	return p.bike(&s)
}

// Fitted returns the add-ons on the bike, each as often as it is fitted, with
// the facts of the pair applied; delivered ones too.
func (p *Problem) Fitted(b *Build) []catalog.AddOn {
	fitted := 0
	for _, n := range b.counts {
		fitted += n
	}
	list := make([]catalog.AddOn, 0, fitted)
	for i, n := range b.counts {
		for range n {
			list = append(list, *p.options[i].AddOn)
		}
	}
	return list
}

// Choice is one add-on that may be on the frame, and how many of it a build
// has.
type Choice struct {
	Name
	Price     measure.Money // of one
	Labour    measure.Money // to fit one, or to take one off
	Weight    measure.Mass
	Most      int
	Delivered int
	Fitted    int
}

// Choices lists every add-on of the frame, by code.
func (p *Problem) Choices(b *Build) []Choice {
	list := make([]Choice, len(p.options))
	for i := range p.options {
		o := &p.options[i]
		list[i] = Choice{p.name(i), o.Price, o.labour, o.Weight, o.most, o.delivered, b.counts[i]}
		if !o.buyable {
			list[i].Most = o.delivered
		}
	}
	return list
}

// Name is an add-on's code and plain name.
type Name struct{ Code, Name string }

// Names lists the add-ons that may be on the frame, by code.
func (p *Problem) Names() []Name {
	names := make([]Name, len(p.options))
	for i := range p.options {
		names[i] = p.name(i)
	}
	return names
}
