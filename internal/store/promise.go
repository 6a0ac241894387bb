package store

import (
	"context"
	"database/sql"
	"fmt"

	"kinwain/internal/measure"
	"kinwain/internal/quote"
)

// Of every quote that is not handed over and that stands, was accepted or has a
// bike held for it, the add-ons. Where it is for no very bike, it is for the one
// that is held.
const selectPromises = `SELECT q.id, q.year, q.number, q.consultation, q.accepted IS NOT NULL OR held.unit IS NOT NULL, coalesce(nullif(q.unit, ''), held.unit, ''), l.code, sum(l.quantity)
	FROM quotes AS q JOIN quote_lines AS l ON l.quote = q.id AND l.kind = 'add_on'
	LEFT JOIN (SELECT quote, min(unit) AS unit FROM reservations WHERE until >= ?1 GROUP BY quote) AS held ON held.quote = q.id
	WHERE q.handed_over IS NULL AND (q.valid_until >= ?1 OR q.accepted IS NOT NULL OR held.unit IS NOT NULL)
	GROUP BY q.id, l.code ORDER BY q.year, q.number, l.code`

// Promises returns what quotes promise of the store room on a day, quote by
// quote in the order of their numbers.
func (s *Store) Promises(ctx context.Context, day measure.Date) ([]quote.Promise, error) {
	var list []quote.Promise
	err := s.view(ctx, "list what is promised", func(tx *sql.Tx) error {
		rows, err := tx.QueryContext(ctx, selectPromises, dateColumn{&day})
		if err != nil {
			return err
		}
		return eachRow(rows, func(scan func(...any) error) error {
			var p quote.Promise
			var named quote.Quote
			var code string
			var n int
			if err := scan(&p.Quote, &named.Year, &named.Number, &p.Consultation, &p.Firm, &p.Unit, &code, &n); err != nil {
				return err
			}
			p.QuoteName = named.Name()
			if last := len(list) - 1; last < 0 || list[last].Quote != p.Quote {
				p.AddOns = map[string]int{}
				list = append(list, p)
			}
			list[len(list)-1].AddOns[code] += n
			return nil
		})
	})
	return list, err
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
		tags, err := releaseAll(ctx, tx, &q, measure.DateOf(by.At))
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
		now, err = retell(ctx, tx, old, quote.HandOver(old.catalogue, &q, tags), by)
		return err
	})
	if err == nil && now != nil {
		s.catalogue.Store(now)
	}
	return err
}

// releaseAll ends what holds bikes for a quote, and returns the tags of those
// that go with it: the very bike that it is for, else those that were held.
func releaseAll(ctx context.Context, tx *sql.Tx, q *quote.Quote, day measure.Date) ([]string, error) {
	all, err := reservations(ctx, tx)
	if err != nil {
		return nil, err
	}
	var tags []string
	for _, r := range all {
		switch {
		case r.Quote == q.ID:
			tags = append(tags, r.Unit)
			if err := moveUnitFrom(ctx, tx, r.Unit, quote.Reserved, quote.Available); err != nil {
				return nil, err
			}
		case r.Unit == q.Unit && r.Holds(day):
			return nil, &Error{Code: Conflict, Text: fmt.Sprintf("the bike %q is held for somebody else", q.Unit)}
		}
	}
	if q.Unit != "" {
		tags = []string{q.Unit}
	}
	_, err = tx.ExecContext(ctx, `DELETE FROM reservations WHERE quote = ?`, q.ID)
	return tags, err
}
