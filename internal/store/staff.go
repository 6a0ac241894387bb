package store

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"time"

	"kinwain/internal/staff"
)

// LastManager is the code of an error that says that a change would leave
// nobody who can manage.
const LastManager = "last_manager"

// Person is somebody who works in the shop.
type Person struct {
	ID          int64
	Name        string
	Role        staff.Role
	Passphrase  string // PHC string of its hash; empty until they have chosen one
	PIN         string // PHC string of its hash; empty where they want none
	PINFailures int    // wrong ones since the last right PIN or passphrase
	Disabled    bool
	Created     time.Time // UTC, to the millisecond
	Epoch       int64     // sessions that remember another number are void
}

const (
	selectPerson = `SELECT id, name, role, coalesce(passphrase, ''), coalesce(pin, ''), pin_failures, disabled, created, epoch FROM people`
	personByID   = selectPerson + ` WHERE id = ?`
	personByName = selectPerson + ` WHERE folded = ?`
	personByLink = selectPerson + ` WHERE disabled = 0 AND EXISTS (SELECT 1 FROM person_links AS link
		WHERE link.person = people.id AND link.epoch = people.epoch AND link.token_hash = ? AND link.expires > ?)`
	insertPerson = `INSERT INTO people (name, folded, role, created) VALUES (?, ?, ?, ?)`
	ableManagers = `SELECT count(*) FROM people WHERE role = 'manager' AND disabled = 0 AND passphrase IS NOT NULL`
)

func scanPerson(scan func(...any) error) (Person, error) {
	var p Person
	var created int64
	err := scan(&p.ID, &p.Name, &p.Role, &p.Passphrase, &p.PIN, &p.PINFailures, &p.Disabled, &created, &p.Epoch)
	p.Created = time.UnixMilli(created).UTC()
	return p, err
}

// People returns everybody, by name.
func (s *Store) People(ctx context.Context) ([]Person, error) {
	people := []Person{}
	err := s.view(ctx, "list the people", func(tx *sql.Tx) error {
		return each(ctx, tx, selectPerson+` ORDER BY folded`, func(scan func(...any) error) error {
			p, err := scanPerson(scan)
			people = append(people, p)
			return err
		})
	})
	if err != nil {
		return nil, err
	}
	return people, nil
}

// Person returns the person of an id. The error is an *Error with the code
// NotFound where there is none.
func (s *Store) Person(ctx context.Context, id int64) (Person, error) {
	return s.personOf(s.prepared.person.QueryRowContext(ctx, id))
}

// PersonNamed returns the person of a name, whatever its case. The error is an
// *Error with the code NotFound where there is none.
func (s *Store) PersonNamed(ctx context.Context, name string) (Person, error) {
	return s.person(ctx, personByName, staff.Fold(name))
}

// PersonOfLink returns the person who may choose a passphrase with a link. The
// error is an *Error with the code NotFound where the link is void or the
// person disabled.
func (s *Store) PersonOfLink(ctx context.Context, token string, now time.Time) (Person, error) {
	return s.person(ctx, personByLink, hash(token), now.UnixMilli())
}

func (s *Store) person(ctx context.Context, query string, args ...any) (Person, error) {
	return s.personOf(s.readers.QueryRowContext(ctx, query, args...))
}

func (s *Store) personOf(row *sql.Row) (Person, error) {
	p, err := scanPerson(row.Scan)
	if err != nil {
		return Person{}, fault(s.dir, "read a person", noPerson(err))
	}
	return p, nil
}

func noPerson(err error) error {
	if errors.Is(err, sql.ErrNoRows) {
		return &Error{Code: NotFound, Text: "there is no such person"}
	}
	return err
}

// AddPerson stores a person who has yet to choose a passphrase, and returns
// the id. The error is an *Error with the code Conflict where somebody has
// that name already.
func (s *Store) AddPerson(ctx context.Context, name string, role staff.Role, now time.Time) (id int64, err error) {
	err = s.change(ctx, "add a person", func(tx *sql.Tx) error {
		id, err = addPerson(ctx, tx, name, role, now)
		return err
	})
	return id, err
}

