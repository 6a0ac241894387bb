package catalog

import (
	"slices"
	"strings"

	"github.com/go-json-experiment/json/jsontext"
)

// Edits returns what it takes to get from one catalogue to another as changes
// that Apply can repeat, also on a catalogue that has changed elsewhere. Other
// than those of Compare, their fields name the entries of a list by what they
// are: zones[rear].rating_kg is the rating of the rear zone wherever it
// stands, and combined[front+rear] the rating over both. Where entries have no
// name, places[#0] counts their position.
func Edits(old, new *Catalogue) ([]Change, error) {
	a, err := tree(old)
	if err != nil {
		return nil, err
	}
	b, err := tree(new)
	if err != nil {
		return nil, err
	}
	return a.edits("", b), nil
}

func tree(c *Catalogue) (node, error) {
	text, err := written(c)
	if err != nil {
		return node{}, err
	}
	return parseNode(text)
}

func (n node) edits(path string, to node) []Change {
	switch {
	case n.text == to.text:
		return nil
	case n.kind == jsontext.KindBeginObject && to.kind == jsontext.KindBeginObject:
		return n.editMembers(path, to)
	case n.list() && to.list() && len(n.entries)+len(to.entries) > 0:
		return n.editEntries(path, to)
	}
	return []Change{changeAt(path, n.text, to.text)}
}

func (n node) editMembers(path string, to node) []Change {
	var all []Change
	for i, name := range n.names {
		if j := slices.Index(to.names, name); j >= 0 {
			all = append(all, n.entries[i].edits(member(path, name), to.entries[j])...)
		} else {
			all = append(all, changeAt(member(path, name), n.entries[i].text, ""))
		}
	}
	for j, name := range to.names {
		if !slices.Contains(n.names, name) {
			all = append(all, changeAt(member(path, name), "", to.entries[j].text))
		}
	}
	return all
}

// editEntries compares two lists of objects. Where entries that were added at
// the end and others taken out do not give the new list, the order is a
// change of its own, and the last.
func (n node) editEntries(path string, to node) []Change {
	var all []Change
	oldKeys, newKeys, named := entryKeys(n, to)
	before, after := positions(oldKeys), positions(newKeys)
	var plain []string // the order without a word about it
	for i, key := range oldKeys {
		if j, stays := after[key]; stays {
			plain = append(plain, key)
			all = append(all, n.entries[i].edits(path+"["+key+"]", to.entries[j])...)
		}
	}
	for i := len(oldKeys) - 1; i >= 0; i-- { // the last first: positions before it stay true
		if _, stays := after[oldKeys[i]]; !stays {
			all = append(all, changeAt(path+"["+oldKeys[i]+"]", n.entries[i].text, ""))
		}
	}
	for j, key := range newKeys {
		if _, there := before[key]; !there {
			plain = append(plain, key)
			all = append(all, changeAt(path+"["+key+"]", "", to.entries[j].text))
		}
	}
	if named && !slices.Equal(plain, newKeys) {
		all = append(all, changeAt(path, shown(oldKeys), shown(newKeys)))
	}
	return all
}

// entryKeys tells the entries of two lists apart by their names, or else by
// their positions.
func entryKeys(a, b node) (ofA, ofB []string, named bool) {
	ofA, ofB = a.called(), b.called()
	if unique(ofA) && unique(ofB) {
		return ofA, ofB, true
	}
	at := func(n node) []string {
		all := make([]string, len(n.entries))
		for i := range n.entries {
			all[i] = position(i)
		}
		return all
	}
	return at(a), at(b), false
}

// called returns what every entry of a list is called, empty for those without
// a name.
func (n node) called() []string {
	all := make([]string, len(n.entries))
	for i, entry := range n.entries {
		for _, name := range [...]string{"code", "tag", "mount", "zones"} {
			if text, found := entry.member(name); found {
				all[i] = strings.NewReplacer(`"`, "", "[", "", "]", "", ", ", "+").Replace(text)
				break
			}
		}
	}
	return all
}

func unique(names []string) bool {
	there := seen{}
	return !slices.ContainsFunc(names, func(name string) bool { return name == "" || there.again(name) })
}

// changeAt makes a change of a path from the root of the catalogue.
func changeAt(path, old, new string) Change {
	c := Change{Old: old, New: new}
	c.List, c.Code, c.Field = splitPath(path)
	return c
}

// Path names what the change is about from the root of the catalogue.
func (c Change) Path() string {
	path := c.List
	if c.Code != "" {
		path += "[" + c.Code + "]"
	}
	switch {
	case c.Field == "":
		return path
	case path == "":
		return c.Field
	}
	return path + "." + c.Field
}

func splitPath(path string) (list, code, field string) {
	steps := pathSteps(path)
	list, rest := steps[0], steps[1:]
	if len(rest) > 0 && strings.HasPrefix(rest[0], "[") {
		code, rest = rest[0][1:len(rest[0])-1], rest[1:]
	}
	for _, step := range rest {
		if field != "" && !strings.HasPrefix(step, "[") {
			field += "."
		}
		field += step
	}
	return list, code, field
}

// pathSteps splits a path into members and entries: zones, [rear], rating_kg.
func pathSteps(path string) []string {
	var steps []string
	for path != "" {
		end := strings.IndexAny(path, ".[")
		switch {
		case path[0] == '[':
			end = strings.IndexByte(path, ']') + 1
			if end == 0 {
				end = len(path)
			}
		case end < 0:
			end = len(path)
		}
		steps = append(steps, path[:end])
		path = strings.TrimPrefix(path[end:], ".")
	}
	return steps
}

func member(path, name string) string {
	if path == "" {
		return name
	}
	return path + "." + name
}

// Reversed returns the change that takes this one back.
func (c Change) Reversed() Change {
	c.Old, c.New = c.New, c.Old
	return c
}
