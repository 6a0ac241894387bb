package inventory

import (
	"errors"
	"net/http"
	"strings"

	"kinwain/internal/catalog"
	"kinwain/internal/problem"
	"kinwain/internal/store"
	"kinwain/web/kit"
)

// retireThing takes a thing out of what is offered, or brings it back.
func (room *Room) retireThing(h shelf) func(http.ResponseWriter, *http.Request) error {
	return func(w http.ResponseWriter, r *http.Request) error {
		e, err := room.edits(r, h)
		if err != nil {
			return err
		}
		retire := r.PostFormValue("do") == "retire"
		if err := room.store.Retire(r.Context(), store.Thing{List: h.list, Code: e.code}, retire, room.Author(r, store.ByRetiring)); err != nil {
			return err
		}
		said := "Brought back: it is offered again."
		if retire {
			said = "Retired: it is offered to nobody any more. What names it stays as it is."
		}
		room.Sessions.Put(r.Context(), flashKey, said)
		http.Redirect(w, r, h.address(e.code), http.StatusSeeOther)
		return nil
	}
}

// deleteThing deletes what nothing names, or says what does.
func (room *Room) deleteThing(h shelf) func(http.ResponseWriter, *http.Request) error {
	return func(w http.ResponseWriter, r *http.Request) error {
		e, err := room.edits(r, h)
		if err != nil {
			return err
		}
		code := e.code
		for range tries {
			c, revision, err := room.store.CatalogueAt(r.Context())
			if err != nil {
				return err
			}
			why, err := room.namedBy(r, c, h, code)
			if err != nil {
				return err
			}
			if why != "" {
				room.Sessions.Put(r.Context(), flashKey, "Not deleted: it is named by "+why+". Retire it instead.")
				http.Redirect(w, r, h.address(code), http.StatusSeeOther)
				return nil
			}
			_, at, err := thingIn(c, h.list, code)
			if err == nil && at < 0 {
				err = kit.ErrNotFound
			}
			if err != nil {
				return err
			}
			err = room.store.DeleteThing(r.Context(), revision, withoutThing(c, h.list, at), store.Thing{List: h.list, Code: code}, room.Author(r, store.ByEdit))
			if err == nil {
				room.Sessions.Put(r.Context(), flashKey, "Deleted: "+code+". The history has it, should you want it back.")
				http.Redirect(w, r, kit.InventoryAddress+"/"+h.slug, http.StatusSeeOther)
				return nil
			}
			if store.CodeOf(err) != store.Conflict {
				return err
			}
		}
		return errBusy
	}
}

// namedBy says what names a thing, in and outside the catalogue; nothing
// where it may be deleted.
func (room *Room) namedBy(r *http.Request, c *catalog.Catalogue, h shelf, code string) (string, error) {
	named, err := room.store.NamedBy(r.Context(), store.Thing{List: h.list, Code: code})
	if err != nil {
		return "", err
	}
	_, at, err := thingIn(c, h.list, code)
	if err != nil || at < 0 {
		return "", err
	}
	var faults problem.List
	if err := withoutThing(c, h.list, at).CheckAfter(c); errors.As(err, &faults) {
		named = append(named, ownersOf(c, h.list, at, faults)...)
	}
	return strings.Join(named, ", "), nil
}

// ownersOf names whose faults these are in a catalogue without the thing at a
// position: each is called what it is called with it.
func ownersOf(c *catalog.Catalogue, list string, at int, faults problem.List) []string {
	var owners []string
	there := map[string]bool{}
	for _, p := range faults {
		owner, i := ownerAt(p.Path)
		if owner == list && i >= at {
			i++
		}
		name := nameAt(c, owner, i)
		if name != "" && !there[name] && len(owners) < 6 {
			there[name] = true
			owners = append(owners, name)
		}
	}
	return owners
}
