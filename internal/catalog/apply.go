package catalog

import (
	"fmt"
	"slices"
	"strings"

	"github.com/go-json-experiment/json"
	"github.com/go-json-experiment/json/jsontext"
)

// StaleError says that a change does not apply any more: its field holds
// something else than what it changes.
type StaleError struct {
	Change Change
	Now    string // what the field holds; empty where there is nothing
}

// Error says what is where.
func (e *StaleError) Error() string {
	return fmt.Sprintf("%s is %s by now, not %s", e.Change.Path(), orNothing(e.Now), orNothing(e.Change.Old))
}

func orNothing(text string) string {
	if text == "" {
		return "nothing"
	}
	return text
}

// Apply returns the catalogue with the changes of Edits made one after the
// other. It is not checked. The error is a *StaleError where a field does not
// hold what a change says it did. The catalogue stays as it is.
func Apply(c *Catalogue, changes []Change) (*Catalogue, error) {
	lists := map[string]*opened{}
	for _, change := range changes {
		list := lists[change.List]
		if list == nil {
			list = open(change.List, c.Things(change.List))
			lists[change.List] = list
		}
		if err := list.apply(change); err != nil {
			return nil, err
		}
	}
	changed := *c
	for name, list := range lists {
		if err := list.close(); err != nil {
			return nil, err
		}
		changed.Put(name, list.left())
	}
	return &changed, nil
}

// opened is a list of things that are changed. What is taken out leaves a gap,
// so that no other moves. Of one thing at a time the document is read: those of
// thousands would fill the memory.
type opened struct {
	list   string
	things []Thing        // Of is nil where there is a gap
	at     map[string]int // where each stands, by its code
	thing  int            // whose document is read
	node   *node          // nil where none is
}

func open(list string, things []Thing) *opened {
	return &opened{list: list, things: things, at: positions(codes(things))}
}

// find returns the position of a thing, or -1.
func (o *opened) find(code string) int {
	if i, there := o.at[code]; there {
		return i
	}
	return -1
}

// open returns the node of a thing.
func (o *opened) open(i int) (*node, error) {
	if o.node != nil && o.thing == i {
		return o.node, nil
	}
	if err := o.close(); err != nil {
		return nil, err
	}
	n, err := o.things[i].node()
	if err != nil {
		return nil, err
	}
	o.thing, o.node = i, &n
	return o.node, nil
}

// close makes the thing whose document is read what that says by now.
func (o *opened) close() error {
	if o.node == nil {
		return nil
	}
	t, err := ParseThing(o.list, o.node.String())
	if err != nil {
		return err
	}
	if all := EvidenceOf(t.Of); all != nil {
		ordered(*all)
	}
	o.things[o.thing], o.node = t, nil
	return nil
}

// left returns the things without gaps.
func (o *opened) left() []Thing {
	return slices.DeleteFunc(o.things, func(t Thing) bool { return t.Of == nil })
}

func (o *opened) apply(c Change) error {
	if c.Kind() == Moved {
		return o.sort(c.New)
	}
	i := o.find(c.Code)
	if c.Field == "" {
		return o.applyWhole(c, i)
	}
	if i < 0 {
		return &StaleError{Change: c}
	}
	n, err := o.open(i)
	if err != nil {
		return err
	}
	return n.apply(pathSteps(c.Field), c)
}

// applyWhole adds a thing behind the others, takes one out, or puts another in
// its place.
func (o *opened) applyWhole(c Change, i int) error {
	now := ""
	if i >= 0 {
		n, err := o.open(i)
		if err != nil {
			return err
		}
		now, o.node = n.String(), nil // it is taken out, or another comes in its place
	}
	if now != c.Old {
		return &StaleError{c, now}
	}
	if c.New == "" {
		if i >= 0 {
			o.things[i] = Thing{}
			delete(o.at, c.Code)
		}
		return nil
	}
	t, err := ParseThing(c.List, c.New)
	switch {
	case err != nil:
		return fmt.Errorf("read the new value of %s: %w", c.Path(), err)
	case i >= 0:
		o.things[i] = t
	default:
		o.things, o.at[t.Code] = append(o.things, t), len(o.things)
	}
	return nil
}

