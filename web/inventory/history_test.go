package inventory_test

import (
	"net/http"
	"net/url"
	"strings"
	"testing"

	"kinwain/internal/catalog"
	"kinwain/internal/store"
	"kinwain/web/webtest"
)

func TestUndo(t *testing.T) {
	t.Parallel()
	v := webtest.Open(t).Staff()
	code, _, _ := v.AnyCode()
	path := "/inventory/frames/" + code
	was := v.Catalogue().Frame(code).Material
	edit := func(value string) {
		form := v.Get(path).Ware()
		form.Set("material", value)
		v.Save(path, form, "save").Is(http.StatusOK, path)
	}
	edit("oak")
	undo := v.Get("/inventory/history").One(`form[action^="/inventory/history/"]`).AttrOr("action", "")
	edit("ash")
	if a := v.Post(undo, url.Values{"do": {"undo"}}); a.Status != http.StatusConflict || !strings.Contains(a.Text(".alert"), "ash now") {
		t.Errorf("%d %s", a.Status, a.Text(".alert"))
	}
	edit("oak")
	a := v.Post(undo, url.Values{"do": {"undo"}})
	if a.Status != http.StatusOK || v.Catalogue().Frame(code).Material != was || !strings.Contains(a.Text(".done"), "Undone") {
		t.Errorf("%d %s", a.Status, a.Text("main"))
	}
	if saves, err := v.Store.History(t.Context(), "frames", code, 1); err != nil || saves[0].How != store.ByUndo || saves[0].Changes[0].Old != `"oak"` {
		t.Errorf("%v, %v", saves, err)
	}
	v.Post("/inventory/history/999/0", nil).Is(http.StatusNotFound, "/inventory/history/999/0")
}

// TestUndoOfWhatWouldBeFaulty undoes the adding of an add-on that a frame
// comes with by now.
func TestUndoOfWhatWouldBeFaulty(t *testing.T) {
	t.Parallel()
	v := webtest.Open(t).Staff()
	form := v.Get("/inventory/add-ons/new").Ware()
	form.Set("code", "bell")
	form.Set("name", "Bell")
	form.Set("weight_kg", "0,1")
	v.Save("/inventory/add-ons/new", form, "save").Is(http.StatusOK, "/inventory/add-ons/bell")
	undo := v.Get("/inventory/history").One(`form[action^="/inventory/history/"]`).AttrOr("action", "")
	code, _, _ := v.AnyCode()
	frame := v.Get("/inventory/frames/" + code).Ware()
	frame.Values.Add("comes_with", "bell")
	v.Save("/inventory/frames/"+code, frame, "save").Is(http.StatusOK, "/inventory/frames/"+code)
	a := v.Post(undo, url.Values{"do": {"undo"}})
	if a.Status != http.StatusConflict || !strings.Contains(a.Text(".alert"), "named by") || v.Catalogue().AddOn("bell") == nil {
		t.Errorf("%d %s", a.Status, a.Text("main"))
	}
}

// TestImportIsInTheHistory confirms an import of one figure, and undoes it.
func TestImportIsInTheHistory(t *testing.T) {
	t.Parallel()
	v := webtest.Open(t).Staff()
	waits := v.Upload(webtest.Edited(t, v.Tables()["zones.csv"], "sedge,rear,70,", "sedge,rear,65,"))
	v.Post(waits.Path, url.Values{"at": {waits.One(`input[name="at"]`).AttrOr("value", "")}})
	saves, err := v.Store.History(t.Context(), "", "", 10)
	if err != nil || len(saves) != 1 || saves[0].How != store.ByImport || saves[0].Who != "manager (printed link)" {
		t.Fatalf("%+v, %v", saves, err)
	}
	want := catalog.Change{List: "frames", Code: "sedge", Field: "zones[rear].rating_kg", Old: "70", New: "65"}
	if len(saves[0].Changes) != 2 || saves[0].Changes[0] != want || saves[0].Changes[1].Evidence() != "zones[rear].rating_kg" {
		t.Errorf("%v", saves[0].Changes)
	}
	undo := v.Get("/inventory/history?list=frames&code=sedge").Page.Find(`form[action^="/inventory/history/"]`).First().AttrOr("action", "")
	v.Post(undo, url.Values{"do": {"undo"}}).Is(http.StatusOK, "/inventory/history?code=sedge&list=frames")
	if f := v.Catalogue().Frame("sedge"); f.Zones[f.ZoneIndex("rear")].Rating != 70000 || catalog.Source(f.Evidence, "zones[rear].rating_kg") == nil {
		t.Errorf("not undone, with where it was from: %v", f.Evidence)
	}
	v.Get("/inventory/history?list=units").Count("table.history", 0)
}
