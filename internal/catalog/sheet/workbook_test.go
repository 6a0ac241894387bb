package sheet_test

import (
	"archive/zip"
	"bytes"
	"encoding/csv"
	"encoding/xml"
	"fmt"
	"io"
	"path"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/xuri/excelize/v2"

	"kinwain/internal/catalog"
	"kinwain/internal/catalog/sheet"
	"kinwain/internal/problem"
)

// book reads a workbook as ECMA-376, part 1, says that it is written, with
// nothing of what wrote it: for every sheet its rows of cells.
func book(t *testing.T, data []byte) map[string][][]string {
	t.Helper()
	archive, err := zip.NewReader(bytes.NewReader(data), int64(len(data)))
	if err != nil {
		t.Fatal(err)
	}
	part := func(name string, into any) {
		f, err := archive.Open(name)
		if err != nil {
			t.Fatal(err)
		}
		defer f.Close()
		text, err := io.ReadAll(f)
		if err == nil {
			err = xml.Unmarshal(text, into)
		}
		if err != nil {
			t.Fatalf("%s: %v", name, err)
		}
	}
	var workbook struct {
		Sheets []struct {
			Name string `xml:"name,attr"`
			ID   string `xml:"http://schemas.openxmlformats.org/officeDocument/2006/relationships id,attr"`
		} `xml:"sheets>sheet"`
	}
	var links struct {
		Of []struct {
			ID     string `xml:"Id,attr"`
			Target string `xml:"Target,attr"`
		} `xml:"Relationship"`
	}
	part("xl/workbook.xml", &workbook)
	part("xl/_rels/workbook.xml.rels", &links)
	all := map[string][][]string{}
	for _, s := range workbook.Sheets {
		for _, l := range links.Of {
			if l.ID == s.ID {
				var rows sheetXML
				part(path.Join("xl", strings.TrimPrefix(l.Target, "/xl/")), &rows)
				all[s.Name] = rows.cells(t)
			}
		}
	}
	return all
}

type sheetXML struct {
	Rows []struct {
		Cells []struct {
			At     string `xml:"r,attr"`
			Type   string `xml:"t,attr"`
			Value  string `xml:"v"`
			Inline string `xml:"is>t"`
		} `xml:"c"`
	} `xml:"sheetData>row"`
}

// cells puts every cell where its reference says. A number of type n is written
// as it is.
func (s sheetXML) cells(t *testing.T) [][]string {
	var all [][]string
	for i, row := range s.Rows {
		var cells []string
		for _, c := range row.Cells {
			column := 0
			letters := strings.TrimRight(c.At, "0123456789")
			for _, l := range letters {
				column = 26*column + int(l-'A') + 1
			}
			if c.At != letters+strconv.Itoa(i+1) {
				t.Errorf("row %d has the cell %s", i+1, c.At)
			}
			for len(cells) < column {
				cells = append(cells, "")
			}
			switch c.Type {
			case "", "n":
				cells[column-1] = c.Value
			case "inlineStr":
				cells[column-1] = c.Inline
			default:
				t.Errorf("%s is of type %q", c.At, c.Type)
			}
		}
		all = append(all, cells)
	}
	return all
}

func workbookOf(t *testing.T, c *catalog.Catalogue) []byte {
	t.Helper()
	data, err := sheet.Workbook(c)
	if err != nil {
		t.Fatal(err)
	}
	return data
}

