package sheet_test

import (
	"archive/zip"
	"bytes"
	"fmt"
	"runtime"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"kinwain/internal/catalog/sheet"
	"kinwain/internal/problem"
)

// told writes every fault as its path and its code.
func told(t *testing.T, err error) []string {
	t.Helper()
	list, ok := err.(problem.List)
	if !ok {
		t.Fatalf("%#v is no list of faults", err)
	}
	var all []string
	for _, p := range list {
		if p.Text == "" || strings.Contains(p.Text, "\n") {
			t.Errorf("%s: %q is not one sentence", p.Path, p.Text)
		}
		all = append(all, p.Path+": "+p.Code)
	}
	return all
}

// change is one text of one table in place of another.
type change struct{ table, old, new string }

func TestFaults(t *testing.T) {
	for name, c := range map[string]struct {
		changes []change
		want    []string
	}{
		"unknown column":        {[]change{{"zones", "steered", "steerd"}}, []string{"zones.csv, row 1, steerd: unknown_key"}},
		"header in capitals":    {[]change{{"zones", "rating_kg", "Rating_kg"}}, []string{"zones.csv, row 1, Rating_kg: unknown_key"}},
		"column twice":          {[]change{{"zones", "steered", "rating_kg"}}, []string{"zones.csv, row 1, rating_kg: duplicate"}},
		"required column":       {[]change{{"units", "status", ""}, {"units", "available", ""}}, []string{"units.csv, row 1, status: missing"}},
		"two columns at once":   {[]change{{"units", "status", "state"}, {"zones", "code", "kode"}}, []string{"zones.csv, row 1, kode: unknown_key", "zones.csv, row 1, code: missing", "units.csv, row 1, state: unknown_key", "units.csv, row 1, status: missing"}},
		"no header":             {[]change{{"zones", "frame,code,rating_kg,steered", ""}}, []string{"zones.csv, row 1: syntax"}},
		"a cell too far":        {[]change{{"zones", "sedge,rear,60,no", "sedge,rear,60,no,,3"}}, []string{"zones.csv, row 3: unknown_key"}},
		"cell without a header": {[]change{{"zones", "steered", ""}}, []string{"zones.csv, row 2: unknown_key", "zones.csv, row 3: unknown_key"}},
		"open quotation mark":   {[]change{{"zones", "rear,60", `"rear,60`}}, []string{"zones.csv, row 3: syntax"}},
		"text behind one":       {[]change{{"zones", "rear,60", `"rear"x,60`}}, []string{"zones.csv, row 3: syntax"}},
		"no text at all":        {[]change{{"frames", "Osier,", "Os\x81\xefer,"}}, []string{"frames.csv, row 3: syntax"}},
		"no UTF-8 as marked":    {[]change{{"frames", "code", "\ufeffcode"}, {"frames", "Osier,", "Os\xefer,"}}, []string{"frames.csv, row 3: syntax"}},
		"half of UTF-16":        {[]change{{"units", "tag", "\xff\xfet\x00a\x00g"}}, []string{"units.csv, row 1: syntax"}},
		"numbers, all at once": {[]change{{"frames", "180,24.5", "heavy,24 kg"}, {"frames", "160,19", "160,1.9.0"}, {"zones", "60", "6O"}},
			[]string{"frames.csv, row 2, gross_rating_kg: wrong_type", "frames.csv, row 2, bare_weight_kg: wrong_type", "frames.csv, row 3, bare_weight_kg: wrong_type", "zones.csv, row 3, rating_kg: wrong_type"}},
		"yes and no":           {[]change{{"zones", "yes", "1"}}, []string{"zones.csv, row 2, steered: wrong_type"}},
		"whole numbers":        {[]change{{"places", "harnessed,12", "harnessed,12.5"}}, []string{"places.csv, row 2, min_months: wrong_type"}},
		"far too many":         {[]change{{"places", "harnessed,12", "harnessed,99999999999999999999"}}, []string{"places.csv, row 2, min_months: wrong_type"}},
		"parts of a cent":      {[]change{{"frames", "189000", "1890.5"}}, []string{"frames.csv, row 2, price_cents: wrong_type"}},
		"no such day":          {[]change{{"units", "2026-02-28", "29.02.2026"}}, []string{"units.csv, row 2, weighed_on: wrong_type"}},
		"mount without number": {[]change{{"frames", "deck_cm:60", "deck_cm"}}, []string{"frames.csv, row 2, mounts: wrong_type", "add_ons.csv, row 2, fits: conflict"}},
		"half an alternative":  {[]change{{"places", "foot_support|bench", "foot_support||bench"}}, []string{"places.csv, row 2, needs: wrong_type"}},
		"owner of a zone":      {[]change{{"zones", "sedge,rear", "sedg,rear"}}, []string{"zones.csv, row 3, frame: not_found", "combined.csv, row 2, zones: not_found", "places.csv, row 3, zone: not_found", "add_ons.csv, row 2, fits: not_found"}},
		"zone without owner":   {[]change{{"zones", "osier,rear", ",box"}}, []string{"frames.csv, row 3: missing", "zones.csv, row 4, frame: missing"}},
		"place of two":         {[]change{{"places", "sedge,,", "sedge,seat,"}}, []string{"places.csv, row 3, add_on: conflict"}},
		"place of none":        {[]change{{"places", "sedge,,", ",,"}}, []string{"places.csv, row 3, frame: missing"}},
		"place of what is not": {[]change{{"places", ",seat,", ",sofa,"}}, []string{"places.csv, row 2, add_on: not_found"}},
		"pair twice":           {[]change{{"on_frame", "seat,sedge,0,\n", "seat,sedge,0,\nseat,sedge,5,\n"}}, []string{"on_frame.csv, row 3, frame: duplicate"}},
		"pair without a frame": {[]change{{"on_frame", "seat,sedge", "seat,"}}, []string{"on_frame.csv, row 2, frame: missing"}},
		"pair of what is not":  {[]change{{"on_frame", "seat,sedge", "seat,sedg"}}, []string{"on_frame.csv, row 2: not_found"}},
		"meaning, at its cell": {[]change{{"frames", "osier,Osier,160", "sedge,Osier,9000"}, {"frames", "64,112", "64,1120"}, {"zones", "osier", "sedge"}, {"places", "9,22", "22,9"},
			{"add_ons", "deck_cm:34", "deck_cm:99"}, {"on_frame", "0,", "9999,"}, {"units", "seat bench", "seat sofa"}, {"units", "demo", "toy"}},
			[]string{"frames.csv, row 2, height_cm: out_of_range", "frames.csv, row 3: missing", "frames.csv, row 3, code: duplicate", "frames.csv, row 3, gross_rating_kg: out_of_range",
				"zones.csv, row 4, code: duplicate", "places.csv, row 2, max_kg: conflict", "add_ons.csv, row 2, fits: not_found", "add_ons.csv, row 2, fits: conflict", "on_frame.csv, row 2, fitting_minutes: out_of_range",
				"units.csv, row 2, kind: not_one_of", "units.csv, row 2, fitted: not_found"}},
		"from left to right": {[]change{{"units", "demo", "toy"}, {"units", "available", "gone"}, {"units", "2026-02-28", "28.2."}, {"units", "sedge", "sedg"}},
			[]string{"units.csv, row 2, frame: not_found", "units.csv, row 2, kind: not_one_of", "units.csv, row 2, status: not_one_of", "units.csv, row 2, weighed_on: wrong_type"}},
		"another version": {[]change{{"shop", "1,Low", "2,Low"}}, []string{"shop.csv, row 2, catalogue: out_of_range"}},
		"two shops":       {[]change{{"shop", "EUR\n", "EUR\n1,High Quay,EUR\n"}}, []string{"shop.csv, row 3: duplicate"}},
		"no shop":         {[]change{{"shop", "1,Low Quay,EUR\n", ""}}, []string{"shop.csv: missing"}},
	} {
		texts := small()
		for _, change := range c.changes {
			if !strings.Contains(texts[change.table], change.old) {
				t.Fatalf("%s: %q is not in %s", name, change.old, change.table)
			}
			texts[change.table] = strings.Replace(texts[change.table], change.old, change.new, 1)
		}
		_, err := sheet.Read(filesOf(texts), nil)
		if err == nil {
			t.Errorf("%s: no fault", name)
			continue
		}
		if diff := cmp.Diff(c.want, told(t, err)); diff != "" {
			t.Errorf("%s: %v\n%s", name, err, diff)
		}
	}
}

