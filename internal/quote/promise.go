package quote

import (
	"slices"

	"kinwain/internal/catalog"
)

// Promise is what a quote takes of the store room as long as it is neither
// over nor handed over.
type Promise struct {
	Quote, Consultation string         // their IDs
	QuoteName           string         // Q-2026-0007
	Firm                bool           // accepted, or a bike is held for it
	Unit                string         // tag of the bike that it is for; empty: any of its frame
	AddOns              map[string]int // count by code
}

// Promised counts the add-ons that are promised, by code. Of the quotes that a
// customer only has open each is another way to the same bike: the one that
// takes most of an add-on counts, and none once something is firm. Those of one
// consultation can be left out. What is fitted to the bike already is taken
// from nowhere.
func Promised(c *catalog.Catalogue, promises []Promise, but string) map[string]int {
	all, open, firm := map[string]int{}, map[string]map[string]int{}, map[string]bool{}
	for _, p := range promises {
		firm[p.Consultation] = firm[p.Consultation] || p.Firm
	}
	for _, p := range promises {
		if !p.Firm && (firm[p.Consultation] || p.Consultation == but) {
			continue
		}
		for code, n := range p.AddOns {
			n = max(n-fitted(c, p.Unit, code), 0)
			switch {
			case p.Firm:
				all[code] += n
			case open[p.Consultation] == nil:
				open[p.Consultation] = map[string]int{code: n}
			default:
				open[p.Consultation][code] = max(open[p.Consultation][code], n)
			}
		}
	}
	for _, most := range open {
		for code, n := range most {
			all[code] += n
		}
	}
	return all
}

// fitted counts an add-on on a unit.
func fitted(c *catalog.Catalogue, tag, code string) int {
	u := c.Unit(tag)
	if u == nil {
		return 0
	}
	n := 0
	for _, on := range u.Fitted {
		if on == code {
			n++
		}
	}
	return n
}

// ToOrder says how many of each add-on of a quote are not there for it, by
// code, where others are promised so many. What nobody counts is taken for
// there.
func ToOrder(c *catalog.Catalogue, lines []Line, unit string, promised map[string]int) map[string]int {
	short := map[string]int{}
	for _, l := range lines {
		a := c.AddOn(l.Code)
		if l.Kind != AddOn || a == nil || a.Stock == nil {
			continue
		}
		takes, free := l.Quantity-fitted(c, unit, l.Code), max(*a.Stock-promised[l.Code], 0)
		if takes > free {
			short[l.Code] = takes - free
		}
	}
	return short
}

// HandOver returns the catalogue after all of a quote has left the shop with
// the customer: its bikes are sold, and what it took of a counted store room is
// no longer there. The catalogue stays as it is.
func HandOver(c *catalog.Catalogue, q *Quote, tags []string) *catalog.Catalogue {
	after := *c
	after.Units, after.AddOns = slices.Clone(c.Units), slices.Clone(c.AddOns)
	for i := range after.Units {
		if slices.Contains(tags, after.Units[i].Tag) {
			after.Units[i].Status = Sold
		}
	}
	unit := ""
	if len(tags) == 1 {
		unit = tags[0]
	}
	for _, l := range q.Lines {
		at := slices.IndexFunc(after.AddOns, func(a catalog.AddOn) bool { return a.Code == l.Code })
		if l.Kind != AddOn || at < 0 || after.AddOns[at].Stock == nil {
			continue
		}
		left := max(*after.AddOns[at].Stock-max(l.Quantity-fitted(c, unit, l.Code), 0), 0)
		after.AddOns[at].Stock = &left
	}
	return &after
}

// TakeBack returns the catalogue after a hand-over that was none after all:
// bikes have the status that is given by their tags, and so many add-ons are
// counted back. The catalogue stays as it is.
func TakeBack(c *catalog.Catalogue, statuses map[string]string, goods map[string]int) *catalog.Catalogue {
	after := *c
	after.Units, after.AddOns = slices.Clone(c.Units), slices.Clone(c.AddOns)
	for i := range after.Units {
		if status, back := statuses[after.Units[i].Tag]; back {
			after.Units[i].Status = status
		}
	}
	for i := range after.AddOns {
		if a := &after.AddOns[i]; a.Stock != nil && goods[a.Code] > 0 {
			sum := *a.Stock + goods[a.Code]
			a.Stock = &sum
		}
	}
	return &after
}
