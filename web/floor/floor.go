// Package floor is the room of whoever stands among the bikes with a scanner or
// a phone: which bike is this, for whom, and which are there? It opens the bike
// of a code for the customer in front of the tablet, prints the labels that
// carry the codes, and keeps stocktakes.
//
// A scanner types what it reads and presses Enter, so everything here is one
// field that has the focus, and works without script. Each scan is kept in a
// transaction of its own before its answer is sent: a tablet that falls asleep
// loses nothing, and several may scan at once.
package floor

import (
	"context"
	"net/http"
	"net/url"
	"time"

	"github.com/go-chi/chi/v5"

	"kinwain/internal/catalog"
	"kinwain/internal/quote"
	"kinwain/internal/store"
	"kinwain/static"
	"kinwain/web/kit"
	"kinwain/web/talk"
)

// Store is what the room uses of what is kept.
type Store interface {
	BeginStocktake(ctx context.Context, who string, now time.Time) (store.Stocktake, error)
	Catalogue(ctx context.Context) (*catalog.Catalogue, error)
	ComingRides(ctx context.Context, unit string, now time.Time, limit int) ([]store.Ride, error)
	Consultation(ctx context.Context, id string) (store.Consultation, error)
	FinishStocktake(ctx context.Context, id int64, by store.Author) error
	Reservations(ctx context.Context) ([]quote.Reservation, error)
	Retired(ctx context.Context) (map[store.Thing]bool, error)
	Scan(ctx context.Context, id int64, read, who string, now time.Time) (tag string, again bool, err error)
	Stocktake(ctx context.Context, id int64) (store.Stocktake, error)
	Stocktakes(ctx context.Context, most int) ([]store.Stocktake, error)
	Unscan(ctx context.Context, id int64, tag string) error
}

// Room answers the requests of those on the floor.
type Room struct {
	*talk.Opener
	store Store
}

// New returns the room.
func New(o *talk.Opener, s Store) *Room { return &Room{o, s} }

// Ways are the ways into the room.
func (room *Room) Ways(w kit.Ways) {
	w.Get(kit.UnitsAddress, room.scan)
	w.Get(kit.UnitsAddress+"/{code}", room.bike)
	w.Get(kit.LabelsAddress, room.labels)
	w.Get(kit.StocktakesAddress, room.stocktakes)
	w.Post(kit.StocktakesAddress, room.begin)
	w.Get(kit.StocktakesAddress+"/{id}", room.stocktake)
	w.Post(kit.StocktakesAddress+"/{id}/scan", room.keepScan)
	w.Post(kit.StocktakesAddress+"/{id}/unscan", room.unscan)
	w.Post(kit.StocktakesAddress+"/{id}/finish", room.finish)
}

// shell is the shell of a page of the room.
func (room *Room) shell(r *http.Request, title string) kit.Shell {
	shell := room.Shell(r, title)
	shell.Desk = static.Address("floor.css")
	return shell
}

// standing returns the catalogue with every unit as it stands today, retired
// ones too.
func (room *Room) standing(ctx context.Context) (*catalog.Catalogue, []quote.Reservation, error) {
	c, err := room.store.Catalogue(ctx)
	if err != nil {
		return nil, nil, err
	}
	held, err := room.store.Reservations(ctx)
	if err != nil {
		return nil, nil, err
	}
	today := *c // which is shared
	today.Units = quote.Standing(c.Units, held, room.Today())
	return &today, held, nil
}

// param is a part of the address as it was before it was made an address: a tag
// may have a slash in it.
func param(r *http.Request, name string) string {
	text := chi.URLParam(r, name)
	if plain, err := url.PathUnescape(text); err == nil {
		return plain
	}
	return text
}
