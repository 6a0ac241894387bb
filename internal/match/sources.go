package match

import (
	"slices"
	"strconv"
	"strings"

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
	for n := range m.Limits {
		if l := &m.Limits[n]; l.Rating == "gross" {
			hold(m.Frame.Evidence, "gross_rating_kg", l.Mass, l.Most, spec{field: "gross_rating_kg", name: l.Name})
		}
	}
	for i := range m.Frame.Zones {
		code := m.Frame.Zones[i].Code
		for n := range m.Limits {
			if l := &m.Limits[n]; l.about == code && strings.HasPrefix(l.Rating, "zone:") {
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

// Leaning is a figure of the catalogue that a build leans on.
type Leaning struct {
	List, Code string // of the frame or the add-on
	Figure     string // as catalog.Evidence names it
}

// Leanings returns the figures behind the limits of the build, each once: every
// rating that something leans on.
func (m *Match) Leanings() []Leaning {
	var all []Leaning
	add := func(list, code, figure string) {
		if l := (Leaning{list, code, figure}); !slices.Contains(all, l) {
			all = append(all, l)
		}
	}
	for _, l := range m.Limits {
		switch kind, _, _ := strings.Cut(l.Rating, ":"); kind {
		case "gross":
			add("frames", m.Frame.Code, "gross_rating_kg")
		case "front_axle", "rear_axle":
			add("frames", m.Frame.Code, kind+"_max_kg")
		case "zone":
			add("frames", m.Frame.Code, "zones["+l.about+"].rating_kg")
		case "combined":
			add("frames", m.Frame.Code, "combined["+l.about+"].rating_kg")
		case "stand":
			add("add_ons", l.about, "stand_max_kg")
		case "add_on":
			add("add_ons", l.about, m.loadOf(l.about))
		}
	}
	for _, s := range m.aboard.seated {
		list, code := "frames", m.Frame.Code
		if s.AddOn != "" {
			list, code = "add_ons", s.AddOn
		}
		if s.Place.MaxMass > 0 {
			add(list, code, "places["+strconv.Itoa(s.Seat.Place)+"].max_kg")
		}
	}
	return all
}

// loadOf names the figure of what an add-on may carry: that of its pair with
// the frame goes before its own.
func (m *Match) loadOf(code string) string {
	for i := range m.aboard.fitted {
		a := &m.aboard.fitted[i]
		if pair, differs := a.OnFrame[m.Frame.Code]; a.Code == code && differs && pair.MaxLoad != nil {
			return "on_frame." + m.Frame.Code
		}
	}
	return "max_load_kg"
}
