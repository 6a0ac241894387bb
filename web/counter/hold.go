package counter

import (
	"context"
	"slices"
	"time"

	"kinwain/internal/catalog"
	"kinwain/internal/quote"
	"kinwain/internal/store"
	"kinwain/web/kit"
	"kinwain/web/talk"
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
	h.Units, err = room.holdUnits(ctx, q, all, units, held)
	offered := &catalog.Catalogue{Units: units}
	for _, r := range held {
		if r.Quote != q.ID || !r.Holds(today) || offered.Unit(r.Unit) != nil {
			continue
		}
		unit := HoldUnit{Tag: r.Unit, Status: "No longer in the shop’s list", Ours: true}
		if u := all.Unit(r.Unit); u != nil {
			unit = holdUnit(q, all, u, held, today)
		}
		h.Units = append(h.Units, unit)
	}
	return h, err
}

// holdUnits draws bikes that may be had, with what there is to know before one
// is held: that a stocktake has not found it, that somebody else comes to ride it.
func (room *Room) holdUnits(ctx context.Context, q *quote.Quote, c *catalog.Catalogue, units []catalog.Unit, held []quote.Reservation) ([]HoldUnit, error) {
	var tags []string
	for i := range units {
		tags = append(tags, units[i].Tag)
	}
	unseen, err := room.store.Unseen(ctx, tags)
	if err != nil {
		return nil, err
	}
	zone := room.Now().Location()
	var list []HoldUnit
	for i := range units {
		unit := holdUnit(q, c, &units[i], held, room.Today())
		unit.Status += unseenText(unseen, unit.Tag, zone)
		rides, err := room.store.ComingRides(ctx, unit.Tag, room.Now(), talk.MostRides)
		if err != nil {
			return nil, err
		}
		if at := slices.IndexFunc(rides, func(r store.Ride) bool { return r.Status == store.RideBooked && r.Consultation != q.Consultation }); at >= 0 {
			unit.Status += "; somebody comes to ride it on " + rides[at].Starts.In(zone).Format("2 January 2006, 15:04")
		}
		list = append(list, unit)
	}
	return list, nil
}

// unseenText says beside where a bike is that a stocktake has not found it.
func unseenText(unseen map[string]time.Time, tag string, zone *time.Location) string {
	at, is := unseen[tag]
	if !is {
		return ""
	}
	return "; not seen in the stocktake of " + at.In(zone).Format("2 January 2006")
}
