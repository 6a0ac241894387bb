package match

import (
	"slices"

	"kinwain/internal/catalog"
)

// Touched returns the codes of the frames for which a match may be another one
// after a change of the catalogue, in the order of the old catalogue and then
// of the new one: those that are changed, added or removed, those that a
// changed add-on fits or comes with, before or after, and all where the shop
// charges differently. Units are no part of a match. Both catalogues must have
// been checked.
func Touched(before, after *catalog.Catalogue) ([]string, error) {
	changes, err := catalog.Compare(before, after)
	if err != nil {
		return nil, err
	}
	all, touched := false, map[string]bool{}
	for _, c := range changes {
		switch {
		case c.List == "shop":
			all = all || c.Field == "labour_cents_per_hour" || c.Field == "currency"
		case c.List == "frames":
			touched[c.Code] = true
		case c.List == "add_ons":
			for _, code := range append(framesOf(before, c.Code), framesOf(after, c.Code)...) {
				touched[code] = true
			}
		}
	}
	var codes []string
	for _, of := range [...]*catalog.Catalogue{before, after} {
		for i := range of.Frames {
			code := of.Frames[i].Code
			if (all || touched[code]) && !slices.Contains(codes, code) {
				codes = append(codes, code)
			}
		}
	}
	return codes, nil
}

// framesOf returns the frames that an add-on may be on.
func framesOf(c *catalog.Catalogue, code string) []string {
	var codes []string
	if a := c.AddOn(code); a != nil {
		codes = slices.Clone(a.Fits)
	}
	for i := range c.Frames {
		if slices.Contains(c.Frames[i].ComesWith, code) {
			codes = append(codes, c.Frames[i].Code)
		}
	}
	return codes
}
