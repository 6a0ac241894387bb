package inventory

import (
	"fmt"
	"net/http"
	"net/url"
	"slices"
	"strings"

	"kinwain/internal/catalog"
	"kinwain/internal/photo"
	"kinwain/internal/problem"
	"kinwain/internal/quote"
	"kinwain/internal/store"
	"kinwain/web/kit"
	"kinwain/web/say"
	"kinwain/web/wares"
)

// editView draws the form of a thing.
func (room *Room) editView(r *http.Request, e *editing) (Ware, error) {
	view := Ware{Code: e.code, Named: e.list == wares.UnitList, One: e.one, Alert: e.alert, Ask: e.ask, Base: e.base, Unsaved: e.unsaved, Action: e.address("new"), Heading: "New " + e.one}
	if e.code != "" {
		view.Heading, view.Action, view.Life = e.code, e.address(e.code), e.address(e.code)
		if name := strings.TrimSpace(e.typed.Get("name") + " " + e.typed.Get("size")); name != "" {
			view.Heading = name
		} else if frame := e.typed.Get("frame"); frame != "" {
			view.Heading = e.code + ", " + nameOfFrame(e.current, frame)
		}
		view.Copy = e.address("new") + "?" + url.Values{"from": {e.code}}.Encode()
		if err := room.lifeView(r, e, &view); err != nil {
			return view, err
		}
		if e.list == wares.FrameList {
			view.Family = familyAddress + "?" + url.Values{"of": {e.code}}.Encode()
		}
	} else if f := e.current.Frame(e.like); f != nil && e.list == wares.FrameList {
		view.Like, view.Brings, view.Bring = e.like, e.bring, bringWords(e.current, f)
	}
	view.Shell, view.Tabs = room.inventoryShell(r, view.Heading), tabs(e.many)
	view.Done = room.Sessions.PopString(r.Context(), flashKey)
	var err error
	if view.Checking, err = room.checking(r.Context()); err != nil {
		return view, err
	}
	d := &drawing{editing: e, offers: offersOf(e), today: room.Today().String(), who: whoIs(r)}
	if d.photos, err = room.store.SourcePhotos(r.Context()); err != nil {
		return view, err
	}
	for _, section := range wares.Table[e.list] {
		view.Sections = append(view.Sections, d.section(section))
	}
	view.Lists = d.offers.lists()
	if view.NewTags, view.Confirmed = e.tags, e.confirmed; len(e.tags) > 0 {
		view.Tags = knownTags(e.current)
	}
	for _, p := range e.others {
		owner, at := ownerAt(p.Path)
		where := nameAt(e.current, owner, at)
		if where == "" {
			where = p.Path
		}
		view.Others = append(view.Others, FileFault{Where: say.Capital(where), Text: say.Capital(p.Text) + "."})
	}
	if n := len(e.faults); n > 0 {
		view.Alert = strings.TrimSpace(view.Alert + " Not saved yet: " + say.Counted(n, "field cannot be right. It is marked below.", "fields cannot be right. They are marked below."))
	} else if len(e.others) > 0 {
		view.Alert = "Not saved yet: it would leave something else in disorder."
	}
	for _, c := range e.clashes {
		view.Clashes = append(view.Clashes, Clash{Name: c.Field, Field: say.Capital(fieldLabel(e.list, c.Field)), Mine: figureIn(c, c.New, e.current.Shop.Currency), Theirs: figureIn(c, c.Old, e.current.Shop.Currency), Old: c.Old})
	}
	return view, nil
}

// bringWords offers to bring along what fits a frame.
func bringWords(c *catalog.Catalogue, f *catalog.Frame) string {
	n, differ := 0, 0
	for i := range c.AddOns {
		a := &c.AddOns[i]
		if slices.Contains(a.Fits, f.Code) {
			n++
			if _, differs := a.OnFrame[f.Code]; differs {
				differ++
			}
		}
	}
	return fmt.Sprintf("Bring along the %s that fit %s, with what differs there of %d of them", say.Counted(n, "add-on", "add-ons"), f.Called(), differ)
}

// lifeView adds what becomes of a thing beside its form: photo, history,
// retiring.
func (room *Room) lifeView(r *http.Request, e *editing, view *Ware) error {
	t := store.Thing{List: e.list, Code: e.code}
	retired, err := room.store.Retired(r.Context())
	if err != nil {
		return err
	}
	view.Retired = retired[t]
	if view.NamedBy, err = room.namedBy(r, e.current, e.shelf, e.code); err != nil {
		return err
	}
	saves, err := room.store.History(r.Context(), e.list, e.code, ownSaves)
	if err != nil {
		return err
	}
	view.Saves = savesView(saves, room.Now().Location(), e.current.Shop.Currency)
	view.History = historyAddress + "?" + url.Values{"list": {e.list}, "code": {e.code}}.Encode()
	if len(e.clashes) > 0 && len(saves) > 0 {
		view.Changer = saves[0].Who
	}
	photos, err := room.store.Photos(r.Context(), e.list)
	if err != nil {
		return err
	}
	if p, has := photos[e.code]; has {
		view.Photo, view.Alt = photoAddress(e.shelf, e.code, p, false), p.Alt
	}
	if words := room.Sessions.PopString(r.Context(), altKey); words != "" {
		view.Alt = words
	}
	view.PhotoMax = fmt.Sprintf("JPEG, PNG or GIF, at most %d MB. Only the picture itself is kept.", photo.MaxBytes>>20)
	if e.list == wares.AddOnList {
		return room.promisedView(r, e, view)
	}
	if e.list == wares.UnitList {
		if i := slices.IndexFunc(e.current.Units, func(u catalog.Unit) bool { return u.Tag == e.code }); i >= 0 {
			view.Weighed = weighedView(e.current, &e.current.Units[i])
		}
		return room.heldView(r, e, view)
	}
	return nil
}