// TestWorkbookHoldsWhatCSVDoes reads the workbook of the demo shop with another
// reader, and finds in every cell what the CSV file has there.
func TestWorkbookHoldsWhatCSVDoes(t *testing.T) {
	shop := demo(t)
	shop.Frames[0].Notes = "one, \"two\";\nthree\t<four> & 'five' _x0041_"
	found := book(t, workbookOf(t, shop))
	for _, f := range sheet.Write(shop) {
		name := strings.TrimSuffix(f.Name, ".csv")
		rows := found[name]
		for i, want := range cellsOf(t, f.Data) {
			for len(rows) > i && len(rows[i]) < len(want) {
				rows[i] = append(rows[i], "")
			}
			if len(rows) <= i {
				t.Fatalf("%s has %d rows", name, len(rows))
			}
			want = slices.Clone(want)
			for j, header := range cellsOf(t, f.Data)[0] { // a number ends where nothing but noughts follow
				if (header == "price" || header == "labour_per_hour") && i > 0 {
					want[j] = strings.TrimSuffix(strings.TrimRight(want[j], "0"), ".")
				}
			}
			for j := range want { // as the format escapes what looks like an escape
				want[j] = strings.ReplaceAll(want[j], "_x0041_", "_x005F_x0041_")
			}
			if diff := cmp.Diff(want, rows[i]); diff != "" {
				t.Errorf("%s, row %d: %s", name, i+1, diff)
			}
		}
	}
	if len(found) != len(sheet.Tables()) {
		t.Errorf("%d sheets", len(found))
	}
}

// TestWorkbookComesBack reads back what is written, to the same document and the
// same CSV files.
func TestWorkbookComesBack(t *testing.T) {
	shop := demo(t)
	shop.Frames[0].Notes, shop.Units[0].Colour, shop.Frames[1].Notes = "one\r\ntwo  three _x0041_ <b>&amp;", " -slate ", "=1+2"
	back, kept, err := sheet.ReadAny([]sheet.File{{Name: "catalogue.xlsx", Data: workbookOf(t, shop)}}, nil)
	if err != nil || len(kept) > 0 {
		t.Fatalf("%v %v", err, kept)
	}
	if diff := cmp.Diff(sheet.Write(shop), sheet.Write(back)); diff != "" {
		t.Error(diff)
	}
	a, errA := shop.Document()
	b, errB := back.Document()
	if errA != nil || errB != nil || !bytes.Equal(a, b) {
		t.Errorf("%v %v %s", errA, errB, cmp.Diff(string(a), string(b)))
	}
}

