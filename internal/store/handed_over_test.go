package store

import (
	"fmt"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"kinwain/internal/catalog"
	"kinwain/internal/quote"
)

func TestHandOver(t *testing.T) {
	t.Parallel()
	s, consultation := counter(t)
	q, rival := offer(t, s, consultation, "sedge", midday), offer(t, s, consultation, "sedge", midday)
	by := Author{Who: "A", How: ByEdit, At: midday}
	wantCode(t, s.HandOver(t.Context(), "none", by), NotFound)
	wantCode(t, s.HandOver(t.Context(), q.ID, by), Conflict)
	if err := s.Reserve(t.Context(), "S-101", q.ID, day(27), midday); err != nil {
		t.Fatal(err)
	}
	if err := s.AcceptQuote(t.Context(), q.ID, midday); err != nil {
		t.Fatal(err)
	}
	for range 2 { // a form that is sent twice
		if err := s.HandOver(t.Context(), q.ID, by); err != nil {
			t.Fatal(err)
		}
	}
	c, err := s.Catalogue(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	if got := *c.AddOn("seat-rear").Stock; got != 2 || statusOf(t, s, "S-101") != quote.Sold {
		t.Errorf("%d seats are left and the bike is %s", got, statusOf(t, s, "S-101"))
	}
	if held, err := s.Reservations(t.Context()); err != nil || len(held) > 0 {
		t.Errorf("%v, %v", held, err)
	}
	if kept, err := s.Quote(t.Context(), q.ID); err != nil || !kept.HandedOver.Equal(toMillisecond(midday)) {
		t.Errorf("%v, %v", kept.HandedOver, err)
	}
	saves, err := s.History(t.Context(), "", "", 9)
	want := []catalog.Change{{List: "add_ons", Code: "seat-rear", Field: "stock", Old: "4", New: "2"}, {List: "units", Code: "S-101", Field: "status", Old: `"available"`, New: `"sold"`}}
	if err != nil || len(saves) != 1 || cmp.Diff(want, saves[0].Changes) != "" {
		t.Errorf("%+v, %v", saves, err)
	}
	// The very bike of a quote that another one holds stays where it is.
	if _, err := s.writer.ExecContext(t.Context(), `UPDATE quotes SET unit = 'S-103', accepted = 1 WHERE id = ?`, rival.ID); err != nil {
		t.Fatal(err)
	}
	third := offer(t, s, consultation, "sedge-assist", midday)
	if err := s.Reserve(t.Context(), "S-103", third.ID, day(27), midday); err != nil {
		t.Fatal(err)
	}
	wantCode(t, s.HandOver(t.Context(), rival.ID, by), Conflict)
}

// taken is a quote that holds S-101 and is handed over at midday.
func taken(t *testing.T) (s *Store, q quote.Quote, by Author) {
	t.Helper()
	s, consultation := counter(t)
	q, by = offer(t, s, consultation, "sedge", midday), Author{Who: "A", How: ByEdit, At: midday}
	if err := s.Reserve(t.Context(), "S-101", q.ID, day(27), midday); err != nil {
		t.Fatal(err)
	}
	if err := s.AcceptQuote(t.Context(), q.ID, midday); err != nil {
		t.Fatal(err)
	}
	if err := s.HandOver(t.Context(), q.ID, by); err != nil {
		t.Fatal(err)
	}
	return s, q, Author{Who: "B", How: ByUndo, At: midday.Add(time.Hour)}
}

func stockOf(t *testing.T, s *Store, code string) int {
	t.Helper()
	c, err := s.Catalogue(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	return *c.AddOn(code).Stock
}

// TestTakeBack hands over, takes back twice, hands over again and takes back by
// an old page.
func TestTakeBack(t *testing.T) {
	t.Parallel()
	s, q, by := taken(t)
	wantCode(t, s.AcceptQuote(t.Context(), q.ID, time.Time{}), Conflict)
	for i, want := range []Back{{Bikes: []BikeBack{{"S-101", quote.Available, day(27)}}, Goods: map[string]int{"seat-rear": 2}}, {}} {
		back, err := s.TakeBack(t.Context(), q.ID, midday, by)
		if diff := cmp.Diff(want, back); err != nil || diff != "" {
			t.Errorf("the %d. time: %v\n%s", i+1, err, diff)
		}
		held, err := s.Reservations(t.Context())
		if err != nil || len(held) != 1 || held[0].Quote != q.ID || held[0].Until != day(27) || statusOf(t, s, "S-101") != quote.Reserved || stockOf(t, s, "seat-rear") != 4 {
			t.Errorf("%+v, %v; the bike is %s, %d seats", held, err, statusOf(t, s, "S-101"), stockOf(t, s, "seat-rear"))
		}
	}
	kept, err := s.Quote(t.Context(), q.ID)
	if err != nil || !kept.HandedOver.IsZero() || kept.Accepted.IsZero() {
		t.Errorf("%v, %v, %v", kept.HandedOver, kept.Accepted, err)
	}
	saves, err := s.History(t.Context(), "", "", 9)
	want := []catalog.Change{{List: "add_ons", Code: "seat-rear", Field: "stock", Old: "2", New: "4"}, {List: "units", Code: "S-101", Field: "status", Old: `"sold"`, New: `"available"`}}
	if err != nil || len(saves) != 2 || saves[0].How != ByUndo || cmp.Diff(want, saves[0].Changes) != "" {
		t.Errorf("%+v, %v", saves, err)
	}
	again := Author{Who: "A", How: ByEdit, At: midday.Add(2 * time.Hour)}
	if err := s.HandOver(t.Context(), q.ID, again); err != nil {
		t.Fatal(err)
	}
	if back, err := s.TakeBack(t.Context(), q.ID, midday, by); err != nil || len(back.Bikes) > 0 || statusOf(t, s, "S-101") != quote.Sold {
		t.Errorf("by an old page: %+v, %v", back, err)
	}
	by.At = midday.AddDate(0, 0, 3) // after the last day of the hold
	if back, err := s.TakeBack(t.Context(), q.ID, again.At, by); err != nil || !back.Bikes[0].Until.IsZero() || statusOf(t, s, "S-101") != quote.Available {
		t.Errorf("later: %+v, %v; it is %s", back, err, statusOf(t, s, "S-101"))
	}
	_, err = s.TakeBack(t.Context(), "none", midday, by)
	wantCode(t, err, NotFound)
}

// TestWhatCannotBeTakenBack lets others do something with the bike first.
func TestWhatCannotBeTakenBack(t *testing.T) {
	t.Parallel()
	status := func(t *testing.T, s *Store, status string) {
		t.Helper()
		changeLater(t, s, ByEdit, func(c *catalog.Catalogue) { c.Unit("S-101").Status = status })
	}
	rival := func(t *testing.T, s *Store) quote.Quote {
		t.Helper()
		c, err := s.CreateConsultation(t.Context(), "", "B", nil, midday)
		if err != nil {
			t.Fatal(err)
		}
		status(t, s, quote.Available)
		q := offer(t, s, c.ID, "sedge", midday)
		if err := s.Reserve(t.Context(), "S-101", q.ID, day(30), midday); err != nil {
			t.Fatal(err)
		}
		return q
	}
	for want, before := range map[string]func(t *testing.T, s *Store, q quote.Quote){
		"the bike S-101 is held for Q-2026-0002 by now": func(t *testing.T, s *Store, _ quote.Quote) { rival(t, s) },
		"the bike S-101 is handed over with Q-2026-0002 by now": func(t *testing.T, s *Store, _ quote.Quote) {
			other := rival(t, s)
			if err := s.AcceptQuote(t.Context(), other.ID, midday); err != nil {
				t.Fatal(err)
			}
			if err := s.HandOver(t.Context(), other.ID, Author{Who: "A", How: ByEdit, At: midday.Add(time.Minute)}); err != nil {
				t.Fatal(err)
			}
		},
		"somebody has marked the bike S-101 as sold once more since": func(t *testing.T, s *Store, _ quote.Quote) {
			status(t, s, quote.Available)
			status(t, s, quote.Sold)
		},
		"the bike S-101 is no longer in the inventory": func(t *testing.T, s *Store, _ quote.Quote) {
			changeLater(t, s, ByImport, func(c *catalog.Catalogue) { *c = *c.Without(func(list, code string) bool { return code == "S-101" }) })
		},
		"the consultation is erased, and this quote is kept as a paper of the sale alone": func(t *testing.T, s *Store, q quote.Quote) {
			if err := s.EraseConsultation(t.Context(), q.Consultation, midday); err != nil {
				t.Fatal(err)
			}
		},
	} {
		t.Run(want, func(t *testing.T) {
			t.Parallel()
			s, q, by := taken(t)
			before(t, s, q)
			_, err := s.TakeBack(t.Context(), q.ID, midday, by)
			wantCode(t, err, Conflict)
			if got := fmt.Sprintf("take back what the quote %q is about: %s", q.ID, want); err.Error() != got {
				t.Errorf("%q, want %q", err, got)
			}
			if kept, err := s.Quote(t.Context(), q.ID); err != nil || kept.HandedOver.IsZero() || stockOf(t, s, "seat-rear") > 2 {
				t.Errorf("%v, %v; %d seats", kept.HandedOver, err, stockOf(t, s, "seat-rear"))
			}
		})
	}
}

// changeLater changes the shop a minute after midday.
func changeLater(t *testing.T, s *Store, how string, change func(c *catalog.Catalogue)) {
	t.Helper()
	changeShopBy(t, s, Author{Who: "C", How: how, At: midday.Add(time.Minute)}, change)
}

// TestTakenBackByAnotherClock sets the clock back after a hand-over: what somebody
// does then comes after it all the same.
func TestTakenBackByAnotherClock(t *testing.T) {
	t.Parallel()
	earlier := func(t *testing.T, s *Store, how string, change func(c *catalog.Catalogue)) {
		t.Helper()
		changeShopBy(t, s, Author{Who: "C", How: how, At: midday.Add(-time.Hour)}, change)
	}
	s, q, by := taken(t)
	for _, status := range []string{quote.Available, quote.Sold} {
		earlier(t, s, ByEdit, func(c *catalog.Catalogue) { c.Unit("S-101").Status = status })
	}
	_, err := s.TakeBack(t.Context(), q.ID, midday, by)
	wantCode(t, err, Conflict)
	if err == nil || !strings.Contains(err.Error(), "as sold once more since") {
		t.Errorf("sold again: %v", err)
	}
	s, q, by = taken(t)
	earlier(t, s, ByUndo, func(c *catalog.Catalogue) {
		n := 4
		c.AddOn("seat-rear").Stock = &n
	})
	if back, err := s.TakeBack(t.Context(), q.ID, midday, by); err != nil || len(back.Goods) > 0 || stockOf(t, s, "seat-rear") != 4 {
		t.Errorf("counted back by hand: %+v, %v", back, err)
	}
}

// TestTakenBackByHand undoes in the history what a hand-over did, and then takes
// it back: nothing is counted twice.
func TestTakenBackByHand(t *testing.T) {
	t.Parallel()
	s, q, by := taken(t)
	changeLater(t, s, ByUndo, func(c *catalog.Catalogue) {
		n := 4
		c.AddOn("seat-rear").Stock, c.Unit("S-101").Status = &n, quote.Available
	})
	back, err := s.TakeBack(t.Context(), q.ID, midday, by)
	if diff := cmp.Diff(Back{Bikes: []BikeBack{{"S-101", quote.Available, day(27)}}, Goods: map[string]int{}}, back); err != nil || diff != "" {
		t.Errorf("%v\n%s", err, diff)
	}
	if n := stockOf(t, s, "seat-rear"); n != 4 {
		t.Errorf("%d seats", n)
	}
}

// TestQuotesOfBeforeTheirOutlookHadAColumn writes quotes as they were kept then,
// one of them handed over, and opens that store.
func TestQuotesOfBeforeTheirOutlookHadAColumn(t *testing.T) {
	t.Parallel()
	s, q, by := taken(t)
	plain := q
	plain.ID, plain.Outlook = "", nil
	plain, err := s.CreateQuote(t.Context(), plain, midday)
	if err != nil {
		t.Fatal(err)
	}
	p, err := migrator(s.writer)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := p.DownTo(t.Context(), 25); err != nil {
		t.Fatal(err)
	}
	for id, want := range map[string]string{q.ID: "Il reste 12 kg de marge.\nmai 2032 : 348,00 €\nune perspective, pas une promesse", plain.ID: "Il reste 12 kg de marge."} {
		var spare string
		if err := s.writer.QueryRowContext(t.Context(), `SELECT spare FROM quotes WHERE id = ?`, id).Scan(&spare); err != nil || spare != want {
			t.Errorf("down: %q, %v", spare, err)
		}
	}
	if _, err := p.Up(t.Context()); err != nil {
		t.Fatal(err)
	}
	for _, want := range []quote.Quote{q, plain} {
		got, err := s.Quote(t.Context(), want.ID)
		if err != nil || got.Spare != want.Spare || cmp.Diff(want.Outlook, got.Outlook) != "" {
			t.Errorf("up: %q, %q, %v", got.Spare, got.Outlook, err)
		}
	}
	back, err := s.TakeBack(t.Context(), q.ID, midday, by) // until when it was held, nobody knows
	if diff := cmp.Diff(Back{Bikes: []BikeBack{{Tag: "S-101", Status: quote.Available}}, Goods: map[string]int{"seat-rear": 2}}, back); err != nil || diff != "" {
		t.Errorf("%v\n%s", err, diff)
	}
}
