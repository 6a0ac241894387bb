package inventory_test

import (
	"fmt"
	"net/http"
	"net/url"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"

	"kinwain/internal/problem"
	"kinwain/web/wares"

	"kinwain/web/webtest"
)

func TestInventoryPages(t *testing.T) {
	t.Parallel()
	v := webtest.Open(t).Staff()
	c := v.Catalogue()
	a := v.Get("/inventory").Is(http.StatusOK, "/inventory")
	if counts := a.Text(".ware-counts"); !strings.Contains(counts, fmt.Sprintf("%d Frames", len(c.Frames))) || !strings.Contains(counts, fmt.Sprintf("%d Units", len(c.Units))) {
		t.Errorf("counts: %s", counts)
	}
	for slug, n := range map[string]int{"frames": len(c.Frames), "add-ons": len(c.AddOns), "units": len(c.Units)} {
		v.Get("/inventory/"+slug).Is(http.StatusOK, "/inventory/"+slug).Count(".wares tbody tr", n)
	}
	f := c.Frames[1]
	found := v.Get("/inventory/frames?q=" + url.QueryEscape(strings.ToUpper(f.Name)+" "+f.Code))
	if rows := found.Text(".wares tbody"); !strings.Contains(rows, f.Name) || found.Page.Find(".wares tbody tr").Length() >= len(c.Frames) {
		t.Errorf("found %s", rows)
	}
	if everywhere := v.Get("/inventory?q=" + f.Code).Text(".found"); !strings.Contains(everywhere, f.Name) {
		t.Errorf("found everywhere: %s", everywhere)
	}
	v.Get("/inventory?q=nosuchthing").Count(".found .empty", 1)
	v.Stranger().Get("/inventory/frames").Is(http.StatusForbidden, "/inventory/frames")
}

// TestEveryFormHoldsWhatThereIs reads the form of everything the demo shop has
// as it would be sent: it says the same again.
func TestEveryFormHoldsWhatThereIs(t *testing.T) {
	t.Parallel()
	v := webtest.Open(t).Staff()
	c := v.Catalogue()
	for i := range c.Frames {
		holds(v, "/inventory/frames/", wares.FrameList, c.Frames[i].Code, c.Frames[i])
	}
	for i := range c.AddOns {
		holds(v, "/inventory/add-ons/", wares.AddOnList, c.AddOns[i].Code, c.AddOns[i])
	}
	for i := range c.Units {
		holds(v, "/inventory/units/", wares.UnitList, c.Units[i].Tag, c.Units[i])
	}
}

// holds checks that the form of a thing, read as it stands, is that thing.
func holds[T any](v *webtest.Visitor, address, list, code string, want T) {
	v.Helper()
	path := address + url.PathEscape(code)
	typed := wares.FromValues(v.Get(path).Is(http.StatusOK, path).Ware().Values)
	typed.Set(wares.Key(list), code) // the address says it
	document, err := typed.Document(list)
	if err != nil {
		v.Errorf("%s: %v", path, err)
		return
	}
	var got T
	if err := problem.Read(document, &got); err != nil {
		v.Errorf("%s: %v", path, err)
	}
	if diff := cmp.Diff(want, got, cmpopts.EquateEmpty()); diff != "" {
		v.Errorf("%s: %s", path, diff)
	}
}

// TestSavingWhatIsShownChangesNothing presses save in a form of each kind.
func TestSavingWhatIsShownChangesNothing(t *testing.T) {
	t.Parallel()
	v := webtest.Open(t).Staff()
	before := v.Document()
	c := v.Catalogue()
	for _, path := range []string{"/inventory/frames/" + c.Frames[0].Code, "/inventory/add-ons/" + c.AddOns[0].Code, "/inventory/units/" + url.PathEscape(c.Units[0].Tag)} {
		a := v.Save(path, v.Get(path).Ware(), "save")
		if a.Status != http.StatusOK || a.Text(".done") != "Saved. Nothing was different." {
			t.Errorf("%s: %d %s %s %s", path, a.Status, a.Text(".done"), a.Text(".alert"), a.Text(".error"))
		}
	}
	if v.Document() != before {
		t.Error("saving changes something")
	}
	if saves, err := v.Store.History(t.Context(), "", "", 10); err != nil || len(saves) != 0 {
		t.Errorf("recorded: %v, %v", saves, err)
	}
}