// TestRowsAreCountedAsTheSpreadsheetDoes puts a fault below rows of several
// lines and below empty ones.
func TestRowsAreCountedAsTheSpreadsheetDoes(t *testing.T) {
	texts := small()
	texts["frames"] = strings.NewReplacer("belly:1,\n", "belly:1,\"one\ntwo\r\nthree\"\n\n,,,\n", "osier,Osier,160", "osier,Osier,none").Replace(texts["frames"])
	_, err := sheet.Read(filesOf(texts), nil)
	if diff := cmp.Diff([]string{"frames.csv, row 5, gross_rating_kg: wrong_type"}, told(t, err)); diff != "" {
		t.Error(diff)
	}
}

func TestFilesThatAreNotTables(t *testing.T) {
	files := filesOf(small())
	twice := append(files, sheet.File{Name: "other/Units.CSV"}, sheet.File{Name: "frames (1).csv"}, sheet.File{Name: "shop.txt"})
	_, err := sheet.Read(twice, nil)
	want := []string{"shop.txt: unknown_key", "frames (1).csv: duplicate", "other/Units.CSV: duplicate"}
	if diff := cmp.Diff(want, told(t, err)); diff != "" {
		t.Error(diff)
	}
	_, err = sheet.Read(files[1:6], nil)
	if diff := cmp.Diff([]string{"shop.csv: missing", "on_frame.csv: missing", "units.csv: missing"}, told(t, err)); diff != "" {
		t.Error(diff)
	}
}