func addPerson(ctx context.Context, tx *sql.Tx, name string, role staff.Role, now time.Time) (int64, error) {
	done, err := tx.ExecContext(ctx, insertPerson, staff.Name(name), staff.Fold(name), role, now.UnixMilli())
	if err != nil {
		return 0, err
	}
	return done.LastInsertId()
}

// AddManager stores a manager with the hash of a passphrase, and returns the
// person. The error is an *Error with the code Conflict where somebody has
// that name already.
func (s *Store) AddManager(ctx context.Context, name, passphrase string, now time.Time) (Person, error) {
	var p Person
	err := s.change(ctx, "add a manager", func(tx *sql.Tx) error {
		id, err := addPerson(ctx, tx, name, staff.Manager, now)
		if err != nil {
			return err
		}
		if _, err := tx.ExecContext(ctx, `UPDATE people SET passphrase = ? WHERE id = ?`, passphrase, id); err != nil {
			return err
		}
		p, err = scanPerson(tx.QueryRowContext(ctx, personByID, id).Scan)
		return err
	})
	return p, err
}

// SetRole changes what a person may do. The error is an *Error with the code
// LastManager where nobody who can sign in could manage any more.
func (s *Store) SetRole(ctx context.Context, id int64, role staff.Role) error {
	return s.changePerson(ctx, "change a role", `UPDATE people SET role = ? WHERE id = ?`, role, id)
}

// SetDisabled lets a person in no more, or in again; sessions and a link that
// the person has are void from now on. The error is an *Error with the code
// LastManager where nobody who can sign in could manage any more.
func (s *Store) SetDisabled(ctx context.Context, id int64, disabled bool) error {
	return s.changePerson(ctx, "disable a person", `UPDATE people SET disabled = ?, epoch = epoch + 1 WHERE id = ?`, disabled, id)
}

// SetPassphrase stores the hash of a person's new passphrase. Every session of
// the person is void from now on, and so is a link to choose a passphrase; a
// PIN that was locked works again.
func (s *Store) SetPassphrase(ctx context.Context, id int64, hash string) error {
	return s.changePerson(ctx, "change a passphrase", `UPDATE people SET passphrase = ?, epoch = epoch + 1, pin_failures = 0 WHERE id = ?`, hash, id)
}

// SignOutEverywhere makes every session of a person void, and a link to choose
// a passphrase. Of a manager it may be that some began by the printed link,
// which has no name: these end too, and the link is void.
func (s *Store) SignOutEverywhere(ctx context.Context, id int64) error {
	return s.change(ctx, "sign out everywhere", func(tx *sql.Tx) error {
		if err := updateOne(ctx, tx, `UPDATE people SET epoch = epoch + 1 WHERE id = ?`, id); err != nil {
			return err
		}
		p, err := scanPerson(tx.QueryRowContext(ctx, personByID, id).Scan)
		if err != nil || p.Role != staff.Manager {
			return err
		}
		return endLinkEntries(ctx, tx)
	})
}

// SetPIN stores the hash of a person's PIN, or that there is none where it is
// empty.
func (s *Store) SetPIN(ctx context.Context, id int64, hash string) error {
	return s.updatePerson(ctx, "change a PIN", `UPDATE people SET pin = nullif(?, ''), pin_failures = 0 WHERE id = ?`, hash, id)
}

// TryPIN counts one wrong PIN before it is looked at, and reports whether it
// may be: not after as many as most. Counting first keeps many tries at the
// same time from being one.
func (s *Store) TryPIN(ctx context.Context, id int64, most int) (may bool, err error) {
	err = s.change(ctx, "try a PIN", func(tx *sql.Tx) error {
		done, err := tx.ExecContext(ctx, `UPDATE people SET pin_failures = pin_failures + 1 WHERE id = ? AND pin_failures < ?`, id, most)
		if err != nil {
			return err
		}
		n, err := done.RowsAffected()
		may = n == 1
		return err
	})
	return may, err
}

