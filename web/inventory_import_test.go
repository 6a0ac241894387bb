package web_test

import (
	"bytes"
	"mime/multipart"
	"net/http"
	"net/url"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/PuerkitoBio/goquery"
	"github.com/chromedp/chromedp"
	"github.com/google/go-cmp/cmp"

	"kinwain/internal/catalog/sheet"
	"kinwain/testdata"
)

const importPath = "/inventory/import"

// upload sends files as the form does.
func (v *visitor) upload(files ...sheet.File) *answer {
	v.Helper()
	var body bytes.Buffer
	form := multipart.NewWriter(&body)
	for _, f := range files {
		part, err := form.CreateFormFile("files", f.Name)
		if err == nil {
			_, err = part.Write(f.Data)
		}
		if err != nil {
			v.Fatal(err)
		}
	}
	if err := form.Close(); err != nil {
		v.Fatal(err)
	}
	r := v.request(http.MethodPost, importPath, &body)
	r.Header.Set("Content-Type", form.FormDataContentType())
	return v.send(r)
}

// tables exports the catalogue and returns its tables by name.
func (v *visitor) tables() map[string]sheet.File {
	v.Helper()
	a := v.get("/inventory/export?format=csv").is(http.StatusOK, "/inventory/export?format=csv")
	files, err := sheet.Unzip(a.body)
	if err != nil || len(files) != 8 {
		v.Fatalf("%d files, %v", len(files), err)
	}
	tables := map[string]sheet.File{}
	for _, f := range files {
		tables[f.Name] = f
	}
	return tables
}

func edited(t *testing.T, f sheet.File, replacements ...string) sheet.File {
	t.Helper()
	for i := 0; i < len(replacements); i += 2 {
		if !strings.Contains(string(f.Data), replacements[i]) {
			t.Fatalf("%q is not in %s", replacements[i], f.Name)
		}
	}
	f.Data = []byte(strings.NewReplacer(replacements...).Replace(string(f.Data)))
	return f
}

func (s *shop) document() string {
	s.Helper()
	c, err := s.store.Catalogue(s.Context())
	if err != nil {
		s.Fatal(err)
	}
	document, err := c.Document()
	if err != nil {
		s.Fatal(err)
	}
	return string(document) + "\n"
}

// changed lists the cells of the changed fields.
func (a *answer) changed() []string {
	return a.page.Find(".changed tbody th, .changed tbody td").Map(func(_ int, cell *goquery.Selection) string { return words(cell) })
}

// confirm presses the button of a dry run.
func (v *visitor) confirm(a *answer) *answer {
	v.Helper()
	return v.post(a.one("form.confirm").AttrOr("action", ""), url.Values{"at": {a.one(`[name="at"]`).AttrOr("value", "")}})
}

func TestExport(t *testing.T) {
	v := open(t).staff()
	a := v.get("/inventory/export?format=json").is(http.StatusOK, "/inventory/export?format=json")
	if diff := cmp.Diff(string(testdata.Demo), string(a.body)); diff != "" || a.header.Get("Content-Disposition") != `attachment; filename="catalogue.json"` {
		t.Errorf("%s %s", a.header, diff)
	}
	v.tables()
	v.get("/inventory/export?format=xml").is(http.StatusNotFound, "/inventory/export?format=xml")
}

// TestImportFromASpreadsheet changes one table, looks at what would change,
// finds nothing changed yet, and then lets it happen.
func TestImportFromASpreadsheet(t *testing.T) {
	s := open(t)
	v := s.staff()
	v.get(importPath).is(http.StatusOK, importPath).one(`form input[type="file"][name="files"][multiple]`)
	table := edited(t, v.tables()["add_ons.csv"], ",4.1,15900,", `,"4,2",16900,`, "\r\nlock-chain,", "\r\nlock-rope,")
	a := v.upload(table)
	if a.status != http.StatusOK || !strings.HasPrefix(a.path, importPath+"/") {
		t.Fatalf("%d at %s: %s", a.status, a.path, a.text("main"))
	}
	if got := a.text(".summary"); got != "1 removed, 1 added, 2 fields changed in 1 entry." {
		t.Errorf("the summary is %q", got)
	}
	if got := a.text(".lead"); got != "add_ons.csv. The tables you left out stay: shop, frames, zones, combined, places, on_frame, units." {
		t.Errorf("what was sent is %q", got)
	}
	if diff := cmp.Diff([]string{"weight_kg", "4.1", "4.2", "price_cents", "15900", "16900"}, a.changed()); diff != "" {
		t.Error(diff)
	}
	if got := a.text(".things"); !strings.Contains(got, "lock-chain") || !strings.Contains(got, "lock-rope") {
		t.Errorf("removed and added are %q", got)
	}
	if diff := cmp.Diff(string(testdata.Demo), s.document()); diff != "" {
		t.Errorf("changed already: %s", diff)
	}
	done := v.confirm(a).is(http.StatusOK, importPath)
	if got := done.text(".done"); got != "Imported. The catalogue now has 14 frames, 45 add-ons and 24 units." {
		t.Errorf("said %q", got)
	}
	v.get(importPath).count(".done", 0)
	want := strings.NewReplacer(`"weight_kg": 4.1,`, `"weight_kg": 4.2,`, `"price_cents": 15900,`, `"price_cents": 16900,`, `"lock-chain"`, `"lock-rope"`).Replace(string(testdata.Demo))
	if diff := cmp.Diff(want, s.document()); diff != "" {
		t.Error(diff)
	}
	v.get(a.path).is(http.StatusNotFound, a.path)
}

