package store

import (
	"context"
	"database/sql"
	"encoding/json"
	"errors"
	"time"

	"kinwain/internal/catalog"
)

// Judging is one consultation, or one fit summary, quote or ride of it, that is
// held against what it was told.
type Judging struct {
	ID           int64
	Consultation string
	Summary      int64  // its ID; 0: something else
	Quote        string // its ID; empty: something else
	Ride         string // its ID; empty: something else
	Base         int64  // by what it was told, as far as somebody has seen
	Round        int64  // another with every change
}

// OpenDays is how long after it was last saved a consultation is open.
const OpenDays = 60

// Who was told what the shop says: open consultations of every frame, fit
// summaries that can be opened, quotes that stand, were accepted lately or hold
// a bike, and rides to come.
const (
	within    = ` IN (SELECT value FROM json_each(:frames))`
	ofUnits   = ` IN (SELECT value FROM json_each(:units))`
	ofRidden  = ` IN (SELECT value FROM json_each(:ridden))`
	held      = `(SELECT quote FROM reservations WHERE until >= :day)`
	heldUnits = `(SELECT quote FROM reservations WHERE until >= :day AND unit` + ofUnits + `)`

	openAnswers   = `FROM consultations AS t WHERE t.erased IS NULL AND t.updated >= :open AND json_array_length(:frames) > 0`
	liveSummaries = `FROM fit_summaries AS t WHERE t.revoked IS NULL AND t.expires > :now AND t.frame` + within
	liveQuotes    = `FROM quotes AS t WHERE (t.valid_until >= :day OR t.accepted >= :open OR t.id IN ` + held + `)
		AND (t.frame` + within + ` OR t.unit` + ofUnits + ` AND t.handed_over IS NULL OR t.id IN ` + heldUnits + `)
		AND EXISTS (SELECT 1 FROM consultations AS c WHERE c.id = t.consultation AND c.erased IS NULL)`
	liveRides = `FROM rides AS t WHERE (t.status = 'out' OR t.status = 'booked' AND t.ends > :now)
		AND (t.frame` + within + ` OR t.unit` + ofRidden + `)`
	heldBikes = `FROM reservations AS t WHERE t.until >= :day
		AND (t.unit` + ofUnits + ` OR t.quote IN (SELECT id FROM quotes WHERE frame` + within + `))`
)

const (
	insertTold = `INSERT INTO told (things, retired, settings, texts) VALUES (x'', 'null', 'null', 'null')`
	keepsTold  = `SELECT EXISTS (SELECT 1 FROM judgings WHERE base = :told OR since = :told)`
	pruneTold  = `DELETE FROM told WHERE id NOT IN (SELECT base FROM judgings) AND id NOT IN (SELECT since FROM judgings WHERE since IS NOT NULL)`
	beginCount = `UPDATE shop_state SET judged = 0 WHERE NOT EXISTS (SELECT 1 FROM judgings WHERE since IS NOT NULL)`

	// What is judged already from a change that nobody has seen is judged again
	// from there.
	againAnswers = `UPDATE judgings SET since = coalesce(since, :told), round = round + 1 WHERE CASE
		WHEN summary IS NOT NULL THEN summary IN (SELECT id FROM fit_summaries WHERE frame` + within + `)
		WHEN quote IS NOT NULL THEN quote IN (SELECT id FROM quotes WHERE frame` + within + ` OR unit` + ofUnits + ` UNION SELECT quote FROM reservations WHERE unit` + ofUnits + `)
		WHEN ride IS NOT NULL THEN ride IN (SELECT id FROM rides WHERE frame` + within + ` OR unit` + ofRidden + `)
		ELSE json_array_length(:frames) > 0 END`
)

