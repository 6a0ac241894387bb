package catalog

import "slices"

// Tags returns all tags that the catalogue knows: what frames and add-ons
// provide, and what needs name that is no add-on.
func (c *Catalogue) Tags() map[string]bool {
	known := map[string]bool{}
	for _, tag := range seatTags {
		known[tag] = true
	}
	for i := range c.Frames {
		c.note(known, &c.Frames[i])
	}
	for i := range c.AddOns {
		c.note(known, &c.AddOns[i])
	}
	return known
}

// TagsOf returns the tags that a frame or an add-on names, each once. Members
// of needs that are add-ons of the catalogue are none.
func (c *Catalogue) TagsOf(thing any) []string {
	named := map[string]bool{}
	c.note(named, thing)
	var all []string
	for tag := range named {
		all = append(all, tag)
	}
	slices.Sort(all)
	return all
}

func (c *Catalogue) note(known map[string]bool, thing any) {
	var needs [][]string
	var provides []string
	var places []Place
	switch t := thing.(type) {
	case *Frame:
		provides, places = t.Provides, t.Places
	case *AddOn:
		provides, needs, places = t.Provides, t.Needs, t.Places
	}
	for _, tag := range provides {
		known[tag] = true
	}
	for i := range places {
		needs = slices.Concat(needs, places[i].Needs)
	}
	for _, group := range needs {
		for _, member := range group {
			if c.AddOn(member) == nil {
				known[member] = true
			}
		}
	}
}
