package catalog

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"github.com/go-json-experiment/json"
	"github.com/go-json-experiment/json/jsontext"

	"kinwain/internal/problem"
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
	root, err := tree(c)
	if err != nil {
		return nil, err
	}
	for _, change := range changes {
		if err := root.apply(change); err != nil {
			return nil, err
		}
	}
	var changed Catalogue
	if err := problem.Read([]byte(root.String()), &changed); err != nil {
		return nil, err
	}
	return &changed, nil
}

func (n *node) apply(c Change) error {
	steps := pathSteps(c.Path())
	owner := n
	for _, step := range steps[:len(steps)-1] {
		i := owner.find(step)
		if i < 0 {
			return &StaleError{Change: c}
		}
		owner = &owner.entries[i]
	}
	last := steps[len(steps)-1]
	i := owner.find(last)
	if i >= 0 && owner.entries[i].isOrder(c) {
		return owner.entries[i].sort(c.New)
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

// sort puts the entries in the order of their names. What it does not name
// stays behind the others.
func (n *node) sort(order string) error {
	var names []string
	if err := json.Unmarshal([]byte(order), &names); err != nil {
		return fmt.Errorf("read an order: %w", err)
	}
	at := positions(names)
	place := func(name string) int {
		if i, named := at[name]; named {
			return i
		}
		return len(names)
	}
	called := n.called()
	by := make([]int, len(n.entries))
	for i := range by {
		by[i] = i
	}
	slices.SortStableFunc(by, func(a, b int) int { return place(called[a]) - place(called[b]) })
	sorted := make([]node, len(by))
	for i, from := range by {
		sorted[i] = n.entries[from]
	}
	n.entries = sorted
	return nil
}

// find returns the position of a member or an entry, or -1.
func (n node) find(step string) int {
	if !strings.HasPrefix(step, "[") {
		return slices.Index(n.names, step)
	}
	name := step[1 : len(step)-1]
	if number, counted := strings.CutPrefix(name, "#"); counted {
		i, err := strconv.Atoi(number)
		if err != nil || i >= len(n.entries) {
			return -1
		}
		return i
	}
	return slices.Index(n.called(), name)
}

func (n *node) remove(i int) {
	if i < 0 {
		return
	}
	n.entries = slices.Delete(n.entries, i, i+1)
	if n.kind == jsontext.KindBeginObject {
		n.names = slices.Delete(n.names, i, i+1)
	}
}

// String writes the node as written does.
func (n node) String() string {
	if n.kind != jsontext.KindBeginObject && n.kind != jsontext.KindBeginArray {
		return n.text
	}
	parts := make([]string, len(n.entries))
	for i, entry := range n.entries {
		parts[i] = entry.String()
		if n.kind == jsontext.KindBeginObject {
			parts[i] = strconv.Quote(n.names[i]) + ": " + parts[i]
		}
	}
	if n.kind == jsontext.KindBeginObject {
		return "{" + strings.Join(parts, ", ") + "}"
	}
	return "[" + strings.Join(parts, ", ") + "]"
}

// position is how a path counts an entry without a name.
func position(i int) string { return "#" + strconv.Itoa(i) }

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
	here, err := tree(my)
	if err != nil {
		return nil, nil, err
	}
	there, err := tree(their)
	if err != nil {
		return nil, nil, err
	}
	for _, m := range all {
		i := slices.IndexFunc(theirs, func(t Change) bool { return touches(m, t) })
		switch {
		case slices.Contains(theirs, m):
		case i < 0:
			mine = append(mine, m)
		default:
			broader := m
			if len(theirs[i].Path()) < len(m.Path()) {
				broader = theirs[i]
			}
			broader.Old, broader.New = there.at(broader.Path()), here.at(broader.Path())
			if broader.Old != broader.New && !slices.Contains(clashes, broader) && !orders(theirs[i], m) {
				clashes = append(clashes, broader)
			}
		}
	}
	return mine, clashes, nil
}

// orders reports whether both changes are about the order of one list of
// things that have names.
func orders(a, b Change) bool {
	names := func(c Change) bool { return strings.HasPrefix(c.Old, `["`) && strings.HasPrefix(c.New, `["`) }
	named := slices.Contains([]string{"zones", "mounts", "uses", "combined", ""}, a.Field)
	return named && a.Path() == b.Path() && names(a) && names(b)
}

// at returns the text at a path, empty where there is nothing.
func (n node) at(path string) string {
	for _, step := range pathSteps(path) {
		i := n.find(step)
		if i < 0 {
			return ""
		}
		n = n.entries[i]
	}
	return n.String()
}

// touches reports whether two changes are about the same field, or one is
// about a part of the other. The order of a list is not about its entries.
func touches(a, b Change) bool {
	p, q := a.Path(), b.Path()
	if p == q {
		return true
	}
	if len(p) > len(q) {
		a, p, q = b, q, p
	}
	rest, within := strings.CutPrefix(q, p)
	if !within || rest[0] != '.' && rest[0] != '[' {
		return false
	}
	return a.Old == "" || a.New == ""
}
