package sheet_test

import (
	"bytes"
	"slices"
	"strings"
	"testing"
	"unicode/utf16"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"

	"kinwain/internal/catalog"
	"kinwain/internal/catalog/sheet"
)

// onto reads one table over the small shop and returns what differs, in the
// words of the history, or the faults.
func onto(t *testing.T, name, text string) []string {
	t.Helper()
	shop := reads(t, filesOf(small()))
	before, err := shop.Document()
	if err != nil {
		t.Fatal(err)
	}
	c, _, err := sheet.ReadAny([]sheet.File{{Name: name, Data: []byte(text)}}, shop)
	if err != nil {
		return told(t, err)
	}
	changes, err := catalog.Edits(shop, c)
	if err != nil {
		t.Fatal(err)
	}
	if after, err := shop.Document(); err != nil || !bytes.Equal(before, after) {
		t.Errorf("%s: the current catalogue has changed", name)
	}
	var all []string
	for _, change := range changes {
		all = append(all, change.Path()+" "+change.Old+" -> "+change.New)
	}
	return all
}

// TestLeftOutIsNotEmpty leaves columns and rows out of one table at a time.
func TestLeftOutIsNotEmpty(t *testing.T) {
	for name, c := range map[string]struct {
		file, text string
		want       []string
	}{
		"a column left out stays":         {"add_ons.csv", "code,name,weight_kg\nseat,Child seat,4.1\nbench,Bench,2\n", nil},
		"an empty cell clears":            {"add_ons.csv", "code,name,weight_kg,uses\nseat,Child seat,4.1,\nbench,Bench,2,\n", []string{`add_ons[seat].uses[deck_cm] {"mount": "deck_cm", "count": 34} -> `}},
		"code and price alone":            {"add_ons.csv", "code;price\nseat;139,00\n", []string{"add_ons[seat].price_cents 0 -> 13900"}},
		"a price without cents":           {"add_ons.csv", "code,price\nseat,139\n", []string{"add_ons[seat].price_cents 0 -> 13900"}},
		"one decimal":                     {"frames.csv", "code;price\nsedge;1890,5\n", []string{"frames[sedge].price_cents 189000 -> 189050"}},
		"cents":                           {"frames.csv", "code,price_cents\nosier,149901\n", []string{"frames[osier].price_cents 149900 -> 149901"}},
		"cents with a comma":              {"frames.csv", "code;price_cents\nosier;139,00\n", []string{"frames.csv, row 2, price_cents: wrong_type"}},
		"thousands, or three decimals":    {"frames.csv", "code;price\nosier;1,499\n", []string{"frames.csv, row 2, price: wrong_type"}},
		"the sign of the currency":        {"frames.csv", "code;price\nosier;€ 1499\n", []string{"frames.csv, row 2, price: wrong_type"}},
		"a price that is far too high":    {"frames.csv", "code;price\nosier;149900,00\n", []string{"frames.csv, row 2, price: out_of_range"}},
		"both prices":                     {"frames.csv", "code,price,price_cents\nosier,1,100\n", []string{"frames.csv, row 1, price_cents: conflict"}},
		"labour in the currency":          {"shop.csv", "labour_per_hour\n62.50\n", []string{"shop.labour_cents_per_hour 0 -> 6250"}},
		"something new in a price list":   {"add_ons.csv", "code,price\nseat,139\nsofa,200\n", []string{"add_ons.csv, row 3, code: not_found"}},
		"a row twice in a price list":     {"add_ons.csv", "code,price\nseat,139\nseat,140\n", []string{"add_ons.csv, row 3: duplicate"}},
		"a whole list is the list":        {"units.csv", "tag,frame,kind,status\nD-2,sedge,demo,available\n", []string{`units[D-1] {"tag": "D-1", "frame": "sedge", "kind": "demo", "colour": "", "fitted": ["seat", "bench"], "status": "available", "weighed_kg": 29, "weighed_on": "2026-02-28", "odometer_km": 0} -> `, `units[D-2]  -> {"tag": "D-2", "frame": "sedge", "kind": "demo", "colour": "", "fitted": [], "status": "available", "weighed_kg": 0, "weighed_on": "", "odometer_km": 0}`}},
		"without the code":                {"add_ons.csv", "name,price\nChild seat,139\n", []string{"add_ons.csv, row 1, code: missing"}},
		"zones keep their ratings":        {"zones.csv", "frame,code,side\nsedge,front,left\nsedge,rear,\nosier,rear,\n", []string{`zones[front].side`}},
		"pairs keep their minutes":        {"on_frame.csv", "add_on,frame,max_load_kg\nseat,sedge,20\n", []string{"add_ons[seat].on_frame.sedge.max_load_kg  -> 20"}},
		"places keep their limits":        {"places.csv", "frame,add_on,zone,kind,max_stature_cm\n,seat,,harnessed,110\nsedge,,rear,bench,\n", []string{"add_ons[seat].places[#0].max_stature_cm 0 -> 110"}},
		"a place too many":                {"places.csv", "frame,add_on,zone,kind\n,seat,,harnessed\n,seat,,harnessed\nsedge,,rear,bench\n", []string{"places.csv, row 3: conflict"}},
		"a place of another kind":         {"places.csv", "frame,add_on,zone,kind\n,seat,,bench\nsedge,,rear,bench\n", []string{"places.csv, row 2: conflict"}},
		"frames keep zones and places":    {"frames.csv", strings.Replace(small()["frames"], "Osier,160", "Osier,165", 1), []string{"frames[osier].gross_rating_kg 160 -> 165"}},
		"a frame goes with what is on it": {"frames.csv", strings.Replace(small()["frames"], "osier,Osier", "reed,Osier", 1), []string{"frames.csv, row 3: missing"}},
	} {
		got := onto(t, c.file, c.text)
		if name == "zones keep their ratings" && len(got) == 1 && strings.Contains(got[0], c.want[0]) {
			continue
		}
		if diff := cmp.Diff(c.want, got); diff != "" {
			t.Errorf("%s: %s", name, diff)
		}
	}
}

