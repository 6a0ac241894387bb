package sheet_test

import (
	"os"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"

	"kinwain/internal/catalog"
	"kinwain/internal/catalog/sheet"
	"kinwain/internal/problem"
)

func demo(t testing.TB) *catalog.Catalogue {
	t.Helper()
	data, err := os.ReadFile("../../../testdata/demo.json")
	if err != nil {
		t.Fatal(err)
	}
	c, err := catalog.Parse(data)
	if err != nil {
		t.Fatal(err)
	}
	return c
}

// small is a shop of which every file can be seen at a glance.
func small() map[string]string {
	return map[string]string{
		"shop":     "catalogue,name,currency\n1,Low Quay,EUR\n",
		"frames":   "code,name,gross_rating_kg,bare_weight_kg,rider_min_cm,rider_max_cm,price_cents,length_cm,width_cm,height_cm,mounts,notes\nsedge,Sedge,180,24.5,150,195,189000,178,64,112,deck_cm:60 belly:1,\nosier,Osier,160,19,155,200,149900,185,60,110,,\n",
		"zones":    "frame,code,rating_kg,steered\nsedge,front,20,yes\nsedge,rear,60,no\nosier,rear,,\n",
		"combined": "frame,zones,rating_kg\nsedge,front rear,70\n",
		"places":   "frame,add_on,zone,kind,min_months,min_kg,max_kg,needs\n,seat,,harnessed,12,9,22,foot_support|bench hand_hold\nsedge,,rear,bench,24,,,\n",
		"add_ons":  "code,name,weight_kg,fits,uses,zone\nseat,Child seat,4.1,sedge,deck_cm:34,rear\nbench,Bench,2,,,\n",
		"on_frame": "add_on,frame,fitting_minutes,blocks_upright\nseat,sedge,0,\n",
		"units":    "tag,frame,kind,status,fitted,weighed_kg,weighed_on\nD-1,sedge,demo,available,seat bench,29,2026-02-28\n",
	}
}

func filesOf(texts map[string]string) []sheet.File {
	var files []sheet.File
	for _, name := range sheet.Tables() {
		if text, given := texts[name]; given {
			files = append(files, sheet.File{Name: name + ".csv", Data: []byte(text)})
		}
	}
	return files
}

// reads returns what the files hold, which must be in order.
func reads(t *testing.T, files []sheet.File) *catalog.Catalogue {
	t.Helper()
	c, err := sheet.Read(files, nil)
	if err != nil {
		t.Fatalf("%v", err)
	}
	return c
}

// TestSmallShop holds what each cell means.
func TestSmallShop(t *testing.T) {
	c := reads(t, filesOf(small()))
	want, err := catalog.Parse([]byte(`{"catalogue": 1, "shop": {"name": "Low Quay", "currency": "EUR"},
	 "frames": [
	  {"code": "sedge", "name": "Sedge", "gross_rating_kg": 180, "bare_weight_kg": 24.5, "rider_min_cm": 150, "rider_max_cm": 195, "price_cents": 189000,
	   "length_cm": 178, "width_cm": 64, "height_cm": 112, "mounts": [{"code": "deck_cm", "capacity": 60}, {"code": "belly", "capacity": 1}],
	   "zones": [{"code": "front", "rating_kg": 20, "steered": true}, {"code": "rear", "rating_kg": 60}],
	   "combined": [{"zones": ["front", "rear"], "rating_kg": 70}], "places": [{"zone": "rear", "kind": "bench", "min_months": 24}]},
	  {"code": "osier", "name": "Osier", "gross_rating_kg": 160, "bare_weight_kg": 19, "rider_min_cm": 155, "rider_max_cm": 200, "price_cents": 149900,
	   "length_cm": 185, "width_cm": 60, "height_cm": 110, "zones": [{"code": "rear"}]}],
	 "add_ons": [{"code": "seat", "name": "Child seat", "weight_kg": 4.1, "fits": ["sedge"], "uses": [{"mount": "deck_cm", "count": 34}], "zone": "rear",
	   "places": [{"kind": "harnessed", "min_months": 12, "min_kg": 9, "max_kg": 22, "needs": [["foot_support", "bench"], ["hand_hold"]]}],
	   "on_frame": {"sedge": {"fitting_minutes": 0}}},
	  {"code": "bench", "name": "Bench", "weight_kg": 2}],
	 "units": [{"tag": "D-1", "frame": "sedge", "kind": "demo", "status": "available", "fitted": ["seat", "bench"], "weighed_kg": 29, "weighed_on": "2026-02-28"}]}`))
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(want, c, cmpopts.EquateEmpty()); diff != "" {
		t.Error(diff)
	}
}

