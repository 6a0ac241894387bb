package catalog_test

import (
	"bytes"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
	"pgregory.net/rapid"

	"kinwain/internal/catalog"
	"kinwain/internal/catalog/sheet"
)

// sameSheets holds that the catalogue comes back from its CSV files as it was,
// by its document too, and that the files come back byte for byte.
func sameSheets(t interface {
	Helper()
	Errorf(string, ...any)
}, c *catalog.Catalogue) {
	t.Helper()
	files := sheet.Write(c)
	back, err := sheet.Read(files, nil)
	if err != nil {
		t.Errorf("reading back: %v\n%s", err, files)
		return
	}
	if diff := cmp.Diff(c, back, cmpopts.EquateEmpty()); diff != "" {
		t.Errorf("came back changed: %s", diff)
	}
	before, err := c.Document()
	if err != nil {
		t.Errorf("%v", err)
	}
	if after, err := back.Document(); err != nil || !bytes.Equal(before, after) {
		t.Errorf("another document, %v: %s", err, cmp.Diff(string(before), string(after)))
	}
	if diff := cmp.Diff(files, sheet.Write(back)); diff != "" {
		t.Errorf("other files: %s", diff)
	}
}

func TestSheetsAreLossless(t *testing.T) {
	_, shop := demo(t)
	sameSheets(t, shop)
	sameSheets(t, small())
	sameSheets(t, manyPairs())
	rapid.Check(t, func(t *rapid.T) { sameSheets(t, drawCatalogue(t)) })
}

// TestSheetsKeepEveryText puts texts that a spreadsheet would compute, or that
// look like the format itself, where free text stands.
func TestSheetsKeepEveryText(t *testing.T) {
	for _, text := range []string{
		"=1+2", "+31 6", "-5", "@home", "\ttab", "\rreturn", "\nline", "'", "''", "'=1", "''=1", "'quoted'", "'tis", "'-", "'+'",
		`a "b" c`, `"`, `""`, ",", ";", "a,b;c\td", "one\ntwo", "one\r\ntwo", "one\rtwo", "end\n", " padded ", " ", "\u00a0", "\ufeff", "\x00", "äöü €", "1.234", "yes", "null",
	} {
		c := small()
		c.Shop.Name, c.Frames[0].Name, c.AddOns[0].Name = "x"+text, text+"x", "x"+text+"x"
		c.Frames[0].Notes, c.Frames[0].Family, c.Units[0].Colour = text, text, text
		pair := c.AddOns[0].OnFrame["sedge"]
		pair.Note = text
		c.AddOns[0].OnFrame["sedge"] = pair
		sameSheets(t, c)
	}
}

func TestSheetsOfAnEmptyShop(t *testing.T) {
	sameSheets(t, &catalog.Catalogue{Version: 1, Shop: catalog.Shop{Name: "Low Quay", Currency: "EUR"}})
}
