package inventory_test

import (
	"bytes"
	"net/http"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/PuerkitoBio/goquery"
	"github.com/google/go-cmp/cmp"

	"kinwain/internal/catalog/sheet"
	"kinwain/testdata"
	"kinwain/web/webtest"
)

// changed lists the cells of the changed fields.
func changed(a *webtest.Answer) []string {
	return a.Page.Find(".changed tbody th, .changed tbody td").Map(func(_ int, cell *goquery.Selection) string { return webtest.Words(cell) })
}

func TestExport(t *testing.T) {
	t.Parallel()
	v := webtest.Open(t).Staff()
	a := v.Get("/inventory/export?format=json").Is(http.StatusOK, "/inventory/export?format=json")
	if diff := cmp.Diff(string(testdata.Demo), string(a.Body)); diff != "" || a.Header.Get("Content-Disposition") != `attachment; filename="catalogue.json"` {
		t.Errorf("%s %s", a.Header, diff)
	}
	v.Tables()
	v.Get("/inventory/export?format=xml").Is(http.StatusNotFound, "/inventory/export?format=xml")
}

// TestImportFromASpreadsheet changes one table, looks at what would change,
// finds nothing changed yet, and then lets it happen.
func TestImportFromASpreadsheet(t *testing.T) {
	t.Parallel()
	s := webtest.Open(t)
	v := s.Staff()
	v.Get(webtest.ImportPath).Is(http.StatusOK, webtest.ImportPath).One(`form input[type="file"][name="files"][multiple]`)
	table := webtest.Edited(t, v.Tables()["add_ons.csv"], ",4.1,159.00,", `,"4,2",169.00,`, "\r\nlock-chain,", "\r\nlock-rope,")
	a := v.Upload(table)
	if a.Status != http.StatusOK || !strings.HasPrefix(a.Path, webtest.ImportPath+"/") {
		t.Fatalf("%d at %s: %s", a.Status, a.Path, a.Text("main"))
	}
	if got := a.Text(".summary"); got != "1 removed, 1 added, 3 fields changed in 1 entry." {
		t.Errorf("the summary is %q", got)
	}
	if got := a.Text(".lead"); got != "add_ons.csv. The tables you left out stay: shop, frames, zones, combined, places, on_frame, units, evidence." {
		t.Errorf("what was sent is %q", got)
	}
	if diff := cmp.Diff([]string{"Weight weight_kg", "4.1 kg", "4.2 kg", "Price price", "EUR 159.00", "EUR 169.00", "Source of: weight evidence", "own scale or tape, 2 March 2026, workshop", "nothing"}, changed(a)); diff != "" {
		t.Error(diff)
	}
	if got := a.Text(".things"); !strings.Contains(got, "lock-chain") || !strings.Contains(got, "lock-rope") {
		t.Errorf("removed and added are %q", got)
	}
	if diff := cmp.Diff(string(testdata.Demo), s.Document()); diff != "" {
		t.Errorf("changed already: %s", diff)
	}
	done := v.Confirm(a).Is(http.StatusOK, webtest.ImportPath)
	if got := done.Text(".done"); got != "Imported. The catalogue now has 14 frames, 47 add-ons and 30 units." {
		t.Errorf("said %q", got)
	}
	v.Get(webtest.ImportPath).Count(".done", 0)
	seat := `        {
          "figure": "weight_kg",
          "kind": "own_measure",
          "on": "2026-03-02",
          "by": "workshop"
        }
      ]
    },
    {
      "code": "seat-rear-rack"` // which goes with the weight
	lock := `,
      "evidence": [
        {
          "figure": "weight_kg",
          "kind": "own_measure",
          "on": "2026-05-12",
          "by": "workshop"
        }
      ]
    }
  ],
  "units"` // of what has another code now, and so is something new
	want := strings.NewReplacer(",\n"+seat, "\n      ]\n    },\n    {\n      \"code\": \"seat-rear-rack\"", lock, "\n    }\n  ],\n  \"units\"", `"weight_kg": 4.1,`, `"weight_kg": 4.2,`, `"price_cents": 15900,`, `"price_cents": 16900,`, `"lock-chain"`, `"lock-rope"`).Replace(string(testdata.Demo))
	if diff := cmp.Diff(want, s.Document()); diff != "" {
		t.Error(diff)
	}
	v.Get(a.Path).Is(http.StatusNotFound, a.Path)
}

