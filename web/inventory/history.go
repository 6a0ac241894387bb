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
	view := History{Shell: room.inventoryShell(r, "History"), Tabs: tabs("History"), Action: historyAddress, List: list, Code: code, Alert: alert,
		Done: room.Sessions.PopString(r.Context(), flashKey), Saves: savesView(saves, room.Now().Location())}
	view.Lists = []kit.Option{{Value: "", Label: "Everything"}, {Value: "shop", Label: "The shop"}}
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
	change, err := room.store.RecordedChange(r.Context(), save, number)
	if err != nil {
		return err
	}
	refused, err := room.takeBack(r, change)
	if err != nil {
		return err
	}
	if refused != "" {
		return room.showHistory(w, r, change.List, change.Code, "Not undone: "+refused, http.StatusConflict)
	}
	room.Sessions.Put(r.Context(), flashKey, "Undone. "+say.Capital(historyField(change))+" is "+historyFigure(change.Old)+" again.")
	values := url.Values{"list": {change.List}, "code": {change.Code}}
	http.Redirect(w, r, historyAddress+"?"+values.Encode(), http.StatusSeeOther)
	return nil
}

// takeBack undoes a change, or says why it cannot be undone.
func (room *Room) takeBack(r *http.Request, change catalog.Change) (refused string, err error) {
	if change.Field == store.RetiredField && change.Code != "" {
		return "", room.store.Retire(r.Context(), store.Thing{List: change.List, Code: change.Code}, change.New == "", room.Author(r, store.ByUndo))
	}
	for range tries {
		c, revision, err := room.store.CatalogueAt(r.Context())
		if err != nil {
			return "", err
		}
		var stale *catalog.StaleError
		before, err := catalog.Apply(c, []catalog.Change{change.Reversed()})
		if errors.As(err, &stale) {
			return fmt.Sprintf("it has changed since, and is %s now.", historyFigure(stale.Now)), nil
		}
		if err != nil {
			return "", err
		}
		refused, err := room.storeUndone(r, revision, c, before, change)
		if err == nil || store.CodeOf(err) != store.Conflict {
			return refused, err
		}
	}
	return "", errBusy
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
		return "", room.store.DeleteThing(r.Context(), revision, before, store.Thing{List: change.List, Code: change.Code}, by)
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
