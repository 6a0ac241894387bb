// Package quality finds what is missing or contradictory in a catalogue that
// is otherwise in order. A finding is no fault of form: the catalogue can be
// stored and judged by, but somebody should look.
package quality

import (
	"cmp"
	"slices"

	"kinwain/internal/catalog"
	"kinwain/internal/problem"
)

// Severity says how bad a finding is.
type Severity string

// The severities, the worst first.
const (
	Fault Severity = "fault" // cannot be right, or keeps something from ever being used
	Doubt Severity = "doubt" // may be right; look at it
	Gap   Severity = "gap"   // not stated, so it is not checked
)

var severities = []Severity{Fault, Doubt, Gap}

// The codes of the findings.
const (
	NoGross          = "gross_missing"
	FitsNothing      = "fits_nothing"
	NeedNeverMet     = "need_never_met"
	MountUnused      = "mount_unused"
	OverGross        = "over_gross"
	WeakStand        = "stand_too_weak"
	NoLimits         = "place_no_limits"
	NoChild          = "place_no_child"
	DisplacesNothing = "displaces_nothing"
	DisplacesMore    = "displaces_more"
	UnitCarries      = "unit_carries"
	Alike            = "frames_alike"
	FarOut           = "far_out"
	NotStated        = "not_stated"
	Unchosen         = "never_chosen"
)

// Finding is one thing to look at.
type Finding struct {
	Code     string
	Severity Severity
	List     string // "frames", "add_ons" or "units", as in the document
	Thing    string // the code of the frame or add-on, the tag of the unit
	Field    string // the path within it, such as zones[0].rating_kg
	Text     string // a sentence
}

// checker collects findings about one catalogue.
type checker struct {
	catalogue *catalog.Catalogue
	offers    map[string][]*catalog.AddOn // what may be on a frame, by its code
	findings  []Finding
}

// Check returns all findings about a catalogue that need nothing but the
// catalogue, the worst first, and of one severity in the order of the codes
// above and of the document.
func Check(c *catalog.Catalogue) []Finding {
	k := &checker{catalogue: c, offers: map[string][]*catalog.AddOn{}}
	for i := range c.Frames {
		k.offers[c.Frames[i].Code] = offer(c, &c.Frames[i])
	}
	for i := range c.Frames {
		k.frame(&c.Frames[i])
	}
	for i := range c.AddOns {
		k.addOn(&c.AddOns[i])
	}
	for i := range c.Units {
		k.unit(&c.Units[i])
	}
	k.alike()
	k.farOut()
	Sort(k.findings)
	return k.findings
}

var order = []string{NoGross, OverGross, WeakStand, NoLimits, NoChild, NeedNeverMet, UnitCarries, FitsNothing, DisplacesNothing, DisplacesMore, Alike, FarOut, MountUnused, Unchosen, NotStated}

// Sort puts findings in the order that Check returns.
func Sort(list []Finding) {
	slices.SortStableFunc(list, func(a, b Finding) int {
		return cmp.Or(slices.Index(severities, a.Severity)-slices.Index(severities, b.Severity), slices.Index(order, a.Code)-slices.Index(order, b.Code))
	})
}

func (k *checker) add(f Finding) { k.findings = append(k.findings, f) }

func offer(c *catalog.Catalogue, f *catalog.Frame) []*catalog.AddOn {
	var o []*catalog.AddOn
	for i := range c.AddOns {
		if may(f, &c.AddOns[i]) {
			o = append(o, &c.AddOns[i])
		}
	}
	return o
}

// may reports whether an add-on may be on a frame.
func may(f *catalog.Frame, a *catalog.AddOn) bool {
	return slices.Contains(a.Fits, f.Code) || slices.Contains(f.ComesWith, a.Code)
}

// frame checks what a frame says of itself.
func (k *checker) frame(f *catalog.Frame) {
	k.gross(f)
	k.mounts(f)
	for i := range f.Places {
		path := problem.Index("places", i)
		k.place("frames", f.Code, path, &f.Places[i])
		k.needs(f, nil, problem.Join(path, "needs"), f.Places[i].Needs, func(a *catalog.AddOn, tag string) bool {
			return serves(a, tag, f.Places[i].Zone)
		})
	}
	for _, u := range unstated(f) {
		k.add(Finding{NotStated, Gap, "frames", f.Code, u.field, "The maker does not state " + u.name + ", so it is not checked."})
	}
}

