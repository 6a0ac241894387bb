package store

import (
	"cmp"
	"context"
	"crypto/rand"
	"database/sql"
	"errors"
	"fmt"
	"strings"
	"time"

	"kinwain/internal/measure"
	"kinwain/internal/quote"
)

// RideStatus says how far a test ride has come.
type RideStatus string

// The statuses of a ride. A booked ride goes out or is cancelled; one that is
// out comes back; then nothing changes but what is written about it.
const (
	RideBooked    RideStatus = "booked"
	RideOut       RideStatus = "out"
	RideBack      RideStatus = "back"
	RideCancelled RideStatus = "cancelled"
)

// mayBecome reports whether a ride may go from one status to another.
func (s RideStatus) mayBecome(next RideStatus) bool {
	return s == next || s == RideBooked && (next == RideOut || next == RideCancelled) || s == RideOut && next == RideBack
}

// Ride is one test ride of one demo bike.
type Ride struct {
	ID           string // random, of at least 128 bits
	Consultation string // whose ride it is
	Frame        string // its code
	FrameName    string
	Unit         string // its tag
	Passengers   bool   // somebody may ride along
	Starts, Ends time.Time
	Status       RideStatus
	RideNotes
	Version          int       // count of times it was saved
	Created, Updated time.Time // UTC, to the millisecond
}

// RideNotes is what is written about a ride.
type RideNotes struct {
	Rider  string   // who rode
	Feel   string   // empty, good, unsure or not_for_us
	Felt   string   // how it felt
	Notes  string   // for the shop
	Checks []string // what was gone through, in any order and each once
}

const (
	rideColumns = `id, consultation, frame, frame_name, unit, passengers, starts, ends, status, rider, feel, felt, notes, version, created, updated`
	overlapping = `SELECT EXISTS (SELECT 1 FROM rides WHERE unit = ? AND status IN ('booked', 'out') AND starts < ? AND ends > ?)`
	coming      = `SELECT ` + rideColumns + ` FROM rides
		WHERE (status = 'out' OR status = 'booked' AND ends > ?) AND (? = '' OR unit = ?) ORDER BY starts, rowid LIMIT ?`
)

// rideFields names the fields behind rideColumns.
func rideFields(r *Ride) []any {
	return []any{&r.ID, &r.Consultation, &r.Frame, &r.FrameName, &r.Unit, &r.Passengers, timeColumn{&r.Starts}, timeColumn{&r.Ends}, &r.Status,
		&r.Rider, &r.Feel, &r.Felt, &r.Notes, &r.Version, timeColumn{&r.Created}, timeColumn{&r.Updated}}
}

// BookRide stores a ride on a demo bike, under its ID, which nobody can guess
// and which is drawn where it has none. A ride of that ID that is booked
// already is returned as it is.
// Now is in the shop's own time zone. The error is an *Error with the code
// NotFound where there is no such unit, Overlap where somebody else has it
// for part of that time, and Conflict where it is none to be ridden then:
// sold, not a demo, of another frame, or held for somebody else.
func (s *Store) BookRide(ctx context.Context, r Ride, now time.Time) (Ride, error) {
	r.ID, r.Status, r.Version = cmp.Or(r.ID, strings.ToLower(rand.Text())), RideBooked, 1
	r.Starts, r.Ends, r.Created, r.Updated = toMillisecond(r.Starts), toMillisecond(r.Ends), toMillisecond(now), toMillisecond(now)
	err := s.change(ctx, "book a test ride", func(tx *sql.Tx) error {
		if made, err := readRide(ctx, tx, r.ID); CodeOf(err) != NotFound {
			r = made
			return err
		}
		u, err := standing(ctx, tx, r.Unit, measure.DateOf(r.Starts.In(now.Location())))
		if err != nil {
			return err
		}
		if u.frame != r.Frame || u.kind != "demo" || !u.rideable(r.Consultation) {
			return &Error{Code: Conflict, Text: fmt.Sprintf("the unit %q cannot be ridden then", r.Unit)}
		}
		var taken bool
		if err := tx.QueryRowContext(ctx, overlapping, r.Unit, r.Ends.UnixMilli(), r.Starts.UnixMilli()).Scan(&taken); err != nil {
			return err
		}
		if taken {
			return &Error{Code: Overlap, Text: fmt.Sprintf("the unit %q is booked for part of that time", r.Unit)}
		}
		return insert(ctx, tx, "rides", rideColumns, rideFields(&r))
	})
	return r, err
}

// rideable reports whether the customer of a consultation may ride the unit
// when it is in the shop.
func (u *unitNow) rideable(consultation string) bool {
	return u.status == quote.Available || u.status == quote.OnTestRide || u.status == quote.Reserved && u.held.Consultation == consultation
}

// Ride returns the ride of an ID. The error is an *Error with the code
// NotFound where there is none.
func (s *Store) Ride(ctx context.Context, id string) (Ride, error) {
	var r Ride
	err := s.view(ctx, fmt.Sprintf("read the ride %q", id), func(tx *sql.Tx) error {
		var err error
		r, err = readRide(ctx, tx, id)
		return err
	})
	return r, err
}

