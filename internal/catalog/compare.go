package catalog

import (
	"slices"
	"strings"

	"github.com/go-json-experiment/json"
	"github.com/go-json-experiment/json/jsontext"

	"kinwain/internal/problem"
)

// Change is one difference between two catalogues. The figures are texts as
// their documents show them, such as 24.5, "slate" or ["sedge", "osier"].
type Change struct {
	List  string // "shop", "frames", "add_ons" or "units"
	Code  string // of the frame or add-on, the tag of the unit; empty for the shop, and for the order of a list
	Field string // the path within it, such as zones[0].rating_kg; empty for the whole
	Old   string // empty where there was nothing
	New   string // empty where nothing is left
}

// Kind is what a change does.
type Kind string

// The kinds of a change.
const (
	Added   Kind = "added"
	Removed Kind = "removed"
	Changed Kind = "changed"
	Moved   Kind = "moved" // the same things in another order
)

// Kind returns what the change does.
func (c Change) Kind() Kind {
	switch {
	case c.List != "shop" && c.Code == "":
		return Moved
	case c.Old == "":
		return Added
	case c.New == "":
		return Removed
	}
	return Changed
}

// Whole reports whether the change is about a frame, an add-on or a unit as a
// whole.
func (c Change) Whole() bool { return c.Code != "" && c.Field == "" }

// Compare returns what it takes to get from one catalogue to another, both
// without a fault: none only where both have the same document. Things are
// the same where their code is. Entries of a list within them are the same
// where their code, mount or zones are, or else their position. A path counts
// by the old list, save for what is added; so the same field of one old
// catalogue has the same path whatever the new one is. Of a list, what was
// there comes first, in the old order, then what is added.
func Compare(old, new *Catalogue) ([]Change, error) {
	var all []Change
	shop, err := difference(old.Shop, new.Shop)
	if err != nil {
		return nil, err
	}
	for _, c := range shop {
		c.List = "shop"
		all = append(all, c)
	}
	for _, compare := range [...]func() ([]Change, error){
		func() ([]Change, error) {
			return things("frames", old.Frames, new.Frames, func(f *Frame) string { return f.Code })
		},
		func() ([]Change, error) {
			return things("add_ons", old.AddOns, new.AddOns, func(a *AddOn) string { return a.Code })
		},
		func() ([]Change, error) {
			return things("units", old.Units, new.Units, func(u *Unit) string { return u.Tag })
		},
	} {
		changes, err := compare()
		if err != nil {
			return nil, err
		}
		all = append(all, changes...)
	}
	return all, nil
}

// things compares the frames, the add-ons or the units.
func things[T any](list string, old, new []T, code func(*T) string) ([]Change, error) {
	var all []Change
	oldCodes, newCodes := make([]string, len(old)), make([]string, len(new))
	for i := range old {
		oldCodes[i] = code(&old[i])
	}
	for i := range new {
		newCodes[i] = code(&new[i])
	}
	before, after := positions(oldCodes), positions(newCodes)
	for i := range old {
		var changes []Change
		var err error
		if j, stays := after[oldCodes[i]]; stays {
			changes, err = difference(old[i], new[j])
		} else {
			changes, err = whole(old[i], func(text string) Change { return Change{Old: text} })
		}
		if err != nil {
			return nil, err
		}
		all = append(all, of(list, oldCodes[i], changes)...)
	}
	for j := range new {
		if _, there := before[newCodes[j]]; there {
			continue
		}
		changes, err := whole(new[j], func(text string) Change { return Change{New: text} })
		if err != nil {
			return nil, err
		}
		all = append(all, of(list, newCodes[j], changes)...)
	}
	return append(all, of(list, "", moved("", oldCodes, newCodes, before, after, shown))...), nil
}

func of(list, code string, changes []Change) []Change {
	for i := range changes {
		changes[i].List, changes[i].Code = list, code
	}
	return changes
}

func whole(thing any, change func(text string) Change) ([]Change, error) {
	value, err := written(thing)
	return []Change{change(value)}, err
}

// positions returns where each code stands.
func positions(codes []string) map[string]int {
	at := make(map[string]int, len(codes))
	for i, code := range codes {
		at[code] = i
	}
	return at
}

// moved returns the change of order among what is in both lists, if any, as
// two lists of codes in words.
func moved(path string, old, new []string, before, after map[string]int, words func([]string) string) []Change {
	stay := func(codes []string, there map[string]int) []string {
		return slices.DeleteFunc(slices.Clone(codes), func(code string) bool { _, ok := there[code]; return !ok })
	}
	from, to := stay(old, after), stay(new, before)
	if slices.Equal(from, to) {
		return nil
	}
	return []Change{{Field: path, Old: words(from), New: words(to)}}
}

// shown writes a list of codes; strings always have a text.
func shown(codes []string) string {
	text, err := written(codes)
	if err != nil {
		panic(err)
	}
	return text
}

// written returns the document text of a part of a catalogue, on one line.
func written(part any) (string, error) {
	text, err := json.Marshal(part, json.Deterministic(true), jsontext.SpaceAfterColon(true), jsontext.SpaceAfterComma(true))
	return string(text), err
}

// difference compares two things field by field.
func difference(old, new any) ([]Change, error) {
	was, err := written(old)
	if err != nil {
		return nil, err
	}
	is, err := written(new)
	if err != nil || was == is {
		return nil, err
	}
	a, err := parseNode(was)
	if err != nil {
		return nil, err
	}
	b, err := parseNode(is)
	if err != nil {
		return nil, err
	}
	return a.compare("", b), nil
}

func (n node) compare(path string, to node) []Change {
	switch {
	case n.text == to.text:
		return nil
	case n.kind == jsontext.KindBeginObject && to.kind == jsontext.KindBeginObject:
		return n.compareMembers(path, to)
	case n.list() && to.list() && (len(n.entries) > 0 || len(to.entries) > 0):
		return n.compareEntries(path, to)
	}
	return []Change{{Field: path, Old: n.text, New: to.text}}
}

func (n node) compareMembers(path string, to node) []Change {
	var all []Change
	before, after := positions(n.names), positions(to.names)
	for i, name := range n.names {
		if j, stays := after[name]; stays {
			all = append(all, n.entries[i].compare(problem.Join(path, name), to.entries[j])...)
		} else {
			all = append(all, Change{Field: problem.Join(path, name), Old: n.entries[i].text})
		}
	}
	for j, name := range to.names {
		if _, there := before[name]; !there {
			all = append(all, Change{Field: problem.Join(path, name), New: to.entries[j].text})
		}
	}
	return all
}

// compareEntries compares two lists of objects, or a list of objects with an
// empty one.
func (n node) compareEntries(path string, to node) []Change {
	var all []Change
	oldKeys, newKeys := keys(n, to)
	before, after := positions(oldKeys), positions(newKeys)
	for i, key := range oldKeys {
		if j, stays := after[key]; stays {
			all = append(all, n.entries[i].compare(problem.Index(path, i), to.entries[j])...)
		} else {
			all = append(all, Change{Field: problem.Index(path, i), Old: n.entries[i].text})
		}
	}
	for j, key := range newKeys {
		if _, there := before[key]; !there {
			all = append(all, Change{Field: problem.Index(path, j), New: to.entries[j].text})
		}
	}
	return append(all, moved(path, oldKeys, newKeys, before, after, func(keys []string) string { return "[" + strings.Join(keys, ", ") + "]" })...)
}
