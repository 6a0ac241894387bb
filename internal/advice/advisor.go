package advice

import (
	"context"
	"fmt"
	"maps"
	"reflect"
	"strconv"
	"sync"

	"kinwain/internal/catalog"
	"kinwain/internal/match"
	"kinwain/internal/measure"
	"kinwain/internal/quote"
	"kinwain/internal/store"
)

// Versioned is a store that says whether anything in it has changed.
type Versioned interface {
	Store
	// Version returns another text after any change, by whomever.
	Version(ctx context.Context) (string, error)
}

// Advisor says what the shop is on a day, and remembers it, and what it said,
// until anything that it follows from changes.
type Advisor struct {
	store  Versioned
	memory *memory

	mu      sync.Mutex
	version string // of the store, when it was read
	from    *standing
	today   *Shop
	turns   int // how often the shop has become another one
}

// standing is what is kept of a shop and a day.
type standing struct {
	catalogue *catalog.Catalogue // shared, and another one after every change
	retired   map[store.Thing]bool
	held      []quote.Reservation
	settings  match.Settings
	day       measure.Date
}

func (s *standing) same(o *standing) bool {
	return o != nil && s.catalogue == o.catalogue && s.day == o.day && maps.Equal(s.retired, o.retired) &&
		reflect.DeepEqual(s.settings, o.settings) && reflect.DeepEqual(s.held, o.held)
}

// NewAdvisor returns an advisor that has not been asked anything yet.
func NewAdvisor(s Versioned) *Advisor { return &Advisor{store: s, memory: newMemory(mostBytes)} }

// On returns the shop as it is on a day. All who ask get the same one until it
// changes.
func (a *Advisor) On(ctx context.Context, day measure.Date) (*Shop, error) {
	version, err := a.store.Version(ctx)
	if err != nil {
		return nil, err
	}
	if today := a.known(version, day); today != nil {
		return today, nil
	}
	// The version was read first, so what is read now is of it or newer. Where
	// it is newer, whoever asks next sees another version, and reads again.
	now, err := read(ctx, a.store, day)
	if err != nil {
		return nil, err
	}
	a.mu.Lock()
	defer a.mu.Unlock()
	a.version = version
	if !now.same(a.from) {
		a.memory.forget()
		a.turns++
		a.from, a.today = now, now.shop()
		a.today.memory, a.today.of = a.memory, strconv.Itoa(a.turns)
	}
	return a.today, nil
}

// known returns the shop of a version and a day, or nil.
func (a *Advisor) known(version string, day measure.Date) *Shop {
	a.mu.Lock()
	defer a.mu.Unlock()
	if a.from == nil || a.version != version || a.from.day != day {
		return nil
	}
	return a.today
}

// Of returns the shop of another catalogue, of which the memory is kept apart by
// all that is in it, so that what a change would do is worked out once however
// often that is looked at.
func (a *Advisor) Of(c *catalog.Catalogue, settings match.Settings) (*Shop, error) {
	of, err := digest(c, settings.Figures(), settings.Local.Texts())
	return &Shop{Catalogue: c, Settings: settings, memory: a.memory, of: string(of[:])}, err
}

// Remember returns what follows from texts alone, such as a document read. It is
// worked out once; size says how many bytes it takes. Errors are not remembered.
func Remember[T any](ctx context.Context, a *Advisor, what string, size int, work func() (T, error), of ...[]byte) (T, error) {
	about, err := digest(of)
	var none T
	if err != nil {
		return none, err
	}
	k := key{what: what, about: about}
	if r, found := a.memory.recall(k); found {
		value, _ := r.value.(T)
		return value, nil
	}
	value, err := a.memory.once(ctx, fmt.Sprintf("%s %x", what, about), func(context.Context) (any, error) {
		value, err := work()
		if err == nil {
			a.memory.keep(k, remembered{value: value, bytes: size})
		}
		return value, err
	})
	if err != nil {
		return none, err
	}
	known, _ := value.(T)
	return known, nil
}

// With returns the shop with other settings, which remembers as well as the
// shop does.
func (s *Shop) With(settings match.Settings) (*Shop, error) {
	figures, err := digest(settings.Figures(), settings.Local.Texts())
	return &Shop{Catalogue: s.Catalogue, Settings: settings, memory: s.memory, passing: s.passing, of: s.of + string(figures[:])}, err
}
