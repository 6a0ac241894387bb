package store

import (
	"context"
	"errors"
	"sync"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
	sqlite3 "modernc.org/sqlite/lib"

	"kinwain/internal/catalog"
	"kinwain/internal/quote"
	"kinwain/testdata"
)

func rideOn(consultation, unit string, starts time.Time, d time.Duration) Ride {
	return Ride{Consultation: consultation, Frame: "sedge", FrameName: "Sedge", Unit: unit, Passengers: true, Starts: starts, Ends: starts.Add(d),
		RideNotes: RideNotes{Rider: "A"}}
}

func TestBookRide(t *testing.T) {
	t.Parallel()
	s, consultation := counter(t)
	at := midday.Add(2 * time.Hour)
	made, err := s.BookRide(t.Context(), rideOn(consultation, "D-011", at, 30*time.Minute), midday)
	if err != nil {
		t.Fatal(err)
	}
	got, err := s.Ride(t.Context(), made.ID)
	if diff := cmp.Diff(made, got); err != nil || diff != "" || got.Starts.Location() != time.UTC {
		t.Errorf("%v (− made, + read)\n%s", err, diff)
	}
	for name, test := range map[string]struct {
		unit     string
		from, to time.Duration
		code     string
	}{
		"the same":         {"D-011", 0, 30, Overlap},
		"its end":          {"D-011", 29, 60, Overlap},
		"its beginning":    {"D-011", -30, 1, Overlap},
		"all of it":        {"D-011", -30, 60, Overlap},
		"within":           {"D-011", 10, 11, Overlap},
		"just before":      {"D-011", -30, 0, ""},
		"just after":       {"D-011", 30, 60, ""},
		"no demo":          {"S-101", 0, 30, Conflict},
		"another frame":    {"D-014", 0, 30, Conflict},
		"nothing":          {"X", 0, 30, NotFound},
		"an end too early": {"D-011", 200, 100, Conflict},
	} {
		_, err := s.BookRide(t.Context(), rideOn(consultation, test.unit, at.Add(test.from*time.Minute), (test.to-test.from)*time.Minute), midday)
		if CodeOf(err) != test.code || test.code == "" && err != nil {
			t.Errorf("%s: %v, want %q", name, err, test.code)
		}
	}
	coming, err := s.ComingRides(t.Context(), "", midday, 10)
	if err != nil || len(coming) != 3 || coming[1].ID != made.ID {
		t.Errorf("%+v, %v", coming, err)
	}
	if later, err := s.ComingRides(t.Context(), "D-011", at.Add(30*time.Minute), 10); err != nil || len(later) != 1 {
		t.Errorf("%+v, %v", later, err)
	}
	if first, err := s.ComingRides(t.Context(), "", midday, 1); err != nil || len(first) != 1 || !first[0].Starts.Before(at) {
		t.Errorf("%+v, %v", first, err)
	}
}

// TestBookRideAtOnce books overlapping times from many sides.
func TestBookRideAtOnce(t *testing.T) {
	t.Parallel()
	s, consultation := counter(t)
	other := opened(t, s.dir)
	var group sync.WaitGroup
	errs := make([]error, 8)
	for i := range errs {
		group.Go(func() {
			_, errs[i] = []*Store{s, other}[i%2].BookRide(t.Context(), rideOn(consultation, "D-011", midday.Add(time.Duration(i)*time.Minute), time.Hour), midday)
		})
	}
	group.Wait()
	booked := 0
	for _, err := range errs {
		switch {
		case err == nil:
			booked++
		case CodeOf(err) != Overlap:
			t.Error(err)
		}
	}
	if booked != 1 {
		t.Errorf("%d rides at the same time on one bike", booked)
	}
}

