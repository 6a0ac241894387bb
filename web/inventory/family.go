package inventory

import (
	"errors"
	"fmt"
	"net/http"
	"net/url"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"kinwain/internal/catalog"
	"kinwain/internal/problem"
	"kinwain/internal/store"
	"kinwain/web/kit"
	"kinwain/web/say"
	"kinwain/web/wares"
)

const familyAddress = kit.InventoryAddress + "/family"

// lineage is next year's family of frames while it is made from last year's.
type lineage struct {
	current *catalog.Catalogue
	parents []*catalog.Frame
	typed   []wares.Typed // one for each, with all that the parent states
	bring   bool          // what fits a parent fits its child
	faults  []problem.List
	alert   string
	ask     *kit.Asking
}

// parents returns the frames of the family that one belongs to.
func parents(c *catalog.Catalogue, code string) []*catalog.Frame {
	of := c.Frame(code)
	var all []*catalog.Frame
	for i := range c.Frames {
		if f := &c.Frames[i]; of != nil && (f == of || f.Family != "" && f.Family == of.Family) {
			all = append(all, f)
		}
	}
	return all
}

// lineageOf begins a family: every frame as it is, under names of a year.
func lineageOf(c *catalog.Catalogue, code string, year int) (*lineage, error) {
	l := &lineage{current: c, parents: parents(c, code), bring: true}
	if len(l.parents) == 0 {
		return nil, kit.ErrNotFound
	}
	for _, f := range l.parents {
		document, err := catalog.Thing{Code: f.Code, Of: f}.Document()
		if err != nil {
			return nil, err
		}
		t, err := wares.Show(wares.FrameList, []byte(document))
		if err != nil {
			return nil, err
		}
		t.Set("code", ofYear(f.Code, "-", year))
		t.Set("name", ofYear(f.Name, " ", year))
		if f.Family != "" {
			t.Set("family", ofYear(f.Family, " ", year))
		}
		l.typed = append(l.typed, t)
	}
	l.faults = make([]problem.List, len(l.parents))
	return l, nil
}

var yearBehind = regexp.MustCompile(`[- ]20[0-9]{2}$`)

// ofYear writes a year behind a name, in place of the one that stands there.
func ofYear(name, between string, year int) string {
	return yearBehind.ReplaceAllString(name, "") + between + strconv.Itoa(year)
}

// nextYear is the model year that makers sell next: their lists come in the
// second half of a year.
func (room *Room) nextYear() int {
	today := room.Today()
	if today.Month >= 7 {
		return today.Year + 1
	}
	return today.Year
}

// family shows last year's frames of a family with room for what changes.
func (room *Room) family(w http.ResponseWriter, r *http.Request) error {
	c, err := room.store.Catalogue(r.Context())
	if err != nil {
		return err
	}
	l, err := lineageOf(c, r.URL.Query().Get("of"), room.nextYear())
	if err != nil {
		return err
	}
	return room.showFamily(w, r, l, http.StatusOK)
}

// saveFamily adds next year's family with all that fits it, or shows what
// stands against it.
func (room *Room) saveFamily(w http.ResponseWriter, r *http.Request) error {
	posted, err := kit.Posted(r)
	if err != nil {
		return err
	}
	for range tries {
		c, revision, err := room.store.CatalogueAt(r.Context())
		if err != nil {
			return err
		}
		l, err := lineageOf(c, r.URL.Query().Get("of"), room.nextYear())
		if err != nil {
			return err
		}
		if !l.take(posted) {
			return kit.ErrForm
		}
		candidate, said, err := l.grown()
		if err != nil {
			return err
		}
		if candidate == nil {
			return room.showFamily(w, r, l, http.StatusUnprocessableEntity)
		}
		if l.ask, err = room.askFirst(r, c, candidate); err != nil {
			return err
		}
		if l.ask != nil {
			return room.showFamily(w, r, l, http.StatusOK)
		}
		switch err = room.storeInventory(r, revision, c, candidate, store.ByEdit); {
		case err == nil:
			room.Sessions.Put(r.Context(), flashKey, said)
			http.Redirect(w, r, kit.InventoryAddress+"/frames", http.StatusSeeOther)
			return nil
		case l.refused(err, candidate):
			return room.showFamily(w, r, l, http.StatusUnprocessableEntity)
		case store.CodeOf(err) != store.Conflict:
			return err
		}
	}
	return errBusy
}

// take puts what was typed into the fields that the page shows.
func (l *lineage) take(posted url.Values) bool {
	l.bring = posted.Get("bring") != ""
	if !slices.Equal(posted["from"], codesOf(l.parents)) {
		return false // another family than was shown
	}
	for _, row := range l.rows() {
		for i := range l.typed {
			if typed, sent := posted[cellName(i, row.path)]; sent && row.has(l.typed[i]) {
				l.typed[i].Set(row.path, strings.TrimSpace(typed[0]))
			}
		}
	}
	return true
}

func codesOf(frames []*catalog.Frame) []string {
	var all []string
	for _, f := range frames {
		all = append(all, f.Code)
	}
	return all
}

// grown returns the catalogue with the new frames, and what to say; nil where
// something typed cannot be read.
func (l *lineage) grown() (*catalog.Catalogue, string, error) {
	candidate := l.current
	for i, t := range l.typed {
		document, err := t.Document(wares.FrameList)
		if err == nil {
			candidate, err = withThing(candidate, wares.FrameList, -1, document)
		}
		if err != nil && !errors.As(err, &l.faults[i]) {
			return nil, "", err
		}
	}
	if l.faulty() {
		return nil, "", nil
	}
	said := say.Counted(len(l.parents), "frame", "frames") + " added."
	if !l.bring {
		return candidate, said, nil
	}
	for i, parent := range l.parents {
		child := candidate.Frames[len(l.current.Frames)+i]
		var words string
		if candidate, words = brought(candidate, parent.Code, child.Code); child.Code != "" {
			said += fmt.Sprintf(" %s:%s", child.Code, words)
		}
	}
	return candidate, said, nil
}

func (l *lineage) faulty() bool {
	n := 0
	for _, faults := range l.faults {
		n += len(faults)
	}
	if n > 0 {
		l.alert = "Nothing is saved yet: " + say.Counted(n, "figure cannot be right. It is marked below.", "figures cannot be right. They are marked below.")
	}
	return n > 0
}

// refused puts the faults of a catalogue at the frames that they are about, and
// reports whether the error was such.
func (l *lineage) refused(err error, candidate *catalog.Catalogue) bool {
	var faults problem.List
	if !errors.As(err, &faults) {
		return false
	}
	for i := range l.parents {
		l.faults[i], _ = within(faults, wares.FrameList, len(l.current.Frames)+i)
	}
	if l.faulty(); l.alert == "" {
		owner, at := ownerAt(faults[0].Path)
		l.alert = "Nothing is saved yet. " + say.Capital(nameAt(candidate, owner, at)+": "+faults[0].Text) + "."
	}
	return true
}

func (room *Room) showFamily(w http.ResponseWriter, r *http.Request, l *lineage, status int) error {
	view := l.view()
	view.Shell, view.Tabs, view.Action = room.inventoryShell(r, view.Heading), tabs("Frames"), r.URL.RequestURI()
	view.Unsaved = r.Method == http.MethodPost
	return kit.Render(r.Context(), w, status, FamilyPage(view))
}
