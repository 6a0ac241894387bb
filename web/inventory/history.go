package inventory

import (
	"errors"
	"fmt"
	"net/http"
	"net/url"
	"strconv"

	"kinwain/internal/catalog"
	"kinwain/internal/problem"
	"kinwain/internal/store"
	"kinwain/web/kit"
	"kinwain/web/say"
)

const (
	historyAddress = kit.InventoryAddress + "/history"

	// A page of the history has so many saves, or fewer with so many changes.
	// ownSaves bounds the history on the page of a thing.
	shownSaves  = 40
	pageChanges = 100
	ownSaves    = 8
)

// history shows who changed what, of everything or of one thing.
func (room *Room) history(w http.ResponseWriter, r *http.Request) error {
	return room.showHistory(w, r, r.URL.Query().Get("list"), r.URL.Query().Get("code"), "", http.StatusOK)
}

func (room *Room) showHistory(w http.ResponseWriter, r *http.Request, list, code, alert string, status int) error {
	before, err := strconv.ParseInt(r.URL.Query().Get("before"), 10, 64)
	if err != nil || before < 0 {
		before = 0
	}
	saves, err := room.store.HistoryBefore(r.Context(), list, code, before, shownSaves+1)
	if err != nil {
		return err
	}
	saves, more := historyPage(saves)
	c, err := room.store.Catalogue(r.Context())
	if err != nil {
		return err
	}
	view := History{Shell: room.inventoryShell(r, "History"), Tabs: tabs("History"), Action: historyAddress, List: list, Code: code, Alert: alert,
		Done: room.Sessions.PopString(r.Context(), flashKey), Saves: savesView(saves, room.Now().Location(), c.Shop.Currency)}
	if list == "" && code == "" {
		offerUndoAll(view.Saves, saves)
	}
	if view.Checking, err = room.checking(r.Context()); err != nil {
		return err
	}
	view.Lists = []kit.Option{{Value: "", Label: "Everything"}, {Value: "shop", Label: "The shop"}, {Value: store.SettingsList, Label: "Settings"}}
	of := url.Values{"list": {list}, "code": {code}}
	if before > 0 {
		view.Newest = historyAddress + "?" + of.Encode()
	}
	if more {
		of.Set("before", strconv.FormatInt(saves[len(saves)-1].ID, 10))
		view.Earlier = historyAddress + "?" + of.Encode()
	}
	for _, h := range shelves {
		view.Lists = append(view.Lists, kit.Option{Value: h.list, Label: h.many})
	}
	return kit.Render(r.Context(), w, status, HistoryPage(view))
}

// historyPage keeps what a page of saves shows, one at least, and says whether
// there is more.
func historyPage(saves []store.Save) (page []store.Save, more bool) {
	changes := 0
	for i := range saves {
		if changes += min(len(saves[i].Changes), shownFields); i == shownSaves || i > 0 && changes > pageChanges {
			return saves[:i], true
		}
	}
	return saves, false
}

// undo takes one change back, as a new change.
func (room *Room) undo(w http.ResponseWriter, r *http.Request) error {
	save, err := strconv.ParseInt(param(r, "save"), 10, 64)
	if err != nil {
		return kit.ErrNotFound
	}
	number, err := strconv.Atoi(param(r, "number"))
	if err != nil {
		return kit.ErrNotFound
	}
	change, sources, err := room.store.RecordedChange(r.Context(), save, number)
	if err != nil {
		return err
	}
	if err := r.ParseForm(); err != nil {
		return kit.ErrForm
	}
	u, err := room.takeBack(r, change, sources)
	switch {
	case err != nil:
		return err
	case u.ask != nil:
		return room.showAsked(w, r, u.ask, asked{title: "Undo this?", button: "Undo it", action: r.URL.EscapedPath(), back: historyOf(change)})
	case u.refused != "":
		return room.showHistory(w, r, change.List, change.Code, "Not undone: "+u.refused, http.StatusConflict)
	}
	c, err := room.store.Catalogue(r.Context())
	if err != nil {
		return err
	}
	room.Sessions.Put(r.Context(), flashKey, "Undone. "+say.Capital(historyField(change))+" is "+figureIn(change, change.Old, c.Shop.Currency)+" again.")
	http.Redirect(w, r, historyOf(change), http.StatusSeeOther)
	return nil
}

