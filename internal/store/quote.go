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

	"kinwain/internal/catalog"
	"kinwain/internal/measure"
	"kinwain/internal/quote"
)

const quoteColumns = `id, year, number, consultation, customer, shop, currency, frame, frame_name, frame_kind, passengers, created, valid_until,
	labour_cents_per_hour, subtotal_cents, tax_included, tax_share, net_cents, tax_cents, total_cents, deposit_share, deposit_cents, accepted, language, spare, outlook, unit, handed_over`

// quoteFields names the fields behind quoteColumns.
func quoteFields(q *quote.Quote) []any {
	return []any{&q.ID, &q.Year, &q.Number, &q.Consultation, &q.Customer, &q.Shop, &q.Currency, &q.Frame, &q.FrameName, &q.FrameKind, &q.Passengers,
		timeColumn{&q.Created}, dateColumn{&q.ValidUntil}, &q.LabourPerHour, &q.Subtotal, &q.TaxIncluded, &q.TaxRate, &q.Net, &q.Tax, &q.Total,
		&q.DepositShare, &q.Deposit, maybeTime{&q.Accepted}, &q.Language, &q.Spare, lines{&q.Outlook}, &q.Unit, maybeTime{&q.HandedOver}}
}

const lineColumns = `kind, code, name, note, quantity, minutes, each_cents, amount_cents`

// lineFields names the fields behind lineColumns.
func lineFields(l *quote.Line) []any {
	return []any{&l.Kind, &l.Code, &l.Name, &l.Note, &l.Quantity, &l.Minutes, &l.Each, &l.Amount}
}

// CreateQuote stores an offer as it stands, under its ID, which nobody can
// guess and which is drawn where it has none, and the next number of the year in which it was created by the shop's
// calendar. It returns the quote as stored: the earlier one where the
// consultation has one of that ID already. The error is an *Error with the
// code Conflict where there is no such consultation.
func (s *Store) CreateQuote(ctx context.Context, q quote.Quote, now time.Time) (quote.Quote, error) {
	q.ID, q.Year, q.Created = cmp.Or(q.ID, strings.ToLower(rand.Text())), now.Year(), toMillisecond(now)
	err := s.change(ctx, "create a quote", func(tx *sql.Tx) error {
		made, err := readQuote(ctx, tx, q.ID)
		if CodeOf(err) != NotFound {
			q = made
			return err
		}
		err = tx.QueryRowContext(ctx, `SELECT coalesce(max(number), 0) + 1 FROM quotes WHERE year = ?`, q.Year).Scan(&q.Number)
		if err != nil {
			return err
		}
		if err := insert(ctx, tx, "quotes", quoteColumns, quoteFields(&q)); err != nil {
			return err
		}
		for i := range q.Lines {
			if err := insert(ctx, tx, "quote_lines", "quote, position, "+lineColumns, append([]any{q.ID, i}, lineFields(&q.Lines[i])...)); err != nil {
				return err
			}
		}
		for i, text := range q.Warnings {
			if err := insert(ctx, tx, "quote_warnings", "quote, position, text", []any{q.ID, i, text}); err != nil {
				return err
			}
		}
		return nil
	})
	return q, err
}

// Quote returns the quote of an ID as it was made. The error is an *Error with
// the code NotFound where there is none.
func (s *Store) Quote(ctx context.Context, id string) (quote.Quote, error) {
	var q quote.Quote
	err := s.view(ctx, fmt.Sprintf("read the quote %q", id), func(tx *sql.Tx) error {
		var err error
		q, err = readQuote(ctx, tx, id)
		return err
	})
	return q, err
}

func readQuote(ctx context.Context, tx *sql.Tx, id string) (quote.Quote, error) {
	var q quote.Quote
	err := tx.QueryRowContext(ctx, `SELECT `+quoteColumns+` FROM quotes WHERE id = ?`, id).Scan(quoteFields(&q)...)
	if errors.Is(err, sql.ErrNoRows) {
		return q, &Error{Code: NotFound, Text: fmt.Sprintf("there is no quote %q", id)}
	}
	if err != nil {
		return q, err
	}
	q.Lines, err = quoteLines(ctx, tx, id)
	if err != nil {
		return q, err
	}
	rows, err := tx.QueryContext(ctx, `SELECT text FROM quote_warnings WHERE quote = ? ORDER BY position`, id)
	if err != nil {
		return q, err
	}
	return q, eachRow(rows, func(scan func(...any) error) error {
		var text string
		err := scan(&text)
		q.Warnings = append(q.Warnings, text)
		return err
	})
}

