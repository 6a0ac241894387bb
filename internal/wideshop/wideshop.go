// Package wideshop makes shops for tests that are wider than any: the demo shop
// over and over. Only tests use it.
package wideshop

import (
	"fmt"
	"slices"

	"kinwain/internal/catalog"
)

// Of returns a shop over and over until it has so many frames and add-ons;
// every copy is a shop of its own within it, but for one add-on in five, which
// fits the frames of ten copies. What it returns has still to be checked.
func Of(demo *catalog.Catalogue, frames, addOns int) *catalog.Catalogue {
	c := &catalog.Catalogue{Version: 1, Shop: demo.Shop}
	own := map[string]bool{}
	for _, a := range demo.AddOns {
		own[a.Code] = true
	}
	for copy := 0; len(c.Frames) < frames || len(c.AddOns) < addOns; copy++ {
		if len(c.Frames) < frames {
			for _, f := range demo.Frames {
				f.Code, f.ComesWith = name(f.Code, copy), named(f.ComesWith, copy, own)
				c.Frames = append(c.Frames, f)
			}
			for _, u := range demo.Units {
				u.Tag, u.Frame, u.Fitted = fmt.Sprintf("%s-%d", u.Tag, copy), name(u.Frame, copy), named(u.Fitted, copy, own)
				c.Units = append(c.Units, u)
			}
		}
		for _, a := range demo.AddOns {
			on := copy % (frames/len(demo.Frames) + 1) // add-ons beyond the frames fit those that are there
			a.Fits, a.Excludes = named(a.Fits, on, nil), named(a.Excludes, copy, own)
			needs := [][]string{}
			for _, group := range a.Needs {
				needs = append(needs, named(group, copy, own))
			}
			pairs := map[string]catalog.Pair{}
			for frame, pair := range a.OnFrame {
				pairs[name(frame, on)] = pair
			}
			a.Code, a.Needs, a.OnFrame = name(a.Code, copy), needs, pairs
			catalog.Prune("add_ons", &a)
			c.AddOns = append(c.AddOns, a)
		}
	}
	return c
}

func name(code string, copy int) string { return fmt.Sprintf("%s-%d", code, copy) }

// named names the copies of things; of those that are no codes, where only
// some are, the names stay.
func named(codes []string, copy int, only map[string]bool) []string {
	all := slices.Clone(codes)
	for i, code := range all {
		if only == nil || only[code] {
			all[i] = name(code, copy)
		}
	}
	return all
}
