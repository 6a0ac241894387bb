package inventory

import (
	"errors"
	"fmt"
	"net/http"
	"net/url"
	"strconv"
	"strings"

	"kinwain/internal/catalog"
	"kinwain/internal/problem"
	"kinwain/internal/store"
	"kinwain/web/kit"
	"kinwain/web/say"
	"kinwain/web/wares"
)

// flashKey is where a session keeps what to say after something was done to
// the inventory.
const flashKey = "inventory"

// editing is one thing in its form.
type editing struct {
	shelf
	code    string // empty: a new one
	current *catalog.Catalogue
	typed   wares.Typed
	base    string           // its document when the form was opened
	faults  problem.List     // by paths within it
	others  problem.List     // that it would make elsewhere
	clashes []catalog.Change // that the manager has to choose from
	alert   string
	ask     *kit.Asking // what is to be looked at first
	unsaved bool        // what is typed was sent and is not kept yet
	tags    []string    // that are new, and to be confirmed
	// confirmed are new tags to which somebody has said yes.
	confirmed []string
	like      string // of a new frame: whose add-ons may be brought along
	bring     bool   // they are
}

// editForm opens the form of a thing that is there.
func (room *Room) editForm(h shelf) func(http.ResponseWriter, *http.Request) error {
	return func(w http.ResponseWriter, r *http.Request) error {
		e, err := room.edits(r, h)
		if err != nil {
			return err
		}
		if kit.WantsJSON(r) {
			return sendThing(w, []byte(e.base))
		}
		if e.typed, err = wares.Show(h.list, []byte(e.base)); err != nil {
			return err
		}
		return room.showEdit(w, r, e, http.StatusOK)
	}
}

// edits reads the thing of a request.
func (room *Room) edits(r *http.Request, h shelf) (*editing, error) {
	c, err := room.store.Catalogue(r.Context())
	if err != nil {
		return nil, err
	}
	e := &editing{shelf: h, code: param(r, "code"), current: c}
	document, at, err := thingIn(c, h.list, e.code)
	if err == nil && at < 0 {
		err = kit.ErrNotFound
	}
	e.base = string(document)
	return e, err
}

// newThing opens an empty form, or one with everything of another thing but
// what names it.
func (room *Room) newThing(h shelf) func(http.ResponseWriter, *http.Request) error {
	return func(w http.ResponseWriter, r *http.Request) error {
		c, err := room.store.Catalogue(r.Context())
		if err != nil {
			return err
		}
		e := &editing{shelf: h, current: c, typed: wares.FromValues(nil)}
		if from := r.URL.Query().Get("from"); from != "" {
			document, at, err := thingIn(c, h.list, from)
			if err != nil {
				return err
			}
			if at < 0 {
				return kit.ErrNotFound
			}
			if e.typed, err = wares.Show(h.list, document); err != nil {
				return err
			}
			e.typed.Set(wares.Key(h.list), "")
			e.typed.Set("serial", "") // of one bike alone
			e.typed.Unsource()
			e.like, e.bring = from, true
		} else if h.list == wares.UnitList {
			e.typed = usualUnit(c, r.URL.Query().Get("frame"))
		}
		return room.showEdit(w, r, e, http.StatusOK)
	}
}

