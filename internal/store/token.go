package store

import (
	"context"
	"crypto/rand"
	"database/sql"
	"errors"
	"strings"
	"time"
)

// Device is a browser on which people may sign in with a PIN.
type Device struct {
	ID         int64
	Label      string
	EnrolledBy string    // name of who did, as it was then
	Created    time.Time // UTC, to the millisecond
}

// APIToken lets a program ask for what its scope says.
type APIToken struct {
	ID       int64
	Label    string
	Scope    string
	MadeBy   string    // name of who did, as it was then
	Created  time.Time // UTC, to the millisecond
	Expires  time.Time // UTC, to the millisecond; void from then on
	LastUsed time.Time // UTC, to a minute; zero where it never was
	Revoked  bool
}

// newToken returns a secret of 160 bits, in small letters and digits.
func newToken() string {
	var secret [tokenBytes]byte
	rand.Read(secret[:]) // never fails, see crypto/rand
	return strings.ToLower(tokenText.EncodeToString(secret[:]))
}

// EnrolDevice stores a device and returns its token, which is kept nowhere
// else but in the cookie.
func (s *Store) EnrolDevice(ctx context.Context, label, by string, now time.Time) (token string, err error) {
	token = newToken()
	err = s.change(ctx, "enrol a device", func(tx *sql.Tx) error {
		return insertDevice(ctx, tx, token, Device{Label: label, EnrolledBy: by}, now)
	})
	return token, err
}

func insertDevice(ctx context.Context, tx *sql.Tx, token string, d Device, now time.Time) error {
	_, err := tx.ExecContext(ctx, `INSERT INTO devices (token_hash, label, enrolled_by, created) VALUES (?, ?, ?, ?)`, hash(token), d.Label, d.EnrolledBy, now.UnixMilli())
	return err
}

// IssueDeviceLink returns the token of a link that enrols the browser which
// opens it, once, until it expires. It is kept nowhere.
func (s *Store) IssueDeviceLink(ctx context.Context, label, by string, now, expires time.Time) (token string, err error) {
	token = newToken()
	err = s.change(ctx, "issue a link for a device", func(tx *sql.Tx) error {
		if _, err := tx.ExecContext(ctx, `DELETE FROM device_links WHERE expires <= ?`, now.UnixMilli()); err != nil {
			return err
		}
		_, err := tx.ExecContext(ctx, `INSERT INTO device_links (token_hash, label, enrolled_by, expires) VALUES (?, ?, ?, ?)`, hash(token), label, by, expires.UnixMilli())
		return err
	})
	if err != nil {
		return "", err
	}
	return token, nil
}

const selectDeviceLink = `SELECT label, enrolled_by FROM device_links WHERE token_hash = ? AND expires > ?`

// DeviceOfLink returns the device that a link would enrol, which has no id yet.
// The error is an *Error with the code NotFound where the link is void.
func (s *Store) DeviceOfLink(ctx context.Context, token string, now time.Time) (Device, error) {
	d := Device{}
	err := s.readers.QueryRowContext(ctx, selectDeviceLink, hash(token), now.UnixMilli()).Scan(&d.Label, &d.EnrolledBy)
	return d, fault(s.dir, "find a link for a device", noDeviceLink(err))
}

// EnrolByLink enrols a device as EnrolDevice does, with what its link says. The
// link is void then. The error is an *Error with the code NotFound where it was
// void already.
func (s *Store) EnrolByLink(ctx context.Context, link string, now time.Time) (token string, err error) {
	token = newToken()
	err = s.change(ctx, "enrol a device by a link", func(tx *sql.Tx) error {
		var d Device
		if err := tx.QueryRowContext(ctx, selectDeviceLink, hash(link), now.UnixMilli()).Scan(&d.Label, &d.EnrolledBy); err != nil {
			return noDeviceLink(err)
		}
		if _, err := tx.ExecContext(ctx, `DELETE FROM device_links WHERE token_hash = ?`, hash(link)); err != nil {
			return err
		}
		return insertDevice(ctx, tx, token, d, now)
	})
	if err != nil {
		return "", err
	}
	return token, nil
}

func noDeviceLink(err error) error {
	if errors.Is(err, sql.ErrNoRows) {
		return &Error{Code: NotFound, Text: "this link enrols no device"}
	}
	return err
}

// Device returns the enrolled device of a token. The error is an *Error with
// the code NotFound where there is none, or none any more.
func (s *Store) Device(ctx context.Context, token string) (Device, error) {
	d, err := scanDevice(s.readers.QueryRowContext(ctx, `SELECT id, label, enrolled_by, created FROM devices WHERE token_hash = ? AND revoked IS NULL`, hash(token)).Scan)
	if errors.Is(err, sql.ErrNoRows) {
		err = &Error{Code: NotFound, Text: "this device is not enrolled"}
	}
	return d, fault(s.dir, "find a device", err)
}