func readRide(ctx context.Context, tx *sql.Tx, id string) (Ride, error) {
	var r Ride
	err := tx.QueryRowContext(ctx, `SELECT `+rideColumns+` FROM rides WHERE id = ?`, id).Scan(rideFields(&r)...)
	if errors.Is(err, sql.ErrNoRows) {
		return r, &Error{Code: NotFound, Text: fmt.Sprintf("there is no ride %q", id)}
	}
	if err != nil {
		return r, err
	}
	rows, err := tx.QueryContext(ctx, `SELECT item FROM ride_checks WHERE ride = ? ORDER BY item`, id)
	if err != nil {
		return r, err
	}
	return r, eachRow(rows, func(scan func(...any) error) error {
		var item string
		err := scan(&item)
		r.Checks = append(r.Checks, item)
		return err
	})
}

// ComingRides returns at most limit rides that are out or still to come, of
// one unit or, where that is empty, of all, the first to start first. Their
// checks are left out.
func (s *Store) ComingRides(ctx context.Context, unit string, now time.Time, limit int) ([]Ride, error) {
	var rides []Ride
	err := s.view(ctx, "list the test rides", func(tx *sql.Tx) error {
		var err error
		rides, err = readRides(ctx, tx, coming, now.UnixMilli(), unit, unit, max(limit, 0))
		return err
	})
	return rides, err
}

// Rides returns every ride of a consultation, the last to start first. Their
// checks are left out.
func (s *Store) Rides(ctx context.Context, consultation string) ([]Ride, error) {
	var rides []Ride
	err := s.view(ctx, "list the test rides of a consultation", func(tx *sql.Tx) error {
		var err error
		rides, err = readRides(ctx, tx, `SELECT `+rideColumns+` FROM rides WHERE consultation = ? ORDER BY starts DESC, rowid DESC`, consultation)
		return err
	})
	return rides, err
}

func readRides(ctx context.Context, tx *sql.Tx, query string, args ...any) ([]Ride, error) {
	rows, err := tx.QueryContext(ctx, query, args...)
	if err != nil {
		return nil, err
	}
	var rides []Ride
	err = eachRow(rows, func(scan func(...any) error) error {
		var r Ride
		err := scan(rideFields(&r)...)
		rides = append(rides, r)
		return err
	})
	return rides, err
}

// SaveRide stores what is written about a ride and moves it on, together with
// its bike: one that goes out is on a test ride, one that comes back is
// available or, where it is held for somebody, reserved. Now is in the shop's
// own time zone. The error is an *Error with the code NotFound where there is
// no such ride, and Conflict where the ride cannot move so or the bike is not
// there to go out; then nothing is stored.
func (s *Store) SaveRide(ctx context.Context, id string, notes RideNotes, next RideStatus, now time.Time) error {
	return s.change(ctx, fmt.Sprintf("save the ride %q", id), func(tx *sql.Tx) error {
		r, err := readRide(ctx, tx, id)
		if err != nil {
			return err
		}
		if !r.Status.mayBecome(next) {
			return &Error{Code: Conflict, Text: fmt.Sprintf("a ride that is %s cannot be %s", r.Status, next)}
		}
		if r.Status != next {
			if err := moveBike(ctx, tx, &r, next, now); err != nil {
				return err
			}
		}
		return writeNotes(ctx, tx, id, notes, next, now)
	})
}

// moveBike gives the bike of a ride the status that goes with the ride's next.
func moveBike(ctx context.Context, tx *sql.Tx, r *Ride, next RideStatus, now time.Time) error {
	if next == RideCancelled {
		return nil
	}
	u, err := standing(ctx, tx, r.Unit, measure.DateOf(now))
	if next == RideBack {
		if CodeOf(err) == NotFound {
			return nil // it has left the catalogue, and the ride is over all the same
		}
		home := quote.Available
		if u.held.Unit != "" {
			home = quote.Reserved
		}
		return errors.Join(err, moveUnitFrom(ctx, tx, r.Unit, quote.OnTestRide, home))
	}
	if err != nil {
		return err
	}
	var out bool // an import may have said since that the bike is here
	if err := tx.QueryRowContext(ctx, `SELECT EXISTS (SELECT 1 FROM rides WHERE unit = ? AND status = 'out')`, r.Unit).Scan(&out); err != nil {
		return err
	}
	if out || u.status == quote.OnTestRide || !u.rideable(r.Consultation) {
		return &Error{Code: Conflict, Text: fmt.Sprintf("the unit %q is not there to go out", r.Unit)}
	}
	return moveUnit(ctx, tx, r.Unit, quote.OnTestRide)
}

func writeNotes(ctx context.Context, tx *sql.Tx, id string, n RideNotes, status RideStatus, now time.Time) error {
	_, err := tx.ExecContext(ctx, `UPDATE rides SET rider = ?, feel = ?, felt = ?, notes = ?, status = ?, version = version + 1, updated = ? WHERE id = ?`,
		n.Rider, n.Feel, n.Felt, n.Notes, status, now.UnixMilli(), id)
	if err != nil {
		return err
	}
	if _, err := tx.ExecContext(ctx, `DELETE FROM ride_checks WHERE ride = ?`, id); err != nil {
		return err
	}
	for _, item := range n.Checks {
		if _, err := tx.ExecContext(ctx, `INSERT INTO ride_checks (ride, item) VALUES (?, ?)`, id, item); err != nil {
			return err
		}
	}
	return nil
}
