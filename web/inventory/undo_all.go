package inventory

import (
	"errors"
	"fmt"
	"net/http"
	"slices"
	"strconv"

	"kinwain/internal/catalog"
	"kinwain/internal/store"
	"kinwain/web/kit"
	"kinwain/web/say"
)

// offerUndoAll offers to undo whole saves of the catalogue at once.
func offerUndoAll(views []SaveView, saves []store.Save) {
	for i := range saves {
		if n := len(saves[i].Changes); n > 1 && ofCatalogue(saves[i].Changes) {
			views[i].UndoAll = fmt.Sprintf("%s/%d", historyAddress, saves[i].ID)
			views[i].All = fmt.Sprintf("all %d changes", n)
		}
	}
}

// ofCatalogue reports whether changes are all of the document of the catalogue.
func ofCatalogue(changes []catalog.Change) bool {
	return !slices.ContainsFunc(changes, func(c catalog.Change) bool {
		return !slices.Contains(catalog.Lists, c.List) || c.Field == store.RetiredField
	})
}

// undoAll takes all changes of a save back as one new save, or none of them.
func (room *Room) undoAll(w http.ResponseWriter, r *http.Request) error {
	id, err := strconv.ParseInt(param(r, "save"), 10, 64)
	if err != nil {
		return kit.ErrNotFound
	}
	changes, err := room.store.RecordedSave(r.Context(), id)
	if err != nil {
		return err
	}
	if !ofCatalogue(changes) {
		return kit.ErrNotFound
	}
	if err := r.ParseForm(); err != nil {
		return kit.ErrForm
	}
	u, err := room.takeAllBack(r, changes)
	switch {
	case err != nil:
		return err
	case u.ask != nil:
		return room.showAsked(w, r, u.ask, asked{title: "Undo all of this?", button: "Undo all of it", action: r.URL.EscapedPath(), back: historyAddress})
	case u.refused != "":
		return room.showHistory(w, r, "", "", "Nothing was undone: "+u.refused, http.StatusConflict)
	}
	room.Sessions.Put(r.Context(), flashKey, "Undone: "+say.Counted(len(changes), "change", "changes")+".")
	http.Redirect(w, r, historyAddress, http.StatusSeeOther)
	return nil
}

// takeAllBack stores the catalogue without the changes, the last one taken back
// first. What they added goes only where nothing names it.
func (room *Room) takeAllBack(r *http.Request, changes []catalog.Change) (u undoing, err error) {
	var back []catalog.Change
	var gone []store.Thing
	for _, c := range slices.Backward(changes) {
		back = append(back, c.Reversed())
		if c.Whole() && c.Old == "" {
			gone = append(gone, store.Thing{List: c.List, Code: c.Code})
		}
	}
	for range tries {
		c, revision, err := room.store.CatalogueAt(r.Context())
		if err != nil {
			return u, err
		}
		before, err := catalog.Apply(c, back)
		var stale *catalog.StaleError
		if errors.As(err, &stale) {
			return undoing{refused: stale.Change.List + " " + stale.Change.Code + " has changed since. Undo what is left one by one."}, nil
		}
		if err != nil {
			return u, err
		}
		for _, t := range gone {
			named, err := room.store.NamedBy(r.Context(), t)
			if err != nil || len(named) > 0 {
				return undoing{refused: t.Code + " would be deleted, and is named by " + kit.JoinWords(named) + "."}, err
			}
		}
		if err := before.CheckAfter(c, room.Today()); err != nil {
			return undoing{refused: "something that is left would not be in order then."}, nil
		}
		if u.ask, err = room.askFirst(r, c, before); err != nil || u.ask != nil {
			return u, err
		}
		err = room.store.DeleteThings(r.Context(), revision, before, gone, room.Author(r, store.ByUndo))
		if err == nil || store.CodeOf(err) != store.Conflict {
			return u, err
		}
	}
	return u, errBusy
}
