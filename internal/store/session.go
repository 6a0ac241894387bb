package store

import (
	"bytes"
	"context"
	"crypto/sha256"
	"database/sql"
	"errors"
	"time"
)

// Sessions keeps the sessions of signed-in people in the store. Of a token
// only the SHA-256 hash is kept. Expired sessions are never found, and are
// deleted when another one is committed.
type Sessions struct {
	store *Store
	now   func() time.Time
}

// Sessions returns the sessions of the store, which expire by the given clock.
func (s *Store) Sessions(now func() time.Time) *Sessions { return &Sessions{s, now} }

const selectSession = `SELECT data, expires FROM sessions WHERE token_hash = ? AND expires > ?`

// FindCtx returns the data of a session, and whether there is one that has
// not expired.
func (s *Sessions) FindCtx(ctx context.Context, token string) (data []byte, found bool, err error) {
	var expires int64
	err = s.store.prepared.session.QueryRowContext(ctx, hash(token), s.now().UnixMilli()).Scan(&data, &expires)
	if errors.Is(err, sql.ErrNoRows) {
		return nil, false, nil
	}
	if err != nil {
		return nil, false, fault(s.store.dir, "find a session", err)
	}
	return stored(data), true, nil
}

// renewed is by how much a session has to last longer before that is written:
// somebody at work asks for a page every few seconds, and reading them should
// not wait for the disk.
const renewed = 5 * time.Minute

// CommitCtx stores the data of a session until its expiry, in place of what
// was stored for the token before. That the same data should only last a
// little longer is not written. Where the store cannot be written at the
// moment, a session that it has stays as it is and that is no error: every page
// that is only read commits its session, to make it last longer.
func (s *Sessions) CommitCtx(ctx context.Context, token string, data []byte, expiry time.Time) error {
	last, same := s.lasts(ctx, token, data)
	if same && !expiry.Before(last) && expiry.Sub(last) < renewed {
		return nil
	}
	err := s.commit(ctx, token, data, expiry)
	switch CodeOf(err) {
	case Full, Unwritable, InUse, Gone:
		if _, stands, _ := s.FindCtx(ctx, token); stands {
			return nil
		}
	}
	return err
}

// lasts returns until when a session with the very data is stored already. What
// cannot be read is not the same.
func (s *Sessions) lasts(ctx context.Context, token string, data []byte) (until time.Time, same bool) {
	var known []byte
	var expires int64
	err := s.store.prepared.session.QueryRowContext(ctx, hash(token), s.now().UnixMilli()).Scan(&known, &expires)
	return time.UnixMilli(expires), err == nil && bytes.Equal(known, data)
}

func (s *Sessions) commit(ctx context.Context, token string, data []byte, expiry time.Time) error {
	return s.store.change(ctx, "store a session", func(tx *sql.Tx) error {
		if _, err := tx.ExecContext(ctx, `DELETE FROM sessions WHERE expires <= ?`, s.now().UnixMilli()); err != nil {
			return err
		}
		_, err := tx.ExecContext(ctx, `INSERT INTO sessions (token_hash, data, expires) VALUES (?, ?, ?)
			ON CONFLICT (token_hash) DO UPDATE SET data = excluded.data, expires = excluded.expires`,
			hash(token), stored(data), expiry.UnixMilli())
		return err
	})
}

// DeleteCtx deletes a session. That there is none is no error.
func (s *Sessions) DeleteCtx(ctx context.Context, token string) error {
	return s.store.change(ctx, "delete a session", func(tx *sql.Tx) error {
		_, err := tx.ExecContext(ctx, `DELETE FROM sessions WHERE token_hash = ?`, hash(token))
		return err
	})
}

// Find is FindCtx without a context.
func (s *Sessions) Find(token string) (data []byte, found bool, err error) {
	return s.FindCtx(context.Background(), token)
}

// Commit is CommitCtx without a context.
func (s *Sessions) Commit(token string, data []byte, expiry time.Time) error {
	return s.CommitCtx(context.Background(), token, data, expiry)
}

// Delete is DeleteCtx without a context.
func (s *Sessions) Delete(token string) error { return s.DeleteCtx(context.Background(), token) }

// ReplaceSignInLink makes the token the only one that a sign-in link may
// carry, until it expires: every earlier link is void. Only the SHA-256 hash
// of the token is kept.
func (s *Store) ReplaceSignInLink(ctx context.Context, token string, expires time.Time) error {
	return s.change(ctx, "replace the sign-in link", func(tx *sql.Tx) error {
		if _, err := tx.ExecContext(ctx, `DELETE FROM sign_in_links`); err != nil {
			return err
		}
		_, err := tx.ExecContext(ctx, `INSERT INTO sign_in_links (token_hash, expires) VALUES (?, ?)`, hash(token), expires.UnixMilli())
		return err
	})
}

