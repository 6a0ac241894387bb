package match

import (
	"slices"
	"strings"

	"kinwain/internal/load"
	"kinwain/internal/measure"
)

// Limit is a rating that something leans on: how much does, and what is left.
type Limit struct {
	Rating    string       `json:"rating"` // gross, zone:rear, combined:front+rear, front_axle, rear_axle, add_on:…, place:…, stand
	Rider     string       `json:"rider,omitzero"`
	Passenger string       `json:"passenger,omitzero"`
	Mass      measure.Mass `json:"kg"`
	Most      measure.Mass `json:"rating_kg"`
	Spare     measure.Mass `json:"spare_kg"`
	Name      Message      `json:"-"` // what it is of: the rear zone, the place of a child

	about string // the zone, the zones or the add-on
}

// First returns the limit with the least left, under the rider for whom it is
// least. It is false where nothing leans on any.
func (m *Match) First() (Limit, bool) {
	if len(m.Limits) == 0 {
		return Limit{}, false
	}
	return m.Limits[0], true
}

// limits lists every rating that something leans on, the one with the least
// left first.
func (m *Match) limits() []Limit {
	list := make([]Limit, 0, 4+len(m.Frame.Zones)+len(m.Frame.Combined)+len(m.aboard.fitted)+len(m.aboard.seated))
	add := func(l Limit) {
		if l.Most > 0 && l.Mass > 0 {
			l.Spare, l.Name = l.Most-l.Mass, m.limitName(l)
			list = append(list, l)
		}
	}
	m.eachUnderRider(add)
	bare := &m.unridden
	for _, z := range bare.Zones {
		add(Limit{Rating: "zone:" + z.Zone, Mass: z.Mass, Most: z.Rating, about: z.Zone})
	}
	for _, z := range bare.Combined {
		add(Limit{Rating: "combined:" + z.Zone, Mass: z.Mass, Most: z.Rating, about: z.Zone})
	}
	for i := range m.aboard.fitted {
		a := &m.aboard.fitted[i]
		if slices.Contains(a.Provides, standTag) {
			add(Limit{Rating: "stand", Mass: bare.Standing(), Most: a.StandMax, about: a.Code})
		}
	}
	m.eachAddOn(add)
	for _, s := range m.aboard.seated {
		at := s.AddOn
		if at == "" {
			at = s.Place.Zone
		}
		add(Limit{Rating: "place:" + at, Passenger: s.Passenger, Mass: s.Standing.Load, Most: s.Place.MaxMass, about: s.AddOn})
	}
	slices.SortStableFunc(list, func(a, b Limit) int { return int(min(max(a.Spare-b.Spare, -1), 1)) })
	return list
}

// eachUnderRider yields the gross rating and those of the axles, each under
// the rider who leaves least of it.
func (m *Match) eachUnderRider(yield func(Limit)) {
	var gross, front, rear Limit
	keep := func(worst *Limit, l Limit) {
		if worst.Rating == "" || l.Mass > worst.Mass {
			*worst = l
		}
	}
	for i := range m.Sheets {
		s := &m.Sheets[i]
		keep(&gross, Limit{Rating: "gross", Rider: s.Rider.Label, Mass: s.Total, Most: s.Rating})
		if s.Axles {
			keep(&front, Limit{Rating: "front_axle", Rider: s.Rider.Label, Mass: s.Front, Most: m.Frame.FrontAxleRating, about: load.FrontAxle})
			keep(&rear, Limit{Rating: "rear_axle", Rider: s.Rider.Label, Mass: s.Rear, Most: m.Frame.RearAxleRating, about: load.RearAxle})
		}
	}
	yield(gross)
	yield(front)
	yield(rear)
}

// eachAddOn yields what each add-on with a limit of its own carries. Copies
// that carry passengers count each by itself; the cargo is spread over all.
func (m *Match) eachAddOn(yield func(Limit)) {
	type copied struct {
		code string
		copy int
	}
	seats := map[copied]measure.Mass{}
	for _, s := range m.aboard.seated {
		seats[copied{s.AddOn, s.Copy}] += s.Standing.Load
	}
	for i := range m.aboard.fitted {
		if m.aboard.again(i) {
			continue
		}
		a, n, stowed := &m.aboard.fitted[i], 0, measure.Mass(0)
		for k := range m.aboard.fitted {
			if m.aboard.fitted[k].Code == a.Code {
				n++
			}
		}
		for _, item := range m.aboard.items {
			if (item.Kind == load.Cargo || item.Kind == load.Pet) && item.Code == a.Code {
				stowed += item.Mass
			}
		}
		sum := stowed
		for at := range n {
			of := seats[copied{a.Code, at}]
			if sum += of; stowed == 0 {
				yield(Limit{Rating: "add_on:" + a.Code, Mass: of, Most: a.MaxLoad, about: a.Code})
			}
		}
		if stowed > 0 {
			yield(Limit{Rating: "add_on:" + a.Code, Mass: sum, Most: measure.Mass(n) * a.MaxLoad, about: a.Code})
		}
	}
}

// limitName says what a limit is of.
func (m *Match) limitName(l Limit) Message {
	kind, _, _ := strings.Cut(l.Rating, ":")
	switch kind {
	case "zone":
		return say("the %v zone", wordOf(l.about))
	case "combined":
		return say("the zones %v together", zoneName(l.about))
	case "front_axle":
		return say("the front axle")
	case "rear_axle":
		return say("the rear axle")
	case "place":
		return say("the place of %v", Label{Text: l.Passenger})
	case "add_on", "stand":
		return say("the %v", AddOn{Code: l.about, Name: m.fittedAddOn(l.about).Name})
	}
	return say("the gross rating")
}

// noMass is less than either system of units shows.
const noMass = 100 * measure.Gram

// marginReasons asks for care where a weight is estimated and little is left.
func (j *judge) marginReasons(m *Match) []Reason {
	// A stand that bears too little has a reason of its own, and may be first.
	at := slices.IndexFunc(m.Limits, func(l Limit) bool { return l.Spare >= 0 })
	estimated := slices.ContainsFunc(m.Reasons, func(r Reason) bool { return r.Code == ReasonWeightEstimated })
	weighable := slices.ContainsFunc(m.Reasons, func(r Reason) bool { return r.Code == ReasonWeightEstimated && !r.ToBeBorn() })
	if at < 0 || !estimated || m.Limits[at].Spare >= j.settings.EstimateMargin {
		return nil
	}
	first := m.Limits[at]
	r := Reason{Code: ReasonEstimateMargin, Weight: Care, Limit: first.Rating, Spare: first.Spare,
		Message: say("A weight is estimated, and little is to spare: %v at %v. Weigh before you buy.", down(first.Spare), first.Name)}
	switch {
	case r.Spare < noMass && weighable:
		r.Message = say("A weight is estimated, and nothing is to spare at %v. Weigh before you buy.", first.Name)
	case r.Spare < noMass:
		r.Message = say("The weight of a child who is not born yet is estimated, and nothing is to spare at %v. Weigh the child before its first ride.", first.Name)
	case !weighable:
		r.Message = say("The weight of a child who is not born yet is estimated, and little is to spare: %v at %v. Weigh the child before its first ride.", down(first.Spare), first.Name)
	}
	return []Reason{r}
}
