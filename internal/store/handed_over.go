package store

import (
	"context"
	"database/sql"
	"fmt"
	"time"

	"kinwain/internal/catalog"
	"kinwain/internal/measure"
	"kinwain/internal/quote"
)

// handed is one thing that left the shop with a quote: a bike, or so many of an
// add-on of a counted store room.
type handed struct {
	list, code string
	count      int
	was        string       // status of the bike before it was sold
	until      measure.Date // last day on which it was held for the quote; zero: it was not
}

// HandOver keeps when all of an accepted quote left the shop with the customer.
// In the same transaction its bikes are sold, what else was held for it is held
// no more, and what it took of a counted store room is taken off there; the
// history has that. Done twice it is done once. The error is an *Error with the
// code NotFound where there is no such quote, and Conflict where nobody has
// accepted it or its bike is another customer's.
func (s *Store) HandOver(ctx context.Context, id string, by Author) error {
	var now *snapshot
	err := s.change(ctx, fmt.Sprintf("hand over what the quote %q is about", id), func(tx *sql.Tx) error {
		q, err := readQuote(ctx, tx, id)
		switch {
		case err != nil || !q.HandedOver.IsZero():
			return err
		case q.Accepted.IsZero():
			return &Error{Code: Conflict, Text: "nobody has accepted this quote"}
		}
		bikes, err := releaseAll(ctx, tx, &q, measure.DateOf(by.At))
		if err != nil {
			return err
		}
		if _, err := tx.ExecContext(ctx, `UPDATE quotes SET handed_over = ? WHERE id = ?`, by.At.UnixMilli(), id); err != nil {
			return err
		}
		old, err := readCatalogue(ctx, tx, nil)
		if err != nil {
			return err
		}
		if now, err = retell(ctx, tx, old, quote.HandOver(old.catalogue, &q, tagsOf(bikes)), by); err != nil {
			return err
		}
		return noteHanded(ctx, tx, id, bikes, old.catalogue, now.catalogue)
	})
	if err == nil && now != nil {
		s.catalogue.Store(now)
	}
	return err
}

// releaseAll ends what holds bikes for a quote, and returns those that go with
// it: the very bike that it is for, else those that were held.
func releaseAll(ctx context.Context, tx *sql.Tx, q *quote.Quote, day measure.Date) ([]handed, error) {
	all, err := reservations(ctx, tx)
	if err != nil {
		return nil, err
	}
	var bikes []handed
	if q.Unit != "" {
		bikes = append(bikes, handed{list: "units", code: q.Unit, count: 1})
	}
	for _, r := range all {
		switch {
		case r.Quote == q.ID:
			if r.Unit == q.Unit {
				bikes[0].until = r.Until
			} else if q.Unit == "" {
				bikes = append(bikes, handed{list: "units", code: r.Unit, count: 1, until: r.Until})
			}
			if err := moveUnitFrom(ctx, tx, r.Unit, quote.Reserved, quote.Available); err != nil {
				return nil, err
			}
		case r.Unit == q.Unit && r.Holds(day):
			return nil, &Error{Code: Conflict, Text: fmt.Sprintf("the bike %q is held for somebody else", q.Unit)}
		}
	}
	_, err = tx.ExecContext(ctx, `DELETE FROM reservations WHERE quote = ?`, q.ID)
	return bikes, err
}

func tagsOf(bikes []handed) []string {
	var tags []string
	for _, b := range bikes {
		tags = append(tags, b.code)
	}
	return tags
}

// noteHanded keeps what left the shop, so that it can be taken back.
func noteHanded(ctx context.Context, tx *sql.Tx, id string, bikes []handed, before, after *catalog.Catalogue) error {
	var things []handed
	for _, b := range bikes {
		if u := before.Unit(b.code); u != nil {
			b.was = u.Status
			things = append(things, b)
		}
	}
	for i := range before.AddOns {
		a := &before.AddOns[i]
		if a.Stock == nil {
			continue
		}
		if took := *a.Stock - *after.AddOn(a.Code).Stock; took > 0 {
			things = append(things, handed{list: "add_ons", code: a.Code, count: took})
		}
	}
	for _, h := range things {
		if err := insert(ctx, tx, "handed_over", "quote, list, code, count, was, until", []any{id, h.list, h.code, h.count, h.was, maybeDate{&h.until}}); err != nil {
			return err
		}
	}
	return nil
}

