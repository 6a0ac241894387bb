package store

import (
	"path/filepath"
	"sync"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"kinwain/internal/catalog"
	"kinwain/internal/fitting"
	"kinwain/internal/measure"
	"kinwain/internal/quote"
	"kinwain/testdata"
)

// midday is when these tests take place, in a shop east of Greenwich.
var midday = time.Date(2026, 11, 25, 12, 0, 0, 0, time.FixedZone("shop", 3600))

func day(d int) measure.Date { return measure.Date{Year: 2026, Month: 11, Day: d} }

// counter is a store with the demo shop and one consultation.
func counter(t *testing.T) (s *Store, consultation string) {
	t.Helper()
	s = opened(t, t.TempDir())
	demo, err := catalog.Parse(testdata.Demo)
	if err == nil {
		err = s.ReplaceCatalogue(t.Context(), demo)
	}
	if err != nil {
		t.Fatal(err)
	}
	c, err := s.CreateConsultation(t.Context(), "", "A", nil, midday)
	if err != nil {
		t.Fatal(err)
	}
	return s, c.ID
}

// offer makes a quote for a frame.
func offer(t *testing.T, s *Store, consultation, frame string, now time.Time) quote.Quote {
	t.Helper()
	c, err := s.Catalogue(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	f := c.Frame(frame)
	q, err := s.CreateQuote(t.Context(), quote.Quote{
		Language: "fr", Spare: "Il reste 12 kg de marge.", Outlook: []string{"mai 2032 : 348,00 €", "une perspective, pas une promesse"},
		Consultation: consultation, Customer: "A", Shop: c.Shop.Name, Currency: c.Shop.Currency, Frame: f.Code, FrameName: f.Name, FrameKind: "steel",
		Passengers: true, Warnings: []string{"one", "two"}, ValidUntil: day(30),
		Sum: quote.NewSum(c, f, &fitting.Build{AddOns: []string{"seat-rear", "seat-rear"}, TakenOff: f.ComesWith}, quote.DefaultSettings()),
	}, now)
	if err != nil {
		t.Fatal(err)
	}
	return q
}

// statusOf returns what the catalogue says of a unit.
func statusOf(t *testing.T, s *Store, tag string) string {
	t.Helper()
	c, err := s.Catalogue(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	for _, u := range c.Units {
		if u.Tag == tag {
			return u.Status
		}
	}
	t.Fatalf("there is no %s", tag)
	return ""
}

// TestQuoteIsASnapshot empties and reprices the shop after a quote was made.
func TestQuoteIsASnapshot(t *testing.T) {
	t.Parallel()
	s, consultation := counter(t)
	made := offer(t, s, consultation, "sedge", midday)
	c := rich(t)
	if err := s.ReplaceCatalogue(t.Context(), c); err != nil {
		t.Fatal(err)
	}
	got, err := s.Quote(t.Context(), made.ID)
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(made, got); diff != "" || len(got.Lines) < 4 || len(got.Warnings) != 2 {
		t.Errorf("(− made, + read later)\n%s", diff)
	}
	if list, err := s.Quotes(t.Context(), consultation); err != nil || len(list) != 1 || list[0].Total != made.Total {
		t.Errorf("%+v, %v", list, err)
	}
	_, err = s.Quote(t.Context(), "nothing")
	wantCode(t, err, NotFound)
	_, err = s.CreateQuote(t.Context(), quote.Quote{Consultation: "nothing", Language: "en", Frame: "sedge", ValidUntil: day(30)}, midday)
	wantCode(t, err, Conflict)
}

func TestQuotesAreNumberedByYear(t *testing.T) {
	t.Parallel()
	s, consultation := counter(t)
	var names []string
	eve := time.Date(2026, 12, 31, 23, 30, 0, 0, midday.Location())
	for _, now := range []time.Time{midday, midday.Add(time.Hour), eve, eve.Add(time.Hour), eve.Add(2 * time.Hour)} {
		q := offer(t, s, consultation, "sedge", now)
		names = append(names, q.Name())
	}
	if diff := cmp.Diff([]string{"Q-2026-0001", "Q-2026-0002", "Q-2026-0003", "Q-2027-0001", "Q-2027-0002"}, names); diff != "" {
		t.Error(diff)
	}
	var group sync.WaitGroup
	for range 8 { // as many at once
		group.Go(func() { offer(t, s, consultation, "sedge", midday) })
	}
	group.Wait()
	if last := offer(t, s, consultation, "sedge", midday); last.Number != 12 {
		t.Errorf("the twelfth is number %d", last.Number)
	}
}

func TestReserve(t *testing.T) {
	t.Parallel()
	s, consultation := counter(t)
	first, second := offer(t, s, consultation, "sedge", midday), offer(t, s, consultation, "sedge", midday)
	other := offer(t, s, consultation, "osier-m", midday)
	if err := s.Reserve(t.Context(), "S-101", first.ID, day(27), midday); err != nil {
		t.Fatal(err)
	}
	if got := statusOf(t, s, "S-101"); got != "reserved" {
		t.Errorf("it is %s", got)
	}
	for name, err := range map[string]error{
		"again":           s.Reserve(t.Context(), "S-101", second.ID, day(28), midday),
		"on its last day": s.Reserve(t.Context(), "S-101", second.ID, day(28), midday.AddDate(0, 0, 2)),
		"held by hand":    s.Reserve(t.Context(), "S-102", second.ID, day(28), midday),
		"another frame":   s.Reserve(t.Context(), "D-011", other.ID, day(28), midday),
		"sold":            s.Reserve(t.Context(), "S-104", first.ID, day(28), midday),
	} {
		if CodeOf(err) != Conflict {
			t.Errorf("%s: %v", name, err)
		}
	}
	wantCode(t, s.Reserve(t.Context(), "X", first.ID, day(28), midday), NotFound)
	wantCode(t, s.Reserve(t.Context(), "D-011", "nothing", day(28), midday), NotFound)
	if err := s.Reserve(t.Context(), "S-101", second.ID, day(30), midday.AddDate(0, 0, 3)); err != nil {
		t.Errorf("the day after it was held: %v", err)
	}
	want := []quote.Reservation{{Unit: "S-101", Quote: second.ID, QuoteName: "Q-2026-0002", Consultation: consultation, Until: day(30)}}
	if got, err := s.Reservations(t.Context()); err != nil || cmp.Diff(want, got) != "" {
		t.Errorf("%+v, %v", got, err)
	}
	wantCode(t, s.Release(t.Context(), "S-101", first.ID), NotFound)
	if err := s.Release(t.Context(), "S-101", second.ID); err != nil || statusOf(t, s, "S-101") != "available" {
		t.Errorf("released: %v, %s", err, statusOf(t, s, "S-101"))
	}
}

// TestReserveAtOnce lets salespeople on two tablets, and on two programs on
// the same store, reserve the same unit at the same time.
func TestReserveAtOnce(t *testing.T) {
	t.Parallel()
	s, consultation := counter(t)
	other := opened(t, s.dir)
	quotes := make([]quote.Quote, 8)
	for i := range quotes {
		quotes[i] = offer(t, s, consultation, "sedge", midday)
	}
	for range 10 {
		var group sync.WaitGroup
		errs := make([]error, len(quotes))
		start := make(chan struct{})
		for i := range quotes {
			group.Go(func() {
				<-start
				errs[i] = []*Store{s, other}[i%2].Reserve(t.Context(), "S-101", quotes[i].ID, day(27), midday)
			})
		}
		close(start)
		group.Wait()
		won := -1
		for i, err := range errs {
			switch {
			case err == nil && won >= 0:
				t.Fatalf("%d and %d both have it", won, i)
			case err == nil:
				won = i
			case CodeOf(err) != Conflict:
				t.Fatal(err)
			}
		}
		if won < 0 {
			t.Fatal("nobody has it")
		}
		held, err := s.Reservations(t.Context())
		if err != nil || len(held) != 1 || held[0].Quote != quotes[won].ID {
			t.Fatalf("%+v, %v", held, err)
		}
		if err := other.Release(t.Context(), "S-101", quotes[won].ID); err != nil {
			t.Fatal(err)
		}
	}
}

func TestQuotesAreInBackups(t *testing.T) {
	t.Parallel()
	s, consultation := counter(t)
	made := offer(t, s, consultation, "sedge", midday)
	copied := filepath.Join(t.TempDir(), FileName)
	if _, err := s.Backup(t.Context(), copied); err != nil {
		t.Fatal(err)
	}
	if got, err := opened(t, filepath.Dir(copied)).Quote(t.Context(), made.ID); err != nil || cmp.Diff(made, got) != "" {
		t.Errorf("%+v, %v", got, err)
	}
}
