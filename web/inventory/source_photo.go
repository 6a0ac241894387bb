package inventory

import (
	"errors"
	"fmt"
	"mime/multipart"
	"net/http"
	"net/url"

	"kinwain/internal/catalog"
	"kinwain/internal/photo"
	"kinwain/internal/problem"
	"kinwain/internal/store"
	"kinwain/web/kit"
	"kinwain/web/say"
	"kinwain/web/wares"
)

// photosAtOnce is how many photos of sources one form may bring along.
const photosAtOnce = 8

var errPhotoNotHere = &kit.Failure{Status: http.StatusNotFound, Code: "not_found", Title: "This photo is not here",
	Text: "The source names a photo that another shop has, or one that nothing named for a year. Read the figure anew, or ask whoever noted it."}

// takePhotos keeps the photos that were chosen beside figures at once, before
// anything is judged, so that none is lost where something else is wrong: the
// form carries on with its name. What nobody saves is deleted in time. It returns
// what is wrong with those that are not kept, each at its field.
func (room *Room) takePhotos(r *http.Request, e *editing) (faults problem.List, err error) {
	if err := withFiles(r); err != nil || r.MultipartForm == nil {
		return nil, err
	}
	sent := 0
	take := func(at string, keep func(name string)) {
		file := fileOf(r.MultipartForm, at)
		if file == nil || err != nil {
			return
		}
		if sent++; sent > photosAtOnce {
			faults.Add(at, problem.OutOfRange, "%d photos are kept at once; save, and take this one again", photosAtOnce)
			return
		}
		var name string
		var bad *photo.Error
		switch name, err = room.keepSourcePhoto(r, file); {
		case errors.As(err, &bad):
			err = nil
			faults.Add(at, problem.OutOfRange, "the photo was not kept: %s", bad.Text)
		case err == nil:
			keep(name)
		}
	}
	e.typed.EachSource(e.list, func(_, field string) {
		take(wares.PhotoOf(field), func(name string) { e.typed.Photographed(field, name) })
	})
	take(wares.SourcePhoto, func(name string) { e.typed.Set(wares.SourcePhoto, name) })
	return faults, err
}

// fileOf returns the file of a field, nil where none was chosen.
func fileOf(form *multipart.Form, field string) *multipart.FileHeader {
	if files := form.File[field]; len(files) > 0 && files[0].Size > 0 {
		return files[0]
	}
	return nil
}

func (room *Room) keepSourcePhoto(r *http.Request, file *multipart.FileHeader) (name string, err error) {
	large, small, err := decode(r, file)
	if err != nil {
		return "", err
	}
	name, err = room.store.KeepSourcePhoto(r.Context(), large, small, room.Now())
	if store.CodeOf(err) == store.TooMany {
		return "", &photo.Error{Code: "too_many", Text: fmt.Sprintf("the shop keeps %d photos of sources and no more", store.MostSourcePhotos)}
	}
	return name, err
}

// sourcePhoto shows a photo of where figures come from, with the figures.
func (room *Room) sourcePhoto(w http.ResponseWriter, r *http.Request) error {
	name := param(r, "photo")
	c, err := room.store.Catalogue(r.Context())
	if err != nil {
		return err
	}
	here, err := room.store.SourcePhotos(r.Context())
	if err != nil {
		return err
	}
	if !here[name] {
		return errPhotoNotHere
	}
	view := SourcePhoto{Shell: room.inventoryShell(r, "Photo of a source"), Picture: pictureAt(name, false)}
	names := namesOf(c)
	for _, p := range c.Pictured() {
		if p.Photo == name {
			view.Figures = append(view.Figures, figureOn(c, p, names[p.List+" "+p.Code], view.Manager))
		}
	}
	view.Alt = photoWords(view.Figures)
	return kit.Render(r.Context(), w, http.StatusOK, SourcePhotoPage(view))
}

