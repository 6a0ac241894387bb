package desk

import (
	"fmt"
	"net/url"
	"slices"
	"strings"

	"kinwain/internal/catalog"
	"kinwain/internal/measure"
	"kinwain/internal/quote"
	"kinwain/web/kit"
	"kinwain/web/say"
	"kinwain/web/talk"
)

// english says what staff read.
var english = say.New(say.English, measure.Metric)

// unitsOf says which demo of a frame can be ridden today; and what of it can be
// taken home, with the prices of single bikes, what is in repair and what is
// still to come.
func unitsOf(c *catalog.Catalogue, frame string) (ride, stock string) {
	demos, inStock := availableOf(c, frame)
	if len(demos) > 0 {
		ride = "Ride it now: " + strings.Join(demos, ", ")
	}
	var parts, repair []string
	if inStock > 0 {
		parts = append(parts, fmt.Sprintf("%d in stock", inStock))
	}
	var coming []*catalog.Unit
	for i := range c.Units {
		switch u := &c.Units[i]; {
		case u.Frame != frame:
		case u.Status == catalog.Ordered:
			coming = append(coming, u)
		case u.Status == catalog.InRepair:
			repair = append(repair, u.Tag)
		case u.Price > 0 && u.Kind == "stock" && u.Status == "available":
			parts = append(parts, u.Tag+" for "+talk.PriceOfUnit(c, u))
		}
	}
	if len(repair) > 0 {
		parts = append(parts, "in repair: "+strings.Join(repair, ", "))
	}
	if len(coming) > 0 {
		parts = append(parts, comingWords(coming))
	}
	return ride, say.Capital(strings.Join(parts, "; "))
}

// OneBike is a single bike of the frame on whose page it is shown: somebody
// has scanned it.
type OneBike struct {
	Tag, Detail, Status, Fitted string
	Price                       string // of the bike by itself; empty where it is that of the frame
	Total                       string // with what is proposed
	Quote                       string // where it is quoted; empty where the frame is not offered
	Ride                        string // where a ride on it is booked; empty where it cannot be ridden
	Alone                       string // where it is shown without the customer
}

// unitQuery names the bike in the address of the page of its frame.
const unitQuery = "unit"

// oneBike draws the bike of a tag, nil where there is none of this frame.
func oneBike(c *talk.Consultation, chosen *talk.Choice, tag string) *OneBike {
	m := chosen.Match
	at := slices.IndexFunc(c.Catalogue.Units, func(u catalog.Unit) bool { return u.Tag == tag && u.Frame == m.Frame.Code })
	if at < 0 {
		return nil
	}
	u := &c.Catalogue.Units[at]
	view := &OneBike{Tag: u.Tag, Detail: say.Capital(talk.UnitDetail(c.Speaker, u)), Status: talk.UnitStatus(u), Fitted: talk.OnUnit(c, u),
		Price: talk.PriceOfUnit(c.Catalogue, u), Alone: kit.UnitAt(u.Tag) + "?alone=yes"}
	if view.Price != "" {
		view.Total = c.Speaker.Money(m.Total-m.Frame.Price+m.Frame.PriceOf(u), c.Catalogue.Shop.Currency)
	}
	if m.Offered() && u.Status != quote.Sold {
		view.Quote = c.Address("/frames/" + m.Frame.Code + "/quote?" + url.Values{unitQuery: {u.Tag}}.Encode())
		if u.Kind == "demo" && u.Status == quote.Available {
			view.Ride = c.Address("/frames/" + m.Frame.Code + "/ride?" + url.Values{unitQuery: {u.Tag}}.Encode())
		}
	}
	return view
}

// comingWords says how many are ordered, and when the first of them is expected.
func comingWords(units []*catalog.Unit) string {
	text := fmt.Sprintf("%d on order", len(units))
	first := slices.MinFunc(units, func(a, b *catalog.Unit) int {
		switch {
		case a.Arrival == b.Arrival:
			return 0
		case b.Arrival.IsZero() || !a.Arrival.IsZero() && a.Arrival.Before(b.Arrival):
			return -1
		}
		return 1
	})
	if first.Arrival.IsZero() {
		return text
	}
	if len(units) > 1 {
		return text + ", the first expected " + english.Date(first.Arrival)
	}
	return text + ", expected " + english.Date(first.Arrival)
}

// availableOf lists the demos of a frame that are there, and counts the others.
func availableOf(c *catalog.Catalogue, frame string) (demos []string, inStock int) {
	for _, u := range c.Units {
		switch {
		case u.Frame != frame || u.Status != "available":
		case u.Kind == "demo":
			demos = append(demos, u.Tag)
		default:
			inStock++
		}
	}
	return demos, inStock
}
