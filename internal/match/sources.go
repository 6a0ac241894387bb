package match

import (
	"strconv"

	"kinwain/internal/catalog"
	"kinwain/internal/measure"
)

// leansWithin is the part of a rating, one over this, that a load leaves at the
// most where it leans on where the rating comes from.
const leansWithin = 10

// sourceReasons tells of gross rating, zones and places under this load of which
// nobody has noted where they come from, with care where little of them is left.
func sourceReasons(m *Match) []Reason {
	leant, plain := apart(m.unsourced())
	var reasons []Reason
	if len(leant) > 0 {
		reasons = append(reasons, Reason{Code: ReasonSourceMissing, Weight: Care, Fields: fieldsOf(leant),
			Message: say("No source is noted for %v, and this load leaves a tenth or less. Check it on the bike or in the manual before anybody rides.", namesOf(leant))})
	}
	if len(plain) > 0 {
		reasons = append(reasons, Reason{Code: ReasonSourceMissing, Weight: Note, Fields: fieldsOf(plain),
			Message: say("No source is noted for %v. Check it on the bike or in the manual before loading to the full.", namesOf(plain))})
	}
	return reasons
}

// apart parts figures into those that the load leans on and the others.
func apart(specs []spec) (leant, plain []spec) {
	for _, s := range specs {
		if s.leans {
			leant = append(leant, s)
		} else {
			plain = append(plain, s)
		}
	}
	return leant, plain
}

// unsourced lists the ratings of the whole, of zones and of places that
// something leans on and of which nobody has noted where they come from.
func (m *Match) unsourced() []spec {
	var specs []spec
	hold := func(all []catalog.Evidence, figure string, mass, most measure.Mass, s spec) {
		s.leans = mass*leansWithin >= most*(leansWithin-1)
		if catalog.Source(all, figure) == nil {
			specs = append(specs, s)
		}
	}
	for _, l := range m.Limits {
		if l.Rating == "gross" {
			hold(m.Frame.Evidence, "gross_rating_kg", l.Mass, l.Most, spec{field: "gross_rating_kg", name: l.Name})
		}
	}
	for i := range m.Frame.Zones {
		code := m.Frame.Zones[i].Code
		for _, l := range m.Limits {
			if l.Rating == "zone:"+code {
				hold(m.Frame.Evidence, "zones["+code+"].rating_kg", l.Mass, l.Most, spec{field: "zones[" + strconv.Itoa(i) + "].rating_kg", name: l.Name})
			}
		}
	}
	for _, s := range m.aboard.seated {
		all, figure := m.Frame.Evidence, "places["+strconv.Itoa(s.Seat.Place)+"].max_kg"
		for i := range m.aboard.fitted {
			if m.aboard.fitted[i].Code == s.AddOn {
				all = m.aboard.fitted[i].Evidence
			}
		}
		if s.Place.MaxMass > 0 {
			hold(all, figure, s.Standing.Load, s.Place.MaxMass, spec{field: figure, addOn: s.AddOn, name: say("the place of %v", Label{Text: s.Passenger})})
		}
	}
	return specs
}