// bookOf makes a workbook by hand, as somebody types it.
func bookOf(t *testing.T, sheets map[string][][]any) []byte {
	t.Helper()
	f := excelize.NewFile()
	for name, rows := range sheets {
		if _, err := f.NewSheet(name); err != nil {
			t.Fatal(err)
		}
		for i, row := range rows {
			if err := f.SetSheetRow(name, fmt.Sprintf("A%d", i+1), &row); err != nil {
				t.Fatal(err)
			}
		}
	}
	if sheets["Sheet1"] == nil {
		if err := f.DeleteSheet("Sheet1"); err != nil {
			t.Fatal(err)
		}
	}
	var b bytes.Buffer
	if err := f.Write(&b); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// TestTypedWorkbooks reads what a spreadsheet keeps otherwise than it shows.
func TestTypedWorkbooks(t *testing.T) {
	for name, c := range map[string]struct {
		file   string
		sheets map[string][][]any
		want   []string
	}{
		"numbers to the last bit":   {"a.xlsx", map[string][][]any{"add_ons": {{"code", "price"}, {"seat", 139.94999999999999}}}, []string{"add_ons[seat].price_cents 0 -> 13995"}},
		"a price as a text":         {"a.xlsx", map[string][][]any{"add_ons": {{"code", "price"}, {"seat", "139,95"}}}, []string{"add_ons[seat].price_cents 0 -> 13995"}},
		"a third of a cent":         {"a.xlsx", map[string][][]any{"add_ons": {{"code", "price"}, {"seat", 139.953}}}, []string{"sheet add_ons, row 2, price: wrong_type"}},
		"one sheet, named by file":  {"add_ons (1).xlsx", map[string][][]any{"Sheet1": {{"code", "price"}, {"seat", 139}}}, []string{"add_ons[seat].price_cents 0 -> 13900"}},
		"an empty sheet beside":     {"a.xlsx", map[string][][]any{"add_ons": {{"code", "price"}, {"seat", 139}}, "Sheet2": {}}, []string{"add_ons[seat].price_cents 0 -> 13900"}},
		"a sheet of something else": {"a.xlsx", map[string][][]any{"add_ons": {{"code", "price"}, {"seat", 139}}, "Totals": {{"x"}}}, []string{"sheet Totals: unknown_key"}},
		"yes, no and a day":         {"a.xlsx", map[string][][]any{"add_ons": {{"code", "blocks_upright"}, {"seat", true}, {"bench", false}}, "units": {{"tag", "weighed_on"}, {"D-1", 46082}}}, []string{"add_ons[seat].blocks_upright false -> true", `units[D-1].weighed_on "2026-02-28" -> "2026-03-01"`}},
		"a row left empty":          {"a.xlsx", map[string][][]any{"add_ons": {{"code", "price"}, {}, {"seat", "none"}}}, []string{"sheet add_ons, row 3, price: wrong_type"}},
	} {
		shop := reads(t, filesOf(small()))
		back, _, err := sheet.ReadAny([]sheet.File{{Name: c.file, Data: bookOf(t, c.sheets)}}, shop)
		var got []string
		if err != nil {
			got = told(t, err)
		} else {
			changes, err := catalog.Edits(shop, back)
			if err != nil {
				t.Fatal(err)
			}
			for _, change := range changes {
				got = append(got, change.Path()+" "+change.Old+" -> "+change.New)
			}
		}
		if diff := cmp.Diff(c.want, got); diff != "" {
			t.Errorf("%s: %s", name, diff)
		}
	}
}

// TestWorkbooksThatAreRefused reads what is none, and what is small as a file
// and huge once it is read.
func TestWorkbooksThatAreRefused(t *testing.T) {
	var bomb, wide bytes.Buffer
	w := zip.NewWriter(&bomb)
	part, err := w.Create("xl/worksheets/sheet1.xml")
	for range 70 {
		if err == nil {
			_, err = part.Write(make([]byte, 1<<20))
		}
	}
	if err == nil {
		err = w.Close()
	}
	if err != nil {
		t.Fatal(err)
	}
	c := csv.NewWriter(&wide)
	_ = c.Write([]string{"no", "workbook"}) // to memory
	c.Flush()
	far := [][]any{{"code", "price"}}
	for range 100 {
		far = append(far, append(make([]any, 16_000), "x"))
	}
	for name, c := range map[string]struct {
		data []byte
		says string
	}{
		"text": {wide.Bytes(), "not a workbook"}, "cut": {workbookOf(t, demo(t))[:4000], "not a workbook"}, "a bomb": {bomb.Bytes(), "more than 64 MB"},
		"far columns": {bookOf(t, map[string][][]any{"add_ons": far}), "goes on for more than"},
	} {
		_, _, err := sheet.ReadAny([]sheet.File{{Name: "a.xlsx", Data: c.data}}, reads(t, filesOf(small())))
		if list, _ := err.(problem.List); len(list) != 1 || !strings.Contains(list[0].Text, c.says) {
			t.Errorf("%s: %v", name, err)
		}
	}
	long := demo(t)
	long.Frames[0].Notes = "a\x00b"
	if _, err := sheet.Workbook(long); err == nil || !strings.Contains(err.Error(), "write the sheet frames: row 2, notes: ") {
		t.Errorf("%v", err)
	}
}

// TestPricesShowTheirCents reads the sheet of add-ons as a spreadsheet shows it.
func TestPricesShowTheirCents(t *testing.T) {
	shop := demo(t)
	f, err := excelize.OpenReader(bytes.NewReader(workbookOf(t, shop)))
	if err != nil {
		t.Fatal(err)
	}
	rows, err := f.GetRows("add_ons")
	if err != nil || f.Close() != nil {
		t.Fatal(err)
	}
	at := slices.Index(rows[0], "price")
	for i, a := range shop.AddOns {
		if got := rows[i+1][at]; got != a.Price.String() {
			t.Errorf("%s costs %s, want %s", a.Code, got, a.Price)
		}
	}
}
