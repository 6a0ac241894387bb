package quality

import (
	"slices"
	"strings"

	"kinwain/internal/catalog"
)

// Unproved is a figure of which nobody has noted where it comes from.
type Unproved struct {
	List   string // "frames", "add_ons" or "units", as in the document
	Thing  string // the code of the frame or add-on, the tag of the unit
	Figure catalog.Figure
	Leaned int // how many consultations lean on it
}

// Sources returns the figures of a catalogue without a source, and how many
// could have one: those that most consultations lean on first, then what breaks
// when it is wrong before what merely does not fit, then in the order of the
// document. leaned says how many consultations lean on a figure.
func Sources(c *catalog.Catalogue, leaned func(list, code, figure string) int) (without []Unproved, of int) {
	for _, list := range catalog.Lists {
		for _, thing := range c.Things(list) {
			all := catalog.EvidenceOf(thing.Of)
			if all == nil {
				continue
			}
			for _, f := range catalog.Figures(list, thing.Of) {
				of++
				if catalog.Source(*all, f.Path) == nil {
					without = append(without, Unproved{list, thing.Code, f, leaned(list, thing.Code, f.Path)})
				}
			}
		}
	}
	slices.SortStableFunc(without, func(a, b Unproved) int {
		if a.Leaned != b.Leaned {
			return b.Leaned - a.Leaned
		}
		return gravity(a.Figure.Path) - gravity(b.Figure.Path)
	})
	return without, of
}

// gravity says how bad it is that a figure is wrong, the worst first: the gross
// rating, the rating of a part, whom a place takes, who may ride, weights, and
// what fits.
func gravity(figure string) int {
	name := figure[strings.LastIndexByte(figure, '.')+1:]
	switch {
	case figure == "gross_rating_kg":
		return 0
	case strings.HasPrefix(figure, "places["):
		return 2
	case name == "rating_kg", strings.HasSuffix(name, "axle_max_kg"), name == "max_load_kg", name == "stand_max_kg", name == "pet_kg", name == "cargo_kg":
		return 1
	case strings.HasPrefix(name, "rider_"), name == "passengers_max":
		return 3
	case strings.HasSuffix(name, "weight_kg"), name == "weighed_kg":
		return 4
	}
	return 5
}