// TestEveryKeyHasAColumn holds the headers against the keys of the JSON
// document, so that a new key cannot be left out. Money stands there in the
// currency.
func TestEveryKeyHasAColumn(t *testing.T) {
	elsewhere := map[string][]string{ // lists that have a table of their own
		"frames": {"zones", "combined", "places", "evidence"}, "add_ons": {"places", "on_frame", "evidence"}, "units": {"evidence"},
	}
	own := map[string][]string{ // what a table has beyond the keys of its rows
		"shop":  {"catalogue"},
		"zones": {"frame"}, "combined": {"frame"}, "places": {"frame", "add_on"}, "on_frame": {"add_on", "frame"},
		"evidence": {"frame", "add_on", "unit"},
	}
	for _, f := range sheet.Write(demo(t)) {
		name := strings.TrimSuffix(f.Name, ".csv")
		header, _, _ := strings.Cut(strings.TrimPrefix(string(f.Data), "\ufeff"), "\r\n")
		want := own[name]
		for _, key := range catalog.Of(name) {
			switch {
			case slices.Contains(elsewhere[name], key.Name):
			case key.Kind == catalog.Boxed:
				for i := range key.Sub {
					want = append(want, key.Column(&key.Sub[i]))
				}
			default:
				want = append(want, strings.Replace(key.Name, "_cents", "", 1))
			}
		}
		got := strings.Split(header, ",")
		slices.Sort(got)
		slices.Sort(want)
		if diff := cmp.Diff(want, got); diff != "" {
			t.Errorf("%s: %s", f.Name, diff)
		}
	}
}

// TestSpreadsheetQuirks reads what spreadsheets make of the files of the demo
// shop, one way after the other.
func TestSpreadsheetQuirks(t *testing.T) {
	shop := demo(t)
	for name, quirk := range map[string]func(rows [][]string) string{
		"plain":               func(rows [][]string) string { return join(rows, ",", "\n") },
		"semicolons":          func(rows [][]string) string { return join(rows, ";", "\r\n") },
		"tabs":                func(rows [][]string) string { return join(rows, "\t", "\n") },
		"a mark before it":    func(rows [][]string) string { return "\ufeff" + join(rows, ";", "\r\n") },
		"old line ends":       func(rows [][]string) string { return join(rows, ",", "\r") },
		"no last line end":    func(rows [][]string) string { return strings.TrimSuffix(join(rows, ",", "\n"), "\n") },
		"decimal commas":      func(rows [][]string) string { return join(decimalCommas(rows), ";", "\r\n") },
		"columns turned":      func(rows [][]string) string { return join(turned(rows), ",", "\n") },
		"blank rows, columns": func(rows [][]string) string { return join(padded(rows), ";", "\r\n") },
		"other words":         func(rows [][]string) string { return join(shouted(rows), ";", "\r\n") },
	} {
		var files []sheet.File
		for _, f := range sheet.Write(shop) {
			files = append(files, sheet.File{Name: "from/" + strings.ToUpper(f.Name), Data: []byte(quirk(cellsOf(t, f.Data)))})
		}
		got, err := sheet.Read(files, nil)
		if err != nil {
			t.Errorf("%s: %v", name, err)
			continue
		}
		if diff := cmp.Diff(shop, got, cmpopts.EquateEmpty()); diff != "" {
			t.Errorf("%s: %s", name, diff)
		}
	}
}

func join(rows [][]string, separator, end string) string {
	var b strings.Builder
	for _, row := range rows {
		for i, cell := range row {
			if i > 0 {
				b.WriteString(separator)
			}
			b.WriteString(`"` + strings.ReplaceAll(cell, `"`, `""`) + `"`)
		}
		b.WriteString(end)
	}
	return b.String()
}

// each changes every cell below the header.
func each(rows [][]string, change func(column, cell string) string) [][]string {
	changed := [][]string{rows[0]}
	for _, row := range rows[1:] {
		cells := make([]string, len(row))
		for i, cell := range row {
			cells[i] = change(rows[0][i], cell)
		}
		changed = append(changed, cells)
	}
	return changed
}

func decimalCommas(rows [][]string) [][]string {
	return each(rows, func(column, cell string) string {
		if strings.HasSuffix(column, "_kg") || strings.HasSuffix(column, "_cm") || column == "bare_front_share" || column == "tax_percent" {
			return strings.Replace(cell, ".", ",", 1)
		}
		return cell
	})
}

