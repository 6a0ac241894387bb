package inventory

import (
	"cmp"
	"errors"
	"net/http"
	"strings"

	"kinwain/internal/catalog"
	"kinwain/internal/problem"
	"kinwain/internal/store"
	"kinwain/web/kit"
	"kinwain/web/say"
)

// retireThing takes a thing out of what is offered, or brings it back.
func (room *Room) retireThing(h shelf) func(http.ResponseWriter, *http.Request) error {
	return func(w http.ResponseWriter, r *http.Request) error {
		e, err := room.edits(r, h)
		if err != nil {
			return err
		}
		retire := r.PostFormValue("do") == "retire"
		ask, err := room.askRetire(r, e, retire)
		if err != nil {
			return err
		}
		if ask != nil {
			of := asked{title: "Bring it back?", button: "Bring it back", action: h.address(e.code) + "/retire", back: h.address(e.code),
				also: []kit.Hidden{{Name: "do", Value: r.PostForm.Get("do")}}}
			if retire {
				of.title, of.button = "Retire it?", "Retire it"
			}
			return room.showAsked(w, r, ask, of)
		}
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

// askRetire asks before something is retired or brought back.
func (room *Room) askRetire(r *http.Request, e *editing, retire bool) (*kit.Asking, error) {
	reach, err := room.watch.ReachOfRetiring(r.Context(), store.Thing{List: e.list, Code: e.code}, retire)
	change := kit.FieldChange{Thing: say.Capital(e.one) + " " + e.code, Field: "Offered", Old: "no, it is retired", New: "yes"}
	if retire {
		change.Old, change.New = "yes", "no, it is retired"
	}
	return kit.ToAsk(r, kit.AskingView([]kit.FieldChange{change}, reach, kit.Digest(change)), reach), err
}

// deleteThing deletes what nothing names, or says what does.
func (room *Room) deleteThing(h shelf) func(http.ResponseWriter, *http.Request) error {
	return func(w http.ResponseWriter, r *http.Request) error {
		e, err := room.edits(r, h)
		if err != nil {
			return err
		}
		if err := r.ParseForm(); err != nil {
			return kit.ErrForm
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
			without := withoutThing(c, h.list, at)
			if ask, err := room.askFirst(r, c, without); err != nil || ask != nil {
				return cmp.Or(err, room.showAsked(w, r, ask, asked{title: "Delete it?", button: "Delete it", action: h.address(code) + "/delete", back: h.address(code)}))
			}
			err = room.store.DeleteThings(r.Context(), revision, without, []store.Thing{{List: h.list, Code: code}}, room.Author(r, store.ByEdit))
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
	if err := withoutThing(c, h.list, at).CheckAfter(c, room.Today()); errors.As(err, &faults) {
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
