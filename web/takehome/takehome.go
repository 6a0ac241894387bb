// Package takehome is the room of the customer: the fit summary that a link
// opens, its code for a phone, and the page on which staff make it.
//
// Whoever has a link is a stranger: these pages know no session, lead nowhere
// else in the app, and say the same of every link that opens nothing.
package takehome

import (
	"context"
	"time"

	"github.com/go-chi/chi/v5"

	"kinwain/internal/advice"
	"kinwain/internal/store"
	"kinwain/web/kit"
	"kinwain/web/talk"
)

// Store is what the room uses of what is kept.
type Store interface {
	advice.Store
	FitSummaries(ctx context.Context, consultation string, now time.Time) ([]store.FitSummary, error)
	FitSummary(ctx context.Context, token string, now time.Time) (store.FitSummary, error)
	IssueFitSummary(ctx context.Context, f store.FitSummary) (token string, err error)
	RevokeFitSummary(ctx context.Context, consultation string, id int64, now time.Time) error
	Texts(ctx context.Context) (map[string]string, error)
}

// Room answers the requests of customers, and those of staff who send them
// something home.
type Room struct {
	*talk.Opener
	store Store
}

// New returns the room.
func New(o *talk.Opener, s Store) *Room { return &Room{o, s} }

// Ways are the ways into the room for staff.
func (room *Room) Ways(w kit.Ways) {
	w.Get("/consultations/{id}/measure", room.measureAtHome)
	w.Get("/consultations/{id}/frames/{code}/send", room.sendForm)
	w.Post("/consultations/{id}/frames/{code}/send", room.send)
}

// FitPattern is the route of the fit summary of a link, with its token.
const FitPattern = "/fit/{token}"

// OpenWays are the ways in for anybody with a link. They know no session.
func (room *Room) OpenWays(r chi.Router) {
	r.Get(FitPattern, room.openly(room.fit))
	r.Get("/fit/{token}/qr.svg", room.openly(room.fitCode))
	r.Get("/fit/{token}/measure", room.openly(room.measureByLink))
	r.Get("/fit/{token}"+livesAt, room.openly(room.weighAgain))
	r.Post("/fit/{token}"+livesAt, room.openly(room.weighed))
	r.Get("/fit", room.openly(room.noFit))
	r.Get("/fit/*", room.openly(room.noFit))
}
