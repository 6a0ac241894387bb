package form

import (
	"encoding/json"
	"fmt"
	"maps"
	"net/url"
	"slices"
	"strings"
)

// Kept is a form as it was saved, with what was changed on the way: whoever
// still sees an earlier version of it can be told what is new.
type Kept struct {
	Form
	version int
	earlier []change // the oldest first
}

// change is what a version held where the next one holds something else.
type change struct {
	Version int                `json:"version"`
	Was     map[string]*string `json:"was,omitempty"`     // nil: the field was not there
	Unknown map[string]bool    `json:"unknown,omitempty"` // whether it was marked so
}

// mostEarlier is how many versions back are known: more than anybody saves
// while a page stays open.
const mostEarlier = 200

// DecodeKept reads answers as they were saved in a version.
func DecodeKept(answers []byte, version int) (Kept, error) {
	var d document
	if err := json.Unmarshal(answers, &d); err != nil {
		return Kept{}, fmt.Errorf("read a saved form: %w", err)
	}
	return Kept{d.form(), version, d.Earlier}, nil
}

// At returns the form of an earlier version, and false where that is not known
// any more.
func (k Kept) At(version int) (Form, bool) {
	f := k.Clone()
	at := k.version
	for _, c := range slices.Backward(k.earlier) {
		if at <= version {
			break
		}
		for name, was := range c.Was {
			if was == nil {
				delete(f.values, name)
			} else {
				f.values[name] = *was
			}
		}
		for name, was := range c.Unknown {
			f.mark(name, was)
		}
		at = c.Version
	}
	return f, at == version
}

// Newest reports whether a field came to hold what it holds with the last save.
func (k Kept) Newest(name string) bool {
	if len(k.earlier) == 0 {
		return false
	}
	_, changed := k.earlier[len(k.earlier)-1].Was[name]
	return changed
}

// Next encodes the form that follows as the next version.
func (k Kept) Next(f Form) ([]byte, error) {
	c := change{Version: k.version, Was: map[string]*string{}, Unknown: map[string]bool{}}
	for name := range both(k.values, f.values) {
		was, had := k.values[name]
		if now, has := f.values[name]; had == has && was == now {
			continue
		}
		c.Was[name] = nil
		if had {
			c.Was[name] = &was
		}
	}
	for name := range both(k.unknown, f.unknown) {
		if k.unknown[name] != f.unknown[name] {
			c.Unknown[name] = k.unknown[name]
		}
	}
	earlier := append(slices.Clone(k.earlier), c)
	return f.encode(earlier[max(0, len(earlier)-mostEarlier):])
}

// both are the names that either has.
func both[V any](a, b map[string]V) map[string]bool {
	names := map[string]bool{}
	for name := range a {
		names[name] = true
	}
	for name := range b {
		names[name] = true
	}
	return names
}

// Equal reports whether two forms hold the same answers.
func (f Form) Equal(other Form) bool {
	return maps.Equal(f.values, other.values) && maps.Equal(f.unknown, other.unknown)
}

func (f Form) mark(name string, unknown bool) {
	delete(f.unknown, name)
	if unknown {
		f.unknown[name] = true
	}
}

// With returns the form with what a request carries typed into it. What the
// request does not carry stays; a box that is not ticked is carried where Had
// names it.
func (f Form) With(posted url.Values) Form {
	g, carried := f.Clone(), FromValues(posted)
	for name := range strings.FieldsSeq(posted.Get(Had)) {
		if known(name) && !posted.Has(name) {
			g.values[name] = ""
		}
		delete(g.unknown, name)
	}
	maps.Copy(g.values, carried.values)
	maps.Copy(g.unknown, carried.unknown)
	return g
}