// sort puts the things in the order of their codes. What it does not name
// stays behind the others.
func (o *opened) sort(order string) error {
	if err := o.close(); err != nil {
		return err
	}
	things := o.left()
	by, err := sorted(codes(things), order)
	*o = *open(o.list, pick(by, things))
	return err
}

// sorted returns the positions of names in an order.
func sorted(names []string, order string) ([]int, error) {
	var wanted []string
	if err := json.Unmarshal([]byte(order), &wanted); err != nil {
		return nil, fmt.Errorf("read an order: %w", err)
	}
	at := positions(wanted)
	place := func(name string) int {
		if i, named := at[name]; named {
			return i
		}
		return len(wanted)
	}
	by := make([]int, len(names))
	for i := range by {
		by[i] = i
	}
	slices.SortStableFunc(by, func(a, b int) int { return place(names[a]) - place(names[b]) })
	return by, nil
}

func (n *node) apply(steps []string, c Change) error {
	owner := n
	for _, step := range steps[:len(steps)-1] {
		i := owner.find(step)
		if i < 0 && step == evidenceKey { // none is as good as an empty list
			i = len(owner.names)
			owner.names, owner.entries = append(owner.names, step), append(owner.entries, noEntries)
		}
		if i < 0 {
			return &StaleError{Change: c}
		}
		owner = &owner.entries[i]
	}
	last := steps[len(steps)-1]
	i := owner.find(last)
	if i >= 0 && owner.entries[i].isOrder(c) {
		list := &owner.entries[i]
		by, err := sorted(list.called(), c.New)
		list.entries = pick(by, list.entries)
		return err
	}
	now := ""
	if i >= 0 {
		now = owner.entries[i].String()
	}
	if now != c.Old {
		return &StaleError{c, now}
	}
	if c.New == "" {
		owner.remove(i)
		return nil
	}
	value, err := parseNode(c.New)
	switch {
	case err != nil:
		return fmt.Errorf("read the new value of %s: %w", c.Path(), err)
	case i >= 0:
		owner.entries[i] = value
	default:
		owner.entries = append(owner.entries, value)
		if owner.kind == jsontext.KindBeginObject {
			owner.names = append(owner.names, last)
		}
	}
	return nil
}

// isOrder reports whether a change is about the order of this list.
func (n node) isOrder(c Change) bool {
	return len(n.entries) > 0 && n.list() && c.Old != "" && c.New != "" && !strings.HasPrefix(c.New, "[{")
}

// Merge holds what I changed of a catalogue against what they changed
// meanwhile. Mine are my changes that go together with theirs and that they
// have not made as well: Apply(theirs, mine) is both. A clash is a change from
// their value to mine of a field that both changed, to be applied or left.
// Where both put a list in another order, theirs stands.
func Merge(base, my, their *Catalogue) (mine, clashes []Change, err error) {
	all, err := Edits(base, my)
	if err != nil {
		return nil, nil, err
	}
	theirs, err := Edits(base, their)
	if err != nil {
		return nil, nil, err
	}
	for _, m := range all {
		i := slices.IndexFunc(theirs, m.touches)
		switch {
		case slices.Contains(theirs, m):
		case i < 0:
			mine = append(mine, m)
		case m.orders(theirs[i]):
		default:
			broader := m
			if len(theirs[i].Path()) < len(m.Path()) {
				broader = theirs[i]
			}
			if broader.Old, err = their.at(broader); err != nil {
				return nil, nil, err
			}
			if broader.New, err = my.at(broader); err != nil {
				return nil, nil, err
			}
			if broader.Old != broader.New && !slices.Contains(clashes, broader) {
				clashes = append(clashes, broader)
			}
		}
	}
	return mine, clashes, nil
}

// at returns the text of what a change is about, empty where there is nothing.
func (c *Catalogue) at(change Change) (string, error) {
	list := c.Things(change.List)
	i := slices.IndexFunc(list, func(t Thing) bool { return t.Code == change.Code })
	if i < 0 {
		return "", nil
	}
	n, err := list[i].node()
	return n.at(change.Field), err
}

// pick returns the entries at these positions.
func pick[T any](at []int, list []T) []T {
	all := make([]T, len(at))
	for i, from := range at {
		all[i] = list[from]
	}
	return all
}