// TestFaultsAreBounded holds that a file of nothing but faults does not fill
// the memory with them.
func TestFaultsAreBounded(t *testing.T) {
	texts := small()
	texts["zones"] += strings.Repeat("nobody,rear,,\n", 12_000)
	_, err := sheet.Read(filesOf(texts), nil)
	list, _ := err.(problem.List)
	if len(list) != problem.MaxFaults+1 || !strings.Contains(list[problem.MaxFaults].Text, "11000 more") {
		t.Errorf("%d faults, the last %v", len(list), list[len(list)-1])
	}
}

// TestCrowdsAreRefused reads what is small as a file and would be huge as a
// catalogue, and holds what that costs.
func TestCrowdsAreRefused(t *testing.T) {
	var archive bytes.Buffer
	w := zip.NewWriter(&archive)
	for i := range 5000 {
		if _, err := w.Create(fmt.Sprintf("%d.csv", i)); err != nil {
			t.Fatal(err)
		}
	}
	if err := w.Close(); err != nil {
		t.Fatal(err)
	}
	rows, cells, empty := small(), small(), small()
	empty["zones"] += strings.Repeat("\n", 12<<20)
	rows["zones"] += strings.Repeat("a\n", 6<<20)
	cells["zones"] += strings.Repeat(strings.Repeat(",", 1000)+"\n", 12<<10)
	for name, files := range map[string][]sheet.File{
		"objects": {{Name: "a.json", Data: []byte(`{"catalogue": 1, "frames": [{}` + strings.Repeat(",{}", 4<<20) + `]}`)}},
		"lists":   {{Name: "a.json", Data: []byte(`{"catalogue": 1, "add_ons": [{"needs": [[]` + strings.Repeat(",[]", 4<<20) + `]}]}`)}},
		"files":   {{Name: "a.zip", Data: archive.Bytes()}},
		"rows":    filesOf(rows), "cells": filesOf(cells), "empty rows": filesOf(empty),
	} {
		var before, after runtime.MemStats
		runtime.ReadMemStats(&before)
		began := time.Now()
		_, _, err := sheet.ReadAny(files, nil)
		took := time.Since(began)
		runtime.ReadMemStats(&after)
		list, _ := err.(problem.List)
		if megabytes := (after.TotalAlloc - before.TotalAlloc) >> 20; len(list) != 1 || !strings.Contains(list[0].Text, "more than") || megabytes > 250 || took > 5*time.Second {
			t.Errorf("%s: %v after %v and %d MB", name, err, took, megabytes)
		} else {
			t.Logf("%s: refused after %v and %d MB", name, took, megabytes)
		}
	}
}

func TestZip(t *testing.T) {
	files := sheet.Write(demo(t))
	packed, err := sheet.Zip(append([]sheet.File{{Name: "__MACOSX/shop.csv"}, {Name: "READ.txt"}, {Name: "shop/.units.csv"}}, files...))
	if err != nil {
		t.Fatal(err)
	}
	back, err := sheet.Unzip(packed)
	if diff := cmp.Diff(files, back); diff != "" || err != nil {
		t.Errorf("%v %s", err, diff)
	}
	empty, err := sheet.Zip(nil)
	if err != nil {
		t.Fatal(err)
	}
	large, err := sheet.Zip([]sheet.File{{Name: "shop.csv", Data: make([]byte, 40<<20)}, {Name: "units.csv", Data: make([]byte, 40<<20)}})
	if err != nil {
		t.Fatal(err)
	}
	for name, c := range map[string]struct {
		data []byte
		want string
	}{
		"no archive": {[]byte("code,name"), ": syntax"}, "cut short": {packed[:len(packed)/2], ": syntax"}, "nothing in it": {empty, ": missing"},
		"unfolds to too much": {large, "units.csv: syntax"},
	} {
		_, err := sheet.Unzip(c.data)
		if diff := cmp.Diff([]string{c.want}, told(t, err)); diff != "" {
			t.Errorf("%s: %s", name, diff)
		}
	}
}

// TestFaultsOfOtherLanguages names the column of a text in another language,
// which is called otherwise than in the document.
func TestFaultsOfOtherLanguages(t *testing.T) {
	c := demo(t)
	c.AddOns[2].Names.German = strings.Repeat("a", 81)
	_, err := sheet.Read(sheet.Write(c), nil)
	if list, ok := err.(problem.List); !ok || len(list) != 1 || list[0].Path != "add_ons.csv, row 4, name_de" {
		t.Errorf("%v", err)
	}
}