// TestImportSaysFirstWhatGoes takes limits away and slips a decimal point, and
// reads of both, in words, before anything else.
func TestImportSaysFirstWhatGoes(t *testing.T) {
	t.Parallel()
	s := webtest.Open(t)
	v := s.Staff()
	a := v.Upload(sheet.File{Name: "add_ons (2).csv", Data: []byte("code;needs;price\r\nseat-rear;;1599,00\r\n")},
		webtest.Edited(t, v.Tables()["zones.csv"], "sedge,rear,70,", "sedge,rear,,"))
	if got := a.Text(".summary"); got != "4 fields changed in 2 entries." { // one of them where a rating was from
		t.Errorf("the summary is %q", got)
	}
	for id, want := range map[string][]string{
		"lost":    {"2 ratings, limits and needs go", "Sedge sedge Zone rear, rating: 70 kg", "Harnessed child seat seat-rear Need: two_leg_stand"},
		"leaps":   {"1 figure to be looked at", "Harnessed child seat seat-rear Price: EUR 159.00 becomes EUR 1,599.00"},
		"sources": {"1 source goes", "Sedge sedge Source of: zone rear: rating: manual, 2 March 2026, workshop"},
	} {
		got := []string{a.Text("#" + id)}
		a.Page.Find(`[aria-labelledby="` + id + `"] li`).Each(func(_ int, li *goquery.Selection) { got = append(got, webtest.Words(li)) })
		if diff := cmp.Diff(want, got); diff != "" {
			t.Errorf("%s: %s", id, diff)
		}
	}
	if first := a.Page.Find("main section").First().AttrOr("aria-labelledby", ""); first != "lost" {
		t.Errorf("first comes %q", first)
	}
	if a := v.Upload(webtest.Edited(t, v.Tables()["zones.csv"], "sedge,rear,70,", "sedge,rear,65,")); a.Page.Find("#lost, #leaps").Length() > 0 {
		t.Errorf("another rating goes: %s", a.Text("main"))
	}
}

// TestImportNamesZones holds that a zone is named as people call it.
func TestImportNamesZones(t *testing.T) {
	t.Parallel()
	v := webtest.Open(t).Staff()
	a := v.Upload(webtest.Edited(t, v.Tables()["zones.csv"], "sedge,rear,70,", "sedge,rear,65,"))
	if diff := cmp.Diff([]string{"Zone rear: rating rating_kg", "70 kg", "65 kg", "Source of: zone rear: rating evidence", "manual, 2 March 2026, workshop", "nothing"}, changed(a)); diff != "" {
		t.Error(diff)
	}
}

// TestImportOfEveryForm sends the same shop as a document, as an archive and
// as all tables.
func TestImportOfEveryForm(t *testing.T) {
	t.Parallel()
	v := webtest.Open(t).Staff()
	archive, workbook := v.Get("/inventory/export").Body, v.Get("/inventory/export?format=xlsx")
	if kind := workbook.Header.Get("Content-Type"); !strings.HasSuffix(kind, "spreadsheetml.sheet") || workbook.Header.Get("Content-Disposition") != `attachment; filename="catalogue.xlsx"` {
		t.Error(workbook.Header)
	}
	var all []sheet.File
	for _, f := range v.Tables() {
		all = append(all, f)
	}
	for name, files := range map[string][]sheet.File{
		"json": {{Name: "shop.json", Data: testdata.Demo}}, "zip": {{Name: "shop.zip", Data: archive}}, "xlsx": {{Name: "shop.xlsx", Data: workbook.Body}}, "csv": all,
	} {
		a := v.Upload(files...)
		if got := a.Text(".summary"); a.Status != http.StatusOK || got != "Nothing. The catalogue is already as in these files." {
			t.Errorf("%s: %d %q", name, a.Status, got)
		}
		a.Count(`[name="at"]`, 0)
	}
}

