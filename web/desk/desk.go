// Package desk is the room of the salesperson with a family in front of them:
// the start, the profile, the ranked frames, one frame, a frame by hand and
// frames side by side; and the same answer as JSON for programs.
package desk

import (
	"context"
	"time"

	"kinwain/internal/advice"
	"kinwain/internal/quote"
	"kinwain/internal/store"
	"kinwain/web/kit"
	"kinwain/web/talk"
)

// Store is what the desk uses of what is kept.
type Store interface {
	advice.Store
	ComingRides(ctx context.Context, unit string, now time.Time, limit int) ([]store.Ride, error)
	Consultation(ctx context.Context, id string) (store.Consultation, error)
	CreateConsultation(ctx context.Context, id, customer string, answers []byte, now time.Time) (store.Consultation, error)
	DismissMarks(ctx context.Context, consultation string, upTo int64) error
	Dossier(ctx context.Context, consultation string) ([]byte, error)
	EraseConsultation(ctx context.Context, id string, now time.Time) error
	FindConsultations(ctx context.Context, of store.Sought, limit int) ([]store.Consultation, error)
	FitSummaries(ctx context.Context, consultation string, now time.Time) ([]store.FitSummary, error)
	HasManager(ctx context.Context) (bool, error)
	Marks(ctx context.Context, consultation string) ([]store.Mark, error)
	PendingJudgings(ctx context.Context, consultation string) ([]store.Judging, error)
	Progress(ctx context.Context) (store.Progress, error)
	ProvenBackup(ctx context.Context) (store.ProvenBackup, error)
	Quotes(ctx context.Context, consultation string) ([]quote.Quote, error)
	RecentConsultations(ctx context.Context, limit int) ([]store.Consultation, error)
	Rides(ctx context.Context, consultation string) ([]store.Ride, error)
	SaveConsultation(ctx context.Context, id string, version int, customer string, answers []byte, now time.Time) (store.Consultation, error)
	Sent(ctx context.Context, consultations []string, now time.Time) (map[string]store.Sent, error)
}

// Room answers the requests of the desk.
type Room struct {
	*talk.Opener
	store Store
	timed func() (done func()) // times a ranking
}

// New returns the room. What timed returns is called once a ranking is done.
func New(o *talk.Opener, s Store, timed func() (done func())) *Room { return &Room{o, s, timed} }

// Ways are the ways into the room.
func (room *Room) Ways(w kit.Ways) {
	w.Get("/", room.start)
	w.Post("/consultations", room.createConsultation)
	w.Post("/consultations/samples", room.createSample)
	w.Post("/consultations/samples/erase", room.eraseSamples)
	w.Get("/consultations/{id}", room.profileForm)
	w.Post("/consultations/{id}", room.saveProfile)
	w.Post("/consultations/{id}/live", room.live)
	w.Post("/consultations/{id}/answers", room.answer)
	w.Post("/consultations/{id}/marks", room.dismissMarks)
	w.Get("/consultations/{id}/weigh/{row}", room.weighForm)
	w.Post("/consultations/{id}/weigh/{row}", room.weigh)
	w.Get("/consultations/{id}/erase", room.forgetForm)
	w.Post("/consultations/{id}/erase", room.forget)
	w.Get("/consultations/{id}/export.json", room.export)
	w.Get("/consultations/{id}/frames", room.frames)
	w.Get("/consultations/{id}/compare", room.compare)
	w.Get("/consultations/{id}/frames/{code}", room.frame)
	w.Get("/consultations/{id}/frames/{code}/by-hand", room.byHand)
	w.Post("/matches", room.matches)
}