// photoWords say what is to be seen on a photo, as far as anybody noted it.
func photoWords(figures []PhotoFigure) string {
	if len(figures) == 0 {
		return "A photo that no source names any more"
	}
	first := figures[0]
	return first.Source + ": " + first.Thing.Name + ", " + lowered(first.Figure)
}

// figureOn says which figure a photo is of, and how its source is noted; and
// where that is changed, to whoever may.
func figureOn(c *catalog.Catalogue, p catalog.Pictured, name string, may bool) PhotoFigure {
	view := PhotoFigure{Thing: Thing{Code: p.Code, Name: name}, Figure: say.Capital(figureLabel(p.List, p.Figure))}
	for _, thing := range c.Things(p.List) {
		if thing.Code != p.Code {
			continue
		}
		e := catalog.Source(*catalog.EvidenceOf(thing.Of), p.Figure)
		view.Source = sourceWords(wares.Source{Kind: e.Kind, On: e.On, By: e.By, Reference: e.Reference})
		for _, f := range catalog.Figures(p.List, thing.Of) {
			if f.Path == p.Figure && may {
				view.Href = kit.FieldAt(p.List, p.Code, fieldOfSource(f))
			}
		}
	}
	return view
}

// sourcePicture sends a photo of a source. Its name follows from the picture.
func (room *Room) sourcePicture(w http.ResponseWriter, r *http.Request) error {
	p, err := room.store.SourcePhoto(r.Context(), param(r, "photo"))
	switch {
	case store.CodeOf(err) == store.NotFound:
		return errPhotoNotHere
	case err != nil:
		return err
	case r.URL.Query().Get("size") == "small":
		sendPicture(w, p.Small)
	default:
		sendPicture(w, p.Large)
	}
	return nil
}

// pictureAt is where a photo of a source is sent from.
func pictureAt(name string, small bool) string {
	at := kit.SourcePhotoAt(name) + "/picture"
	if small {
		at += "?" + url.Values{"size": {"small"}}.Encode()
	}
	return at
}

// photoNotices says which sources of an import name a photo that is not here,
// and did not before.
func (room *Room) photoNotices(r *http.Request, i *waiting) (Notices, error) {
	missing, err := room.store.PhotosNotHere(r.Context(), i.new)
	if err != nil {
		return Notices{}, err
	}
	before := map[catalog.Pictured]bool{}
	for _, p := range i.current.Pictured() {
		before[p] = true
	}
	names := namesOf(i.current, i.new)
	var lines []Notice
	for _, p := range missing {
		if !before[p] {
			lines = append(lines, Notice{Thing{Code: p.Code, Name: names[p.List+" "+p.Code]}, say.Capital(figureLabel(p.List, p.Figure))})
		}
	}
	return notices(lines, say.Counted(len(lines), "source names a photo that is not here", "sources name photos that are not here"),
		"Photos stay in the shop that took them. The source is kept as it is written; take the photo anew where you need it."), nil
}

// withPhoto adds to a choice of a source the photos that it may have: the one
// of the source that was noted, and the one that is chosen now.
func (d *drawing) withPhoto(s *WareSource, field string, was wares.Source) {
	s.Photo = d.photoField(wares.PhotoOf(field), "Add a photo", ", "+lowered(s.Label))
	switch {
	case was.Photo == "":
	case d.photos[was.Photo]:
		s.KeptPhoto, s.KeptSmall = kit.SourcePhotoAt(was.Photo), pictureAt(was.Photo, true)
	default:
		s.NotHere = "Its photo is not in this shop."
	}
}

// photoField is the field in which a photo is chosen, with the one that was
// sent already.
func (d *drawing) photoField(name, label, of string) *PhotoField {
	f := &PhotoField{Name: name, Label: label, Of: of, Error: d.faults.At(name)}
	if sent := d.typed.Photo(name); sent != "" && d.photos[sent] {
		f.Label, f.Sent, f.Small = "Another photo", sent, pictureAt(sent, true)
	}
	return f
}
