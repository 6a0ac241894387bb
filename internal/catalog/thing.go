package catalog

import (
	"github.com/go-json-experiment/json"

	"kinwain/internal/problem"
)

// Lists are the parts of a catalogue in the order of the document. The shop is
// a list of one.
var Lists = []string{"shop", "frames", "add_ons", "units"}

// Thing is the shop, a frame, an add-on or a unit.
type Thing struct {
	Code string // or tag; empty for the shop
	Of   any    // a pointer to it
}

// Things returns the things of a list, in its order.
func (c *Catalogue) Things(list string) []Thing {
	switch list {
	case "shop":
		return []Thing{{Of: &c.Shop}}
	case "frames":
		return things(c.Frames, func(f *Frame) string { return f.Code })
	case "add_ons":
		return things(c.AddOns, func(a *AddOn) string { return a.Code })
	case "units":
		return things(c.Units, func(u *Unit) string { return u.Tag })
	}
	return nil
}

func things[T any](list []T, code func(*T) string) []Thing {
	all := make([]Thing, len(list))
	for i := range list {
		all[i] = Thing{code(&list[i]), &list[i]}
	}
	return all
}

// Put puts things in place of those of a list.
func (c *Catalogue) Put(list string, things []Thing) {
	switch list {
	case "shop":
		c.Shop = *things[0].Of.(*Shop)
	case "frames":
		c.Frames = values[Frame](things)
	case "add_ons":
		c.AddOns = values[AddOn](things)
	case "units":
		c.Units = values[Unit](things)
	}
}

func values[T any](things []Thing) []T {
	all := make([]T, len(things))
	for i, t := range things {
		all[i] = *t.Of.(*T)
	}
	return all
}

// ParseThing reads the document of one thing of a list. It is not checked. The
// error is a problem.List.
func ParseThing(list, document string) (Thing, error) {
	var shop Shop
	var frame Frame
	var addOn AddOn
	var unit Unit
	var t Thing
	var code *string
	switch list {
	case "shop":
		t.Of, code = &shop, new(string)
	case "frames":
		t.Of, code = &frame, &frame.Code
	case "add_ons":
		t.Of, code = &addOn, &addOn.Code
	default:
		t.Of, code = &unit, &unit.Tag
	}
	err := problem.Read([]byte(document), t.Of)
	t.Code = *code
	return t, err
}

// Document writes the thing without blanks.
func (t Thing) Document() (string, error) {
	text, err := json.Marshal(t.Of, json.Deterministic(true))
	return string(text), err
}

// codes returns what the things are called.
func codes(things []Thing) []string {
	all := make([]string, len(things))
	for i, t := range things {
		all[i] = t.Code
	}
	return all
}