// gross holds the ratings of a frame against its gross rating: a part of the
// whole cannot bear more than the whole.
func (k *checker) gross(f *catalog.Frame) {
	if f.GrossRating == 0 {
		k.add(Finding{NoGross, Fault, "frames", f.Code, "gross_rating_kg", "There is no gross rating, and without one nothing can be said about this frame."})
		return
	}
	for i, z := range f.Zones {
		if z.Rating > f.GrossRating {
			k.add(Finding{OverGross, Fault, "frames", f.Code, problem.Join(problem.Index("zones", i), "rating_kg"),
				sentence("The zone %s is rated for %v, which is more than the gross rating of %v.", z.Code, z.Rating, f.GrossRating)})
		}
	}
	for i, r := range f.Combined {
		if r.Rating > f.GrossRating {
			k.add(Finding{OverGross, Fault, "frames", f.Code, problem.Join(problem.Index("combined", i), "rating_kg"),
				sentence("Several zones together are rated for %v, which is more than the gross rating of %v.", r.Rating, f.GrossRating)})
		}
	}
}

// mounts finds mounts that nothing in the catalogue is fixed to.
func (k *checker) mounts(f *catalog.Frame) {
	for i, m := range f.Mounts {
		used := slices.ContainsFunc(k.offers[f.Code], func(a *catalog.AddOn) bool {
			return slices.ContainsFunc(a.Uses, func(u catalog.Use) bool { return u.Mount == m.Code })
		})
		if !used {
			k.add(Finding{MountUnused, Doubt, "frames", f.Code, problem.Index("mounts", i), sentence("No add-on for this frame uses the mount %s.", m.Code)})
		}
	}
}

// addOn checks an add-on against every frame that it may be on.
func (k *checker) addOn(a *catalog.AddOn) {
	somewhere := false
	for i := range k.catalogue.Frames {
		f := &k.catalogue.Frames[i]
		if !may(f, a) {
			continue
		}
		somewhere = true
		if a.StandMax > 0 && a.StandMax < f.BareWeight {
			k.add(Finding{WeakStand, Fault, "add_ons", a.Code, "stand_max_kg", sentence("It bears %v, and the %s (%s) alone weighs %v.", a.StandMax, f.Name, f.Code, f.BareWeight)})
		}
		k.needs(f, a, "needs", a.Needs, func(*catalog.AddOn, string) bool { return true })
		for j := range a.Places {
			k.needs(f, a, problem.Join(problem.Index("places", j), "needs"), a.Places[j].Needs, func(other *catalog.AddOn, tag string) bool {
				return other.Code == a.Code || serves(other, tag, a.Zone)
			})
		}
	}
	if !somewhere {
		k.add(Finding{FitsNothing, Doubt, "add_ons", a.Code, "fits", "It fits no frame, so it is never offered."})
	}
	if a.DisplacesCargo > 0 || a.DisplacesVolume > 0 {
		k.displaces(a)
	}
	for i := range a.Places {
		k.place("add_ons", a.Code, problem.Index("places", i), &a.Places[i])
	}
}

// displaces finds an add-on that takes more of a zone's own room for cargo than
// there is on a frame that it is for, or where none has any at all.
func (k *checker) displaces(a *catalog.AddOn) {
	somewhere := false
	for i := range k.catalogue.Frames {
		f := &k.catalogue.Frames[i]
		z := f.ZoneIndex(a.Zone)
		if z < 0 || !may(f, a) || f.Zones[z].Cargo == 0 {
			continue
		}
		somewhere = true
		zone := &f.Zones[z]
		if a.DisplacesCargo > zone.Cargo {
			k.add(Finding{DisplacesMore, Doubt, "add_ons", a.Code, "displaces_kg", sentence("It takes %v of the zone %s, which on the %s (%s) carries %v.", a.DisplacesCargo, zone.Code, f.Name, f.Code, zone.Cargo)})
		}
		if a.DisplacesVolume > zone.CargoVolume {
			k.add(Finding{DisplacesMore, Doubt, "add_ons", a.Code, "displaces_litres", sentence("It takes %v of the zone %s, which on the %s (%s) holds %v.", a.DisplacesVolume, zone.Code, f.Name, f.Code, zone.CargoVolume)})
		}
	}
	if !somewhere {
		k.add(Finding{DisplacesNothing, Doubt, "add_ons", a.Code, "displaces_kg", "It takes of a zone’s own room for cargo, and on no frame has that zone any."})
	}
}

