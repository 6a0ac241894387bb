package kit

import (
	"errors"
	"net/http"

	"kinwain/internal/store"
)

// Failure is an error with what the browser is told: a status, a code for a
// program and a sentence for a person.
type Failure struct {
	Status int    `json:"-"`
	Code   string `json:"code"`
	Title  string `json:"-"`
	Text   string `json:"text"`
	SignIn bool   `json:"-"` // the way on is to sign in
	Retry  int    `json:"-"` // it may go better after so many seconds; 0: no sooner than now
	Back   string `json:"-"` // an address to go on from; the start where it is none
	BackTo string `json:"-"` // and its words
}

func (f *Failure) Error() string { return f.Text }

// The failures that any room may answer with.
var (
	ErrNotFound = &Failure{Status: http.StatusNotFound, Code: "not_found", Title: "Nothing here", Text: "This page does not exist, or no longer does. Go back to the start and find it from there."}
	ErrForm     = &Failure{Status: http.StatusBadRequest, Code: "form", Title: "That could not be read", Text: "The form arrived damaged, and nothing was changed. Go back and send it again."}
	ErrTooLarge = &Failure{Status: http.StatusRequestEntityTooLarge, Code: "too_large", Title: "Far too large", Text: "More was sent than any profile holds, and nothing was changed. Go back and send less."}
	ErrTooLong  = &Failure{Status: http.StatusRequestEntityTooLarge, Code: "too_long", Title: "Far too long", Text: "One of the fields held more than anybody types, and nothing was changed. Go back and write less in it."}
	ErrSlow     = &Failure{Status: http.StatusServiceUnavailable, Code: "too_slow", Title: "That took too long", Text: "There was no answer in time, so it was given up. Nothing you typed is lost. Go back and try again in a moment.", Retry: 10}
	ErrInternal = &Failure{Status: http.StatusInternalServerError, Code: "internal", Title: "Something broke on our side", Text: "Nothing you typed is lost. Go back and try again; if it happens twice, tell whoever looks after this computer."}
	// What the store cannot keep: reading goes on.
	ErrFull    = &Failure{Status: http.StatusInsufficientStorage, Code: "full", Title: "No space left", Text: "The disk of the shop’s computer is full, so this was not kept. Everything kept before can still be read. Make room there, then go back and send it again."}
	ErrBusy    = &Failure{Status: http.StatusServiceUnavailable, Code: "busy", Title: "Not just now", Text: "Another program was writing for too long, so this was not kept. Go back and send it again in a moment."}
	ErrNotKept = &Failure{Status: http.StatusServiceUnavailable, Code: "not_kept", Title: "This cannot be kept", Text: "What the shop keeps cannot be written at the moment, so this was not kept. Keep the page open, and call whoever looks after this computer: the log says why."}
)

// ofStore is what a browser is told of what the store says.
var ofStore = map[string]*Failure{
	store.NotFound: ErrNotFound, store.Full: ErrFull, store.InUse: ErrBusy,
	store.Unwritable: ErrNotKept, store.Gone: ErrNotKept, store.Corrupt: ErrNotKept,
}

// FailureOf says what a browser is told of an error. What is not known is not
// told.
func FailureOf(err error) *Failure {
	var f *Failure
	var tooLarge *http.MaxBytesError
	switch {
	case errors.As(err, &f):
		return f
	case errors.As(err, &tooLarge):
		return ErrTooLarge
	}
	if f := ofStore[store.CodeOf(err)]; f != nil {
		return f
	}
	return ErrInternal
}

// Elsewhere is the error of a page that there is nothing to show on yet: it is
// the address to go to first.
type Elsewhere string

func (e Elsewhere) Error() string { return "go to " + string(e) + " first" }