// SignInLinkValid reports whether a sign-in link with the token is the newest
// one and has not expired.
func (s *Store) SignInLinkValid(ctx context.Context, token string, now time.Time) (bool, error) {
	var valid bool
	err := s.readers.QueryRowContext(ctx, `SELECT EXISTS (SELECT 1 FROM sign_in_links WHERE token_hash = ? AND expires > ?)`,
		hash(token), now.UnixMilli()).Scan(&valid)
	return valid, fault(s.dir, "check the sign-in link", err)
}

// VoidSignInLink makes every sign-in link void.
func (s *Store) VoidSignInLink(ctx context.Context) error {
	return s.change(ctx, "void the sign-in link", func(tx *sql.Tx) error {
		_, err := tx.ExecContext(ctx, `DELETE FROM sign_in_links`)
		return err
	})
}

// LinkEntry is one time that somebody came in by the printed link.
type LinkEntry struct {
	ID      int64
	Begun   time.Time // UTC, to the millisecond
	Expires time.Time // UTC, to the millisecond; the session is void from then on
	Address string    // where the link was opened
}

// UseSignInLink makes a sign-in link void and returns the id of the entry that
// somebody made with it. The error is an *Error with the code NotFound where
// the link was void already.
func (s *Store) UseSignInLink(ctx context.Context, token string, now time.Time, e LinkEntry) (id int64, err error) {
	err = s.change(ctx, "use the sign-in link", func(tx *sql.Tx) error {
		used, err := tx.ExecContext(ctx, `DELETE FROM sign_in_links WHERE token_hash = ? AND expires > ?`, hash(token), now.UnixMilli())
		if err != nil {
			return err
		}
		if n, err := used.RowsAffected(); err != nil || n == 0 {
			return errors.Join(err, &Error{Code: NotFound, Text: "this link does not sign in"})
		}
		if _, err := tx.ExecContext(ctx, `DELETE FROM link_entries WHERE expires <= ?`, e.Begun.UnixMilli()); err != nil {
			return err
		}
		made, err := tx.ExecContext(ctx, `INSERT INTO link_entries (begun, expires, address) VALUES (?, ?, ?)`, e.Begun.UnixMilli(), e.Expires.UnixMilli(), e.Address)
		if err != nil {
			return err
		}
		id, err = made.LastInsertId()
		return err
	})
	return id, err
}

// LinkEntries returns who is in by the printed link, the newest first.
func (s *Store) LinkEntries(ctx context.Context, now time.Time) ([]LinkEntry, error) {
	entries := []LinkEntry{}
	err := s.view(ctx, "list who is in by the link", func(tx *sql.Tx) error {
		rows, err := tx.QueryContext(ctx, `SELECT id, begun, expires, address FROM link_entries WHERE expires > ? ORDER BY id DESC`, now.UnixMilli())
		if err != nil {
			return err
		}
		return eachRow(rows, func(scan func(...any) error) error {
			var e LinkEntry
			var begun, expires int64
			err := scan(&e.ID, &begun, &expires, &e.Address)
			e.Begun, e.Expires = time.UnixMilli(begun).UTC(), time.UnixMilli(expires).UTC()
			entries = append(entries, e)
			return err
		})
	})
	return entries, err
}

const selectEntry = `SELECT EXISTS (SELECT 1 FROM link_entries WHERE id = ? AND expires > ?)`

// LinkEntryStands reports whether the session of an entry is one still.
func (s *Store) LinkEntryStands(ctx context.Context, id int64, now time.Time) (bool, error) {
	var stands bool
	err := s.prepared.entry.QueryRowContext(ctx, id, now.UnixMilli()).Scan(&stands)
	return stands, fault(s.dir, "check an entry by the link", err)
}

// EndLinkEntry makes the session of an entry void. That it is void already is
// no error.
func (s *Store) EndLinkEntry(ctx context.Context, id int64) error {
	return s.change(ctx, "end an entry by the link", func(tx *sql.Tx) error {
		_, err := tx.ExecContext(ctx, `DELETE FROM link_entries WHERE id = ?`, id)
		return err
	})
}

// endLinkEntries makes the session of everybody void who is in by the printed
// link, and the link as well.
func endLinkEntries(ctx context.Context, tx *sql.Tx) error {
	if _, err := tx.ExecContext(ctx, `DELETE FROM link_entries`); err != nil {
		return err
	}
	_, err := tx.ExecContext(ctx, `DELETE FROM sign_in_links`)
	return err
}

// EndLinkEntries makes the session of everybody void who is in by the printed
// link, and the link as well.
func (s *Store) EndLinkEntries(ctx context.Context) error {
	return s.change(ctx, "end the entries by the link", func(tx *sql.Tx) error { return endLinkEntries(ctx, tx) })
}

func hash(token string) []byte {
	sum := sha256.Sum256([]byte(token))
	return sum[:]
}
