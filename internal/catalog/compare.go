package catalog

import (
	"reflect"
	"slices"

	"github.com/go-json-experiment/json/jsontext"

	"kinwain/internal/problem"
)

// Compare returns what it takes to get from one catalogue to another, both
// without a fault: none only where both have the same document. Things are
// the same where their code is. Entries of a list within them are the same
// where their code, mount or zones are, or else their position. A path counts
// by the old list, save for what is added; so the same field of one old
// catalogue has the same path whatever the new one is. Of a list, what was
// there comes first, in the old order, then what is added.
func Compare(old, new *Catalogue) ([]Change, error) { return differences(old, new, false) }

// Edits returns what it takes to get from one catalogue to another as changes
// that Apply can repeat, also on a catalogue that has changed elsewhere. Other
// than those of Compare, their fields name the entries of a list by what they
// are: zones[rear].rating_kg is the rating of the rear zone wherever it
// stands, and combined[front+rear] the rating over both. Where entries have no
// name, places[#0] counts their position. Where entries that were added at the
// end and others taken out do not give the new list, the order is a change of
// its own, and the last.
func Edits(old, new *Catalogue) ([]Change, error) { return differences(old, new, true) }

func differences(old, new *Catalogue, byName bool) ([]Change, error) {
	w := &walk{byName: byName}
	for _, list := range Lists {
		a, b := old.Things(list), new.Things(list)
		at := func(_ int, code string) Change { return Change{List: list, Code: code} }
		differ := func(i, j int) (node, node) { return w.different(list, a[i], b[j]) }
		w.list(Change{List: list}, at, entries{codes(a), w.nodes(a)}, entries{codes(b), w.nodes(b)}, differ)
	}
	return w.changes, w.err
}

// walk collects the differences of two catalogues.
type walk struct {
	byName  bool // of the entries of lists within a thing
	changes []Change
	err     error
}

func (w *walk) failed(err error) {
	if w.err == nil {
		w.err = err
	}
}

// nodes reads the documents of things one by one.
func (w *walk) nodes(things []Thing) func(i int) node {
	return func(i int) node {
		n, err := things[i].node()
		w.failed(err)
		return n
	}
}

// different reads of the documents of two things what is not the same in both:
// of thousands of things most facts stay.
func (w *walk) different(list string, a, b Thing) (old, new node) {
	if reflect.DeepEqual(a.Of, b.Of) {
		return node{}, node{}
	}
	var fields []Field
	for _, f := range tables[list] {
		if !reflect.DeepEqual(f.at(a.Of), f.at(b.Of)) {
			fields = append(fields, f)
		}
	}
	old, err := a.facts(fields)
	w.failed(err)
	new, err = b.facts(fields)
	w.failed(err)
	return old, new
}

// add notes that a place holds something else.
func (w *walk) add(at Change, old, new string) {
	at.Old, at.New = old, new
	w.changes = append(w.changes, at)
}

// value compares what stands at one place.
func (w *walk) value(at Change, old, new node) {
	switch {
	case old.text == new.text:
	case old.kind == jsontext.KindBeginObject && new.kind == jsontext.KindBeginObject && !old.isProof():
		w.members(at, old, new)
	case old.list() && new.list() && len(old.entries)+len(new.entries) > 0:
		w.entries(at, old, new)
	default:
		w.add(at, old.text, new.text)
	}
}

func (w *walk) members(at Change, old, new node) {
	member := func(name string) Change {
		m := at
		m.Field = problem.Join(at.Field, name)
		return m
	}
	for i, name := range old.names {
		if j := slices.Index(new.names, name); j >= 0 {
			w.value(member(name), old.entries[i], new.entries[j])
		} else if name == evidenceKey { // none is as good as an empty list
			w.value(member(name), old.entries[i], noEntries)
		} else {
			w.add(member(name), old.entries[i].text, "")
		}
	}
	for j, name := range new.names {
		switch {
		case slices.Contains(old.names, name):
		case name == evidenceKey:
			w.value(member(name), noEntries, new.entries[j])
		default:
			w.add(member(name), "", new.entries[j].text)
		}
	}
}

func (w *walk) entries(at Change, old, new node) {
	ofOld, ofNew := keys(old, new)
	entry := func(i int, key string) Change {
		e := at
		if w.byName {
			e.Field += "[" + key + "]"
		} else {
			e.Field = problem.Index(at.Field, i)
		}
		return e
	}
	w.list(at, entry, entries{ofOld, func(i int) node { return old.entries[i] }}, entries{ofNew, func(i int) node { return new.entries[i] }},
		func(i, j int) (node, node) { return old.entries[i], new.entries[j] })
}

// entries is a list of which every entry has a key of its own.
type entries struct {
	keys []string
	node func(i int) node
}

// list compares two lists entry by entry. Differ gives what is to be compared of
// two entries of one key.
func (w *walk) list(self Change, at func(i int, key string) Change, old, new entries, differ func(i, j int) (a, b node)) {
	before, after := positions(old.keys), positions(new.keys)
	var plain []string // the order without a word about it
	for i, key := range old.keys {
		if j, stays := after[key]; stays {
			plain = append(plain, key)
			if a, b := differ(i, j); a.text != b.text {
				w.value(at(i, key), a, b)
			}
		}
	}
	for i := len(old.keys) - 1; i >= 0; i-- { // the last first: positions before it stay true
		if _, stays := after[old.keys[i]]; !stays {
			w.add(at(i, old.keys[i]), old.node(i).text, "")
		}
	}
	stay := len(plain)
	for j, key := range new.keys {
		if _, there := before[key]; !there {
			plain = append(plain, key)
			w.add(at(j, key), "", new.node(j).text)
		}
	}
	switch is := slices.DeleteFunc(slices.Clone(new.keys), func(key string) bool { _, there := before[key]; return !there }); {
	case self.Field == evidenceKey: // which Carry puts in order
	case w.byName && !slices.Equal(plain, new.keys):
		w.add(self, shown(old.keys), shown(new.keys))
	case !w.byName && !slices.Equal(plain[:stay], is):
		w.add(self, shown(plain[:stay]), shown(is))
	}
}

// positions returns where each code stands.
func positions(codes []string) map[string]int {
	at := make(map[string]int, len(codes))
	for i, code := range codes {
		at[code] = i
	}
	return at
}

// shown writes a list of codes; strings always have a text.
func shown(codes []string) string {
	text, err := written(codes)
	if err != nil {
		panic(err)
	}
	return text
}