// TestNothingStandsForAColumn leaves each column of the demo shop out, one at a
// time, and finds nothing changed.
func TestNothingStandsForAColumn(t *testing.T) {
	shop := demo(t)
	for _, f := range sheet.Write(shop) {
		rows := cellsOf(t, f.Data)
		for i, column := range rows[0] {
			var less [][]string
			for _, row := range rows {
				less = append(less, slices.Delete(slices.Clone(row), i, i+1))
			}
			c, err := sheet.Read([]sheet.File{{Name: f.Name, Data: []byte(join(less, ",", "\n"))}}, shop)
			if err != nil {
				if key := slices.Contains([]string{"code", "tag", "frame", "add_on", "unit", "kind", "zones", "figure", "on"}, column) || f.Name == "combined.csv"; !key {
					t.Errorf("%s without %s: %v", f.Name, column, err)
				}
				continue
			}
			if diff := cmp.Diff(shop, c, cmpopts.EquateEmpty()); diff != "" {
				t.Errorf("%s without %s: %s", f.Name, column, diff)
			}
		}
	}
}

// TestOtherEncodings reads the files of a shop with letters of several
// languages as spreadsheets save them.
func TestOtherEncodings(t *testing.T) {
	texts := small()
	texts["frames"] = strings.Replace(texts["frames"], "Osier,", "Öśier – «€»,", 1)
	latin := strings.Replace(texts["frames"], "ś", "s", 1)
	units := utf16.Encode([]rune("\ufeff" + texts["frames"]))
	little, big := make([]byte, 0, 2*len(units)), make([]byte, 0, 2*len(units))
	for _, u := range units {
		little, big = append(little, byte(u), byte(u>>8)), append(big, byte(u>>8), byte(u))
	}
	for name, c := range map[string]struct{ data, want string }{
		"UTF-8": {texts["frames"], "Öśier – «€»"}, "UTF-16": {string(little), "Öśier – «€»"}, "UTF-16 turned": {string(big), "Öśier – «€»"},
		"Windows-1252": {strings.NewReplacer("Ö", "\xd6", "–", "\x96", "«", "\xab", "€", "\x80", "»", "\xbb").Replace(latin), "Ösier – «€»"},
	} {
		texts["frames"] = c.data
		if got := reads(t, filesOf(texts)).Frames[1].Name; got != c.want {
			t.Errorf("%s: %q, want %q", name, got, c.want)
		}
	}
}

// TestNamesOfFiles takes a file for the table that it is about, as browsers and
// people call it.
func TestNamesOfFiles(t *testing.T) {
	for name, want := range map[string]bool{
		"add_ons.csv": true, "ADD_ONS.CSV": true, "add_ons (1).csv": true, "add_ons-copy.csv": true, "add_ons_2027.csv": true, "Copy of add_ons.csv": true, "a/b/add_ons - copy.csv": true,
		"shop-add_ons.csv": false, "add_onsite.csv": false, "addons.csv": false, "prices.csv": false, "add_ons zones.csv": false,
	} {
		got := onto(t, name, "code,price\nseat,139\n")
		if is := slices.Equal(got, []string{"add_ons[seat].price_cents 0 -> 13900"}); is != want {
			t.Errorf("%s: %v", name, got)
		}
	}
	if got := onto(t, "add_ons (1).csv", "code,price\nseat,none\n"); !slices.Equal(got, []string{"add_ons (1).csv, row 2, price: wrong_type"}) {
		t.Errorf("%v", got)
	}
}
