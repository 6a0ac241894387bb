package catalog

import (
	"cmp"
	"slices"
	"strings"
)

// Touch is what a change of the catalogue may make another answer about.
type Touch struct {
	Frames []string // codes
	Units  []string // tags of bikes of which somebody may have been promised something else
	Ridden []string // tags of bikes that may be ridden otherwise than was said
}

// Nothing reports whether no answer can be another one.
func (t *Touch) Nothing() bool { return len(t.Frames)+len(t.Units)+len(t.Ridden) == 0 }

// Touched returns what a match may be another one for after a change of the
// catalogue, in the order of the old one and then of the new one. Of frames
// those that are changed, added or removed, those that a changed add-on fits or
// comes with, before or after, and all where the shop charges differently. Of
// units those that come, go, have other things on them or another weight, or are
// not where they were; see Unit.Away. To whom one is promised its price matters,
// too, and when it is expected. What things look like and are called is no part
// of it. Both catalogues must have been checked.
func Touched(before, after *Catalogue) (Touch, error) {
	changes, err := Compare(before, after)
	if err != nil {
		return Touch{}, err
	}
	all, frames, units, ridden := false, map[string]bool{}, map[string]bool{}, map[string]bool{}
	for _, c := range changes {
		switch {
		case c.List == "shop":
			all = all || c.Field == "labour_cents_per_hour" || c.Field == "currency"
		case c.Code == "" || c.OnlyWords(): // an order, or a name
		case c.List == "frames":
			frames[c.Code] = true
		case c.List == "units":
			promise, ride := bearsOn(c, after.Unit(c.Code))
			units[c.Code], ridden[c.Code] = units[c.Code] || promise, ridden[c.Code] || ride
		default:
			for _, code := range onFrames(before, after, c) {
				frames[code] = true
			}
		}
	}
	not := func(touched map[string]bool) func(string) bool {
		return func(code string) bool { return !touched[code] }
	}
	t := Touch{Frames: either(before, after, "frames"), Units: either(before, after, "units"), Ridden: either(before, after, "units")}
	if !all {
		t.Frames = slices.DeleteFunc(t.Frames, not(frames))
	}
	t.Units = slices.DeleteFunc(t.Units, not(units))
	t.Ridden = slices.DeleteFunc(t.Ridden, not(ridden))
	return t, nil
}

// either lists the codes that a list has in one catalogue or the other.
func either(before, after *Catalogue, list string) []string {
	all, there := codes(before.Things(list)), map[string]bool{}
	for _, code := range all {
		there[code] = true
	}
	for _, code := range codes(after.Things(list)) {
		if !there[code] {
			all = append(all, code)
		}
	}
	return all
}

// OnlyWords reports whether a change is about what something is called, told of
// it or read from, or how many there are, and so of no match. That a figure has a
// source at all matters; which one, from when and with what photo, does not.
func (c Change) OnlyWords() bool {
	if figure := c.Evidence(); figure != "" {
		return c.Kind() == Changed || !bearsOnMatch(figure)
	}
	name, _, _ := strings.Cut(c.Field, ".")
	name, _, _ = strings.Cut(name, "[")
	if frame, pair := strings.CutPrefix(c.Field, "on_frame."); pair {
		_, name, _ = strings.Cut(frame, ".")
		name, _, _ = strings.Cut(name, "_")
	}
	return slices.Contains([]string{"name", "names", "family", "material", "notes", "notes_in", "note", "manual", "supplier", "article", "stock"}, name)
}

// onFrames returns the frames for which a change of an add-on matters: that it
// fits one frame more or less matters for that one.
func onFrames(before, after *Catalogue, c Change) []string {
	was, is := framesOf(before, c.Code), framesOf(after, c.Code)
	field := cmp.Or(c.Evidence(), c.Field) // a source matters where its figure does
	list, _, _ := strings.Cut(field, "[")
	frame, pair := strings.CutPrefix(field, "on_frame.")
	switch {
	case pair:
		frame, _, _ = strings.Cut(frame, ".")
		return []string{frame}
	case list == "fits":
		both := func(code string) bool { return slices.Contains(was, code) && slices.Contains(is, code) }
		return slices.DeleteFunc(append(was, is...), both)
	}
	return append(was, is...)
}

// bearsOn reports whether a change of a unit, or of the whole of it, is one of
// what was promised of it, and of who can ride it. is nil where it is gone.
func bearsOn(c Change, is *Unit) (promise, ride bool) {
	switch name, _, _ := strings.Cut(c.Field, "["); name {
	case "", "frame", "fitted", "weighed_kg":
		return true, true
	case "status":
		moved := away(unquoted(c.Old)) != away(unquoted(c.New))
		return moved, moved
	case "kind":
		return false, true
	case "price_cents":
		return true, false
	case "arrival": // of what has come, nobody waits for it
		return is != nil && is.Status == Ordered, false
	}
	return false, false
}

// unquoted is the word that a change holds as JSON.
func unquoted(word string) string { return strings.Trim(word, `"`) }

// framesOf returns the frames that an add-on may be on.
func framesOf(c *Catalogue, code string) []string {
	var codes []string
	if a := c.AddOn(code); a != nil {
		codes = slices.Clone(a.Fits)
	}
	for i := range c.Frames {
		if slices.Contains(c.Frames[i].ComesWith, code) {
			codes = append(codes, c.Frames[i].Code)
		}
	}
	return codes
}

// MayBeOn reports whether there is an add-on of a code that fits a frame, or
// comes with it.
func (c *Catalogue) MayBeOn(code string, f *Frame) bool {
	a := c.AddOn(code)
	return a != nil && (slices.Contains(a.Fits, f.Code) || slices.Contains(f.ComesWith, code))
}
