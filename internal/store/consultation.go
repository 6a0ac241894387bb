package store

import (
	"cmp"
	"context"
	"crypto/rand"
	"database/sql"
	"encoding/json"
	"errors"
	"fmt"
	"strings"
	"time"
)

// Consultation is one customer's talk with the shop, as far as it has come.
type Consultation struct {
	ID       string    // random, of at least 128 bits: who has it may read the consultation
	Customer string    // how staff tell one customer from the other
	Answers  []byte    // the form as typed, a document that only the pages read
	Version  int       // count of times it was saved
	Created  time.Time // UTC, to the millisecond
	Updated  time.Time // UTC, to the millisecond
}

const (
	insertConsultation = `INSERT INTO consultations (id, customer, answers, version, created, updated) VALUES (?, ?, ?, ?, ?, ?)`
	updateConsultation = `UPDATE consultations SET customer = ?, answers = ?, version = version + 1, updated = ? WHERE id = ? AND version = ? AND erased IS NULL
		RETURNING id, customer, answers, version, created, updated`
	selectConsultation = `SELECT id, customer, answers, version, created, updated FROM consultations WHERE id = ? AND erased IS NULL`
	selectRecent       = `SELECT id, customer, answers, version, created, updated FROM consultations
		WHERE erased IS NULL ORDER BY updated DESC, rowid DESC LIMIT ?`
)

// CreateConsultation stores a new consultation under an ID that nobody can
// guess; it draws one where that is empty. Where a consultation of the ID is
// stored already, as by a button that was pressed twice, it returns that one.
func (s *Store) CreateConsultation(ctx context.Context, id, customer string, answers []byte, now time.Time) (Consultation, error) {
	c := Consultation{
		ID: cmp.Or(id, strings.ToLower(rand.Text())), Customer: customer, Answers: stored(answers), Version: 1,
		Created: toMillisecond(now), Updated: toMillisecond(now),
	}
	err := s.change(ctx, "create a consultation", func(tx *sql.Tx) error {
		there, err := scanConsultation(tx.QueryRowContext(ctx, selectConsultation, c.ID).Scan)
		if !errors.Is(err, sql.ErrNoRows) {
			c = there
			return err
		}
		_, err = tx.ExecContext(ctx, insertConsultation,
			c.ID, c.Customer, c.Answers, c.Version, c.Created.UnixMilli(), c.Updated.UnixMilli())
		return err
	})
	if err != nil {
		return Consultation{}, err
	}
	return c, nil
}

// Consultation returns the consultation of an ID. The error is an *Error with
// the code NotFound where there is none.
func (s *Store) Consultation(ctx context.Context, id string) (Consultation, error) {
	c, err := scanConsultation(s.prepared.consultation.QueryRowContext(ctx, id).Scan)
	if err != nil {
		return Consultation{}, fault(s.dir, fmt.Sprintf("read the consultation %q", id), notFound(id, err))
	}
	return c, nil
}

// SaveConsultation replaces the customer and the answers of a consultation,
// as far as they were saved in a version, and raises that by one. The error is
// an *Error with the code NotFound where there is no such consultation, and
// Conflict where it has another version by now.
func (s *Store) SaveConsultation(ctx context.Context, id string, version int, customer string, answers []byte, now time.Time) (Consultation, error) {
	var c Consultation
	err := s.change(ctx, fmt.Sprintf("save the consultation %q", id), func(tx *sql.Tx) error {
		row := tx.StmtContext(ctx, s.prepared.saveConsultation).
			QueryRowContext(ctx, customer, stored(answers), now.UnixMilli(), id, version)
		var err error
		if c, err = scanConsultation(row.Scan); !errors.Is(err, sql.ErrNoRows) {
			return err
		}
		if _, err = scanConsultation(tx.QueryRowContext(ctx, selectConsultation, id).Scan); err != nil {
			return notFound(id, err)
		}
		return &Error{Code: Conflict, Text: fmt.Sprintf("the consultation %q was saved since version %d", id, version)}
	})
	if err != nil {
		return Consultation{}, err
	}
	return c, nil
}

// RecentConsultations returns at most limit consultations, the one that was
// saved last first.
func (s *Store) RecentConsultations(ctx context.Context, limit int) ([]Consultation, error) {
	// To SQLite a negative limit is none at all.
	rows, err := s.prepared.recent.QueryContext(ctx, max(limit, 0))
	if err != nil {
		return nil, fault(s.dir, "list the consultations", err)
	}
	recent := []Consultation{}
	err = eachRow(rows, func(scan func(...any) error) error {
		c, err := scanConsultation(scan)
		recent = append(recent, c)
		return err
	})
	if err != nil {
		return nil, fault(s.dir, "list the consultations", err)
	}
	return recent, nil
}

// Sought is what a consultation is looked for by: any one of what is given.
type Sought struct {
	ID          string    // what its ID begins with
	Name        string    // a part of the customer’s name, whatever its case
	From, Until time.Time // when it was begun or last saved; until is not within
	Frames      []string  // codes of what was sent home, quoted or ridden
}

const selectSought = `SELECT id, customer, answers, version, created, updated FROM consultations
	WHERE erased IS NULL AND (?1 <> '' AND substr(id, 1, length(?1)) = ?1
		OR ?2 <> '' AND instr(lower(customer), lower(?2)) > 0
		OR created >= ?3 AND created < ?4 OR updated >= ?3 AND updated < ?4
		OR id IN (SELECT consultation FROM fit_summaries WHERE frame IN (SELECT value FROM json_each(?5))
			UNION SELECT consultation FROM quotes WHERE frame IN (SELECT value FROM json_each(?5))
			UNION SELECT consultation FROM rides WHERE frame IN (SELECT value FROM json_each(?5))))
	ORDER BY updated DESC, rowid DESC LIMIT ?6`

// FindConsultations returns at most limit consultations that were looked for,
// the one that was saved last first.
func (s *Store) FindConsultations(ctx context.Context, of Sought, limit int) ([]Consultation, error) {
	frames, err := json.Marshal(append([]string{}, of.Frames...))
	if err != nil {
		return nil, err
	}
	found := []Consultation{}
	err = s.view(ctx, "look for consultations", func(tx *sql.Tx) error {
		rows, err := tx.QueryContext(ctx, selectSought, of.ID, of.Name, of.From.UnixMilli(), of.Until.UnixMilli(), string(frames), max(limit, 0))
		if err != nil {
			return err
		}
		return eachRow(rows, func(scan func(...any) error) error {
			c, err := scanConsultation(scan)
			found = append(found, c)
			return err
		})
	})
	return found, err
}

func scanConsultation(scan func(...any) error) (Consultation, error) {
	var c Consultation
	var created, updated int64
	err := scan(&c.ID, &c.Customer, &c.Answers, &c.Version, &created, &updated)
	c.Answers = stored(c.Answers)
	c.Created, c.Updated = time.UnixMilli(created).UTC(), time.UnixMilli(updated).UTC()
	return c, err
}

func notFound(id string, err error) error {
	if errors.Is(err, sql.ErrNoRows) {
		return &Error{Code: NotFound, Text: fmt.Sprintf("there is no consultation %q", id)}
	}
	return err
}

// stored returns bytes as a column holds them: none are empty, not NULL.
func stored(b []byte) []byte {
	if b == nil {
		return []byte{}
	}
	return b
}

func toMillisecond(t time.Time) time.Time { return time.UnixMilli(t.UnixMilli()).UTC() }
