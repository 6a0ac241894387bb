package match

import (
	"reflect"
	"slices"
	"strconv"
	"strings"

	"kinwain/internal/catalog"
	"kinwain/internal/fitting"
	"kinwain/internal/load"
	"kinwain/internal/measure"
)

// leansWithin is the part of a limit, one over this, that a load leaves at the
// most where it leans on where the limit comes from.
const leansWithin = 10

// Leaning is a figure of the catalogue that a build leans on.
type Leaning struct {
	List, Code string // of the frame or the add-on
	Figure     string // as catalog.Evidence names it
}

// leaning is such a figure with what is left of it, in its own unit, and how a
// reason names it.
type leaning struct {
	Leaning
	field       string // its path in the document of its thing
	left, limit int64
	name        Message
	// told ones are those of which a missing source is a reason: what a maker
	// says of the whole, of zones, and of what carries somebody or something.
	told bool
}

// leans reports whether a tenth or less is left of the limit.
func (l *leaning) leans() bool { return l.left*leansWithin <= l.limit }

// sourceReasons tells of gross rating, zones, add-ons and places under this load
// of which nobody has noted where they come from, with care where little of them
// is left.
func sourceReasons(m *Match) []Reason {
	leant, plain := apart(m.unsourced())
	var reasons []Reason
	if len(leant) > 0 {
		reasons = append(reasons, Reason{Code: ReasonSourceMissing, Weight: Care, Fields: fieldsOf(leant),
			Message: say("No source is noted for %v, and this load leaves a tenth or less. Check it on the bike or in the manual before anybody rides.", namesOf(onceNamed(leant)))})
	}
	if len(plain) > 0 {
		reasons = append(reasons, Reason{Code: ReasonSourceMissing, Weight: Note, Fields: fieldsOf(plain),
			Message: say("No source is noted for %v. Check it on the bike or in the manual before loading to the full.", namesOf(onceNamed(plain)))})
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

// onceNamed leaves out what is named already: a place has several limits.
func onceNamed(specs []spec) []spec {
	var once []spec
	for _, s := range specs {
		if !slices.ContainsFunc(once, func(o spec) bool { return sameWords(o.name, s.name) }) {
			once = append(once, s)
		}
	}
	return once
}

func sameWords(a, b Message) bool { return a.Format == b.Format && reflect.DeepEqual(a.Args, b.Args) }

// unsourced lists the limits under this load of which nobody has noted where
// they come from.
func (m *Match) unsourced() []spec {
	var specs []spec
	m.eachLeaning(func(l leaning) {
		if l.told && catalog.Source(m.evidenceOf(l.List, l.Code), l.Figure) == nil {
			s := spec{field: l.field, name: l.name, leans: l.leans()}
			if l.List == addOnList {
				s.addOn = l.Code
			}
			specs = append(specs, s)
		}
	})
	return specs
}

// The lists of a document in which figures are that a build leans on.
const (
	frameList = "frames"
	addOnList = "add_ons"
)

func (m *Match) evidenceOf(list, code string) []catalog.Evidence {
	if a := m.fittedAddOn(code); list == addOnList && a != nil {
		return a.Evidence
	}
	return m.Frame.Evidence
}

// fittedAddOn returns an add-on that is on the bike, or nil.
func (m *Match) fittedAddOn(code string) *catalog.AddOn {
	for i := range m.aboard.fitted {
		if m.aboard.fitted[i].Code == code {
			return &m.aboard.fitted[i]
		}
	}
	return nil
}

// Leanings returns the figures that the build leans on, each once: every rating
// and every limit that something comes under.
func (m *Match) Leanings() []Leaning {
	var all []Leaning
	m.eachLeaning(func(l leaning) {
		if !slices.Contains(all, l.Leaning) {
			all = append(all, l.Leaning)
		}
	})
	return all
}

// eachLeaning yields every figure that the build leans on: the gross rating, the
// zones in their order, what add-ons and places bear, and the rest of the
// ratings.
func (m *Match) eachLeaning(yield func(leaning)) {
	of := func(l *Limit, list, code, figure, field string, told bool) {
		yield(leaning{Leaning{list, code, figure}, field, int64(l.Spare), int64(l.Most), l.Name, told})
	}
	for i := range m.Limits {
		if l := &m.Limits[i]; l.Rating == "gross" {
			of(l, frameList, m.Frame.Code, "gross_rating_kg", "gross_rating_kg", true)
		}
	}
	for i := range m.Frame.Zones {
		code := m.Frame.Zones[i].Code
		for j := range m.Limits {
			if l := &m.Limits[j]; l.about == code && strings.HasPrefix(l.Rating, "zone:") {
				of(l, frameList, m.Frame.Code, "zones["+code+"].rating_kg", "zones["+strconv.Itoa(i)+"].rating_kg", true)
			}
		}
	}
	m.eachCarrier(yield)
	for i := range m.aboard.seated {
		m.eachOfPlace(&m.aboard.seated[i], yield)
	}
	for i := range m.Limits {
		l := &m.Limits[i]
		switch kind, _, _ := strings.Cut(l.Rating, ":"); kind {
		case "front_axle", "rear_axle":
			of(l, frameList, m.Frame.Code, kind+"_max_kg", kind+"_max_kg", false)
		case "combined":
			of(l, frameList, m.Frame.Code, "combined["+l.about+"].rating_kg", "", false)
		case "stand":
			of(l, addOnList, l.about, "stand_max_kg", "stand_max_kg", false)
		}
	}
}

// eachCarrier yields what each add-on may carry over all, of several copies that
// of the one with the least left, and what pet.
func (m *Match) eachCarrier(yield func(leaning)) {
	pets := map[string]measure.Mass{}
	for _, item := range m.aboard.items {
		if item.Kind == load.Pet && item.Code != "" {
			pets[item.Code] = item.Mass
		}
	}
	for i := range m.aboard.fitted {
		if m.aboard.again(i) {
			continue
		}
		a := &m.aboard.fitted[i]
		rating, pet := "add_on:"+a.Code, pets[a.Code]
		at := slices.IndexFunc(m.Limits, func(l Limit) bool { return l.Rating == rating }) // the one with the least left
		if at < 0 && (pet == 0 || a.Pet == 0) {
			continue
		}
		name := say("what the %v may carry", AddOn{Code: a.Code, Name: a.Name})
		if at >= 0 {
			figure := m.loadOf(a)
			yield(leaning{Leaning{addOnList, a.Code, figure}, figure, int64(m.Limits[at].Spare), int64(m.Limits[at].Most), name, true})
		}
		if pet > 0 && a.Pet > 0 {
			yield(leaning{Leaning{addOnList, a.Code, "pet_kg"}, "pet_kg", int64(a.Pet - pet), int64(a.Pet), name, true})
		}
	}
}

// eachOfPlace yields the limits that the place states in which somebody sits.
func (m *Match) eachOfPlace(s *fitting.Seated, yield func(leaning)) {
	list, code := frameList, m.Frame.Code
	if s.AddOn != "" {
		list, code = addOnList, s.AddOn
	}
	name := say("the place of %v", Label{Text: s.Passenger})
	of := "places[" + strconv.Itoa(s.Seat.Place) + "]."
	p, who := s.Place, &s.Standing
	for _, l := range [...]struct {
		figure      string
		left, limit int64
	}{
		{"min_months", int64(who.Young - p.MinMonths), int64(p.MinMonths)},
		{"max_months", int64(p.MaxMonths - who.Old), int64(p.MaxMonths)},
		{"min_kg", int64(who.Light - p.MinMass), int64(p.MinMass)},
		{"max_kg", int64(p.MaxMass - who.Load), int64(p.MaxMass)},
		{"max_stature_cm", int64(p.MaxStature - who.Tall), int64(p.MaxStature)},
	} {
		if l.limit > 0 {
			yield(leaning{Leaning{list, code, of + l.figure}, of + l.figure, l.left, l.limit, name, true})
		}
	}
}

// loadOf names the figure of what an add-on may carry: that of its pair with
// the frame goes before its own.
func (m *Match) loadOf(a *catalog.AddOn) string {
	if pair, differs := a.OnFrame[m.Frame.Code]; differs && pair.MaxLoad != nil {
		return "on_frame." + m.Frame.Code
	}
	return "max_load_kg"
}
