// Package inventory is the room of the manager at the desk: lists and forms of
// frames, add-ons and units, what fits what, photos, the history with its undo,
// the catalogue in and out, and what is missing in it.
//
// A form is made by one table of fields (web/wares), named by the paths of the
// document, and carries the document as it was when it was opened. catalog.Merge
// holds what was typed against what others have changed since: different fields
// go together, and of the same field the second person chooses. The save is a
// whole new catalogue at a revision; where somebody was quicker it starts anew.
// Before it is made, the change is asked about with whom it may concern at the
// most, and the answer is bound to that very change; after it the store has whom
// that may concern judged again. Its changes are
// recorded in the same transaction. They name entries of lists by what they are,
// zones[rear].rating_kg, so that catalog.Apply can repeat or undo them later, and
// refuses where the field holds something else by now. What is retired is kept
// beside the document, and advice leaves it out of every judgement.
package inventory

import (
	"context"
	"net/http"
	"strings"
	"time"

	"kinwain/internal/advice"
	"kinwain/internal/catalog"
	"kinwain/internal/concern"
	"kinwain/internal/measure"
	"kinwain/internal/quote"
	"kinwain/internal/store"
	"kinwain/web/kit"
)

// Store is what the inventory uses of what is kept.
type Store interface {
	advice.Store
	CatalogueAt(ctx context.Context) (c *catalog.Catalogue, revision int64, err error)
	CreateImport(ctx context.Context, name string, document []byte, revision int64, now, expires time.Time) (store.Import, error)
	DeleteImport(ctx context.Context, id string) error
	DeletePhoto(ctx context.Context, t store.Thing) error
	DeleteThings(ctx context.Context, revision int64, c *catalog.Catalogue, things []store.Thing, by store.Author) error
	History(ctx context.Context, list, code string, most int) ([]store.Save, error)
	HistoryBefore(ctx context.Context, list, code string, before int64, most int) ([]store.Save, error)
	Import(ctx context.Context, id string, now time.Time) (store.Import, error)
	NamedBy(ctx context.Context, t store.Thing) ([]string, error)
	Photo(ctx context.Context, t store.Thing) (store.Photo, error)
	Photos(ctx context.Context, list string) (map[string]store.Photo, error)
	RecentConsultations(ctx context.Context, limit int) ([]store.Consultation, error)
	Consultation(ctx context.Context, id string) (store.Consultation, error)
	FindConsultations(ctx context.Context, of store.Sought, limit int) ([]store.Consultation, error)
	ChangeSettings(ctx context.Context, c store.SettingsChange, by store.Author) error
	Marks(ctx context.Context, consultation string) ([]store.Mark, error)
	PendingJudgings(ctx context.Context, consultation string) ([]store.Judging, error)
	Progress(ctx context.Context) (store.Progress, error)
	Promises(ctx context.Context, day measure.Date) ([]quote.Promise, error)
	RecordedChange(ctx context.Context, save int64, number int) (c catalog.Change, sources []catalog.Change, err error)
	RecordedSave(ctx context.Context, save int64) ([]catalog.Change, error)
	ReplaceCatalogueAt(ctx context.Context, revision int64, c *catalog.Catalogue, by store.Author) error
	Retire(ctx context.Context, t store.Thing, retire bool, by store.Author) error
	SavePhoto(ctx context.Context, t store.Thing, p store.Photo) error
	KeepSourcePhoto(ctx context.Context, large, small []byte, now time.Time) (name string, err error)
	SourcePhoto(ctx context.Context, name string) (store.SourcePhoto, error)
	SourcePhotos(ctx context.Context) (here map[string]bool, err error)
	PhotosNotHere(ctx context.Context, c *catalog.Catalogue) ([]catalog.Pictured, error)
}

// Room answers the requests of the inventory.
type Room struct {
	*kit.Kit
	store  Store
	watch  *concern.Watch
	advice *advice.Advisor

	surveyor *surveyor
}

// New returns the room. watch says whom a change concerns.
func New(k *kit.Kit, s Store, watch *concern.Watch, a *advice.Advisor) *Room {
	return &Room{k, s, watch, a, &surveyor{fault: watch.Fault, few: waitFor, wait: mostWait, idle: nobodyLooks}}
}

// Ways are the ways into the room.
func (room *Room) Ways(w kit.Ways) {
	w.Get(kit.InventoryAddress, room.inventory)
	w.Get(fitsAddress, room.fits)
	w.Post(fitsAddress, room.saveFits)
	w.Get(familyAddress, room.family)
	w.Post(familyAddress, room.saveFamily)
	w.Get(historyAddress, room.history)
	w.Post(historyAddress+"/{save}", room.undoAll)
	w.Post(historyAddress+"/{save}/{number}", room.undo)
	w.Get(deliveryAddress, room.delivery)
	w.Post(deliveryAddress, room.saveDelivery)
	w.Get(kit.QualityAddress, room.quality)
	w.Get(sourcesAddress, room.unproved)
	w.Get(kit.ConcernedAddress, room.concerned)
	w.Get(ownAddress, room.own)
	w.Get(ownCSV, room.ownCounts)
	w.Get(exportAddress, room.exportCatalogue)
	w.Get(kit.SourcesAddress+"/{photo}", room.sourcePhoto)
	w.Get(kit.SourcesAddress+"/{photo}/picture", room.sourcePicture)
	w.Get(dictionaryAddress, room.dictionary)
	w.Get(kit.ImportAddress, room.importForm)
	w.Post(kit.ImportAddress, room.upload)
	w.Get(kit.ImportAddress+"/{id}", room.dryRun)
	w.Post(kit.ImportAddress+"/{id}", room.confirmImport)
	for _, h := range shelves {
		at := kit.InventoryAddress + "/" + h.slug
		w.Get(at, room.wares(h))
		w.Post(at, room.saveColumn(h))
		w.Get(at+"/new", room.newThing(h))
		w.Post(at+"/new", room.saveThing(h, true))
		w.Get(at+"/{code}", room.editForm(h))
		w.Post(at+"/{code}", room.saveThing(h, false))
		w.Put(at+"/{code}", room.putThing(h))
		w.Post(at+"/{code}/retire", room.retireThing(h))
		w.Post(at+"/{code}/delete", room.deleteThing(h))
		w.Get(at+"/{code}/photo", room.photo(h))
		w.Post(at+"/{code}/photo", room.savePhoto(h))
	}
}

// MostBytes is how much may be sent with a request to the room, 0 where it is
// no more than anywhere.
func MostBytes(r *http.Request) int64 {
	files := strings.HasPrefix(r.Header.Get("Content-Type"), "multipart/form-data")
	switch {
	case r.URL.Path == kit.ImportAddress:
		return maxUpload
	case files && bringsPhotos(r.URL.EscapedPath()):
		return maxPhoto
	}
	return 0
}