// historyOf is where the history of what a change is about stands.
func historyOf(change catalog.Change) string {
	return historyAddress + "?" + url.Values{"list": {change.List}, "code": {change.Code}}.Encode()
}

// undoing is what came of taking a change back: it was done, it has to be asked
// about first, or it is refused.
type undoing struct {
	ask     *kit.Asking
	refused string
}

// takeBack undoes a change where it is one that the page has shown with whom it
// may concern. With a figure comes where it was from.
func (room *Room) takeBack(r *http.Request, change catalog.Change, sources []catalog.Change) (u undoing, err error) {
	switch {
	case change.List == store.StocktakesList:
		return u, kit.ErrNotFound // what was seen was seen
	case change.List == store.SettingsList:
		return room.takeBackSetting(r, change)
	case change.Field == store.RetiredField && change.Code != "":
		return room.takeBackRetiring(r, change)
	}
	for range tries {
		c, revision, err := room.store.CatalogueAt(r.Context())
		if err != nil {
			return u, err
		}
		var stale *catalog.StaleError
		before, err := catalog.Apply(c, []catalog.Change{change.Reversed()})
		if errors.As(err, &stale) {
			return undoing{refused: fmt.Sprintf("it has changed since, and is %s now.", figureIn(change, stale.Now, c.Shop.Currency))}, nil
		}
		if err != nil {
			return u, err
		}
		for _, source := range sources { // one that is another by now stays away
			if with, err := catalog.Apply(before, []catalog.Change{source.Reversed()}); err == nil {
				before = with
			}
		}
		if u.ask, err = room.askFirst(r, c, before); err != nil || u.ask != nil {
			return u, err
		}
		u.refused, err = room.storeUndone(r, revision, c, before, change)
		if err == nil || store.CodeOf(err) != store.Conflict {
			return u, err
		}
	}
	return u, errBusy
}

// takeBackRetiring brings back what was retired, or the other way round.
func (room *Room) takeBackRetiring(r *http.Request, change catalog.Change) (u undoing, err error) {
	h, ok := shelfOf(change.List)
	if !ok {
		return u, kit.ErrNotFound
	}
	retire := change.New == ""
	if u.ask, err = room.askRetire(r, &editing{shelf: h, code: change.Code}, retire); err != nil || u.ask != nil {
		return u, err
	}
	return u, room.store.Retire(r.Context(), store.Thing{List: change.List, Code: change.Code}, retire, room.Author(r, store.ByUndo))
}

// storeUndone stores the catalogue without a change, or says why not. Where
// that takes a thing away, nothing may name it.
func (room *Room) storeUndone(r *http.Request, revision int64, c, before *catalog.Catalogue, change catalog.Change) (refused string, err error) {
	by := room.Author(r, store.ByUndo)
	if h, ok := shelfOf(change.List); ok && change.Whole() && change.Old == "" {
		why, err := room.namedBy(r, c, h, change.Code)
		if err != nil {
			return "", err
		}
		if why != "" {
			return "it would be deleted, and is named by " + why + ".", nil
		}
		return "", room.store.DeleteThings(r.Context(), revision, before, []store.Thing{{List: change.List, Code: change.Code}}, by)
	}
	err = room.storeInventory(r, revision, c, before, store.ByUndo)
	var faults problem.List
	if errors.As(err, &faults) {
		owner, at := ownerAt(faults[0].Path)
		if name := nameAt(before, owner, at); name != "" {
			return "then " + name + " would not be in order. " + say.Capital(faults[0].Text) + ".", nil
		}
		return faults[0].Text + ".", nil
	}
	return "", err
}