// saveThing saves a form, or shows it again with a row more or less, with its
// faults, or with what somebody else has changed.
func (room *Room) saveThing(h shelf, isNew bool) func(http.ResponseWriter, *http.Request) error {
	return func(w http.ResponseWriter, r *http.Request) error {
		if err := withFiles(r); err != nil {
			return err
		}
		posted, err := kit.Posted(r)
		if err != nil {
			return err
		}
		e := &editing{shelf: h, base: posted.Get("base"), typed: wares.FromValues(posted), unsaved: true, like: posted.Get("like"), bring: posted.Get("bring") != ""}
		if e.current, err = room.store.Catalogue(r.Context()); err != nil {
			return err
		}
		if !isNew {
			e.code = param(r, "code")
			e.typed.Set(wares.Key(h.list), e.code)
		}
		if e.faults, err = room.takePhotos(r, e); err != nil {
			return err
		}
		if do := posted.Get("do"); do != "save" && do != "consequences" {
			e.act(do)
			return room.showEdit(w, r, e, http.StatusOK)
		}
		e.resolve()
		if len(e.faults) > 0 {
			e.alsoTyped()
			return room.showEdit(w, r, e, http.StatusUnprocessableEntity)
		}
		said, err := room.saveEdit(r, e, posted)
		switch {
		case err != nil:
			return err
		case len(e.clashes) > 0:
			return room.showEdit(w, r, e, http.StatusConflict)
		case len(e.faults)+len(e.others) > 0 || e.alert != "":
			return room.showEdit(w, r, e, http.StatusUnprocessableEntity)
		case e.ask != nil || len(e.tags) > 0:
			return room.showEdit(w, r, e, http.StatusOK)
		}
		if chosenPhoto(r) { // it is kept by its own button
			said += " The picture that you chose is not kept yet: choose it again, and press “Keep the photo”."
		}
		room.Sessions.Put(r.Context(), flashKey, said)
		http.Redirect(w, r, h.address(e.code), http.StatusSeeOther)
		return nil
	}
}

// alsoTyped adds what is wrong with what was typed to what is wrong with photos.
func (e *editing) alsoTyped() {
	var faults problem.List
	if _, err := e.typed.Document(e.list); errors.As(err, &faults) {
		e.faults = append(e.faults, faults...)
	}
}

// act does what a button of the form asks for: "add zones" appends a row,
// "remove zones 1" takes one out.
func (e *editing) act(do string) {
	words := strings.Fields(do)
	switch {
	case len(words) == 2 && words[0] == "add":
		if f := fieldNamed(catalog.Of(e.list), words[1]); f != nil && f.Sub != nil {
			first := f.Sub[0].Name
			if f.Kind == catalog.PerFrame {
				first = "frame"
			}
			e.typed.Add(f.Name, first)
		}
	case len(words) == 3 && words[0] == "remove":
		if row, err := strconv.Atoi(words[2]); err == nil {
			e.typed.Remove(words[1], row)
		}
	}
}

// tries is how often a save starts anew because somebody else was quicker.
const tries = 10

// saveEdit brings what was typed together with what others have changed and
// stores it, or leaves in e what stands against it. It returns what to say.
func (room *Room) saveEdit(r *http.Request, e *editing, posted url.Values) (string, error) {
	document, err := e.typed.Document(e.list)
	if err != nil {
		return "", e.take(err)
	}
	e.confirmed = posted["tag"]
	e.tags = e.unknownTags(document, e.confirmed)
	for range tries {
		c, revision, err := room.store.CatalogueAt(r.Context())
		if err != nil {
			return "", err
		}
		e.current = c
		candidate, said, err := e.merge(document, posted)
		if err != nil || candidate == nil {
			return "", err
		}
		key := keyOf(e.list, document)
		anew(candidate, e.list, key, e.typed.Anew(e.list))
		if candidate = catalog.Carry(c, candidate); e.code != "" {
			said += clearedWords(c, candidate)
		}
		if e.ask, err = room.askFirst(r, c, candidate); err != nil || e.ask != nil || len(e.tags) > 0 {
			return "", err // both are asked at once
		}
		err = room.storeInventory(r, revision, c, candidate, store.ByEdit)
		var faults problem.List
		switch {
		case err == nil:
			e.code = key
			return said, nil
		case errors.As(err, &faults):
			_, at, err := thingIn(candidate, e.list, key)
			if e.code == "" {
				at = lastOf(candidate, e.list)
			}
			e.faults, e.others = within(faults, e.list, at)
			e.besideFigures(candidate, key)
			return "", err
		case store.CodeOf(err) != store.Conflict:
			return "", err
		}
	}
	e.alert = "The inventory is being changed all the time. Nothing was saved; press Save again."
	return "", nil
}

