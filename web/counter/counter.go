// Package counter is the room where a talk becomes an appointment or a sale:
// the quote and the bike that is held for it, the test ride and its entry for a
// calendar.
//
// A quote is a snapshot: its lines, tax and deposit are stored with it and never
// worked out again. A bike that is held for one is reserved until the end of a
// day. Nothing runs when that day is over: quote.Status says what the status of
// a unit is on a given day, the store asks it before it changes anything, and
// advice.On before anything is shown. A test ride moves its bike in the
// transaction that moves the ride. Quotes, holds and rides name frames and units
// but do not refer to them, so an import may replace the catalogue.
package counter

import (
	"context"
	"time"

	"kinwain/internal/advice"
	"kinwain/internal/measure"
	"kinwain/internal/quote"
	"kinwain/internal/store"
	"kinwain/web/kit"
	"kinwain/web/talk"
)

// Store is what the counter uses of what is kept.
type Store interface {
	advice.Store
	AcceptQuote(ctx context.Context, id string, at time.Time) error
	BookRide(ctx context.Context, r store.Ride, now time.Time) (store.Ride, error)
	ComingRides(ctx context.Context, unit string, now time.Time, limit int) ([]store.Ride, error)
	CreateQuote(ctx context.Context, q quote.Quote, now time.Time) (quote.Quote, error)
	HandOver(ctx context.Context, id string, by store.Author) error
	Marks(ctx context.Context, consultation string) ([]store.Mark, error)
	PendingJudgings(ctx context.Context, consultation string) ([]store.Judging, error)
	Promises(ctx context.Context, day measure.Date) ([]quote.Promise, error)
	Quote(ctx context.Context, id string) (quote.Quote, error)
	Quotes(ctx context.Context, consultation string) ([]quote.Quote, error)
	Release(ctx context.Context, tag, id string) error
	Reserve(ctx context.Context, tag, id string, until measure.Date, now time.Time) error
	Ride(ctx context.Context, id string) (store.Ride, error)
	Rides(ctx context.Context, consultation string) ([]store.Ride, error)
	SaveRide(ctx context.Context, id string, notes store.RideNotes, next store.RideStatus, now time.Time) error
	TakeBack(ctx context.Context, id string, at time.Time, by store.Author) (store.Back, error)
	Texts(ctx context.Context) (map[string]string, error)
	Unseen(ctx context.Context, tags []string) (map[string]time.Time, error)
}

// Room answers the requests of the counter.
type Room struct {
	*talk.Opener
	store Store
}

// New returns the room.
func New(o *talk.Opener, s Store) *Room { return &Room{o, s} }

// Ways are the ways into the room.
func (room *Room) Ways(w kit.Ways) {
	w.Get("/consultations/{id}/frames/{code}/quote", room.quoteDraft)
	w.Post("/consultations/{id}/frames/{code}/quote", room.createQuote)
	w.Get("/quotes/{id}", room.quote)
	w.Get("/quotes/{id}.csv", room.quoteCSV)
	w.Post("/quotes/{id}/accepted", room.accept)
	w.Post("/quotes/{id}/handed-over", room.handOver)
	w.Post("/quotes/{id}/taken-back", room.takeBack)
	w.Post("/quotes/{id}/hold", room.hold)
	w.Get("/consultations/{id}/frames/{code}/ride", room.rideForm)
	w.Post("/consultations/{id}/frames/{code}/ride", room.bookRide)
	w.Get("/rides/{id}", room.ride)
	w.Post("/rides/{id}", room.saveRide)
	w.Get("/rides/{id}.ics", room.rideCalendar)
}
