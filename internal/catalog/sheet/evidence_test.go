package sheet_test

import (
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"kinwain/internal/catalog"
	"kinwain/internal/catalog/sheet"
	"kinwain/internal/measure"
)

const sources = "frame,add_on,unit,figure,kind,on,by,link,reference\n" +
	"sedge,,,gross_rating_kg,rating_plate,2026-03-12,M.,,\n" +
	"sedge,,,zones[rear].rating_kg,manual,2026-03,,https://maker.example/manual,page 14\n" +
	",seat,,places[0].max_kg,maker_answer,2026-03-12,,,\n" +
	",,D-1,weighed_kg,own_measure,2026-02-28,,,\n"

// photographed are the same sources, one of them with a photo.
var photographed = strings.NewReplacer("reference\n", "reference,photo\n", "M.,,\n", "M.,,,00112233445566778899aabbccddeeff\n", "page 14\n", "page 14,\n", ",,,\n", ",,,,\n").Replace(sources)

// proven is the small shop with the sources of some figures.
func proven(t *testing.T) *catalog.Catalogue {
	t.Helper()
	texts := small()
	texts["evidence"] = sources
	return reads(t, filesOf(texts))
}

// TestTableOfSources changes figures and their sources by one table at a time.
func TestTableOfSources(t *testing.T) {
	read := catalog.Evidence{Figure: "gross_rating_kg", Kind: "rating_plate", On: measure.Date{Year: 2026, Month: 3, Day: 12}, By: "M."}
	if got := proven(t).Frames[0].Evidence; len(got) != 2 || got[0] != read {
		t.Fatalf("%v", got)
	}
	zones := "frame,code,rating_kg,steered\nsedge,front,20,yes\nsedge,rear,55,no\nosier,rear,,\n"
	for name, c := range map[string]struct {
		file, text string
		want       []string
	}{
		"the same":                    {"evidence.csv", sources, nil},
		"a photo of one":              {"evidence.csv", photographed, []string{"evidence[gross_rating_kg]"}},
		"a figure without the table":  {"zones.csv", zones, []string{"zones[rear].rating_kg", "evidence[zones/rear/rating_kg]"}},
		"a column of it left out":     {"evidence.csv", "frame,add_on,unit,figure,kind,on\nsedge,,,gross_rating_kg,rating_plate,2026-03-12\nsedge,,,zones[rear].rating_kg,manual,2026-03\n,seat,,places[0].max_kg,maker_answer,2026-03-12\n,,D-1,weighed_kg,own_measure,2026-02-28\n", nil},
		"a row left out":              {"evidence.csv", "frame,add_on,unit,figure,kind,on,by,link,reference\nsedge,,,gross_rating_kg,rating_plate,2026-03-12,M.,,\n,seat,,places[0].max_kg,maker_answer,2026-03-12,,,\n,,D-1,weighed_kg,own_measure,2026-02-28,,,\n", []string{"evidence[zones/rear/rating_kg]"}},
		"the whole table empty":       {"evidence.csv", "frame,add_on,unit,figure,kind,on\n", []string{"evidence[zones/rear/rating_kg]", "evidence[gross_rating_kg]", "evidence[places/0/max_kg]", "evidence[weighed_kg]"}},
		"of what is not there":        {"evidence.csv", "frame,figure,kind,on\nsedge,zones[side].rating_kg,manual,2026-03\n", []string{"evidence.csv, row 2, figure: not_found"}},
		"twice":                       {"evidence.csv", "frame,figure,kind,on\nsedge,gross_rating_kg,manual,2026-03\nsedge,bare_weight_kg,manual,2026-03\nsedge,gross_rating_kg,manual,2026-04\n", []string{"evidence.csv, row 4, figure: duplicate"}},
		"of two things":               {"evidence.csv", "frame,add_on,figure,kind,on\nsedge,seat,weight_kg,manual,2026-03\n", []string{"evidence.csv, row 2, figure: conflict"}},
		"of nothing":                  {"evidence.csv", "frame,figure,kind,on\n,gross_rating_kg,manual,2026-03\n", []string{"evidence.csv, row 2, frame: missing"}},
		"of no frame":                 {"evidence.csv", "frame,figure,kind,on\nreed,gross_rating_kg,manual,2026-03\n", []string{"evidence.csv, row 2, frame: not_found"}},
		"hearsay":                     {"evidence.csv", "frame,figure,kind,on\nsedge,gross_rating_kg,hearsay,2026-03\n", []string{"evidence.csv, row 2, kind: not_one_of"}},
		"without a day":               {"evidence.csv", "frame,figure,kind,on\nsedge,gross_rating_kg,manual,\n", []string{"evidence.csv, row 2, on: missing"}},
		"a price list says no source": {"frames.csv", "code,price\nsedge,1900\n", []string{"price_cents"}},
	} {
		shop := proven(t)
		got, _, err := sheet.ReadAny([]sheet.File{{Name: c.file, Data: []byte(c.text)}}, shop)
		var found []string
		if err != nil {
			found = told(t, err)
		} else {
			changes, err := catalog.Edits(shop, got)
			if err != nil {
				t.Fatal(err)
			}
			for _, change := range changes {
				found = append(found, change.Field)
			}
		}
		if diff := cmp.Diff(c.want, found); diff != "" {
			t.Errorf("%s: %s", name, diff)
		}
	}
}

// TestOlderDocumentLeavesSources reads a document in which nothing is said of
// sources over a shop that has some.
func TestOlderDocumentLeavesSources(t *testing.T) {
	shop, older := proven(t), reads(t, filesOf(small()))
	older.Frames[0].GrossRating += measure.Kilogram
	document, err := older.Document()
	if err != nil {
		t.Fatal(err)
	}
	got, _, err := sheet.ReadAny([]sheet.File{{Name: "catalogue.json", Data: document}}, shop)
	if err != nil {
		t.Fatal(err)
	}
	if e := got.Frames[0].Evidence; len(e) != 1 || e[0].Figure != "zones[rear].rating_kg" || len(got.AddOns[0].Evidence) != 1 || len(got.Units[0].Evidence) != 1 {
		t.Errorf("%v", got)
	}
}
