package inventory

import (
	"errors"
	"io"
	"net/http"

	"kinwain/internal/catalog"
	"kinwain/internal/problem"
	"kinwain/internal/store"
	"kinwain/web/kit"
)

var (
	errNoMatch = &kit.Failure{Status: http.StatusPreconditionRequired, Code: "precondition_required", Title: "Which one?", Text: "Send the ETag of what you changed as If-Match."}
	errStale   = &kit.Failure{Status: http.StatusPreconditionFailed, Code: "stale", Title: "Changed meanwhile", Text: "Somebody has changed this since. Get it again and change that."}
	errBusy    = &kit.Failure{Status: http.StatusServiceUnavailable, Code: "busy", Title: "Too much at once", Text: "The inventory is being changed all the time. Try again."}
)

// sendThing writes the document of a thing.
func sendThing(w http.ResponseWriter, document []byte) error {
	w.Header().Set("Content-Type", "application/json")
	w.Header().Set("ETag", tagOf(document))
	_, _ = w.Write(append(document, '\n')) // fails where the other side went away: there is nobody to tell
	return nil
}

// putThing stores the document of a thing that is there, as long as it is
// still the one that was changed.
func (room *Room) putThing(h shelf) func(http.ResponseWriter, *http.Request) error {
	return func(w http.ResponseWriter, r *http.Request) error {
		document, err := io.ReadAll(r.Body)
		if err != nil {
			return err
		}
		for range tries {
			stored, err := room.put(r, h, document)
			var faults problem.List
			switch {
			case errors.As(err, &faults):
				room.FailJSON(w, http.StatusUnprocessableEntity, kit.Problems{Code: "faulty", Text: "The document is not in order.", Problems: faults})
				return nil
			case err == nil:
				return sendThing(w, stored)
			case store.CodeOf(err) != store.Conflict:
				return room.jsonError(w, err)
			}
		}
		return room.jsonError(w, errBusy)
	}
}

// jsonError answers whoever sends a document with JSON, whatever they accept.
func (room *Room) jsonError(w http.ResponseWriter, err error) error {
	var f *kit.Failure
	if !errors.As(err, &f) {
		return err
	}
	room.FailJSON(w, f.Status, f)
	return nil
}

func (room *Room) put(r *http.Request, h shelf, document []byte) ([]byte, error) {
	c, revision, err := room.store.CatalogueAt(r.Context())
	if err != nil {
		return nil, err
	}
	code := param(r, "code")
	current, at, err := thingIn(c, h.list, code)
	switch match := r.Header.Get("If-Match"); {
	case err != nil:
		return nil, err
	case at < 0:
		return nil, kit.ErrNotFound
	case match == "":
		return nil, errNoMatch
	case match != "*" && match != tagOf(current):
		return nil, errStale
	}
	changed, err := withThing(c, h.list, at, document)
	if err != nil {
		return nil, err
	}
	changed = catalog.Carry(c, changed)
	stored, now, err := thingIn(changed, h.list, code)
	if err != nil {
		return nil, err
	}
	if now < 0 {
		return nil, problem.List{{Path: "code", Code: problem.Conflict, Text: "the code or tag is " + code + " and stays so"}}
	}
	if err := room.storeInventory(r, revision, c, changed, store.ByEdit); err != nil {
		var faults problem.List
		if errors.As(err, &faults) {
			own, others := within(faults, h.list, at)
			return nil, append(own, others...)
		}
		return nil, err
	}
	return stored, nil
}