// Devices returns the devices that are enrolled, the newest first.
func (s *Store) Devices(ctx context.Context) ([]Device, error) {
	devices := []Device{}
	err := s.view(ctx, "list the devices", func(tx *sql.Tx) error {
		return each(ctx, tx, `SELECT id, label, enrolled_by, created FROM devices WHERE revoked IS NULL ORDER BY created DESC, id DESC`, func(scan func(...any) error) error {
			d, err := scanDevice(scan)
			devices = append(devices, d)
			return err
		})
	})
	return devices, err
}

func scanDevice(scan func(...any) error) (Device, error) {
	var d Device
	var created int64
	err := scan(&d.ID, &d.Label, &d.EnrolledBy, &created)
	d.Created = time.UnixMilli(created).UTC()
	return d, err
}

// RevokeDevice makes a device one like any other. That it is one already is no
// error.
func (s *Store) RevokeDevice(ctx context.Context, id int64, now time.Time) error {
	return s.change(ctx, "revoke a device", func(tx *sql.Tx) error {
		_, err := tx.ExecContext(ctx, `UPDATE devices SET revoked = ? WHERE id = ? AND revoked IS NULL`, now.UnixMilli(), id)
		return err
	})
}

// tokenPrefix tells people, and programs that look for leaked secrets, what a
// token is for.
const tokenPrefix = "kinwain_"

const selectToken = `SELECT id, label, scope, made_by, created, expires, coalesce(last_used, 0), revoked IS NOT NULL FROM api_tokens`

// IssueAPIToken stores a token with its label, scope, maker, creation and
// expiry, and returns it. It is kept nowhere. The error is an *Error with the
// code Conflict where one of that label works: a form that was sent twice would
// make a second one that nobody has written down.
func (s *Store) IssueAPIToken(ctx context.Context, t APIToken) (token string, err error) {
	token = tokenPrefix + newToken()
	err = s.change(ctx, "issue an API token", func(tx *sql.Tx) error {
		var same bool
		err := tx.QueryRowContext(ctx, `SELECT EXISTS (SELECT 1 FROM api_tokens WHERE label = ? AND revoked IS NULL AND expires > ?)`, t.Label, t.Created.UnixMilli()).Scan(&same)
		if err != nil {
			return err
		}
		if same {
			return &Error{Code: Conflict, Text: "a token of this name works already"}
		}
		_, err = tx.ExecContext(ctx, `INSERT INTO api_tokens (token_hash, label, scope, made_by, created, expires) VALUES (?, ?, ?, ?, ?, ?)`,
			hash(token), t.Label, t.Scope, t.MadeBy, t.Created.UnixMilli(), t.Expires.UnixMilli())
		return err
	})
	if err != nil {
		return "", err
	}
	return token, nil
}

// UseAPIToken returns what is known of a token and notes when it was used. The
// error is an *Error with the code NotFound, the same whether it was never
// issued, has expired or was revoked.
func (s *Store) UseAPIToken(ctx context.Context, token string, now time.Time) (APIToken, error) {
	t, err := scanToken(s.readers.QueryRowContext(ctx, selectToken+` WHERE token_hash = ? AND revoked IS NULL AND expires > ?`, hash(token), now.UnixMilli()).Scan)
	if errors.Is(err, sql.ErrNoRows) {
		err = &Error{Code: NotFound, Text: "this token opens nothing"}
	}
	if err != nil {
		return APIToken{}, fault(s.dir, "find an API token", err)
	}
	minute := now.UTC().Truncate(time.Minute)
	if t.LastUsed.Equal(minute) {
		return t, nil // one note a minute is enough
	}
	t.LastUsed = minute
	err = s.change(ctx, "note the use of an API token", func(tx *sql.Tx) error {
		_, err := tx.ExecContext(ctx, `UPDATE api_tokens SET last_used = ? WHERE id = ?`, minute.UnixMilli(), t.ID)
		return err
	})
	return t, err
}

// APITokens returns all tokens, the newest first.
func (s *Store) APITokens(ctx context.Context) ([]APIToken, error) {
	tokens := []APIToken{}
	err := s.view(ctx, "list the API tokens", func(tx *sql.Tx) error {
		return each(ctx, tx, selectToken+` ORDER BY created DESC, id DESC`, func(scan func(...any) error) error {
			t, err := scanToken(scan)
			tokens = append(tokens, t)
			return err
		})
	})
	return tokens, err
}

func scanToken(scan func(...any) error) (APIToken, error) {
	var t APIToken
	var created, expires, used int64
	err := scan(&t.ID, &t.Label, &t.Scope, &t.MadeBy, &created, &expires, &used, &t.Revoked)
	t.Created, t.Expires = time.UnixMilli(created).UTC(), time.UnixMilli(expires).UTC()
	if used > 0 {
		t.LastUsed = time.UnixMilli(used).UTC()
	}
	return t, err
}

// RevokeAPIToken makes a token void. That it is void already is no error.
func (s *Store) RevokeAPIToken(ctx context.Context, id int64, now time.Time) error {
	return s.change(ctx, "revoke an API token", func(tx *sql.Tx) error {
		_, err := tx.ExecContext(ctx, `UPDATE api_tokens SET revoked = ? WHERE id = ? AND revoked IS NULL`, now.UnixMilli(), id)
		return err
	})
}
