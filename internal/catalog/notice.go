package catalog

import (
	"math/big"
	"slices"
	"strings"

	"kinwain/internal/problem"
)

// Loss is a rating, a limit or a need that a change takes away, so that more is
// allowed than before.
type Loss struct {
	Path  string // within the thing
	Field *Field
	Old   string // as its document shows it
}

// Losses returns what a change takes away. What goes with the thing, the zone or
// the place that it is about allows nothing.
func (c Change) Losses() []Loss {
	if c.Whole() || c.Kind() == Moved || c.Old == "" {
		return nil
	}
	f, entry := c.field()
	if f == nil {
		return nil
	}
	old, err := parseNode(c.Old)
	if err != nil {
		return nil // it was written by this package
	}
	var now node
	if c.New != "" {
		if now, err = parseNode(c.New); err != nil {
			return nil
		}
	}
	return losses(f, entry, c.Field, old, now)
}

// losses compares a field, or an entry of its list.
func losses(f *Field, entry bool, path string, old, now node) (all []Loss) {
	switch {
	case f.guards:
		if lost := lessOf(f, old, now); lost != "" {
			return []Loss{{path, f, lost}}
		}
	case f.Kind == PerFrame && !entry:
		for i, frame := range old.names {
			all = append(all, losses(f, true, problem.Join(path, frame), old.entries[i], now.member(frame))...)
		}
	case f.Sub == nil || f.Kind != Boxed && !entry:
	case now.text == "" && (f.Name == "zones" || f.Name == "places"):
	default:
		for i := range f.Sub {
			sub := &f.Sub[i]
			all = append(all, losses(sub, false, problem.Join(path, sub.Name), old.member(sub.Name), now.member(sub.Name))...)
		}
	}
	return all
}

// lessOf returns what of a fact is not there any more, or nothing.
func lessOf(f *Field, old, now node) string {
	if f.Kind != Needs && f.Kind != AddOns {
		if isStated(old) && !isStated(now) {
			return old.text
		}
		return ""
	}
	var lost []string
	for _, one := range old.entries {
		if !slices.ContainsFunc(now.entries, func(n node) bool { return n.text == one.text }) {
			lost = append(lost, one.text)
		}
	}
	if lost == nil {
		return ""
	}
	return "[" + strings.Join(lost, ", ") + "]"
}

// isStated reports whether a figure is stated.
func isStated(n node) bool {
	return !slices.Contains([]string{"", "0", `""`, "[]", "null", "false"}, n.text)
}

// member returns what an object has under a name.
func (n node) member(name string) node {
	if i := slices.Index(n.names, name); i >= 0 {
		return n.entries[i]
	}
	return node{}
}

// Leap reports whether a change makes a figure more than three times as large,
// or less than a third, as a slipped decimal point does or another unit.
func (c Change) Leap() (*Field, bool) {
	f, _ := c.field()
	if f == nil || !slices.Contains([]FieldKind{Mass, Length, Signed, Volume, Money, Number, Share}, f.Kind) {
		return f, false
	}
	old, isOld := new(big.Rat).SetString(c.Old)
	now, isNew := new(big.Rat).SetString(c.New)
	if !isOld || !isNew || old.Sign() == 0 || now.Sign() == 0 {
		return f, false
	}
	times := new(big.Rat).Quo(now, old)
	return f, times.Cmp(big.NewRat(3, 1)) > 0 || times.Cmp(big.NewRat(1, 3)) < 0
}

// field returns the field that a change is about, and whether it is about an
// entry of its list.
func (c Change) field() (f *Field, entry bool) {
	fields := tables[c.List]
	for _, step := range pathSteps(c.Field) {
		if f != nil && (step[0] == '[' || f.Kind == PerFrame && !entry) {
			entry = true
			continue
		}
		i := slices.IndexFunc(fields, func(f Field) bool { return f.Name == step })
		if i < 0 {
			return nil, false
		}
		f, fields, entry = &fields[i], fields[i].Sub, false
	}
	return f, entry
}
