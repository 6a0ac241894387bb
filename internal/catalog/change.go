package catalog

import (
	"slices"
	"strings"
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

// Reversed returns the change that takes this one back.
func (c Change) Reversed() Change {
	c.Old, c.New = c.New, c.Old
	return c
}

// Path names what the change is about from the root of the catalogue.
func (c Change) Path() string {
	path := c.List
	if c.Code != "" {
		path += "[" + c.Code + "]"
	}
	if c.Field == "" {
		return path
	}
	return path + "." + c.Field
}

// pathSteps splits the path within a thing into members and entries: zones,
// [rear], rating_kg.
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

// touches reports whether two changes are about the same field, or one is
// about a part of the other. The order of a list is not about its entries.
func (c Change) touches(other Change) bool {
	p, q := c.Path(), other.Path()
	if p == q {
		return true
	}
	if len(p) > len(q) {
		c, p, q = other, q, p
	}
	rest, within := strings.CutPrefix(q, p)
	if !within || rest[0] != '.' && rest[0] != '[' {
		return false
	}
	return c.Old == "" || c.New == ""
}

// orders reports whether both changes are about the order of one list of
// things that have names.
func (c Change) orders(other Change) bool {
	names := func(c Change) bool { return strings.HasPrefix(c.Old, `["`) && strings.HasPrefix(c.New, `["`) }
	named := slices.Contains([]string{"zones", "mounts", "uses", "combined", ""}, c.Field)
	return named && c.Path() == other.Path() && names(c) && names(other)
}
