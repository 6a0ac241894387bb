package inventory

import (
	"errors"
	"net/http"
	"strings"

	"kinwain/internal/catalog"
	"kinwain/internal/problem"
	"kinwain/internal/store"
	"kinwain/web/kit"
	"kinwain/web/say"
	"kinwain/web/wares"
)

// typing is one column of a list while it is typed in place.
type typing struct {
	shelf
	field   *catalog.Field // nil where none is
	current *catalog.Catalogue
	rows    map[string]*InPlace // by code; nil where the page was just opened
	alert   string
	ask     *kit.Asking
	sum     sum
	faults  []string // of a pasted list
}

// typedField is the field that the address asks to type in place.
func typedField(r *http.Request, h shelf) *catalog.Field {
	f := fieldNamed(catalog.Of(h.list), r.URL.Query().Get("edit"))
	if f == nil || !f.InColumn() {
		return nil
	}
	return f
}

// saveColumn stores what was typed into a column of a list, or what a sum or a
// pasted list makes of it, which is shown before it is.
func (room *Room) saveColumn(h shelf) func(http.ResponseWriter, *http.Request) error {
	return func(w http.ResponseWriter, r *http.Request) error {
		posted, err := kit.Posted(r)
		if err != nil {
			return err
		}
		c, err := room.store.Catalogue(r.Context())
		if err != nil {
			return err
		}
		t := &typing{shelf: h, current: c, field: typedField(r, h), sum: sumOf(posted)}
		switch do := posted.Get("do"); {
		case t.field == nil:
			return kit.ErrForm
		case do == "sum" && t.field.Counts(), do == "list":
			return room.saveAll(w, r, t, do)
		}
		codes, was, to := posted["code"], posted["was"], posted["to"]
		if len(codes) != len(was) || len(was) != len(to) || len(codes) > listRows {
			return kit.ErrForm
		}
		t.rows = map[string]*InPlace{}
		for i, code := range codes {
			t.rows[code] = &InPlace{Value: strings.TrimSpace(to[i]), Was: was[i]}
		}
		return room.saveRows(w, r, t)
	}
}

// saveRows stores the rows in which something else was typed than stood there.
func (room *Room) saveRows(w http.ResponseWriter, r *http.Request, t *typing) error {
	for range tries {
		c, revision, err := room.store.CatalogueAt(r.Context())
		if err != nil {
			return err
		}
		t.current = c
		values, err := t.read()
		if err != nil {
			return err
		}
		if t.faulty() {
			return room.showColumn(w, r, t, http.StatusUnprocessableEntity)
		}
		candidate, err := t.with(values)
		if err != nil {
			return err
		}
		if t.ask, err = room.askFirst(r, c, candidate); err != nil {
			return err
		}
		if t.ask != nil {
			return room.showColumn(w, r, t, http.StatusOK)
		}
		switch err = room.storeInventory(r, revision, c, candidate, store.ByEdit); {
		case err == nil:
			return room.columnSaved(w, r, t, len(values))
		case t.take(err, candidate):
			return room.showColumn(w, r, t, http.StatusUnprocessableEntity)
		case store.CodeOf(err) != store.Conflict:
			return err
		}
	}
	return errBusy
}

// read returns what becomes of which thing, and leaves in the rows what stands
// against it: what cannot be read, and what somebody else has changed since.
func (t *typing) read() (map[string]any, error) {
	values := map[string]any{}
	for _, thing := range t.current.Things(t.list) {
		row := t.rows[thing.Code]
		if row == nil || row.Value == row.Was {
			continue
		}
		now, err := wares.ShowFigure(t.field, thing)
		if err != nil {
			return nil, err
		}
		if now != row.Was && now != row.Value {
			row.Was, row.Error = now, "Somebody has saved “"+now+"” meanwhile. Save again to write yours."
			continue
		}
		value, err := wares.Figure(row.Value, t.field.Kind)
		if err != nil {
			row.Error = say.Capital(wares.Sentence(err)) + "."
			continue
		}
		values[thing.Code] = value
	}
	return values, nil
}

func (t *typing) faulty() bool {
	n := 0
	for _, row := range t.rows {
		if row.Error != "" {
			n++
		}
	}
	if n > 0 {
		t.alert = "Nothing is saved yet: " + say.Counted(n, "row is", "rows are") + " to be looked at."
	}
	return n > 0
}

// with returns the catalogue in which the column holds the values.
func (t *typing) with(values map[string]any) (*catalog.Catalogue, error) {
	things := t.current.Things(t.list)
	for i := range things {
		value, changes := values[things[i].Code]
		if !changes {
			continue
		}
		var err error
		if things[i].Of, err = t.field.With(things[i].Of, value); err != nil {
			return nil, err
		}
	}
	changed := *t.current
	changed.Put(t.list, things)
	return &changed, nil
}

// take puts the faults of a catalogue at the rows that they are about, and
// reports whether the error was such.
func (t *typing) take(err error, candidate *catalog.Catalogue) bool {
	var faults problem.List
	if !errors.As(err, &faults) {
		return false
	}
	t.alert = "Nothing is saved yet."
	things := candidate.Things(t.list)
	for _, f := range faults {
		list, at := ownerAt(f.Path)
		row := (*InPlace)(nil)
		if list == t.list && at >= 0 && at < len(things) {
			row = t.rows[things[at].Code]
		}
		switch text := say.Capital(f.Text) + "."; {
		case row != nil && row.Error == "":
			row.Error = text
		case row == nil && len(t.faults) < shownNotices:
			t.faults = append(t.faults, say.Capital(nameAt(candidate, list, at))+": "+text)
		}
	}
	return true
}

func (room *Room) columnSaved(w http.ResponseWriter, r *http.Request, t *typing, n int) error {
	said := "Saved. Nothing was different."
	if n > 0 {
		said = "Saved: " + say.Counted(n, "figure", "figures") + " of “" + t.field.Label + "” changed."
	}
	room.Sessions.Put(r.Context(), flashKey, said)
	http.Redirect(w, r, r.URL.RequestURI(), http.StatusSeeOther)
	return nil
}

// showColumn draws the list again with what was typed.
func (room *Room) showColumn(w http.ResponseWriter, r *http.Request, t *typing, status int) error {
	view, err := room.wareList(r, t.shelf)
	if err != nil {
		return err
	}
	view.part(r, t.shelf)
	view.Shell, view.Tabs = room.inventoryShell(r, t.many), tabs(t.many)
	if err := view.typing(r, t); err != nil {
		return err
	}
	return kit.Render(r.Context(), w, status, WaresPage(view))
}

// typing adds the column that is typed in place to a list.
func (view *Wares) typing(r *http.Request, t *typing) error {
	view.Typing = t.view(r, view.Offered)
	view.Alert = t.alert
	if t.field == nil {
		return nil
	}
	view.Typing.Head = Column{Label: t.field.Label}
	for _, column := range view.Columns {
		if column.Field == t.field.Name {
			view.Typing.Head = Column{Label: t.field.Label, Order: column.Order, Sort: column.Sort}
		}
	}
	things := map[string]catalog.Thing{}
	for _, thing := range t.current.Things(t.list) {
		things[thing.Code] = thing
	}
	for _, rows := range [][]WareRow{view.Rows, view.Retired} {
		for i := range rows {
			row := &rows[i]
			if row.Typed = t.rows[row.Code]; row.Typed != nil {
				continue
			}
			now, err := wares.ShowFigure(t.field, things[row.Code])
			if err != nil {
				return err
			}
			row.Typed = &InPlace{Value: now, Was: now}
		}
	}
	return nil
}
