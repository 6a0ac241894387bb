package inventory

import (
	"errors"
	"io"
	"mime/multipart"
	"net/http"
	"strings"
	"time"

	"github.com/go-chi/chi/v5"
	"github.com/go-json-experiment/json"

	"kinwain/internal/catalog"
	"kinwain/internal/catalog/sheet"
	"kinwain/internal/problem"
	"kinwain/internal/store"
	"kinwain/web/kit"
)

const (
	exportAddress = kit.InventoryAddress + "/export"

	// maxUpload bounds the files of one import: a hundred thousand rows.
	maxUpload = 16 << 20
	// inMemory bounds how much of an upload is in memory before it is read.
	inMemory = 1 << 20
	// importLife is how long an upload waits to be confirmed.
	importLife = time.Hour
	// importedKey is where a session keeps what to say after an import.
	importedKey = "imported"
)

var (
	errUpload     = &kit.Failure{Status: http.StatusBadRequest, Code: "form", Title: "That could not be read", Text: "The files arrived damaged, and nothing was changed. Go back and send them again."}
	errUploadSize = &kit.Failure{Status: http.StatusRequestEntityTooLarge, Code: "too_large", Title: "Far too large", Text: "More than 16 MB was sent, and nothing was changed. Go back and send less, or use “kinwain import” on the computer itself."}
	errImportGone = &kit.Failure{Status: http.StatusNotFound, Code: "not_found", Title: "No longer kept", Text: "What was sent is kept for an hour, or until it is imported. Nothing more was changed. Send the files again to see what they would change."}
)

// exportCatalogue sends the catalogue as a file to keep.
func (room *Room) exportCatalogue(w http.ResponseWriter, r *http.Request) error {
	c, err := room.store.Catalogue(r.Context())
	if err != nil {
		return err
	}
	var data []byte
	var name, kind string
	switch r.URL.Query().Get("format") {
	case "", "csv":
		name, kind = "catalogue.zip", "application/zip"
		data, err = sheet.Zip(sheet.Write(c))
	case "blank":
		name, kind = "blank.zip", "application/zip"
		data, err = sheet.Zip(sheet.Blank())
	case "xlsx":
		name, kind = "catalogue.xlsx", "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet"
		data, err = sheet.Workbook(c)
	case "json":
		name, kind = "catalogue.json", "application/json"
		data, err = c.Document()
		data = append(data, '\n')
	default:
		return kit.ErrNotFound
	}
	if err != nil {
		return err
	}
	w.Header().Set("Content-Type", kind)
	w.Header().Set("Content-Disposition", `attachment; filename="`+name+`"`)
	_, _ = w.Write(data) // fails where the browser went away: there is nobody to tell
	return nil
}

func (room *Room) importForm(w http.ResponseWriter, r *http.Request) error {
	view := room.importView(r)
	view.Done = room.Sessions.PopString(r.Context(), importedKey)
	var err error
	if view.Checking, err = room.checking(r.Context()); err != nil {
		return err
	}
	return kit.Render(r.Context(), w, http.StatusOK, ImportPage(view))
}

// upload reads the files that were sent. What is in order is kept to be
// confirmed; what is not is told, fault by fault.
func (room *Room) upload(w http.ResponseWriter, r *http.Request) error {
	files, err := uploaded(r)
	if err != nil {
		return err
	}
	current, revision, err := room.store.CatalogueAt(r.Context())
	if err != nil {
		return err
	}
	faults := problem.List{{Code: problem.Missing, Text: "choose a file first"}}
	var c *catalog.Catalogue
	var kept []string
	if len(files) > 0 {
		faults = nil
		if c, kept, err = sheet.ReadAny(files, current); err == nil {
			err = c.CheckAfter(current, room.Today())
		}
		if err != nil && !errors.As(err, &faults) {
			return err
		}
	}
	if len(faults) > 0 {
		view := room.importView(r)
		faultsView(&view, faults)
		return kit.Render(r.Context(), w, http.StatusUnprocessableEntity, ImportPage(view))
	}
	document, err := json.Marshal(c, json.Deterministic(true))
	if err != nil {
		return err
	}
	waits, err := room.store.CreateImport(r.Context(), nameOf(files, kept), document, revision, room.Now(), room.Now().Add(importLife))
	if err != nil {
		return err
	}
	http.Redirect(w, r, kit.ImportAddress+"/"+waits.ID, http.StatusSeeOther)
	return nil
}