// Back is what came back to the shop with a quote that was not handed over
// after all.
type Back struct {
	Bikes []BikeBack
	Goods map[string]int // counted back into the store room, by code
}

// BikeBack is one bike of it.
type BikeBack struct {
	Tag, Status string
	Until       measure.Date // the last day on which it is held for the quote again; zero: it is not
}

// TakeBack undoes the hand-over of a time: the bikes that it sold are what they
// were, and held for the quote again where they were and the last day of that is
// not over; what it took off the store room is counted back, and the quote is
// open as before. All of it is one transaction, and the history has it. Done
// twice it is done once, and nothing is done where the quote was handed over
// again since. The error is an *Error with the code NotFound where there is no
// such quote, and Conflict, with a sentence that says why, where a bike is
// another's by now or the consultation is erased.
func (s *Store) TakeBack(ctx context.Context, id string, at time.Time, by Author) (Back, error) {
	var now *snapshot
	var back Back
	err := s.change(ctx, fmt.Sprintf("take back what the quote %q is about", id), func(tx *sql.Tx) error {
		q, err := readQuote(ctx, tx, id)
		if err != nil || q.HandedOver.IsZero() || !q.HandedOver.Equal(toMillisecond(at)) {
			return err
		}
		var erased bool
		if err := tx.QueryRowContext(ctx, `SELECT erased IS NOT NULL FROM consultations WHERE id = ?`, q.Consultation).Scan(&erased); err != nil {
			return err
		}
		if erased {
			return &Error{Code: Conflict, Text: "the consultation is erased, and this quote is kept as a paper of the sale alone"}
		}
		things, err := readHanded(ctx, tx, id)
		if err != nil {
			return err
		}
		old, err := readCatalogue(ctx, tx, nil)
		if err != nil {
			return err
		}
		r := &returning{tx: tx, quote: &q, day: measure.DateOf(by.At), was: map[string]string{}}
		if back, err = r.back(ctx, old.catalogue, things); err != nil {
			return err
		}
		// The quote is told of nothing: it is handed over until that is done.
		if now, err = retell(ctx, tx, old, quote.TakeBack(old.catalogue, r.was, back.Goods), by); err != nil {
			return err
		}
		return r.reopen(ctx, back, by.At)
	})
	if err == nil && now != nil {
		s.catalogue.Store(now)
	}
	return back, err
}

func readHanded(ctx context.Context, tx *sql.Tx, id string) ([]handed, error) {
	rows, err := tx.QueryContext(ctx, `SELECT list, code, count, was, until FROM handed_over WHERE quote = ? ORDER BY list DESC, code`, id)
	if err != nil {
		return nil, err
	}
	var things []handed
	err = eachRow(rows, func(scan func(...any) error) error {
		var h handed
		err := scan(&h.list, &h.code, &h.count, &h.was, maybeDate{&h.until})
		things = append(things, h)
		return err
	})
	return things, err
}

// returning is a hand-over that is undone.
type returning struct {
	tx    *sql.Tx
	quote *quote.Quote
	day   measure.Date
	was   map[string]string // the status that each bike gets, by tag
}

// Somebody may have changed since, by hand, what a hand-over had done (?1 is of
// which quote, ?2 and ?3 of which list what). What came after it follows from the
// order of saves: a clock may be set back.
const (
	leftIn = `coalesce((SELECT max(s.id) FROM catalogue_changes AS c JOIN catalogue_saves AS s ON s.id = c.save
		WHERE c.list = ?2 AND c.code = ?3 AND s.at = q.handed_over AND (c.field = 'stock' OR c.field = 'status' AND c.new = '"sold"')),
		(SELECT max(id) FROM catalogue_saves WHERE at <= q.handed_over), 0)` // where it changed nothing of it
	ours         = `(SELECT ` + leftIn + ` FROM quotes AS q WHERE q.id = ?1)`
	movedSince   = `SELECT EXISTS (SELECT 1 FROM catalogue_changes AS c WHERE c.list = ?2 AND c.code = ?3 AND c.save > ` + ours + ` AND c.field IN ('', 'status'))`
	countedSince = `SELECT EXISTS (SELECT 1 FROM catalogue_saves AS s JOIN catalogue_changes AS c ON c.save = s.id WHERE c.list = ?2 AND c.code = ?3
		AND s.id > ` + ours + ` AND s.how = 'undo' AND c.field = 'stock' AND c.new - c.old = ?4)`
	handedSince = `SELECT coalesce(max(q.year), 0), coalesce(max(q.number), 0) FROM handed_over AS h JOIN quotes AS q ON q.id = h.quote
		WHERE h.list = ?2 AND h.code = ?3 AND q.id <> ?1 AND ` + leftIn + ` >= ` + ours
	outNow = `SELECT EXISTS (SELECT 1 FROM rides WHERE unit = ? AND status = 'out')`
)

