package store

import (
	"errors"
	"fmt"

	"modernc.org/sqlite"
	sqlite3 "modernc.org/sqlite/lib"
)

// Codes of what can be wrong with a store.
const (
	Unwritable   = "unwritable"    // a folder or a file in it cannot be written
	Full         = "full"          // there is no space left; reading goes on
	Gone         = "gone"          // the file was removed or replaced under the running program
	NewerVersion = "newer_version" // written by a newer version of the program
	InUse        = "in_use"        // held by another program
	NotFound     = "not_found"     // there is nothing by that name
	Conflict     = "conflict"      // contradicts what is there already
	TooMany      = "too_many"      // as many as are kept are there already
	Overlap      = "overlap"       // somebody else has it at that time
	Corrupt      = "corrupt"       // damaged, or not a store at all
)

// Error says what is wrong with a store: a code for the machine, a sentence
// for the person, and the cause where there is one.
type Error struct {
	Code string
	Text string
	Err  error
}

// Error returns the sentence and the cause on one line.
func (e *Error) Error() string {
	if e.Err == nil {
		return e.Text
	}
	return e.Text + ": " + e.Err.Error()
}

// Unwrap returns the cause, or nil.
func (e *Error) Unwrap() error { return e.Err }

// CodeOf returns the code of the first Error in the chain of err, or nothing
// where there is none.
func CodeOf(err error) string {
	var e *Error
	if errors.As(err, &e) {
		return e.Code
	}
	return ""
}

// fault says what was being done in the folder when err happened. What SQLite
// reports becomes an *Error. A nil err stays nil.
func fault(dir, doing string, err error) error {
	if err == nil {
		return nil
	}
	wrapped := fmt.Errorf("%s: %w", doing, err)
	if CodeOf(err) != "" {
		return wrapped
	}
	switch code := reported(err); code {
	case Unwritable:
		return unwritable(dir, wrapped)
	case Full:
		return &Error{code, fmt.Sprintf("there is no space left for the folder %s", dir), wrapped}
	case InUse:
		return &Error{code, fmt.Sprintf("the store in %s is in use by another program", dir), wrapped}
	case Corrupt:
		return &Error{code, fmt.Sprintf("the store in %s is damaged, or is not a store of Kinwain", dir), wrapped}
	case Conflict:
		return &Error{code, "this contradicts what is stored", wrapped}
	}
	return wrapped
}

// reported returns the code for what SQLite reports, or nothing where it is
// not SQLite or none of the codes applies. SQLite's text is for people and
// may change; its result codes do not.
func reported(err error) string {
	var e *sqlite.Error
	if !errors.As(err, &e) {
		return ""
	}
	switch e.Code() & 0xff { // the rest of an extended code only says more
	case sqlite3.SQLITE_READONLY, sqlite3.SQLITE_CANTOPEN, sqlite3.SQLITE_PERM, sqlite3.SQLITE_IOERR:
		return Unwritable
	case sqlite3.SQLITE_FULL:
		return Full
	case sqlite3.SQLITE_BUSY, sqlite3.SQLITE_LOCKED:
		return InUse
	case sqlite3.SQLITE_CORRUPT, sqlite3.SQLITE_NOTADB:
		return Corrupt
	case sqlite3.SQLITE_CONSTRAINT:
		return Conflict
	}
	return ""
}

func unwritable(dir string, err error) error {
	return &Error{Unwritable, fmt.Sprintf("the folder %s cannot be written", dir), err}
}

// claimed says that another program stays on a folder.
func claimed(dir string) error {
	return &Error{Code: InUse, Text: fmt.Sprintf("the store in %s is in use by another Kinwain that is running; stop that one first, or name another folder with -data", dir)}
}