func lastOf(c *catalog.Catalogue, list string) int {
	return map[string]int{wares.FrameList: len(c.Frames), wares.AddOnList: len(c.AddOns), wares.UnitList: len(c.Units)}[list] - 1
}

// take keeps the faults of what was typed; any other error is returned.
func (e *editing) take(err error) error {
	if errors.As(err, &e.faults) {
		return nil
	}
	return err
}

// merge returns the catalogue with what was typed, and what to say of it; nil
// where the manager has to choose first.
func (e *editing) merge(document []byte, posted url.Values) (*catalog.Catalogue, string, error) {
	if e.code == "" {
		candidate, err := withThing(e.current, e.list, -1, document)
		if err != nil {
			return nil, "", e.take(err)
		}
		said := "Added."
		if c := candidate; e.list == wares.FrameList && e.bring && c.Frame(e.like) != nil {
			var words string
			candidate, words = brought(c, e.like, c.Frames[len(c.Frames)-1].Code)
			said += words
		}
		return candidate, said, nil
	}
	_, at, err := thingIn(e.current, e.list, e.code)
	if err != nil {
		return nil, "", err
	}
	if at < 0 {
		e.code, e.base = "", ""
		e.alert = "Somebody has deleted this meanwhile. What you typed is still here; Save adds it anew."
		return nil, "", nil
	}
	my, err := withThing(e.current, e.list, at, document)
	if err != nil {
		return nil, "", e.take(err)
	}
	base, err := withThing(e.current, e.list, at, []byte(e.base))
	if err != nil || keyOf(e.list, []byte(e.base)) != e.code {
		return nil, "", kit.ErrForm
	}
	mine, clashes, err := catalog.Merge(base, my, e.current)
	if err != nil {
		return nil, "", err
	}
	for _, c := range clashes {
		switch chosen := posted.Get("choose:" + c.Field); {
		case chosen == "" || posted.Get("theirs:"+c.Field) != c.Old:
			e.clashes = append(e.clashes, c)
		case chosen == "mine":
			mine = append(mine, c)
		}
	}
	if len(e.clashes) > 0 {
		return nil, "", nil
	}
	candidate, err := catalog.Apply(e.current, mine)
	return candidate, saidOf(mine, base, e.current), err
}

// brought returns the catalogue in which what fits one frame fits another, and
// what to say of it.
func brought(c *catalog.Catalogue, frame, other string) (*catalog.Catalogue, string) {
	with, n, left := c.Alike(frame, other)
	said := fmt.Sprintf(" %s as they fit %s.", say.Counted(n, "add-on fits it", "add-ons fit it"), c.Frame(frame).Called())
	for _, m := range left {
		said += fmt.Sprintf(" Not %s: %s.", with.AddOn(m.AddOn).Name, m.Text)
	}
	return with, said
}

// saidOf says what a save did.
func saidOf(mine []catalog.Change, base, current *catalog.Catalogue) string {
	said := "Saved. Nothing was different."
	if n := len(mine); n > 0 {
		said = fmt.Sprintf("Saved: %s changed.", say.Counted(n, "field", "fields"))
	}
	if theirs, err := catalog.Edits(base, current); err == nil && len(theirs) > 0 {
		said += " Somebody else has changed it as well since you opened it; both are kept."
	}
	return said
}

func (room *Room) showEdit(w http.ResponseWriter, r *http.Request, e *editing, status int) error {
	view, err := room.editView(r, e)
	if err != nil {
		return err
	}
	return kit.Render(r.Context(), w, status, WarePage(view))
}

// storeInventory stores a catalogue that is in order. Whom that may concern is
// judged again from then on.
func (room *Room) storeInventory(r *http.Request, revision int64, before, after *catalog.Catalogue, how string) error {
	after = catalog.Carry(before, after)
	if err := after.CheckAfter(before, room.Today()); err != nil {
		return err
	}
	return room.store.ReplaceCatalogueAt(r.Context(), revision, after, room.Author(r, how))
}
