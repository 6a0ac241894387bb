package catalog

import (
	"maps"
	"slices"
)

// Alike returns the catalogue in which every add-on that fits one frame fits
// another in the same way, with what differs on it; both frames are there. An
// add-on that cannot be on the other, for want of a zone or a mount, is left
// as it is and told with the reason. brought is how many fit it now that did
// not.
func (c *Catalogue) Alike(frame, other string) (with *Catalogue, brought int, left []Misfit) {
	changed := *c
	changed.AddOns = slices.Clone(c.AddOns)
	to := c.Frame(other)
	for i := range changed.AddOns {
		a := &changed.AddOns[i]
		if !slices.Contains(a.Fits, frame) || slices.Contains(a.Fits, other) {
			continue
		}
		if at := slices.IndexFunc(c.misfits(a, to), func(m Misfit) bool { return m.Faulty }); at >= 0 {
			left = append(left, c.misfits(a, to)[at])
			continue
		}
		a.Fits = append(slices.Clone(a.Fits), other)
		if pair, differs := a.OnFrame[frame]; differs {
			a.OnFrame = maps.Clone(a.OnFrame)
			a.OnFrame[other] = pair
		}
		brought++
	}
	return &changed, brought, left
}