// back says what comes back, or why something cannot.
func (r *returning) back(ctx context.Context, c *catalog.Catalogue, things []handed) (Back, error) {
	back := Back{Goods: map[string]int{}}
	for _, h := range things {
		if h.list == "units" {
			bike, err := r.bike(ctx, h)
			if err != nil {
				return Back{}, err
			}
			back.Bikes = append(back.Bikes, bike)
			continue
		}
		undone, err := r.is(ctx, countedSince, r.quote.ID, h.list, h.code, h.count) // from the history
		if err != nil {
			return Back{}, err
		}
		if a := c.AddOn(h.code); a != nil && a.Stock != nil && !undone {
			back.Goods[h.code] = h.count
		}
	}
	return back, nil
}

// is asks whether something is so.
func (r *returning) is(ctx context.Context, query string, args ...any) (so bool, err error) {
	err = r.tx.QueryRowContext(ctx, query, args...).Scan(&so)
	return so, err
}

// bike notes what becomes of a bike that was sold, or says why it cannot come
// back. What somebody has put back by hand already stays as it is.
func (r *returning) bike(ctx context.Context, h handed) (BikeBack, error) {
	bike := BikeBack{Tag: h.code}
	refused := func(text string, args ...any) (BikeBack, error) {
		return bike, &Error{Code: Conflict, Text: fmt.Sprintf(text, args...)}
	}
	u, err := standing(ctx, r.tx, h.code, r.day)
	switch {
	case CodeOf(err) == NotFound:
		return refused("the bike %s is no longer in the inventory", h.code)
	case err != nil:
		return bike, err
	case u.held.Unit != "" && u.held.Quote != r.quote.ID:
		return refused("the bike %s is held for %s by now", h.code, u.held.QuoteName)
	}
	var other quote.Quote
	if err := r.tx.QueryRowContext(ctx, handedSince, r.quote.ID, h.list, h.code).Scan(&other.Year, &other.Number); err != nil {
		return bike, err
	}
	if other.Number > 0 {
		return refused("the bike %s is handed over with %s by now", h.code, other.Name())
	}
	moved, err := r.is(ctx, movedSince, r.quote.ID, h.list, h.code)
	if err != nil {
		return bike, err
	}
	out, err := r.is(ctx, outNow, h.code)
	if err != nil {
		return bike, err
	}
	switch bike.Status = u.status; {
	case u.status == quote.Sold && moved:
		return refused("somebody has marked the bike %s as sold once more since", h.code)
	case u.status == quote.Sold && h.was == quote.OnTestRide && !out: // it came back meanwhile
		bike.Status = quote.Available
	case u.status == quote.Sold:
		bike.Status = h.was
	}
	if bike.Status != u.status {
		r.was[h.code] = bike.Status
	}
	if u.held.Unit == "" && quote.MayHold(bike.Status, false) && !h.until.IsZero() && !h.until.Before(r.day) {
		bike.Until = h.until
	}
	return bike, nil
}

// reopen opens the quote again, and holds for it what it held.
func (r *returning) reopen(ctx context.Context, back Back, at time.Time) error {
	for _, statement := range [...]string{`UPDATE quotes SET handed_over = NULL WHERE id = ?`, `DELETE FROM handed_over WHERE quote = ?`} {
		if _, err := r.tx.ExecContext(ctx, statement, r.quote.ID); err != nil {
			return err
		}
	}
	for _, b := range back.Bikes {
		if b.Until.IsZero() {
			continue
		}
		if err := hold(ctx, r.tx, b.Tag, r.quote.ID, b.Until, at); err != nil {
			return err
		}
		if err := moveUnitFrom(ctx, r.tx, b.Tag, quote.Available, quote.Reserved); err != nil {
			return err
		}
	}
	return nil
}
