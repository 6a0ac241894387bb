package catalog

import "slices"

// Without leaves out what is gone, by its list in the document and its code:
// frames with their units, units, and add-ons. A gone add-on that a frame
// comes with, or that is on a bike, stays for that bike alone: without it the
// sum of weights would be wrong.
func (c *Catalogue) Without(is func(list, code string) bool) *Catalogue {
	left := *c
	left.Frames, left.AddOns, left.Units = []Frame{}, []AddOn{}, []Unit{}
	delivered, fitted := map[string]map[string]bool{}, map[string]map[string]bool{}
	for _, f := range c.Frames {
		if !is("frames", f.Code) {
			left.Frames = append(left.Frames, f)
			for _, code := range f.ComesWith {
				note(delivered, code, f.Code)
			}
		}
	}
	for _, u := range c.Units {
		if is("units", u.Tag) || is("frames", u.Frame) {
			continue
		}
		left.Units = append(left.Units, u)
		for _, code := range u.Fitted {
			note(fitted, code, u.Frame)
		}
	}
	for _, a := range c.AddOns {
		gone := is("add_ons", a.Code)
		if gone && delivered[a.Code] == nil && fitted[a.Code] == nil {
			continue
		}
		fits := []string{}
		for _, frame := range a.Fits {
			if !is("frames", frame) && (!gone || fitted[a.Code][frame]) {
				fits = append(fits, frame)
			}
		}
		a.Fits = fits
		pairs := map[string]Pair{}
		for frame, pair := range a.OnFrame {
			if slices.Contains(fits, frame) || delivered[a.Code][frame] {
				pairs[frame] = pair
			}
		}
		a.OnFrame = pairs
		Prune("add_ons", &a)
		left.AddOns = append(left.AddOns, a)
	}
	return &left
}

// note adds a frame to those of an add-on.
func note(frames map[string]map[string]bool, addOn, frame string) {
	if frames[addOn] == nil {
		frames[addOn] = map[string]bool{}
	}
	frames[addOn][frame] = true
}
