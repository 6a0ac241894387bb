package webtest

import (
	"bytes"
	"mime/multipart"
	"net/http"
	"net/url"
	"strings"
	"testing"

	"kinwain/internal/catalog/sheet"
)

// ImportPath is where the catalogue comes in and goes out.
const ImportPath = "/inventory/import"

// Upload sends files as the form does.
func (v *Visitor) Upload(files ...sheet.File) *Answer {
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
	r := v.Request(http.MethodPost, ImportPath, &body)
	r.Header.Set("Content-Type", form.FormDataContentType())
	return v.Send(r)
}

// Tables exports the catalogue and returns its tables by name.
func (v *Visitor) Tables() map[string]sheet.File {
	v.Helper()
	a := v.Get("/inventory/export?format=csv").Is(http.StatusOK, "/inventory/export?format=csv")
	files, err := sheet.Unzip(a.Body)
	if err != nil || len(files) != len(sheet.Tables()) {
		v.Fatalf("%d files, %v", len(files), err)
	}
	tables := map[string]sheet.File{}
	for _, f := range files {
		tables[f.Name] = f
	}
	return tables
}

// Edited returns a table with texts in it replaced, old and new in turn.
func Edited(t *testing.T, f sheet.File, replacements ...string) sheet.File {
	t.Helper()
	for i := 0; i < len(replacements); i += 2 {
		if !strings.Contains(string(f.Data), replacements[i]) {
			t.Fatalf("%q is not in %s", replacements[i], f.Name)
		}
	}
	f.Data = []byte(strings.NewReplacer(replacements...).Replace(string(f.Data)))
	return f
}

// Document is the catalogue as it is kept.
func (s *Shop) Document() string {
	s.Helper()
	c, err := s.Store.Catalogue(s.Context())
	if err != nil {
		s.Fatal(err)
	}
	document, err := c.Document()
	if err != nil {
		s.Fatal(err)
	}
	return string(document) + "\n"
}

// Confirm presses the button of a dry run.
func (v *Visitor) Confirm(a *Answer) *Answer {
	v.Helper()
	return v.Post(a.One("form.confirm").AttrOr("action", ""), url.Values{"at": {a.One(`[name="at"]`).AttrOr("value", "")}})
}

// ImportPages adds the pages of the catalogue in and out, in every state.
func ImportPages(v *Visitor, pages map[string]*Answer) {
	v.Helper()
	tables := v.Tables()
	pages["import"] = v.Get(ImportPath).Is(http.StatusOK, ImportPath)
	pages["columns"] = v.Get(ImportPath+"/columns").Is(http.StatusOK, ImportPath+"/columns")
	pages["import with faults"] = v.Upload(Edited(v.T, tables["units.csv"], ",demo,", ",toy,"))
	pages["import of nothing new"] = v.Upload(tables["units.csv"])
	pages["import that changes much"] = v.Upload(Edited(v.T, tables["units.csv"], ",slate,", ",grey,", "S-101", "S-201"),
		Edited(v.T, tables["add_ons.csv"], ",4.1,159.00,", ",4.2,169.00,", "two_leg_stand", "", "\r\nlock-chain,", "\r\nlock-rope,"))
}