// begins queue who was told of frames and units and is judged of nothing yet.
var begins = [...]string{
	`INSERT INTO judgings (consultation, base, since, round) SELECT t.id, :told, :told, 1 ` + openAnswers + `
		AND NOT EXISTS (SELECT 1 FROM judgings AS j WHERE j.consultation = t.id AND j.summary IS NULL AND j.quote IS NULL AND j.ride IS NULL)`,
	`INSERT INTO judgings (consultation, summary, base, since, round) SELECT t.consultation, t.id, :told, :told, 1 ` + liveSummaries + `
		AND NOT EXISTS (SELECT 1 FROM judgings WHERE summary = t.id)`,
	`INSERT INTO judgings (consultation, quote, base, since, round) SELECT t.consultation, t.id, :told, :told, 1 ` + liveQuotes + `
		AND NOT EXISTS (SELECT 1 FROM judgings WHERE quote = t.id)`,
	`INSERT INTO judgings (consultation, ride, base, since, round) SELECT t.consultation, t.id, :told, :told, 1 ` + liveRides + `
		AND NOT EXISTS (SELECT 1 FROM judgings WHERE ride = t.id)`,
}

// queue notes, within the transaction of a change, whom it may concern, and
// what they were told before. Of a frame that comes new nobody was told: only
// who has been marked for its going is judged again.
func queue(ctx context.Context, tx *sql.Tx, before *Told, touch catalog.Touch, at time.Time) error {
	if touch.Nothing() {
		return nil
	}
	if _, err := tx.ExecContext(ctx, beginCount); err != nil {
		return err
	}
	done, err := tx.ExecContext(ctx, insertTold)
	if err != nil {
		return err
	}
	told, err := done.LastInsertId()
	if err != nil {
		return err
	}
	if err := scoped(ctx, tx, touch, at, told, againAnswers); err != nil {
		return err
	}
	if err := scoped(ctx, tx, before.Of(touch), at, told, begins[:]...); err != nil {
		return err
	}
	var kept bool
	if err := tx.QueryRowContext(ctx, keepsTold, sql.Named("told", told)).Scan(&kept); err != nil {
		return err
	}
	if !kept {
		_, err := tx.ExecContext(ctx, pruneTold)
		return err
	}
	return before.keep(ctx, tx, told)
}

// scoped runs statements about who was told of something by a time in the
// shop's own time zone.
func scoped(ctx context.Context, tx *sql.Tx, touch catalog.Touch, at time.Time, told int64, statements ...string) error {
	args, err := scope(touch, at)
	if err != nil {
		return err
	}
	for _, statement := range statements {
		if _, err := tx.ExecContext(ctx, statement, append(args, sql.Named("told", told))...); err != nil {
			return err
		}
	}
	return nil
}

func scope(touch catalog.Touch, at time.Time) ([]any, error) {
	frames, err := json.Marshal(append([]string{}, touch.Frames...))
	if err != nil {
		return nil, err
	}
	units, err := json.Marshal(append([]string{}, touch.Units...))
	if err != nil {
		return nil, err
	}
	ridden, err := json.Marshal(append([]string{}, touch.Ridden...))
	return []any{
		sql.Named("frames", string(frames)), sql.Named("units", string(units)), sql.Named("ridden", string(ridden)), sql.Named("now", at.UnixMilli()),
		sql.Named("open", at.AddDate(0, 0, -OpenDays).UnixMilli()), sql.Named("day", at.Format(time.DateOnly)),
	}, err
}

// Reach counts whom a change may concern at the most.
type Reach struct{ Consultations, Summaries, Quotes, Held, Rides int }

// Nobody reports whether it can concern nobody.
func (r Reach) Nobody() bool { return r == Reach{} }

// Reach counts who was told of frames and units. Now is in the shop's own time
// zone.
func (s *Store) Reach(ctx context.Context, touch catalog.Touch, now time.Time) (Reach, error) {
	var r Reach
	args, err := scope(touch, now)
	if err != nil {
		return r, err
	}
	err = s.view(ctx, "count whom a change may concern", func(tx *sql.Tx) error {
		for from, into := range map[string]*int{openAnswers: &r.Consultations, liveSummaries: &r.Summaries, liveQuotes: &r.Quotes, heldBikes: &r.Held, liveRides: &r.Rides} {
			if err := tx.QueryRowContext(ctx, `SELECT count(*) `+from, args...).Scan(into); err != nil {
				return err
			}
		}
		return nil
	})
	return r, err
}

