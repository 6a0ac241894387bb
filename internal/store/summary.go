package store

import (
	"cmp"
	"context"
	"database/sql"
	"encoding/base32"
	"encoding/json"
	"fmt"
	"time"
)

// FitSummary is what one customer took home of one frame.
type FitSummary struct {
	ID           int64
	Consultation string
	Frame        string    // its code
	Document     []byte    // what was judged; only the pages read it
	Answer       []byte    // what was told of it; nil in lists, and where a program before kept none
	Token        string    // of its link, where it is chosen before it is issued
	Created      time.Time // UTC, to the millisecond
	Expires      time.Time // UTC, to the millisecond
	Opened       int       // count of looks by its link, as far as they were added
}

const (
	revokeOlder = `UPDATE fit_summaries SET revoked = ? WHERE consultation = ? AND frame = ? AND revoked IS NULL`
	insertFit   = `INSERT INTO fit_summaries (token_hash, consultation, frame, document, answer, created, expires) VALUES (?, ?, ?, ?, ?, ?, ?)`
	issuedFit   = `SELECT EXISTS (SELECT 1 FROM fit_summaries WHERE token_hash = ?)`
	deleteStale = `DELETE FROM fit_summaries WHERE expires <= ?`
	selectFit   = `SELECT id, consultation, frame, document, answer, created, expires, opened FROM fit_summaries
		WHERE token_hash = ? AND revoked IS NULL AND expires > ?`
	selectLive = `SELECT id, consultation, frame, document, NULL, created, expires, opened FROM fit_summaries
		WHERE consultation = ? AND revoked IS NULL AND expires > ? ORDER BY created DESC, id DESC`
	revokeFit  = `UPDATE fit_summaries SET revoked = ? WHERE id = ? AND consultation = ? AND revoked IS NULL AND expires > ?`
	addOpened  = `UPDATE fit_summaries SET opened = opened + ? WHERE token_hash = ?`
	selectSent = `SELECT consultation, count(*), sum(opened) FROM fit_summaries
		WHERE consultation IN (SELECT value FROM json_each(?)) AND revoked IS NULL AND expires > ? GROUP BY consultation`
)

// tokenBytes is the length of a secret: 160 bits.
const tokenBytes = 20

var tokenText = base32.StdEncoding.WithPadding(base32.NoPadding)

// IssueFitSummary stores a summary and returns the token of its link, which is
// kept nowhere. An older link of the same consultation and frame is void from
// now on, and summaries that have expired are forgotten. A token that was
// chosen and issued before is returned once more, and nothing is stored. The
// error is an
// *Error with the code Conflict where there is no such consultation.
func (s *Store) IssueFitSummary(ctx context.Context, f FitSummary) (token string, err error) {
	token = cmp.Or(f.Token, newToken())
	err = s.change(ctx, "issue a fit summary", func(tx *sql.Tx) error {
		created := f.Created.UnixMilli()
		var issued bool
		if err := tx.QueryRowContext(ctx, issuedFit, hash(token)).Scan(&issued); err != nil || issued {
			return err
		}
		for _, step := range [...]struct {
			query string
			args  []any
		}{
			{deleteStale, []any{created}},
			{revokeOlder, []any{created, f.Consultation, f.Frame}},
			{insertFit, []any{hash(token), f.Consultation, f.Frame, stored(f.Document), f.Answer, created, f.Expires.UnixMilli()}},
		} {
			if _, err := tx.ExecContext(ctx, step.query, step.args...); err != nil {
				return err
			}
		}
		return nil
	})
	if err != nil {
		return "", err
	}
	return token, nil
}

// FitSummary returns the summary of a link. The error is an *Error with the
// code NotFound, the same whether the token was never issued, has expired or
// was revoked.
func (s *Store) FitSummary(ctx context.Context, token string, now time.Time) (FitSummary, error) {
	f, err := scanFit(s.readers.QueryRowContext(ctx, selectFit, hash(token), now.UnixMilli()).Scan)
	if err != nil {
		return FitSummary{}, fault(s.dir, "read a fit summary", notFound("of this link", err))
	}
	return f, nil
}

// FitSummaries returns the summaries of a consultation whose links can be
// opened, the newest first.
func (s *Store) FitSummaries(ctx context.Context, consultation string, now time.Time) ([]FitSummary, error) {
	live := []FitSummary{}
	err := s.view(ctx, fmt.Sprintf("list the fit summaries of %q", consultation), func(tx *sql.Tx) error {
		rows, err := tx.QueryContext(ctx, selectLive, consultation, now.UnixMilli())
		if err != nil {
			return err
		}
		return eachRow(rows, func(scan func(...any) error) error {
			f, err := scanFit(scan)
			live = append(live, f)
			return err
		})
	})
	if err != nil {
		return nil, err
	}
	return live, nil
}

// RevokeFitSummary makes the link of a summary void. The error is an *Error
// with the code NotFound where the consultation has no such live link.
func (s *Store) RevokeFitSummary(ctx context.Context, consultation string, id int64, now time.Time) error {
	return s.change(ctx, "revoke a fit summary", func(tx *sql.Tx) error {
		result, err := tx.ExecContext(ctx, revokeFit, now.UnixMilli(), id, consultation, now.UnixMilli())
		if err != nil {
			return err
		}
		if n, err := result.RowsAffected(); err != nil || n > 0 {
			return err
		}
		return &Error{Code: NotFound, Text: fmt.Sprintf("the consultation %q has no live link %d", consultation, id)}
	})
}

// AddOpenings adds to how often summaries were opened, by the tokens of their
// links. Of a summary that is forgotten by now nothing is kept.
func (s *Store) AddOpenings(ctx context.Context, opened map[string]int) error {
	return s.change(ctx, "add how often fit summaries were opened", func(tx *sql.Tx) error {
		for token, n := range opened {
			if _, err := tx.ExecContext(ctx, addOpened, n, hash(token)); err != nil {
				return err
			}
		}
		return nil
	})
}

// Sent is how many links of a consultation open a summary, and how often they
// all were opened.
type Sent struct{ Links, Opened int }

// Sent returns what was sent home of consultations, by their IDs. One of which
// no link opens is left out.
func (s *Store) Sent(ctx context.Context, consultations []string, now time.Time) (map[string]Sent, error) {
	ids, err := json.Marshal(append([]string{}, consultations...))
	if err != nil {
		return nil, err
	}
	sent := map[string]Sent{}
	err = s.view(ctx, "count what was sent home", func(tx *sql.Tx) error {
		rows, err := tx.QueryContext(ctx, selectSent, string(ids), now.UnixMilli())
		if err != nil {
			return err
		}
		return eachRow(rows, func(scan func(...any) error) error {
			var id string
			var of Sent
			err := scan(&id, &of.Links, &of.Opened)
			sent[id] = of
			return err
		})
	})
	return sent, err
}

func scanFit(scan func(...any) error) (FitSummary, error) {
	var f FitSummary
	var created, expires int64
	err := scan(&f.ID, &f.Consultation, &f.Frame, &f.Document, &f.Answer, &created, &expires, &f.Opened)
	f.Document = stored(f.Document)
	f.Created, f.Expires = time.UnixMilli(created).UTC(), time.UnixMilli(expires).UTC()
	return f, err
}