// uploaded returns the files of a posted form.
func uploaded(r *http.Request) ([]sheet.File, error) {
	if err := r.ParseMultipartForm(inMemory); err != nil {
		var tooLarge *http.MaxBytesError
		if errors.As(err, &tooLarge) {
			return nil, errUploadSize
		}
		return nil, errUpload
	}
	var files []sheet.File
	for _, header := range r.MultipartForm.File["files"] {
		data, err := contents(header)
		if err != nil {
			return nil, err
		}
		files = append(files, sheet.File{Name: header.Filename, Data: data})
	}
	return files, nil
}

func contents(header *multipart.FileHeader) ([]byte, error) {
	f, err := header.Open()
	if err != nil {
		return nil, err
	}
	data := make([]byte, header.Size)
	_, err = io.ReadFull(f, data)
	return data, errors.Join(err, f.Close())
}

// nameOf says what was sent, and which tables were not.
func nameOf(files []sheet.File, kept []string) string {
	var names []string
	for _, f := range files {
		names = append(names, f.Name)
	}
	name := strings.Join(names, ", ")
	if len(kept) > 0 {
		name += ". The tables you left out stay: " + strings.Join(kept, ", ")
	}
	return name + "."
}

// waiting is an import with what it would change at this moment.
type waiting struct {
	store.Import
	current  *catalog.Catalogue
	revision int64 // of the current catalogue
	new      *catalog.Catalogue
	changes  []catalog.Change
}

func (room *Room) waiting(r *http.Request) (*waiting, error) {
	kept, err := room.store.Import(r.Context(), chi.URLParam(r, "id"), room.Now())
	if store.CodeOf(err) == store.NotFound {
		return nil, errImportGone
	}
	if err != nil {
		return nil, err
	}
	i := &waiting{Import: kept}
	if i.new, err = catalog.Parse(kept.Document); err != nil {
		return nil, err
	}
	if i.current, i.revision, err = room.store.CatalogueAt(r.Context()); err != nil {
		return nil, err
	}
	i.new = catalog.Carry(i.current, i.new)
	i.changes, err = catalog.Edits(i.current, i.new)
	return i, err
}

// dryRun shows what an import would change.
func (room *Room) dryRun(w http.ResponseWriter, r *http.Request) error {
	i, err := room.waiting(r)
	if err != nil {
		return err
	}
	view := room.dryRunView(r, i)
	if err := room.addReach(r, i, &view); err != nil {
		return err
	}
	if view.Photos, err = room.photoNotices(r, i); err != nil {
		return err
	}
	return kit.Render(r.Context(), w, http.StatusOK, DryRunPage(view))
}

// addReach says whom the changes of an import may concern.
func (room *Room) addReach(r *http.Request, i *waiting, view *DryRun) error {
	if len(i.changes) == 0 {
		return nil
	}
	reach, err := room.watch.Reach(r.Context(), i.current, i.new)
	view.Whom = kit.ReachWords(reach)
	return err
}

// confirmImport stores what the dry run has shown, and nothing else: where
// the catalogue has changed since, the differences are shown anew.
func (room *Room) confirmImport(w http.ResponseWriter, r *http.Request) error {
	i, err := room.waiting(r)
	if err != nil {
		return err
	}
	if r.PostFormValue("at") == "" {
		return kit.ErrForm
	}
	if r.PostFormValue("at") == kit.Digest(i.changes) {
		err = room.store.ReplaceCatalogueAt(r.Context(), i.revision, i.new, room.Author(r, store.ByImport))
	} else {
		err = &store.Error{Code: store.Conflict, Text: "other differences than were shown"}
	}
	if store.CodeOf(err) == store.Conflict {
		view := room.dryRunView(r, i)
		view.Stale = staleWords
		if err := room.addReach(r, i, &view); err != nil {
			return err
		}
		return kit.Render(r.Context(), w, http.StatusConflict, DryRunPage(view))
	}
	if err != nil {
		return err
	}
	if err := room.store.DeleteImport(r.Context(), i.ID); err != nil {
		return err
	}
	room.Sessions.Put(r.Context(), importedKey, importedWords(i.new))
	http.Redirect(w, r, kit.ImportAddress, http.StatusSeeOther)
	return nil
}
