package quote

import (
	"slices"

	"kinwain/internal/catalog"
	"kinwain/internal/measure"
)

// The statuses of a unit that matter here; catalog.UnitStatuses lists all.
const (
	Available  = "available"
	OnTestRide = "on_test_ride"
	Reserved   = "reserved"
	Sold       = "sold"
)

// Reservation holds one unit for one quote. Nobody has to end it: after its
// last day it counts no more.
type Reservation struct {
	Unit         string       // its tag
	Quote        string       // the ID
	QuoteName    string       // Q-2026-0007
	Consultation string       // whose quote it is
	Until        measure.Date // the last day
}

// Holds reports whether the unit is still held on a day.
func (r *Reservation) Holds(today measure.Date) bool { return !r.Until.Before(today) }

// MayHold reports whether a unit of a status of today may be held for a quote:
// what is in the shop, and what is ordered unless somebody holds it already.
func MayHold(status string, held bool) bool {
	return status == Available || status == catalog.Ordered && !held
}

// Standing returns the units with the status that each has on a day: what is
// held is reserved, and what was held until an earlier day is available again.
// What is ordered or in repair stays so while it is held.
// A unit that is marked reserved without a reservation stays so. The list
// given is not changed.
func Standing(units []catalog.Unit, reservations []Reservation, today measure.Date) []catalog.Unit {
	standing := slices.Clone(units)
	for i := range standing {
		standing[i].Status = Status(&units[i], reservations, today)
	}
	return standing
}

// Status returns the status that a unit has on a day under the reservations
// that were not cancelled, of which a unit has at most one.
func Status(u *catalog.Unit, reservations []Reservation, today measure.Date) string {
	at := slices.IndexFunc(reservations, func(r Reservation) bool { return r.Unit == u.Tag })
	switch {
	case at < 0:
		return u.Status
	case u.Status == Available && reservations[at].Holds(today): // an import may have said so since
		return Reserved
	case u.Status == Reserved && !reservations[at].Holds(today):
		return Available
	}
	return u.Status
}