func shouted(rows [][]string) [][]string {
	return each(rows, func(_, cell string) string {
		switch cell {
		case "yes":
			return "TRUE"
		case "no":
			return " False "
		}
		return cell
	})
}

// turned writes the columns from right to left.
func turned(rows [][]string) [][]string {
	var all [][]string
	for _, row := range rows {
		row = slices.Clone(row)
		slices.Reverse(row)
		all = append(all, row)
	}
	return all
}

// padded adds what is left where somebody has cleared cells.
func padded(rows [][]string) [][]string {
	var all [][]string
	for _, row := range rows {
		all = append(all, append(slices.Clone(row), "", " "))
	}
	gap := make([]string, len(all[0]))
	return append(slices.Insert(all, min(2, len(all)), gap), gap, []string{""}, []string{" ", "\u00a0"})
}

func TestNumbers(t *testing.T) {
	for cell, want := range map[string]string{
		"24.5": "24.5", "24,5": "24.5", "1.234": "1.234", "1,234": "1.234", " 24 ": "24", "024": "24", "2.45e1": "24.5", "24.50000": "24.5", "24.0004": "24",
		"1.234,5": "thousands", "1,234.5": "thousands", "1.234.567": "thousands", "1 234": "plain number", "24 kg": "plain number", "'24": "plain number", "+24": "plain number",
		"24-": "plain number", "NaN": "plain number", "1e99": "too large",
	} {
		texts := small()
		texts["add_ons"] = strings.Replace(texts["add_ons"], "Bench,2,", `Bench,"`+cell+`",`, 1)
		c, err := sheet.Read(filesOf(texts), nil)
		if err != nil {
			list := err.(problem.List)
			if len(list) != 1 || list[0].Path != "add_ons.csv, row 3, weight_kg" || list[0].Code != problem.WrongType || !strings.Contains(list[0].Text, want) {
				t.Errorf("%q: %v, want %s", cell, err, want)
			}
			continue
		}
		if got, err := c.AddOns[1].Weight.MarshalJSON(); err != nil || string(got) != want {
			t.Errorf("%q is read as %s kg, want %s", cell, got, want)
		}
	}
}

func TestDays(t *testing.T) {
	for cell, want := range map[string]string{
		"2026-02-28": "2026-02-28", "2026-2-8": "2026-02-08", "2026/02/28": "2026-02-28", "28.02.2026": "2026-02-28", "3.2.2026": "2026-02-03", " 2026-02 ": "2026-02",
		"28/02/2026": "or with the month", "2/3/2026": "or with the month", "03-02-2026": "or with the month", "31.2.2026": "not a date", "2026-13-01": "not a date",
		"28.2.26": "not a date", "Feb 28": "not a date", "46081": "not a date",
	} {
		texts := small()
		texts["units"] = strings.Replace(texts["units"], "2026-02-28", cell, 1)
		c, err := sheet.Read(filesOf(texts), nil)
		if err != nil {
			if !strings.HasPrefix(err.Error(), "units.csv, row 2, weighed_on: ") || !strings.Contains(err.Error(), want) {
				t.Errorf("%q: %v, want %s", cell, err, want)
			}
			continue
		}
		if got := c.Units[0].WeighedOn.String(); got != want {
			t.Errorf("%q is read as %s, want %s", cell, got, want)
		}
	}
}

// TestKeptTables holds that a table which is not given stays as it was.
func TestKeptTables(t *testing.T) {
	shop := demo(t)
	for i, f := range sheet.Write(shop) {
		changed := strings.Replace(string(f.Data), "\r\n", "\r\n\r\n", 1)
		got, err := sheet.Read([]sheet.File{{Name: f.Name, Data: []byte(changed)}}, shop)
		if err != nil {
			t.Fatalf("%s: %v", f.Name, err)
		}
		if diff := cmp.Diff(shop, got, cmpopts.EquateEmpty()); diff != "" {
			t.Errorf("%s: %s", f.Name, diff)
		}
		if kept := sheet.Kept([]sheet.File{f}); slices.Contains(kept, sheet.Tables()[i]) || len(kept) != len(sheet.Tables())-1 {
			t.Errorf("%s: kept %v", f.Name, kept)
		}
	}
	_, err := sheet.Read([]sheet.File{{Name: "add_ons.csv", Data: []byte(small()["add_ons"])}}, shop)
	if list, _ := err.(problem.List); len(list) == 0 || !strings.HasPrefix(list[0].Path, "frames.csv (kept as it was), row 2, comes_with") {
		t.Errorf("%v", err)
	}
}