// ForgivePIN forgets the wrong PINs of a person, who gave the right one or the
// passphrase.
func (s *Store) ForgivePIN(ctx context.Context, id int64) error {
	return s.updatePerson(ctx, "forgive wrong PINs", `UPDATE people SET pin_failures = 0 WHERE id = ?`, id)
}

func (s *Store) updatePerson(ctx context.Context, doing, query string, args ...any) error {
	return s.change(ctx, doing, func(tx *sql.Tx) error { return updateOne(ctx, tx, query, args...) })
}

// updateOne carries out a change of a person, who has to be there.
func updateOne(ctx context.Context, tx *sql.Tx, query string, args ...any) error {
	done, err := tx.ExecContext(ctx, query, args...)
	if err != nil {
		return err
	}
	if n, err := done.RowsAffected(); err != nil || n == 1 {
		return err
	}
	return noPerson(sql.ErrNoRows)
}

// changePerson carries out a change of a person, unless it takes the last
// manager who can sign in.
func (s *Store) changePerson(ctx context.Context, doing, query string, args ...any) error {
	return s.change(ctx, doing, func(tx *sql.Tx) error {
		var before, after int
		if err := tx.QueryRowContext(ctx, ableManagers).Scan(&before); err != nil {
			return err
		}
		if err := updateOne(ctx, tx, query, args...); err != nil {
			return err
		}
		if err := tx.QueryRowContext(ctx, ableManagers).Scan(&after); err != nil {
			return err
		}
		if before > 0 && after == 0 {
			return &Error{Code: LastManager, Text: "nobody else who can sign in is a manager"}
		}
		return nil
	})
}

// IssueLink returns the token of a link with which a person chooses a
// passphrase, once, until it expires. It is kept nowhere; an older link of the
// person is void. The error is an *Error with the code NotFound where there is
// no such person or the person is disabled.
func (s *Store) IssueLink(ctx context.Context, id int64, expires time.Time) (token string, err error) {
	token = newToken()
	err = s.change(ctx, "issue a link", func(tx *sql.Tx) error {
		return updateOne(ctx, tx, `INSERT INTO person_links (person, token_hash, expires, epoch) SELECT id, ?, ?, epoch FROM people WHERE id = ? AND disabled = 0
			ON CONFLICT (person) DO UPDATE SET token_hash = excluded.token_hash, expires = excluded.expires, epoch = excluded.epoch`, hash(token), expires.UnixMilli(), id)
	})
	if err != nil {
		return "", err
	}
	return token, nil
}

// UseLink stores the hash of the passphrase that was chosen with a link, as
// SetPassphrase does, and returns the person. The link is void then. The error
// is an *Error with the code NotFound where it was void already.
func (s *Store) UseLink(ctx context.Context, token, passphrase string, now time.Time) (Person, error) {
	var p Person
	err := s.change(ctx, "use a link", func(tx *sql.Tx) error {
		var err error
		if p, err = scanPerson(tx.QueryRowContext(ctx, personByLink, hash(token), now.UnixMilli()).Scan); err != nil {
			return noPerson(err)
		}
		if _, err := tx.ExecContext(ctx, `DELETE FROM person_links WHERE person = ?`, p.ID); err != nil {
			return err
		}
		if err := updateOne(ctx, tx, `UPDATE people SET passphrase = ?, epoch = epoch + 1, pin_failures = 0 WHERE id = ?`, passphrase, p.ID); err != nil {
			return fmt.Errorf("person %d: %w", p.ID, err)
		}
		p, err = scanPerson(tx.QueryRowContext(ctx, personByID, p.ID).Scan)
		return err
	})
	return p, err
}

// HasManager reports whether there is a manager who can sign in.
func (s *Store) HasManager(ctx context.Context) (bool, error) {
	var n int
	err := s.readers.QueryRowContext(ctx, ableManagers).Scan(&n)
	return n > 0, fault(s.dir, "count the managers", err)
}
