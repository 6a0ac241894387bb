package form

import (
	"maps"
	"slices"
	"strconv"
	"strings"

	"kinwain/internal/measure"
)

// Clash is a field that two people have changed, each in another way.
type Clash struct {
	Name   string
	Theirs string // as it is saved
	Mine   string // as it was sent
}

// Merge returns what is saved with the answers in it that somebody has changed
// in a form which they opened when it held base, and the fields that others
// have changed since then too: those stay as they are saved. Where base is not
// known, every field that differs was perhaps changed by both.
func Merge(base, mine, saved Form, baseKnown bool) (Form, []Clash) {
	units := saved.System()
	if mine.System() != base.System() {
		units = mine.System()
	}
	base, mine, saved = base.in(units), mine.in(units), saved.in(units)
	merged := saved.Clone()
	var clashes []Clash
	for _, name := range slices.Sorted(maps.Keys(both(mine.values, base.values))) {
		was, typed, now := base.Get(name), mine.Get(name), saved.Get(name)
		switch {
		case typed == now, baseKnown && typed == was:
		case name == Line: // whoever types in it is not done
			merged.values[name] = typed
		case !baseKnown || now != was || base.moved(saved, name):
			clashes = append(clashes, Clash{name, now, typed})
		default:
			merged.values[name] = typed
		}
	}
	for name := range both(mine.unknown, base.unknown) {
		if mine.unknown[name] != base.unknown[name] {
			merged.mark(name, mine.unknown[name])
		}
	}
	for name := range merged.unknown { // an answer counts more than that somebody else does not know it
		if saved.newly(name, base) || mine.newly(name, base) {
			delete(merged.unknown, name)
		}
	}
	return merged, clashes
}

// in returns the form in a system of units, with every figure as it was meant.
func (f Form) in(to measure.System) Form {
	g, from := f.Clone(), f.System()
	if from == to {
		return g
	}
	g.values[Units] = ""
	if to == measure.Imperial {
		g.values[Units] = Imperial
	}
	g.SwitchUnits(from)
	return g
}

// moved reports whether a field is of a list that has lost rows since: then
// its row may be about somebody else.
func (f Form) moved(since Form, name string) bool {
	m := rowName.FindStringSubmatch(name)
	return m != nil && since.Rows(m[1]) < f.Rows(m[1])
}

// newly reports whether a form answers a question that another did not, or
// answered in another way.
func (f Form) newly(name string, before Form) bool {
	return !f.unknown[name] && (strings.TrimSpace(f.Get(name)) != "" && f.Get(name) != before.Get(name) || f.Rows(name) > before.Rows(name))
}

// SameRows reports whether the lists of two forms are as long as each other.
func (f Form) SameRows(other Form) bool {
	return !slices.ContainsFunc([]string{Riders, Passengers, Doorways, Corners}, func(list string) bool { return f.Rows(list) != other.Rows(list) })
}

// Differing are the names of the fields in which the form holds something else
// than another, in order.
func (f Form) Differing(other Form) []string {
	names := maps.Keys(both(f.values, other.values))
	return slices.DeleteFunc(slices.Sorted(names), func(name string) bool { return f.Get(name) == other.Get(name) })
}

// VersionOf reads the version of the answers that a request carries; zero
// where it carries none.
func VersionOf(typed string) int {
	n, _ := strconv.Atoi(typed) // none is zero too
	return n
}