// TestImportNamesZones holds that a zone is named as people call it.
func TestImportNamesZones(t *testing.T) {
	v := open(t).staff()
	a := v.upload(edited(t, v.tables()["zones.csv"], "sedge,rear,70,", "sedge,rear,65,"))
	if diff := cmp.Diff([]string{"zone rear: rating_kg", "70", "65"}, a.changed()); diff != "" {
		t.Error(diff)
	}
}

// TestImportOfEveryForm sends the same shop as a document, as an archive and
// as all tables.
func TestImportOfEveryForm(t *testing.T) {
	v := open(t).staff()
	archive := v.get("/inventory/export").body
	var all []sheet.File
	for _, f := range v.tables() {
		all = append(all, f)
	}
	for name, files := range map[string][]sheet.File{
		"json": {{Name: "shop.json", Data: testdata.Demo}}, "zip": {{Name: "shop.zip", Data: archive}}, "csv": all,
	} {
		a := v.upload(files...)
		if got := a.text(".summary"); a.status != http.StatusOK || got != "Nothing. The catalogue is already as in these files." {
			t.Errorf("%s: %d %q", name, a.status, got)
		}
		a.count(`[name="at"]`, 0)
	}
}

// TestImportFaults names every fault by file, row and column.
func TestImportFaults(t *testing.T) {
	s := open(t)
	v := s.staff()
	tables := v.tables()
	for name, c := range map[string]struct {
		files []sheet.File
		want  []string
	}{
		"nothing": {nil, []string{"Choose a file first."}},
		"two faults": {[]sheet.File{edited(t, tables["units.csv"], ",slate,", ",\"=\"\"slate\"\"\",", ",demo,", ",toy,"), edited(t, tables["frames.csv"], "\r\nsedge,Sedge,", "\r\nsedge,,")},
			[]string{"frames.csv, row 2, name A text is needed here.", "units.csv, row 2, kind"}},
		"two kinds":  {[]sheet.File{tables["units.csv"], {Name: "shop.json", Data: testdata.Demo}}, []string{"shop.json Give one JSON document"}},
		"no archive": {[]sheet.File{{Name: "a.zip", Data: []byte("x")}}, []string{"This is not a zip archive"}},
		"a document": {[]sheet.File{{Name: "a.json", Data: []byte(`{"catalogue": 1, "shap": {}}`)}}, []string{"shap This key is not known here"}},
	} {
		a := v.upload(c.files...)
		if a.status != http.StatusUnprocessableEntity || a.path != importPath {
			t.Errorf("%s: %d at %s", name, a.status, a.path)
		}
		for i, want := range c.want {
			if got := words(a.page.Find(".file-faults li").Eq(i)); !strings.HasPrefix(got, want) {
				t.Errorf("%s: %q, want %q", name, got, want)
			}
		}
	}
	if diff := cmp.Diff(string(testdata.Demo), s.document()); diff != "" {
		t.Error(diff)
	}
}

func TestImportOfFarTooMuch(t *testing.T) {
	v := open(t).staff()
	a := v.upload(sheet.File{Name: "units.csv", Data: bytes.Repeat([]byte(" "), 17<<20)})
	if a.status != http.StatusRequestEntityTooLarge || a.text("h1") != "Far too large" {
		t.Errorf("%d %q", a.status, a.text("h1"))
	}
	if a := v.upload(sheet.File{Name: "units.csv", Data: slices.Concat(v.tables()["units.csv"].Data, bytes.Repeat([]byte("\r\n"), 1<<20))}); a.status != http.StatusOK {
		t.Errorf("2 MB: %d %q", a.status, a.text("main"))
	}
	r := v.request(http.MethodPost, importPath, strings.NewReader("files=x"))
	r.Header.Set("Content-Type", "application/x-www-form-urlencoded")
	if a := v.send(r); a.status != http.StatusBadRequest {
		t.Errorf("a form without files: %d", a.status)
	}
}

