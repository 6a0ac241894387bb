package store

import (
	"testing"

	"github.com/google/go-cmp/cmp"

	"kinwain/internal/catalog"
	"kinwain/internal/quote"
)

func TestOrderedIsHeldAndStaysOrdered(t *testing.T) {
	t.Parallel()
	s, consultation := counter(t)
	q, second := offer(t, s, consultation, "osier-m", midday), offer(t, s, consultation, "osier-m", midday)
	if err := s.Reserve(t.Context(), "S-113", q.ID, day(27), midday); err != nil {
		t.Fatal(err)
	}
	if got := statusOf(t, s, "S-113"); got != catalog.Ordered {
		t.Errorf("it is %s", got)
	}
	wantCode(t, s.Reserve(t.Context(), "S-113", second.ID, day(28), midday), Conflict)
	if err := s.Release(t.Context(), "S-113", q.ID); err != nil || statusOf(t, s, "S-113") != catalog.Ordered {
		t.Errorf("released: %v, %s", err, statusOf(t, s, "S-113"))
	}
	if err := s.Reserve(t.Context(), "S-113", second.ID, day(28), midday); err != nil {
		t.Errorf("then by the other: %v", err)
	}
	repair := offer(t, s, consultation, "sedge-assist", midday)
	wantCode(t, s.Reserve(t.Context(), "S-116", repair.ID, day(28), midday), Conflict)
}

// TestNobodyRidesWhatIsNotThere books the demos that are ordered or in repair.
func TestNobodyRidesWhatIsNotThere(t *testing.T) {
	t.Parallel()
	s, consultation := counter(t)
	for tag, frame := range map[string]string{"D-023": "teasel-short", "D-024": "knapweed-s"} {
		_, err := s.BookRide(t.Context(), Ride{Consultation: consultation, Frame: frame, FrameName: "x", Unit: tag, Starts: midday.AddDate(0, 1, 0), Ends: midday.AddDate(0, 1, 1)}, midday)
		wantCode(t, err, Conflict)
	}
}

func TestPromises(t *testing.T) {
	t.Parallel()
	s, consultation := counter(t)
	seats := map[string]int{"seat-rear": 2}
	open, held, accepted := offer(t, s, consultation, "sedge", midday), offer(t, s, consultation, "sedge", midday), offer(t, s, consultation, "osier-m", midday)
	if err := s.Reserve(t.Context(), "S-101", held.ID, day(27), midday); err != nil {
		t.Fatal(err)
	}
	if err := s.AcceptQuote(t.Context(), accepted.ID, midday); err != nil {
		t.Fatal(err)
	}
	wantPromises := func(when int, want ...quote.Promise) {
		t.Helper()
		got, err := s.Promises(t.Context(), day(when))
		if diff := cmp.Diff(want, got); err != nil || diff != "" {
			t.Errorf("on the %dth: %v\n%s", when, err, diff)
		}
	}
	firm := quote.Promise{Quote: accepted.ID, QuoteName: accepted.Name(), Consultation: consultation, Firm: true, AddOns: seats}
	wantPromises(27, quote.Promise{Quote: open.ID, QuoteName: open.Name(), Consultation: consultation, AddOns: seats},
		quote.Promise{Quote: held.ID, QuoteName: held.Name(), Consultation: consultation, Firm: true, Unit: "S-101", AddOns: seats}, firm)
	wantPromises(28, quote.Promise{Quote: open.ID, QuoteName: open.Name(), Consultation: consultation, AddOns: seats},
		quote.Promise{Quote: held.ID, QuoteName: held.Name(), Consultation: consultation, AddOns: seats}, firm)
	if _, err := s.Promises(t.Context(), quote.After(day(30), 1)); err != nil {
		t.Fatal(err)
	}
	got, err := s.Promises(t.Context(), quote.After(day(30), 1)) // the quotes have run out
	if diff := cmp.Diff([]quote.Promise{firm}, got); err != nil || diff != "" {
		t.Errorf("%v\n%s", err, diff)
	}
	if err := s.HandOver(t.Context(), accepted.ID, Author{Who: "A", How: ByEdit, At: midday}); err != nil {
		t.Fatal(err)
	}
	if got, err := s.Promises(t.Context(), quote.After(day(30), 1)); err != nil || len(got) > 0 {
		t.Errorf("after it was handed over: %v, %v", got, err)
	}
}
