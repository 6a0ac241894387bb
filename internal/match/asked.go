package match

import (
	"slices"

	"kinwain/internal/catalog"
)

// Why says what asked for each add-on of the build: who sits in it, what it
// carries, or which other add-on needs it. Add-ons without an answer are part
// of the build for the balance of the axles.
func (m *Match) Why(code string) []Message {
	var why []Message
	for _, s := range m.Seated {
		if s.AddOn == code {
			why = append(why, say("a place for %v", Label{Text: s.Passenger}))
		}
	}
	if m.Build.Pet == code {
		why = append(why, say("a carrier for the pet"))
	}
	for _, c := range m.Build.Cargo {
		switch {
		case c.Carrier != code:
		case c.Volume > 0:
			why = append(why, say("%v and %v of cargo", up(c.Mass), c.Volume))
		default:
			why = append(why, say("%v of cargo", up(c.Mass)))
		}
	}
	for _, name := range m.needing(code) {
		why = append(why, say("needed by: %v", name))
	}
	return why
}

// needing names the fitted add-ons, and the places sat in, with a group of
// needs that the add-on meets.
func (m *Match) needing(code string) []any {
	at := slices.IndexFunc(m.Fitted, func(a catalog.AddOn) bool { return a.Code == code })
	if at < 0 {
		return nil
	}
	meets := func(groups [][]string) bool {
		return slices.ContainsFunc(groups, func(group []string) bool {
			return slices.ContainsFunc(group, func(member string) bool {
				return member == code || slices.Contains(m.Fitted[at].Provides, member)
			})
		})
	}
	var names []any
	seen := map[string]bool{}
	add := func(name string, said any) {
		if !seen[name] {
			seen[name] = true
			names = append(names, said)
		}
	}
	for i := range m.Fitted {
		if a := &m.Fitted[i]; a.Code != code && meets(a.Needs) {
			add("add-on "+a.Name, AddOn{Code: a.Code, Name: a.Name})
		}
	}
	for _, s := range m.Seated {
		if s.AddOn != code && meets(s.Place.Needs) {
			add("place "+s.Passenger, say("the place of %v", Label{Text: s.Passenger}))
		}
	}
	return names
}
