// Package talk is what the rooms that serve one customer share: the
// consultation of a request, the build that an address names, and a match in
// words and drawn, in the customer's language and units.
//
// It stands between kit, which knows no domain, and the rooms desk, counter and
// takehome, which do not know one another.
package talk

import (
	"context"

	"kinwain/internal/advice"
	"kinwain/internal/store"
	"kinwain/web/kit"
)

// Store is what is read to open a consultation.
type Store interface {
	Consultation(ctx context.Context, id string) (store.Consultation, error)
}

// Opener opens consultations for rooms.
type Opener struct {
	*kit.Kit
	Advice *advice.Advisor
	store  Store
}

// NewOpener returns one that reads a store.
func NewOpener(k *kit.Kit, s Store, a *advice.Advisor) *Opener { return &Opener{k, a, s} }
