package counter

import (
	"context"
	"time"

	"kinwain/internal/catalog"
	"kinwain/internal/quote"
	"kinwain/web/kit"
)

// holdView lists the bikes of the quoted frame that may be had, and besides
// what is held for this quote, whatever has become of it: it has to be released.
func (room *Room) holdView(ctx context.Context, q *quote.Quote, held []quote.Reservation) (Hold, error) {
	today := room.Today()
	h := Hold{Action: kit.QuoteAt(q.ID) + "/hold", Until: kit.Field{Name: untilField, Label: "Hold it until the end of", Needed: true}}
	switch {
	case !q.HandedOver.IsZero():
		h.Closed = "All of this quote is handed over, so no bike is held for it."
	case !q.Stands(today):
		h.Closed = "This quote has run out, so no bike can be held for it."
	}
	shop, err := room.Advice.On(ctx, today) // whose units have the status of today
	if err != nil {
		return h, err
	}
	all, err := room.store.Catalogue(ctx)
	if err != nil {
		return h, err
	}
	var units []catalog.Unit
	for _, u := range shop.Catalogue.Units {
		if u.Frame == q.Frame && u.Status != quote.Sold {
			units = append(units, u)
		}
	}
	offered := &catalog.Catalogue{Units: units}
	for _, r := range held {
		if u := all.Unit(r.Unit); r.Quote == q.ID && r.Holds(today) && u != nil && offered.Unit(r.Unit) == nil {
			units = append(units, *u)
		}
	}
	var tags []string
	for i := range units {
		tags = append(tags, units[i].Tag)
	}
	unseen, err := room.store.Unseen(ctx, tags)
	for i := range units {
		unit := holdUnit(q, all, &units[i], held, today)
		unit.Status += unseenText(unseen, unit.Tag, room.Now().Location())
		h.Units = append(h.Units, unit)
	}
	return h, err
}

// unseenText says beside where a bike is that a stocktake has not found it.
func unseenText(unseen map[string]time.Time, tag string, zone *time.Location) string {
	at, is := unseen[tag]
	if !is {
		return ""
	}
	return "; not seen in the stocktake of " + at.In(zone).Format("2 January 2006")
}