const (
	selectPending = `SELECT id, consultation, coalesce(summary, 0), coalesce(quote, ''), coalesce(ride, ''), base, round FROM judgings
		WHERE since IS NOT NULL`
	finishJudging = `UPDATE judgings SET since = NULL WHERE id = ? AND round = ? AND since IS NOT NULL`
	countJudged   = `UPDATE shop_state SET judged = judged + 1`
	endJudging    = `DELETE FROM judgings WHERE id = ?1 AND NOT EXISTS (SELECT 1 FROM marks WHERE judging = ?1)`
)

func scanJudging(scan func(...any) error) (Judging, error) {
	var j Judging
	err := scan(&j.ID, &j.Consultation, &j.Summary, &j.Quote, &j.Ride, &j.Base, &j.Round)
	return j, err
}

// NextJudging returns what is to be judged next: what was told the same comes
// one after the other. The error is an *Error with the code NotFound where all
// is judged.
func (s *Store) NextJudging(ctx context.Context) (Judging, error) {
	j, err := scanJudging(s.readers.QueryRowContext(ctx, selectPending+` ORDER BY base, id LIMIT 1`).Scan)
	if errors.Is(err, sql.ErrNoRows) {
		err = &Error{Code: NotFound, Text: "nothing is to be judged"}
	}
	return j, fault(s.dir, "see what is to be judged", err)
}

// PendingJudgings returns what is to be judged of a consultation, or of all
// where it is empty.
func (s *Store) PendingJudgings(ctx context.Context, consultation string) ([]Judging, error) {
	pending := []Judging{}
	err := s.list(ctx, "list what is to be judged", selectPending+` AND (consultation = ? OR ? = '') ORDER BY id`, func(scan func(...any) error) error {
		j, err := scanJudging(scan)
		pending = append(pending, j)
		return err
	}, consultation, consultation)
	return pending, err
}

// Progress says how far judging is since there was last nothing to judge.
type Progress struct{ Judged, Of int }

// Pending reports whether something is still to be judged.
func (p Progress) Pending() bool { return p.Judged < p.Of }

// Progress returns how far judging is.
func (s *Store) Progress(ctx context.Context) (Progress, error) {
	var p Progress
	err := s.readers.QueryRowContext(ctx, `SELECT judged, judged + (SELECT count(*) FROM judgings WHERE since IS NOT NULL) FROM shop_state`).Scan(&p.Judged, &p.Of)
	return p, fault(s.dir, "see how far judging is", err)
}

// FinishJudging keeps the marks that came of a judging in place of those that
// it had, and reports whether it did: where something was changed since the
// judging was read they do not count, and it is to be judged again. What has no
// mark is as it was told.
func (s *Store) FinishJudging(ctx context.Context, j Judging, marks []Mark) (kept bool, err error) {
	err = s.change(ctx, "keep what was judged", func(tx *sql.Tx) error {
		done, err := tx.ExecContext(ctx, finishJudging, j.ID, j.Round)
		if err != nil {
			return err
		}
		if n, err := done.RowsAffected(); err != nil || n == 0 {
			return err
		}
		kept = true
		if err := replaceMarks(ctx, tx, j, marks); err != nil {
			return err
		}
		if _, err := tx.ExecContext(ctx, endJudging, j.ID); err != nil {
			return err
		}
		if _, err := tx.ExecContext(ctx, countJudged); err != nil {
			return err
		}
		_, err = tx.ExecContext(ctx, pruneTold)
		return err
	})
	return kept && err == nil, err
}