// TestImportFaults names every fault by file, row and column.
func TestImportFaults(t *testing.T) {
	t.Parallel()
	s := webtest.Open(t)
	v := s.Staff()
	tables := v.Tables()
	for name, c := range map[string]struct {
		files []sheet.File
		want  []string
	}{
		"nothing": {nil, []string{"Choose a file first."}},
		"two faults": {[]sheet.File{webtest.Edited(t, tables["units.csv"], ",slate,", ",\"=\"\"slate\"\"\",", ",demo,", ",toy,"), webtest.Edited(t, tables["frames.csv"], "\r\nsedge,Sedge,", "\r\nsedge,,")},
			[]string{"frames.csv, row 2, name A text is needed here.", "units.csv, row 2, kind"}},
		"two kinds":  {[]sheet.File{tables["units.csv"], {Name: "shop.json", Data: testdata.Demo}}, []string{"shop.json Give one JSON document"}},
		"no archive": {[]sheet.File{{Name: "a.zip", Data: []byte("x")}}, []string{"This is not a zip archive"}},
		"a document": {[]sheet.File{{Name: "a.json", Data: []byte(`{"catalogue": 1, "shap": {}}`)}}, []string{"shap This key is not known here"}},
	} {
		a := v.Upload(c.files...)
		if a.Status != http.StatusUnprocessableEntity || a.Path != webtest.ImportPath {
			t.Errorf("%s: %d at %s", name, a.Status, a.Path)
		}
		for i, want := range c.want {
			if got := webtest.Words(a.Page.Find(".file-faults li").Eq(i)); !strings.HasPrefix(got, want) {
				t.Errorf("%s: %q, want %q", name, got, want)
			}
		}
	}
	if diff := cmp.Diff(string(testdata.Demo), s.Document()); diff != "" {
		t.Error(diff)
	}
}

func TestImportOfFarTooMuch(t *testing.T) {
	t.Parallel()
	v := webtest.Open(t).Staff()
	a := v.Upload(sheet.File{Name: "units.csv", Data: bytes.Repeat([]byte(" "), 17<<20)})
	if a.Status != http.StatusRequestEntityTooLarge || a.Text("h1") != "Far too large" {
		t.Errorf("%d %q", a.Status, a.Text("h1"))
	}
	if a := v.Upload(sheet.File{Name: "units.csv", Data: slices.Concat(v.Tables()["units.csv"].Data, bytes.Repeat([]byte("\r\n"), 1<<20))}); a.Status != http.StatusOK {
		t.Errorf("2 MB: %d %q", a.Status, a.Text("main"))
	}
	r := v.Request(http.MethodPost, webtest.ImportPath, strings.NewReader("files=x"))
	r.Header.Set("Content-Type", "application/x-www-form-urlencoded")
	if a := v.Send(r); a.Status != http.StatusBadRequest {
		t.Errorf("a form without files: %d", a.Status)
	}
}

// TestImportOverSomebodysChange holds that only what was shown is imported.
func TestImportOverSomebodysChange(t *testing.T) {
	t.Parallel()
	s := webtest.Open(t)
	v := s.Staff()
	tables := v.Tables()
	mine := v.Upload(webtest.Edited(t, tables["add_ons.csv"], ",159.00,", ",169.00,"))
	theirs := v.Upload(webtest.Edited(t, tables["units.csv"], ",slate,", ",grey,"))
	v.Confirm(theirs).Is(http.StatusOK, webtest.ImportPath)
	after := s.Document()
	a := v.Confirm(mine)
	if a.Status != http.StatusConflict || !strings.Contains(a.Text(".alert"), "Somebody has changed") || !slices.Contains(changed(a), "grey") {
		t.Errorf("%d %q", a.Status, a.Text("main"))
	}
	if diff := cmp.Diff(after, s.Document()); diff != "" {
		t.Error(diff)
	}
	v.Get(mine.Path).One(".alert")
	v.Confirm(a).Is(http.StatusOK, webtest.ImportPath) // knowing what it undoes
	if s.Document() == after {
		t.Error("nothing was imported")
	}
}

func TestImportIsKeptForAnHour(t *testing.T) {
	t.Parallel()
	s := webtest.Open(t)
	v := s.Staff()
	a := v.Upload(webtest.Edited(t, v.Tables()["add_ons.csv"], ",159.00,", ",169.00,"))
	s.Passes(time.Hour - time.Second)
	v.Get(a.Path).Is(http.StatusOK, a.Path)
	s.Passes(time.Second)
	gone := v.Get(a.Path).Is(http.StatusNotFound, a.Path)
	if gone.Text("h1") != "No longer kept" {
		t.Errorf("%q", gone.Text("h1"))
	}
	if v.Confirm(a).Status != http.StatusNotFound {
		t.Error("imported after an hour")
	}
	for _, path := range []string{webtest.ImportPath, a.Path, "/inventory/export"} {
		s.Stranger().Get(path).Is(http.StatusForbidden, path)
	}
}
