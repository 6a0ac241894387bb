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
	view, err := room.fitsView(r, c, c, pairsOf(c))
	if err != nil {
		return err
	}
	view.Done = room.Sessions.PopString(r.Context(), flashKey)
	return kit.Render(r.Context(), w, http.StatusOK, FitsPage(view))
}

// pairsOf lists every pair of an add-on and a frame that it fits, as "seat-rear
// sedge".
func pairsOf(c *catalog.Catalogue) []string {
	var pairs []string
	for i := range c.AddOns {
		for _, frame := range c.AddOns[i].Fits {
			pairs = append(pairs, c.AddOns[i].Code+" "+frame)
		}
	}
	return pairs
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
		whom, err := room.unseen(r, c, changed)
		if err != nil {
			return err
		}
		if whom != nil {
			return room.showConcernedFits(w, r, c, changed, posted["was"], whom)
		}
		var faults problem.List
		err = room.storeInventory(r, revision, c, changed, store.ByEdit)
		switch {
		case err == nil:
			room.Sessions.Put(r.Context(), flashKey, "Saved.")
			http.Redirect(w, r, fitsAddress, http.StatusSeeOther)
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
	return kit.Render(r.Context(), w, status, FitsPage(view))
}

func (room *Room) showConcernedFits(w http.ResponseWriter, r *http.Request, c, changed *catalog.Catalogue, was []string, whom *kit.Consequences) error {
	view, err := room.fitsView(r, c, changed, was)
	if err != nil {
		return err
	}
	view.Concerned = whom
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
// without those that were taken away.
func ticked(c *catalog.Catalogue, was, now []string) *catalog.Catalogue {
	before, after := setOf(was), setOf(now)
	changed := *c
	changed.AddOns = slices.Clone(c.AddOns)
	for i := range changed.AddOns {
		a := &changed.AddOns[i]
		fits := slices.DeleteFunc(slices.Clone(a.Fits), func(frame string) bool {
			pair := a.Code + " " + frame
			return before[pair] && !after[pair]
		})
		for _, f := range c.Frames {
			if pair := a.Code + " " + f.Code; after[pair] && !before[pair] && !slices.Contains(fits, f.Code) {
				fits = append(fits, f.Code)
			}
		}
		a.Fits = fits
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

// fitsView draws the grid of a catalogue as it is ticked.
func (room *Room) fitsView(r *http.Request, c, changed *catalog.Catalogue, was []string) (Fits, error) {
	view := Fits{Shell: room.inventoryShell(r, "What fits what"), Tabs: tabs("What fits what"), Action: fitsAddress, Was: was}
	retired, err := room.store.Retired(r.Context())
	if err != nil {
		return view, err
	}
	bad := map[string]bool{}
	for _, m := range changed.Misfits() {
		a, f := changed.AddOn(m.AddOn), changed.Frame(m.Frame)
		bad[m.AddOn+" "+m.Frame] = true
		view.Misfits = append(view.Misfits, Misfit{Pair: a.Name + " on " + f.Name, Text: say.Capital(m.Text) + ".", Faulty: m.Faulty})
	}
	slices.SortStableFunc(view.Misfits, func(a, b Misfit) int {
		if a.Faulty == b.Faulty {
			return 0
		} else if a.Faulty {
			return -1
		}
		return 1
	})
	var frames []*catalog.Frame
	for i := range c.Frames {
		if f := &c.Frames[i]; !retired[store.Thing{List: wares.FrameList, Code: f.Code}] {
			frames = append(frames, f)
			view.Frames = append(view.Frames, Thing{Code: f.Code, Name: strings.TrimSpace(f.Name + " " + f.Size)})
		}
	}
	hidden := setOf(pairsOf(changed))
	for i := range changed.AddOns {
		a := &changed.AddOns[i]
		if retired[store.Thing{List: wares.AddOnList, Code: a.Code}] {
			continue
		}
		row := FitRow{Thing: Thing{Code: a.Code, Name: a.Name}, Href: shelves[1].address(a.Code)}
		for _, f := range frames {
			pair := a.Code + " " + f.Code
			delete(hidden, pair)
			row.Cells = append(row.Cells, FitCell{Value: pair, Label: a.Name + " on " + f.Name, On: slices.Contains(a.Fits, f.Code), Bad: bad[pair]})
		}
		view.Rows = append(view.Rows, row)
	}
	for _, pair := range pairsOf(changed) { // of what is retired: ticked as before, and not shown
		if hidden[pair] {
			view.Hidden = append(view.Hidden, pair)
		}
	}
	return view, nil
}