func TestRideMovesItsBike(t *testing.T) {
	t.Parallel()
	s, consultation := counter(t)
	r, err := s.BookRide(t.Context(), rideOn(consultation, "D-011", midday, time.Hour), midday)
	if err != nil {
		t.Fatal(err)
	}
	later, err := s.BookRide(t.Context(), rideOn(consultation, "D-011", midday.Add(time.Hour), time.Hour), midday)
	if err != nil {
		t.Fatal(err)
	}
	notes := RideNotes{Rider: "A", Feel: "good", Felt: "light", Notes: "chain", Checks: []string{"brakes", "helmet"}}
	move := func(id string, next RideStatus) error { return s.SaveRide(t.Context(), id, notes, next, midday) }
	wantCode(t, move(r.ID, RideBack), Conflict)
	wantCode(t, move("nothing", RideOut), NotFound)
	if err := move(r.ID, RideOut); err != nil || statusOf(t, s, "D-011") != "on_test_ride" {
		t.Errorf("out: %v, %s", err, statusOf(t, s, "D-011"))
	}
	wantCode(t, move(later.ID, RideOut), Conflict)
	demo, err := catalog.Parse(testdata.Demo) // which says that the bike is here
	if err == nil {
		err = s.ReplaceCatalogue(t.Context(), demo)
	}
	if err != nil {
		t.Fatal(err)
	}
	wantCode(t, move(later.ID, RideOut), Conflict)
	if got, err := s.Ride(t.Context(), later.ID); err != nil || got.Status != RideBooked || got.Version != 1 || got.Feel != "" {
		t.Errorf("half a change landed: %+v, %v", got, err)
	}
	wantCode(t, move(r.ID, RideCancelled), Conflict)
	if err := move(r.ID, RideBack); err != nil || statusOf(t, s, "D-011") != "available" {
		t.Errorf("back: %v, %s", err, statusOf(t, s, "D-011"))
	}
	wantCode(t, move(r.ID, RideOut), Conflict)
	notes.Checks = []string{"helmet"}
	if err := move(r.ID, RideBack); err != nil {
		t.Error(err)
	}
	if got, err := s.Ride(t.Context(), r.ID); err != nil || cmp.Diff(notes, got.RideNotes) != "" || got.Version != 4 {
		t.Errorf("%+v, %v", got, err)
	}
	all, err := s.Rides(t.Context(), consultation)
	if err != nil || len(all) != 2 || all[0].ID != later.ID || all[1].Status != RideBack || all[1].Feel != "good" {
		t.Errorf("%+v, %v", all, err)
	}
	if none, err := s.Rides(t.Context(), "nothing"); err != nil || len(none) != 0 {
		t.Errorf("%+v, %v", none, err)
	}
	if err := move(later.ID, RideCancelled); err != nil || statusOf(t, s, "D-011") != "available" {
		t.Errorf("cancelled: %v, %s", err, statusOf(t, s, "D-011"))
	}
	if _, err := s.BookRide(t.Context(), rideOn(consultation, "D-011", midday.Add(time.Hour), time.Hour), midday); err != nil {
		t.Errorf("the time of a cancelled ride is free: %v", err)
	}
}

// TestRideOnAReservedBike lets nobody ride what is held for somebody else.
func TestRideOnAReservedBike(t *testing.T) {
	t.Parallel()
	s, consultation := counter(t)
	stranger, err := s.CreateConsultation(t.Context(), "", "B", nil, midday)
	if err != nil {
		t.Fatal(err)
	}
	q := offer(t, s, consultation, "sedge", midday)
	before, err := s.BookRide(t.Context(), rideOn(stranger.ID, "D-011", midday.Add(48*time.Hour), time.Hour), midday)
	if err != nil {
		t.Fatal(err)
	}
	if err := s.Reserve(t.Context(), "D-011", q.ID, day(27), midday); err != nil {
		t.Fatal(err)
	}
	_, err = s.BookRide(t.Context(), rideOn(stranger.ID, "D-011", midday.Add(24*time.Hour), time.Hour), midday)
	wantCode(t, err, Conflict)
	wantCode(t, s.SaveRide(t.Context(), before.ID, RideNotes{}, RideOut, midday.Add(48*time.Hour)), Conflict)
	if _, err = s.BookRide(t.Context(), rideOn(stranger.ID, "D-011", midday.Add(72*time.Hour), time.Hour), midday); err != nil {
		t.Errorf("after its last day: %v", err)
	}
	own, err := s.BookRide(t.Context(), rideOn(consultation, "D-011", midday.Add(24*time.Hour), time.Hour), midday)
	if err != nil {
		t.Fatalf("for whom it is held: %v", err)
	}
	for _, step := range []struct {
		next RideStatus
		unit string
	}{{RideOut, "on_test_ride"}, {RideBack, "reserved"}} {
		if err := s.SaveRide(t.Context(), own.ID, RideNotes{}, step.next, midday.Add(24*time.Hour)); err != nil || statusOf(t, s, "D-011") != step.unit {
			t.Errorf("%s: %v, %s", step.next, err, statusOf(t, s, "D-011"))
		}
	}
}

// TestRideOutlivesItsBike brings back a bike that has left the catalogue.
func TestRideOutlivesItsBike(t *testing.T) {
	t.Parallel()
	s, consultation := counter(t)
	r, err := s.BookRide(t.Context(), rideOn(consultation, "D-011", midday, time.Hour), midday)
	if err == nil {
		err = s.SaveRide(t.Context(), r.ID, RideNotes{}, RideOut, midday)
	}
	if err == nil {
		err = s.ReplaceCatalogue(t.Context(), rich(t))
	}
	if err != nil {
		t.Fatal(err)
	}
	if err := s.SaveRide(t.Context(), r.ID, RideNotes{}, RideBack, midday); err != nil {
		t.Error(err)
	}
}

