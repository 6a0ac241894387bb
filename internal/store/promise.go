package store

import (
	"context"
	"database/sql"

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
