package inventory

import (
	"errors"
	"net/http"
	"slices"
	"strings"

	"kinwain/internal/catalog"
	"kinwain/internal/problem"
	"kinwain/internal/store"
	"kinwain/web/kit"
	"kinwain/web/say"
	"kinwain/web/wares"
)

const fitsAddress = kit.InventoryAddress + "/fits"

// fits shows which add-on fits which frame.
func (room *Room) fits(w http.ResponseWriter, r *http.Request) error {
	c, err := room.store.Catalogue(r.Context())
	if err != nil {
		return err
	}
	view, err := room.fitsView(r, c, c, nil)
	if err != nil {
		return err
	}
	for _, row := range view.Rows {
		for _, cell := range row.Cells {
			if cell.On {
				view.Was = append(view.Was, cell.Value)
			}
		}
	}
	view.Done = room.Sessions.PopString(r.Context(), flashKey)
	return kit.Render(r.Context(), w, http.StatusOK, FitsPage(view))
}

// saveFits stores the ticks that were changed, unless rules stand against
// them: these are shown beside the ticks as they are. Pairs that somebody else
// has changed meanwhile stay as they are now.
func (room *Room) saveFits(w http.ResponseWriter, r *http.Request) error {
	posted, err := kit.Posted(r)
	if err != nil {
		return err
	}
	for range tries {
		c, revision, err := room.store.CatalogueAt(r.Context())
		if err != nil {
			return err
		}
		changed := ticked(c, posted["was"], posted["fit"])
		faulty := slices.ContainsFunc(changed.Misfits(), func(m catalog.Misfit) bool { return m.Faulty })
		if posted.Get("do") == "check" || faulty {
			return room.showFits(w, r, c, changed, posted["was"], faulty)
		}
		ask, err := room.askFirst(r, c, changed)
		if err != nil {
			return err
		}
		if ask != nil {
			return room.showAskedFits(w, r, c, changed, posted["was"], ask)
		}
		var faults problem.List
		err = room.storeInventory(r, revision, c, changed, store.ByEdit)
		switch {
		case err == nil:
			room.Sessions.Put(r.Context(), flashKey, "Saved.")
			http.Redirect(w, r, gridAddress(r), http.StatusSeeOther)
			return nil
		case errors.As(err, &faults):
			return room.showFaultyFits(w, r, c, changed, posted["was"], faults)
		case store.CodeOf(err) != store.Conflict:
			return err
		}
	}
	return errBusy
}

func (room *Room) showFits(w http.ResponseWriter, r *http.Request, c, changed *catalog.Catalogue, was []string, faulty bool) error {
	view, err := room.fitsView(r, c, changed, was)
	if err != nil {
		return err
	}
	status := http.StatusOK
	if faulty && r.PostForm.Get("do") != "check" {
		status = http.StatusUnprocessableEntity
		view.Alert = "Not saved yet. Some of these pairs cannot be; your ticks are still here."
	}
	return kit.RenderPart(w, r, status, FitsPage(view))
}

func (room *Room) showAskedFits(w http.ResponseWriter, r *http.Request, c, changed *catalog.Catalogue, was []string, ask *kit.Asking) error {
	view, err := room.fitsView(r, c, changed, was)
	if err != nil {
		return err
	}
	view.Ask = ask
	return kit.Render(r.Context(), w, http.StatusOK, FitsPage(view))
}

func (room *Room) showFaultyFits(w http.ResponseWriter, r *http.Request, c, changed *catalog.Catalogue, was []string, faults problem.List) error {
	view, err := room.fitsView(r, c, changed, was)
	if err != nil {
		return err
	}
	owner, at := ownerAt(faults[0].Path)
	view.Alert = "Not saved yet; your ticks are still here. " + say.Capital(nameAt(changed, owner, at)+": "+faults[0].Text) + "."
	return kit.Render(r.Context(), w, http.StatusUnprocessableEntity, FitsPage(view))
}

