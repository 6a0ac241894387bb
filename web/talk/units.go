package talk

import (
	"strings"

	"kinwain/internal/catalog"
	"kinwain/internal/measure"
	"kinwain/internal/quote"
	"kinwain/web/say"
)

// english says what staff read.
var english = say.New(say.English, measure.Metric)

var unitStatus = map[string]string{
	quote.Available: "In the shop", quote.OnTestRide: "Out on a test ride", quote.Reserved: "Reserved", quote.Sold: "Sold",
	catalog.Ordered: "Ordered", catalog.InRepair: "In repair",
}

// UnitStatus says to staff where a unit is, and when it is expected where it is
// still to come.
func UnitStatus(u *catalog.Unit) string {
	text := unitStatus[u.Status]
	if u.Status == catalog.Ordered && !u.Arrival.IsZero() {
		text += ", expected " + english.Date(u.Arrival)
	}
	return text
}

// UnitDetail says in a few words which bike a unit is.
func UnitDetail(s *say.Speaker, u *catalog.Unit) string {
	words := []string{s.Word(u.Kind)}
	if u.Colour != "" {
		words = append(words, s.Word(u.Colour))
	}
	if u.Odometer > 0 {
		words = append(words, s.Say("%v km ridden", u.Odometer))
	}
	return strings.Join(words, ", ")
}

// OnUnit names what is on a unit beyond what its frame comes with.
func OnUnit(c *Consultation, u *catalog.Unit) string {
	if len(u.Fitted) == 0 {
		return "As it comes"
	}
	v, names := &Viewer{Consultation: c}, make([]string, len(u.Fitted))
	for i, code := range u.Fitted {
		names[i] = v.AddOnName(code)
	}
	return "With " + v.Speaker.List(names)
}

// UnitNamed says on paper which very bike a quote is for.
func UnitNamed(s *say.Speaker, u *catalog.Unit) string {
	text := s.Say("Bike %v", u.Tag)
	if u.Serial != "" {
		text += ", " + s.Say("serial number %v", u.Serial)
	}
	if u.Status == catalog.Ordered {
		switch {
		case u.Arrival.IsZero():
			text += ", " + s.Say("ordered")
		default:
			text += ", " + s.Say("ordered, expected: %v", u.Arrival)
		}
	}
	return text
}

// PriceOfUnit says to staff what a unit costs where that is not what its frame
// does; else nothing.
func PriceOfUnit(c *catalog.Catalogue, u *catalog.Unit) string {
	if u.Price == 0 {
		return ""
	}
	return english.Money(u.Price, c.Shop.Currency)
}