// heldView says for which quote a unit is held, and what the shop has changed
// since for that.
func (room *Room) heldView(r *http.Request, e *editing, view *Ware) error {
	held, err := room.store.Reservations(r.Context())
	if err != nil {
		return err
	}
	at := slices.IndexFunc(held, func(one quote.Reservation) bool { return one.Unit == e.code && one.Holds(room.Today()) })
	if at < 0 {
		return nil
	}
	of := held[at]
	view.Held, view.HeldAt = fmt.Sprintf("%s, until the end of %s", of.QuoteName, of.Until), kit.QuoteAt(of.Quote)
	marks, err := room.store.Marks(r.Context(), of.Consultation)
	if err != nil {
		return err
	}
	for _, m := range marks {
		if m.Quote == of.Quote {
			view.Since.Marks = append(view.Since.Marks, kit.MarkWords(m, room.Now().Location()))
		}
	}
	pending, err := room.store.PendingJudgings(r.Context(), of.Consultation)
	view.Since.ToCheck = slices.ContainsFunc(pending, func(j store.Judging) bool { return j.Quote == of.Quote })
	return err
}

// drawing is a form with what may be chosen in it.
type drawing struct {
	*editing
	offers     offers
	today, who string          // of sources that are chosen now
	photos     map[string]bool // of sources, that are here
}

func (d *drawing) section(s wares.Section) WareSection {
	view := WareSection{ID: "s-" + s.Fields[0].Name, Title: s.Title, Lead: s.Lead}
	for _, f := range s.Fields {
		switch f.Kind {
		case catalog.Rows, catalog.PerFrame:
			d.rows(&view, f)
		case catalog.Proofs:
			d.chosenNow(&view)
		case catalog.Boxed:
			for _, sub := range f.Sub {
				view.Fields = append(view.Fields, d.field(problem.Join(f.Name, sub.Name), sub))
			}
		default:
			if f.Name != wares.Key(d.list) || d.code == "" {
				view.Fields = append(view.Fields, d.field(f.Name, f))
			}
		}
	}
	return view
}

func (d *drawing) rows(view *WareSection, f catalog.Field) {
	view.Error = d.faults.At(f.Name)
	view.Add = kit.Button{Label: "Add a " + f.One, Value: "add " + f.Name}
	fields := f.Sub
	if f.Kind == catalog.PerFrame {
		fields = append([]catalog.Field{{Name: "frame", Label: "Frame", Kind: catalog.OneFrame, Needed: true}}, f.Sub...)
	}
	view.Next = problem.Join(wares.Row(f.Name, d.typed.Rows(f.Name)), fields[0].Name)
	for i := range d.typed.Rows(f.Name) {
		title := fmt.Sprintf("%s %d", f.One, i+1)
		row := WareFields{Title: title, Remove: kit.Button{Label: "Remove " + title, Value: fmt.Sprintf("remove %s %d", f.Name, i)}}
		for _, sub := range fields {
			row.Fields = append(row.Fields, d.field(problem.Join(wares.Row(f.Name, i), sub.Name), sub))
		}
		if f.Sourced {
			row.Source = d.source(wares.Row(f.Name, i), "what differs on "+title)
		}
		view.Rows = append(view.Rows, row)
	}
}

// faultAt returns the fault of a field, or of a member of it.
func (d *drawing) faultAt(path string) string {
	if frame, field, ok := d.perFrame(path); ok {
		if text := d.faults.At(problem.Join("on_frame."+frame, field)); text != "" {
			return text
		}
		if text := d.faults.At("on_frame." + frame); text != "" && field == "frame" {
			return text
		}
	}
	for _, p := range d.faults {
		if p.Path == path || strings.HasPrefix(p.Path, path+"[") {
			return p.Text
		}
	}
	return ""
}

// perFrame splits the path of a field of on_frame by its row.
func (d *drawing) perFrame(path string) (frame, field string, ok bool) {
	rest, ok := strings.CutPrefix(path, "on_frame[")
	number, field, found := strings.Cut(rest, "].")
	if !ok || !found {
		return "", "", false
	}
	return d.typed.Get("on_frame[" + number + "].frame"), field, true
}

// units are shown behind the labels.
var units = map[catalog.FieldKind]string{catalog.Mass: "kg", catalog.Length: "cm", catalog.Signed: "cm", catalog.Volume: "litres", catalog.Share: "%"}

var modes = map[catalog.FieldKind]string{catalog.Mass: "decimal", catalog.Length: "decimal", catalog.Volume: "decimal", catalog.Money: "decimal", catalog.Share: "decimal", catalog.Number: "numeric"}

func (d *drawing) field(path string, f catalog.Field) WareField {
	v := WareField{Field: kit.Field{Name: path, Label: f.Label, Hint: f.Hint, Unit: units[f.Kind], Mode: modes[f.Kind], Value: d.typed.Get(path),
		Error: d.faultAt(path), Needed: f.Needed}, Chosen: d.typed.All(path)}
	d.choose(&v, path, f)
	switch {
	case f.Sourced && f.Kind == catalog.Frames:
		v.Fits = d.ofFits(f)
	case f.Sourced:
		v.Source = d.source(path, f.Label)
	}
	return v
}
