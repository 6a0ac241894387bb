package counter

import (
	"context"
	"fmt"
	"slices"
	"time"

	"kinwain/internal/catalog"
	"kinwain/internal/measure"
	"kinwain/internal/quote"
	"kinwain/internal/store"
	"kinwain/web/kit"
	"kinwain/web/talk"
)

// sinceQuote says what the shop has changed since a quote was made, and what
// keeps the customer now from the bikes that it is for or that are held for it.
func (room *Room) sinceQuote(ctx context.Context, q *quote.Quote, held []quote.Reservation) (kit.Since, error) {
	things := []store.Thing{{List: "frames", Code: q.Frame}}
	var tags []string
	if q.HandedOver.IsZero() {
		tags = tagsOf(q, held, room.Today())
	}
	for _, tag := range tags {
		things = append(things, store.Thing{List: "units", Code: tag})
	}
	s, err := room.since(ctx, q.Consultation, things,
		func(m store.Mark) bool { return m.Quote == q.ID }, func(j store.Judging) bool { return j.Quote == q.ID })
	if err != nil {
		return s, err
	}
	unseen, err := room.store.Unseen(ctx, tags)
	if err != nil {
		return s, err
	}
	c, err := room.store.Catalogue(ctx)
	for _, tag := range tags {
		if u := c.Unit(tag); u == nil || u.Status != catalog.Ordered { // that it comes is what was quoted
			s.Gone = append(s.Gone, absence(u, tag)...)
		}
		if r := holding(held, tag, room.Today()); r != nil && r.Quote != q.ID {
			s.Gone = append(s.Gone, heldWords(r))
		}
		s.Gone = append(s.Gone, unseenWords(tag, unseen, room.Now().Location())...)
	}
	return s, err
}

// tagsOf lists the bikes that a quote is for or that are held for it on a day.
func tagsOf(q *quote.Quote, held []quote.Reservation, today measure.Date) []string {
	var tags []string
	if q.Unit != "" {
		tags = append(tags, q.Unit)
	}
	for _, r := range held {
		if r.Quote == q.ID && r.Unit != q.Unit && r.Holds(today) {
			tags = append(tags, r.Unit)
		}
	}
	return tags
}

// sinceRide says what the shop has changed since a ride was booked, and what
// keeps its bike from going out on the day.
func (room *Room) sinceRide(ctx context.Context, r *store.Ride) (kit.Since, error) {
	if r.Status == store.RideBack || r.Status == store.RideCancelled {
		return kit.Since{}, nil
	}
	s, err := room.since(ctx, r.Consultation, []store.Thing{{List: "frames", Code: r.Frame}, {List: "units", Code: r.Unit}},
		func(m store.Mark) bool { return m.Ride == r.ID }, func(j store.Judging) bool { return j.Ride == r.ID })
	if err != nil || r.Status == store.RideOut {
		return s, err
	}
	c, err := room.store.Catalogue(ctx)
	if err != nil {
		return s, err
	}
	s.Gone = append(s.Gone, absence(c.Unit(r.Unit), r.Unit)...)
	held, err := room.store.Reservations(ctx)
	if err != nil {
		return s, err
	}
	on := measure.DateOf(r.Starts.In(room.Now().Location()))
	if by := holding(held, r.Unit, on); by != nil && by.Consultation != r.Consultation {
		s.Gone = append(s.Gone, heldWords(by))
	}
	unseen, err := room.store.Unseen(ctx, []string{r.Unit})
	s.Gone = append(s.Gone, unseenWords(r.Unit, unseen, room.Now().Location())...)
	return s, err
}

// absence says why nobody can have a bike now.
func absence(u *catalog.Unit, tag string) []string {
	switch {
	case u == nil:
		return []string{tag + " is no longer in the shop’s list."}
	case u.Away() == catalog.Ordered:
		return []string{tag + " is not in the shop yet: " + within(talk.UnitStatus(u)) + "."}
	case u.Away() != "":
		return []string{tag + " is " + within(talk.UnitStatus(u)) + "."}
	}
	return nil
}

func heldWords(r *quote.Reservation) string {
	return fmt.Sprintf("%s is held for %s until the end of %s.", r.Unit, r.QuoteName, english.Date(r.Until))
}

// unseenWords says that a stocktake has not found a bike.
func unseenWords(tag string, unseen map[string]time.Time, zone *time.Location) []string {
	at, is := unseen[tag]
	if !is {
		return nil
	}
	return []string{fmt.Sprintf("The stocktake of %s has not found %s.", at.In(zone).Format("2 January 2006, 15:04"), tag)}
}

// since collects what is no longer offered, the marks and what is to be judged
// of one thing of a consultation.
func (room *Room) since(ctx context.Context, consultation string, things []store.Thing, marked func(store.Mark) bool, judged func(store.Judging) bool) (kit.Since, error) {
	var s kit.Since
	retired, err := room.store.Retired(ctx)
	if err != nil {
		return s, err
	}
	c, err := room.store.Catalogue(ctx)
	if err != nil {
		return s, err
	}
	for _, t := range things {
		if name := t.Code; retired[t] {
			if f := c.Frame(t.Code); t.List == "frames" && f != nil {
				name = "the " + f.Called()
			}
			s.Gone = append(s.Gone, "The shop has retired "+name+": it is offered to nobody any more.")
		}
	}
	marks, err := room.store.Marks(ctx, consultation)
	if err != nil {
		return s, err
	}
	for _, m := range marks {
		if marked(m) {
			s.Marks = append(s.Marks, kit.MarkWords(m, room.Now().Location()))
		}
	}
	pending, err := room.store.PendingJudgings(ctx, consultation)
	s.ToCheck = slices.ContainsFunc(pending, judged)
	return s, err
}
