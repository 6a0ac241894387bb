package catalog

import (
	"fmt"
	"slices"
	"strings"
)

// Misfit says why an add-on that is said to fit a frame can never be used
// there, or not wholly.
type Misfit struct {
	AddOn, Frame string
	Text         string
	Faulty       bool // Check refuses it, too
}

// Misfits returns the misfits of all pairs of an add-on and a frame that it is
// said to fit, in the order of the document: a zone or a mount that the frame
// lacks, and needs that nothing on that frame ever meets.
func (c *Catalogue) Misfits() []Misfit {
	var all []Misfit
	for i := range c.AddOns {
		a := &c.AddOns[i]
		for _, code := range a.Fits {
			if f := c.Frame(code); f != nil {
				all = append(all, c.misfits(a, f)...)
			}
		}
	}
	return all
}

func (c *Catalogue) misfits(a *AddOn, f *Frame) []Misfit {
	var all []Misfit
	add := func(faulty bool, format string, args ...any) {
		all = append(all, Misfit{a.Code, f.Code, fmt.Sprintf(format, args...), faulty})
	}
	if a.Zone != "" && f.ZoneIndex(a.Zone) < 0 {
		add(true, "it sits in the zone %s, which the frame does not have", a.Zone)
	}
	for _, u := range a.Uses {
		switch capacity := f.Capacity(u.Mount); {
		case capacity == 0:
			add(true, "it uses the mount %s, which the frame does not have", u.Mount)
		case capacity < u.Count:
			add(true, "it takes %d of the mount %s, which holds %d", u.Count, u.Mount, capacity)
		}
	}
	for _, group := range a.Needs {
		if !c.everMet(f, group) {
			add(false, "it needs %s, and nothing that fits the frame gives that", strings.Join(group, " or "))
		}
	}
	for i := range a.Places {
		for _, group := range a.Places[i].Needs {
			if !c.everMet(f, group) {
				add(false, "nobody can sit on it: that needs %s, and nothing that fits the frame gives that", strings.Join(group, " or "))
			}
		}
	}
	return all
}

// everMet reports whether a member of a group of needs can be met on a frame.
func (c *Catalogue) everMet(f *Frame, group []string) bool {
	for _, member := range group {
		if c.AddOn(member) == nil && slices.Contains(f.Provides, member) {
			return true
		}
	}
	for i := range c.AddOns {
		a := &c.AddOns[i]
		if !slices.Contains(a.Fits, f.Code) && !slices.Contains(f.ComesWith, a.Code) {
			continue
		}
		if slices.ContainsFunc(group, func(member string) bool {
			return member == a.Code || c.AddOn(member) == nil && slices.Contains(a.Provides, member)
		}) {
			return true
		}
	}
	return false
}