func quoteLines(ctx context.Context, tx *sql.Tx, id string) ([]quote.Line, error) {
	rows, err := tx.QueryContext(ctx, `SELECT `+lineColumns+` FROM quote_lines WHERE quote = ? ORDER BY position`, id)
	if err != nil {
		return nil, err
	}
	var lines []quote.Line
	err = eachRow(rows, func(scan func(...any) error) error {
		var l quote.Line
		err := scan(lineFields(&l)...)
		lines = append(lines, l)
		return err
	})
	return lines, err
}

// Quotes returns the quotes of a consultation without their lines, the newest
// first.
func (s *Store) Quotes(ctx context.Context, consultation string) ([]quote.Quote, error) {
	var quotes []quote.Quote
	err := s.view(ctx, "list the quotes", func(tx *sql.Tx) error {
		rows, err := tx.QueryContext(ctx, `SELECT `+quoteColumns+` FROM quotes WHERE consultation = ? ORDER BY year DESC, number DESC`, consultation)
		if err != nil {
			return err
		}
		return eachRow(rows, func(scan func(...any) error) error {
			var q quote.Quote
			err := scan(quoteFields(&q)...)
			quotes = append(quotes, q)
			return err
		})
	})
	return quotes, err
}

// Reservations returns the reservations that were not cancelled, those whose
// last day is over included; at most one for a unit.
func (s *Store) Reservations(ctx context.Context) ([]quote.Reservation, error) {
	var list []quote.Reservation
	err := s.view(ctx, "list the reservations", func(tx *sql.Tx) error {
		var err error
		list, err = reservations(ctx, tx)
		return err
	})
	return list, err
}

func reservations(ctx context.Context, tx *sql.Tx) ([]quote.Reservation, error) {
	var list []quote.Reservation
	err := each(ctx, tx, `SELECT r.unit, r.quote, q.year, q.number, q.consultation, r.until
		FROM reservations AS r JOIN quotes AS q ON q.id = r.quote ORDER BY r.unit`, func(scan func(...any) error) error {
		var r quote.Reservation
		var named quote.Quote
		err := scan(&r.Unit, &r.Quote, &named.Year, &named.Number, &r.Consultation, dateColumn{&r.Until})
		r.QuoteName = named.Name()
		list = append(list, r)
		return err
	})
	return list, err
}

// Reserve holds a unit for a quote until the end of a day and marks it
// reserved, unless it is still to come. Of two who try at once exactly one succeeds. Now is in the shop's
// own time zone. The error is an *Error with the code NotFound where there is
// no such quote or unit, and Conflict where the unit cannot be held.
func (s *Store) Reserve(ctx context.Context, tag, id string, until measure.Date, now time.Time) error {
	return s.change(ctx, fmt.Sprintf("reserve the unit %q", tag), func(tx *sql.Tx) error {
		u, err := standing(ctx, tx, tag, measure.DateOf(now))
		switch {
		case err != nil:
			return err
		case !quote.MayHold(u.status, u.held.Unit != ""):
			return &Error{Code: Conflict, Text: fmt.Sprintf("the unit %q is not available", tag)}
		}
		q, err := readQuote(ctx, tx, id)
		if err != nil {
			return err
		}
		if q.Frame != u.frame {
			return &Error{Code: Conflict, Text: fmt.Sprintf("the unit %q is another frame than the quote's", tag)}
		}
		if err := hold(ctx, tx, tag, id, until, now); err != nil {
			return err
		}
		if u.status == catalog.Ordered {
			return nil
		}
		return moveUnit(ctx, tx, tag, quote.Reserved)
	})
}

// hold writes a reservation in place of one whose last day is over.
func hold(ctx context.Context, tx *sql.Tx, tag, id string, until measure.Date, now time.Time) error {
	_, err := tx.ExecContext(ctx, `INSERT INTO reservations (unit, quote, until, created) VALUES (?, ?, ?, ?)
		ON CONFLICT (unit) DO UPDATE SET quote = excluded.quote, until = excluded.until, created = excluded.created`,
		tag, id, dateColumn{&until}, now.UnixMilli())
	return err
}

// Release ends the reservation that holds a unit for a quote and makes the
// unit available, unless it is out or sold. The error is an *Error with the
// code NotFound where the quote holds no such unit.
func (s *Store) Release(ctx context.Context, tag, id string) error {
	return s.change(ctx, fmt.Sprintf("release the unit %q", tag), func(tx *sql.Tx) error {
		gone, err := tx.ExecContext(ctx, `DELETE FROM reservations WHERE unit = ? AND quote = ?`, tag, id)
		if err != nil {
			return err
		}
		if n, err := gone.RowsAffected(); err != nil || n == 0 {
			return errors.Join(err, &Error{Code: NotFound, Text: fmt.Sprintf("the quote does not hold the unit %q", tag)})
		}
		return moveUnitFrom(ctx, tx, tag, quote.Reserved, quote.Available)
	})
}
