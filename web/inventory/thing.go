package inventory

import (
	"crypto/sha256"
	"encoding/hex"
	"net/url"
	"slices"
	"strings"

	"github.com/go-json-experiment/json"
	"github.com/go-json-experiment/json/jsontext"

	"kinwain/internal/catalog"
	"kinwain/internal/problem"
	"kinwain/web/kit"
	"kinwain/web/wares"
)

// shelf is one list of the inventory.
type shelf struct {
	list      string // in the document
	slug      string // in addresses
	one, many string // in words
}

var shelves = []shelf{
	{wares.FrameList, "frames", "frame", "Frames"},
	{wares.AddOnList, "add-ons", "add-on", "Add-ons"},
	{wares.UnitList, "units", "unit", "Units"},
}

func (h shelf) address(code string) string {
	return kit.InventoryAddress + "/" + h.slug + "/" + url.PathEscape(code)
}

func shelfOf(list string) (shelf, bool) {
	i := slices.IndexFunc(shelves, func(h shelf) bool { return h.list == list })
	if i < 0 {
		return shelf{}, false
	}
	return shelves[i], true
}

// thingIn returns the document of a thing, and where it stands in its list;
// -1 where it is not there.
func thingIn(c *catalog.Catalogue, list, code string) (document []byte, at int, err error) {
	var thing any
	switch list {
	case wares.FrameList:
		if at = slices.IndexFunc(c.Frames, func(f catalog.Frame) bool { return f.Code == code }); at >= 0 {
			thing = c.Frames[at]
		}
	case wares.AddOnList:
		if at = slices.IndexFunc(c.AddOns, func(a catalog.AddOn) bool { return a.Code == code }); at >= 0 {
			thing = c.AddOns[at]
		}
	default:
		if at = slices.IndexFunc(c.Units, func(u catalog.Unit) bool { return u.Tag == code }); at >= 0 {
			thing = c.Units[at]
		}
	}
	if at < 0 {
		return nil, at, nil
	}
	document, err = json.Marshal(thing, json.Deterministic(true), jsontext.SpaceAfterColon(true), jsontext.SpaceAfterComma(true))
	return document, at, err
}

// withThing returns a copy of the catalogue with a thing as its document says,
// in the place of at, or at the end where at is -1. The error is a
// problem.List with paths within the thing.
func withThing(c *catalog.Catalogue, list string, at int, document []byte) (*catalog.Catalogue, error) {
	changed := *c
	var err error
	switch list {
	case wares.FrameList:
		changed.Frames, err = withEntry(c.Frames, at, document)
	case wares.AddOnList:
		changed.AddOns, err = withEntry(c.AddOns, at, document)
	default:
		changed.Units, err = withEntry(c.Units, at, document)
	}
	return &changed, err
}

func withEntry[T any](entries []T, at int, document []byte) ([]T, error) {
	var entry T
	if err := problem.Read(document, &entry); err != nil {
		return nil, err
	}
	entries = slices.Clone(entries)
	if at < 0 {
		return append(entries, entry), nil
	}
	entries[at] = entry
	return entries, nil
}

// withoutThing returns a copy of the catalogue without a thing.
func withoutThing(c *catalog.Catalogue, list string, at int) *catalog.Catalogue {
	changed := *c
	switch list {
	case wares.FrameList:
		changed.Frames = slices.Delete(slices.Clone(c.Frames), at, at+1)
	case wares.AddOnList:
		changed.AddOns = slices.Delete(slices.Clone(c.AddOns), at, at+1)
	default:
		changed.Units = slices.Delete(slices.Clone(c.Units), at, at+1)
	}
	return &changed
}

// keyOf returns the code or the tag in the document of a thing.
func keyOf(list string, document []byte) string {
	var thing map[string]any
	if err := json.Unmarshal(document, &thing); err != nil {
		return ""
	}
	code, _ := thing[wares.Key(list)].(string)
	return code
}

// tagOf is the entity tag of a document.
func tagOf(document []byte) string {
	sum := sha256.Sum256(document)
	return `"` + hex.EncodeToString(sum[:12]) + `"`
}

// within returns the faults within a thing, by their paths in it, and apart
// from these those that a change of it makes elsewhere.
func within(faults problem.List, list string, at int) (own, others problem.List) {
	prefix := problem.Index(list, at)
	for _, p := range faults {
		if rest, inside := strings.CutPrefix(p.Path, prefix); inside && (rest == "" || rest[0] == '.') {
			p.Path = strings.TrimPrefix(rest, ".")
			own = append(own, p)
		} else {
			others = append(others, p)
		}
	}
	return own, others
}
