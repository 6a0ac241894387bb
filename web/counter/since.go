package counter

import (
	"context"
	"slices"

	"kinwain/internal/quote"
	"kinwain/internal/store"
	"kinwain/web/kit"
)

// sinceQuote says what the shop has changed since a quote was made.
func (room *Room) sinceQuote(ctx context.Context, q *quote.Quote, held []quote.Reservation) (kit.Since, error) {
	things := []store.Thing{{List: "frames", Code: q.Frame}}
	for _, r := range held {
		if r.Quote == q.ID && r.Holds(room.Today()) {
			things = append(things, store.Thing{List: "units", Code: r.Unit})
		}
	}
	return room.since(ctx, q.Consultation, things,
		func(m store.Mark) bool { return m.Quote == q.ID }, func(j store.Judging) bool { return j.Quote == q.ID })
}

// sinceRide says what the shop has changed since a ride was booked.
func (room *Room) sinceRide(ctx context.Context, r *store.Ride) (kit.Since, error) {
	if r.Status == store.RideBack || r.Status == store.RideCancelled {
		return kit.Since{}, nil
	}
	return room.since(ctx, r.Consultation, []store.Thing{{List: "frames", Code: r.Frame}, {List: "units", Code: r.Unit}},
		func(m store.Mark) bool { return m.Ride == r.ID }, func(j store.Judging) bool { return j.Ride == r.ID })
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