// serves reports whether a tag of an add-on serves places in a zone that are
// not its own.
func serves(a *catalog.AddOn, tag, zone string) bool {
	return !catalog.OfASeat(tag) || len(a.Places) == 0 && a.Zone != "" && a.Zone == zone
}

// needs finds groups of needs that nothing which may be on the frame can
// meet. The add-on that asks, which may be nil, meets its own needs as anything
// else does; what it excludes does not.
func (k *checker) needs(f *catalog.Frame, a *catalog.AddOn, path string, groups [][]string, serves func(*catalog.AddOn, string) bool) {
	for i, group := range groups {
		if k.met(f, a, group, serves) {
			continue
		}
		finding := Finding{NeedNeverMet, Fault, "frames", f.Code, problem.Index(path, i),
			sentence("This place needs %s, and nothing for this frame is or provides that.", either(group))}
		if a != nil {
			finding.List, finding.Thing = "add_ons", a.Code
			finding.Text = sentence("On the %s it needs %s, and nothing for that frame is or provides that.", f.Name, either(group))
		}
		k.add(finding)
	}
}

func (k *checker) met(f *catalog.Frame, a *catalog.AddOn, group []string, serves func(*catalog.AddOn, string) bool) bool {
	return slices.ContainsFunc(group, func(member string) bool {
		return slices.Contains(f.Provides, member) || slices.ContainsFunc(k.offers[f.Code], func(other *catalog.AddOn) bool {
			return (other.Code == member || slices.Contains(other.Provides, member) && serves(other, member)) && !excluded(a, other)
		})
	})
}

func excluded(a, b *catalog.AddOn) bool {
	return a != nil && a.Code != b.Code && (slices.Contains(a.Excludes, b.Code) || slices.Contains(b.Excludes, a.Code))
}

// unit checks what is written to be on a bike in the shop.
func (k *checker) unit(u *catalog.Unit) {
	f := k.catalogue.Frame(u.Frame)
	if f == nil {
		k.add(Finding{UnitCarries, Fault, "units", u.Tag, "frame", sentence("There is no frame %s in the catalogue.", u.Frame)})
		return
	}
	count := map[string]int{}
	for i, code := range u.Fitted {
		count[code]++
		a, path := k.catalogue.AddOn(code), problem.Index("fitted", i)
		switch {
		case a == nil:
			k.add(Finding{UnitCarries, Fault, "units", u.Tag, path, sentence("There is no add-on %s in the catalogue.", code)})
		case !may(f, a):
			k.add(Finding{UnitCarries, Fault, "units", u.Tag, path, sentence("It carries the add-on %s, which does not fit the %s.", a.Name, f.Name)})
		case count[code] == a.Most()+1:
			k.add(Finding{UnitCarries, Fault, "units", u.Tag, path, sentence("It carries more than %d of the add-on %s, which is all that may be fitted.", a.Most(), a.Name)})
		}
	}
}

// NeverChosen finds add-ons that no build has, given the codes of those that
// some build has. What comes with a frame is never a choice.
func NeverChosen(c *catalog.Catalogue, chosen map[string]bool, consultations int) []Finding {
	var list []Finding
	for i := range c.AddOns {
		a := &c.AddOns[i]
		delivered := slices.ContainsFunc(c.Frames, func(f catalog.Frame) bool { return slices.Contains(f.ComesWith, a.Code) })
		if len(a.Fits) > 0 && !delivered && !chosen[a.Code] && consultations > 0 {
			list = append(list, Finding{Unchosen, Doubt, "add_ons", a.Code, "fits",
				sentence("In none of the last %d consultations that could be judged was it chosen for any frame.", consultations)})
		}
	}
	return list
}