// TestImportOverSomebodysChange holds that only what was shown is imported.
func TestImportOverSomebodysChange(t *testing.T) {
	s := open(t)
	v := s.staff()
	tables := v.tables()
	mine := v.upload(edited(t, tables["add_ons.csv"], ",15900,", ",16900,"))
	theirs := v.upload(edited(t, tables["units.csv"], ",slate,", ",grey,"))
	v.confirm(theirs).is(http.StatusOK, importPath)
	after := s.document()
	a := v.confirm(mine)
	if a.status != http.StatusConflict || !strings.Contains(a.text(".alert"), "Somebody has changed") || !slices.Contains(a.changed(), "grey") {
		t.Errorf("%d %q", a.status, a.text("main"))
	}
	if diff := cmp.Diff(after, s.document()); diff != "" {
		t.Error(diff)
	}
	v.get(mine.path).one(".alert")
	v.confirm(a).is(http.StatusOK, importPath) // knowing what it undoes
	if s.document() == after {
		t.Error("nothing was imported")
	}
}

func TestImportIsKeptForAnHour(t *testing.T) {
	s := open(t)
	v := s.staff()
	a := v.upload(edited(t, v.tables()["add_ons.csv"], ",15900,", ",16900,"))
	s.passes(time.Hour - time.Second)
	v.get(a.path).is(http.StatusOK, a.path)
	s.passes(time.Second)
	gone := v.get(a.path).is(http.StatusNotFound, a.path)
	if gone.text("h1") != "No longer kept" {
		t.Errorf("%q", gone.text("h1"))
	}
	if v.confirm(a).status != http.StatusNotFound {
		t.Error("imported after an hour")
	}
	for _, path := range []string{importPath, a.path, "/inventory/export"} {
		s.stranger().get(path).is(http.StatusForbidden, path)
	}
}

// importPages adds the pages of the catalogue in and out, in every state.
func importPages(v *visitor, pages map[string]*answer) {
	v.Helper()
	tables := v.tables()
	pages["import"] = v.get(importPath).is(http.StatusOK, importPath)
	pages["import with faults"] = v.upload(edited(v.T, tables["units.csv"], ",demo,", ",toy,"))
	pages["import of nothing new"] = v.upload(tables["units.csv"])
	pages["import that changes much"] = v.upload(edited(v.T, tables["units.csv"], ",slate,", ",grey,", "S-101", "S-201"),
		edited(v.T, tables["add_ons.csv"], ",4.1,15900,", ",4.2,16900,", "two_leg_stand", "", "\r\nlock-chain,", "\r\nlock-rope,"))
}

// TestImportInABrowser sends a table with a fault, mends it, sends it again
// and imports it.
func TestImportInABrowser(t *testing.T) {
	c := browser(t)
	s := open(t)
	tables := s.staff().tables()
	file := filepath.Join(t.TempDir(), "add_ons.csv")
	b := c.tab(s)
	b.visit("/sign-in/" + token)
	b.visit(importPath)
	send := func(data []byte) {
		if err := os.WriteFile(file, data, 0o600); err != nil {
			t.Fatal(err)
		}
		b.do(chromedp.SetUploadFiles("#files", []string{file}))
		b.click("form .primary")
	}
	if !evaluate[bool](b, `document.querySelector("[data-busy]").hidden`) {
		t.Error("it says that it is busy before anything was sent")
	}
	evaluate[chromedp.Void](b, `document.querySelector("[data-busy]").closest("form").dispatchEvent(new Event("submit", { bubbles: true }))`)
	if evaluate[bool](b, `document.querySelector("[data-busy]").hidden`) {
		t.Error("it does not say that it is busy")
	}
	b.expect("status of 422")
	send(edited(t, tables["add_ons.csv"], ",15900,", ",dear,").Data)
	b.until(`document.querySelector(".file-faults li")?.textContent.includes("add_ons.csv, row 2, price_cents")`)
	b.look("an import with a fault")
	send(edited(t, tables["add_ons.csv"], ",15900,", ",16900,").Data)
	b.until(`document.querySelector(".changed")`)
	b.look("what an import would change")
	b.click(".confirm .primary")
	b.until(`document.querySelector(".done")`)
	if want := strings.ReplaceAll(string(testdata.Demo), `"price_cents": 15900,`, `"price_cents": 16900,`); s.document() != want {
		t.Error(cmp.Diff(want, s.document()))
	}
}