// ticked returns a copy of the catalogue with the pairs that were added and
// without those that were taken away. Pairs that the page did not show are in
// neither list, and stay.
func ticked(c *catalog.Catalogue, was, now []string) *catalog.Catalogue {
	before, after := setOf(was), setOf(now)
	changed := *c
	changed.AddOns = slices.Clone(c.AddOns)
	change := func(pair string, to func(a *catalog.AddOn, frame string)) {
		code, frame, _ := strings.Cut(pair, " ")
		at := slices.IndexFunc(c.AddOns, func(a catalog.AddOn) bool { return a.Code == code })
		if at < 0 || c.Frame(frame) == nil {
			return
		}
		a := &changed.AddOns[at]
		a.Fits = slices.Clone(a.Fits)
		to(a, frame)
	}
	for _, pair := range was {
		if !after[pair] {
			change(pair, func(a *catalog.AddOn, frame string) {
				a.Fits = slices.DeleteFunc(a.Fits, func(code string) bool { return code == frame })
			})
		}
	}
	for _, pair := range now {
		if !before[pair] {
			change(pair, func(a *catalog.AddOn, frame string) {
				if !slices.Contains(a.Fits, frame) {
					a.Fits = append(a.Fits, frame)
				}
			})
		}
	}
	return &changed
}

func setOf(list []string) map[string]bool {
	set := map[string]bool{}
	for _, item := range list {
		set[item] = true
	}
	return set
}

// gridAddress is the address of the part of the grid that a request is about.
func gridAddress(r *http.Request) string {
	if r.URL.RawQuery == "" {
		return fitsAddress
	}
	return fitsAddress + "?" + r.URL.Query().Encode()
}

// fitsView draws the part of the grid of a catalogue that the address asks for,
// as it is ticked.
func (room *Room) fitsView(r *http.Request, c, changed *catalog.Catalogue, was []string) (Fits, error) {
	view := Fits{Shell: room.inventoryShell(r, "What fits what"), Tabs: tabs("What fits what"), Action: gridAddress(r), Was: was,
		Unsaved: r.Method == http.MethodPost, Query: query(r), Of: strings.TrimSpace(r.URL.Query().Get("of"))}
	retired, err := room.store.Retired(r.Context())
	if err != nil {
		return view, err
	}
	if view.Checking, err = room.checking(r.Context()); err != nil {
		return view, err
	}
	bad := view.misfits(changed)
	var frames []*catalog.Frame
	for i := range c.Frames {
		if f := &c.Frames[i]; !retired[store.Thing{List: wares.FrameList, Code: f.Code}] && found(f.Code+" "+f.Name+" "+f.Size+" "+f.Family, view.Of) {
			frames = append(frames, f)
		}
	}
	var addOns []*catalog.AddOn
	for i := range changed.AddOns {
		if a := &changed.AddOns[i]; !retired[store.Thing{List: wares.AddOnList, Code: a.Code}] && found(a.Code+" "+a.Name, view.Query) {
			addOns = append(addOns, a)
		}
	}
	rows, columns := windowOf(r, "page", "Add-ons", len(addOns), gridRows), windowOf(r, "frames", "Frames", len(frames), gridColumns)
	view.AddOns, view.Columns = rows.view(r, gridRows), columns.view(r, gridColumns)
	frames = frames[columns.from:columns.to]
	for _, f := range frames {
		view.Frames = append(view.Frames, Thing{Code: f.Code, Name: f.Called()})
	}
	for _, a := range addOns[rows.from:rows.to] {
		row := FitRow{Thing: Thing{Code: a.Code, Name: a.Name}, Href: shelves[1].address(a.Code)}
		for _, f := range frames {
			pair := a.Code + " " + f.Code
			row.Cells = append(row.Cells, FitCell{Value: pair, Label: a.Name + " on " + f.Called(), On: slices.Contains(a.Fits, f.Code), Bad: bad[pair]})
		}
		view.Rows = append(view.Rows, row)
	}
	return view, nil
}

// misfits lists the pairs that would never work, those first that cannot be
// saved, and returns them all.
func (view *Fits) misfits(c *catalog.Catalogue) (bad map[string]bool) {
	bad = map[string]bool{}
	for _, m := range c.Misfits() {
		a, f := c.AddOn(m.AddOn), c.Frame(m.Frame)
		bad[m.AddOn+" "+m.Frame] = true
		view.Misfits = append(view.Misfits, Misfit{Pair: a.Name + " (" + a.Code + ") on " + f.Called(), Text: say.Capital(m.Text) + ".", Faulty: m.Faulty})
	}
	slices.SortStableFunc(view.Misfits, func(a, b Misfit) int {
		if a.Faulty == b.Faulty {
			return 0
		} else if a.Faulty {
			return -1
		}
		return 1
	})
	if n := len(view.Misfits); n > shownBad {
		view.Misfits, view.More = view.Misfits[:shownBad], n-shownBad
	}
	return bad
}
