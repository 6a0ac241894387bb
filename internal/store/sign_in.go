package store

import (
	"context"
	"crypto/rand"
	"database/sql"
	"errors"
	"time"

	"kinwain/internal/staff"
)

// SignIn is one time that somebody proved to be a person of the staff, or
// failed to.
type SignIn struct {
	At      time.Time // UTC, to the millisecond
	Address string    // where it came from
	How     string    // with what: passphrase, PIN, link
	LetIn   bool      // false: it was wrong
}

// mostSignIns bounds what is kept of a person, of those that were right and of
// those that were not.
const mostSignIns = 10

// NoteSignIn keeps when and from where somebody signed in as a person, or
// failed to.
func (s *Store) NoteSignIn(ctx context.Context, person int64, i SignIn) error {
	return s.change(ctx, "note a sign-in", func(tx *sql.Tx) error {
		if _, err := tx.ExecContext(ctx, `INSERT INTO sign_ins (person, at, address, how, let_in) VALUES (?, ?, ?, ?, ?)`, person, i.At.UnixMilli(), i.Address, i.How, i.LetIn); err != nil {
			return err
		}
		_, err := tx.ExecContext(ctx, `DELETE FROM sign_ins WHERE person = ?1 AND let_in = ?2 AND id NOT IN
			(SELECT id FROM sign_ins WHERE person = ?1 AND let_in = ?2 ORDER BY id DESC LIMIT ?3)`, person, i.LetIn, mostSignIns)
		return err
	})
}

// SignIns returns the last sign-ins of a person and those that failed, the
// newest first.
func (s *Store) SignIns(ctx context.Context, person int64) ([]SignIn, error) {
	list := []SignIn{}
	err := s.view(ctx, "list the sign-ins", func(tx *sql.Tx) error {
		rows, err := tx.QueryContext(ctx, `SELECT at, address, how, let_in FROM sign_ins WHERE person = ? ORDER BY id DESC`, person)
		if err != nil {
			return err
		}
		return eachRow(rows, func(scan func(...any) error) error {
			var i SignIn
			var at int64
			err := scan(&at, &i.Address, &i.How, &i.LetIn)
			i.At = time.UnixMilli(at).UTC()
			list = append(list, i)
			return err
		})
	})
	return list, err
}

// TryWait returns how long to wait before a try, without keeping anybody who
// writes.
func (s *Store) TryWait(ctx context.Context, now time.Time, keys ...staff.Key) (wait time.Duration, err error) {
	wait, err = longestWait(ctx, s.readers, now, keys)
	return wait, fault(s.dir, "look at the tries", err)
}

// BeginTry counts a try as wrong by every key, until ForgiveTries says
// otherwise, and returns 0; or it returns how long to wait, and counts nothing.
// Counting first keeps a hundred tries at the same time from being one.
func (s *Store) BeginTry(ctx context.Context, now time.Time, keys ...staff.Key) (wait time.Duration, err error) {
	err = s.change(ctx, "count a try", func(tx *sql.Tx) error {
		if wait, err = longestWait(ctx, tx, now, keys); err != nil || wait > 0 {
			return err
		}
		if _, err := tx.ExecContext(ctx, `DELETE FROM tries WHERE last <= ?`, now.Add(-staff.Forgiven).UnixMilli()); err != nil {
			return err
		}
		for _, k := range keys {
			t, err := triesOf(ctx, tx, k)
			if err != nil {
				return err
			}
			t = t.After(now)
			if _, err := tx.ExecContext(ctx, `INSERT INTO tries (key_hash, wrong, last) VALUES (?, ?, ?)
				ON CONFLICT (key_hash) DO UPDATE SET wrong = excluded.wrong, last = excluded.last`, hash(k.Name), t.Wrong, t.Last.UnixMilli()); err != nil {
				return err
			}
		}
		return nil
	})
	return wait, err
}

// querier is a transaction, or the store outside of any.
type querier interface {
	QueryRowContext(ctx context.Context, query string, args ...any) *sql.Row
}

func triesOf(ctx context.Context, q querier, k staff.Key) (staff.Tries, error) {
	var t staff.Tries
	var last int64
	err := q.QueryRowContext(ctx, `SELECT wrong, last FROM tries WHERE key_hash = ?`, hash(k.Name)).Scan(&t.Wrong, &last)
	t.Last = time.UnixMilli(last)
	if errors.Is(err, sql.ErrNoRows) {
		return staff.Tries{}, nil
	}
	return t, err
}

func longestWait(ctx context.Context, q querier, now time.Time, keys []staff.Key) (wait time.Duration, err error) {
	for _, k := range keys {
		t, err := triesOf(ctx, q, k)
		if err != nil {
			return 0, err
		}
		wait = max(wait, t.Wait(k.Free, now))
	}
	return wait, nil
}

// ForgiveTries forgets the wrong tries of the first key, and takes back the one
// that BeginTry counted for the others.
func (s *Store) ForgiveTries(ctx context.Context, keys ...staff.Key) error {
	return s.change(ctx, "forgive tries", func(tx *sql.Tx) error {
		for i, k := range keys {
			if _, err := tx.ExecContext(ctx, `DELETE FROM tries WHERE key_hash = ? AND (wrong = 1 OR ?)`, hash(k.Name), i == 0); err != nil {
				return err
			}
			if _, err := tx.ExecContext(ctx, `UPDATE tries SET wrong = wrong - 1 WHERE key_hash = ?`, hash(k.Name)); err != nil {
				return err
			}
		}
		return nil
	})
}

// Secret returns what signs things of a name, the same for as long as the store
// lives.
func (s *Store) Secret(ctx context.Context, name string) (secret []byte, err error) {
	fresh := make([]byte, 32)
	rand.Read(fresh) // never fails, see crypto/rand
	err = s.change(ctx, "read a secret", func(tx *sql.Tx) error {
		if _, err := tx.ExecContext(ctx, `INSERT INTO secrets (name, secret) VALUES (?, ?) ON CONFLICT (name) DO NOTHING`, name, fresh); err != nil {
			return err
		}
		return tx.QueryRowContext(ctx, `SELECT secret FROM secrets WHERE name = ?`, name).Scan(&secret)
	})
	return secret, err
}