func TestConstraintsOfQuotesAndRides(t *testing.T) {
	t.Parallel()
	s, consultation := counter(t)
	q := offer(t, s, consultation, "sedge", midday)
	_, err := s.BookRide(t.Context(), rideOn(consultation, "D-011", midday, time.Hour), midday)
	if err == nil {
		err = s.Reserve(t.Context(), "S-101", q.ID, day(27), midday)
	}
	if err != nil {
		t.Fatal(err)
	}
	const check, foreignKey, dataType = sqlite3.SQLITE_CONSTRAINT_CHECK, sqlite3.SQLITE_CONSTRAINT_FOREIGNKEY, sqlite3.SQLITE_CONSTRAINT_DATATYPE
	for _, test := range []struct {
		statement string
		code      int
	}{
		{`UPDATE quotes SET total_cents = total_cents + 1`, check},
		{`UPDATE quotes SET net_cents = net_cents + 1, total_cents = total_cents + 1`, check},
		{`UPDATE quotes SET deposit_cents = total_cents + 1`, check},
		{`UPDATE quotes SET valid_until = '2026-02-30'`, check},
		{`UPDATE quotes SET valid_until = '2026-11'`, check},
		{`UPDATE quotes SET number = 0`, check},
		{`UPDATE quotes SET consultation = 'nothing'`, foreignKey},
		{`UPDATE quotes SET tax_cents = 1.5`, dataType},
		{`UPDATE quote_lines SET amount_cents = amount_cents + 1`, check},
		{`UPDATE quote_lines SET kind = 'gift'`, check},
		{`UPDATE quote_lines SET quantity = 0`, check},
		{`INSERT INTO quote_warnings VALUES ('nothing', 0, '')`, foreignKey},
		{`UPDATE reservations SET until = 'soon'`, check},
		{`INSERT INTO reservations SELECT unit, quote, until, created FROM reservations`, sqlite3.SQLITE_CONSTRAINT_PRIMARYKEY},
		{`INSERT INTO quotes SELECT 'b', year, number, consultation, customer, shop, currency, frame, frame_name, frame_kind, passengers, created, valid_until,
			labour_cents_per_hour, subtotal_cents, tax_included, tax_share, net_cents, tax_cents, total_cents, deposit_share, deposit_cents, accepted, language, spare, unit, handed_over, outlook FROM quotes`, sqlite3.SQLITE_CONSTRAINT_UNIQUE},
		{`UPDATE rides SET ends = starts`, check},
		{`UPDATE rides SET status = 'lost'`, check},
		{`UPDATE rides SET feel = 'meh'`, check},
		{`DELETE FROM consultations`, foreignKey},
	} {
		if _, err := s.writer.ExecContext(t.Context(), test.statement); resultCode(err) != test.code {
			t.Errorf("%s: %v, want code %d", test.statement, err, test.code)
		}
	}
	if _, err := s.writer.ExecContext(t.Context(), `DELETE FROM rides; DELETE FROM quotes`); err != nil {
		t.Fatal(err)
	}
	for _, name := range []string{"ride_checks", "quote_lines", "quote_warnings", "reservations"} {
		if n := rowCounts(t, s)[name]; n != 0 {
			t.Errorf("%d rows are left in %s", n, name)
		}
	}
}

// TestCancelledPromise ends the context before every call.
func TestCancelledPromise(t *testing.T) {
	t.Parallel()
	s, consultation := counter(t)
	q := offer(t, s, consultation, "sedge", midday)
	ctx, cancel := context.WithCancel(t.Context())
	cancel()
	_, e1 := s.CreateQuote(ctx, quote.Quote{Consultation: consultation, Language: "en"}, midday)
	_, e2 := s.Quote(ctx, q.ID)
	_, e3 := s.Quotes(ctx, consultation)
	_, e4 := s.Reservations(ctx)
	_, e5 := s.BookRide(ctx, rideOn(consultation, "D-011", midday, time.Hour), midday)
	_, e6 := s.Ride(ctx, "a")
	_, e7 := s.ComingRides(ctx, "", midday, 3)
	_, e8 := s.Rides(ctx, consultation)
	for i, err := range []error{e1, e2, e3, e4, e5, e6, e7, e8, s.Reserve(ctx, "S-101", q.ID, day(27), midday), s.Release(ctx, "S-101", q.ID),
		s.SaveRide(ctx, "a", RideNotes{}, RideOut, midday)} {
		if !errors.Is(err, context.Canceled) {
			t.Errorf("call %d: %v, want that the context ended it", i, err)
		}
	}
}
