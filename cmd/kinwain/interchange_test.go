package main

import (
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"kinwain/internal/catalog"
	"kinwain/internal/catalog/sheet"
)

// sheets exports the catalogue of a store for a spreadsheet.
func sheets(t *testing.T, data string) (folder string) {
	t.Helper()
	folder = filepath.Join(t.TempDir(), "sheets")
	done(t, "export", "-data", data, "-format", "csv", folder)
	return folder
}

// edit replaces one text in a file of a folder.
func edit(t *testing.T, folder, name, old, new string) (file string) {
	t.Helper()
	file = filepath.Join(folder, name)
	before := read(t, file)
	if !strings.Contains(before, old) {
		t.Fatalf("%q is not in %s", old, name)
	}
	if err := os.WriteFile(file, []byte(strings.Replace(before, old, new, 1)), 0o600); err != nil {
		t.Fatal(err)
	}
	return file
}

// TestSheetsComeBackByteForByte sends the demo shop through a folder, an
// archive, a workbook and single files, each into a new store.
func TestSheetsComeBackByteForByte(t *testing.T) {
	t.Parallel()
	dir := demoShop.New(t)
	folder, archive, workbook := sheets(t, dir), filepath.Join(t.TempDir(), "shop.ZIP"), filepath.Join(t.TempDir(), "shop.XLSX")
	done(t, "export", "-data", dir, "-format", "csv", archive)
	done(t, "export", "-data", dir, "-format", "xlsx", workbook)
	single, err := filepath.Glob(filepath.Join(folder, "*.csv"))
	if err != nil || len(single) != len(sheet.Tables()) {
		t.Fatalf("%v %v", single, err)
	}
	slices.Reverse(single)
	for _, operands := range [][]string{{folder}, {archive}, {workbook}, single} {
		other := t.TempDir()
		done(t, append([]string{"import", "-data", other}, operands...)...)
		if diff := cmp.Diff(read(t, demoFile), done(t, "export", "-data", other)); diff != "" {
			t.Errorf("%v: %s", operands, diff)
		}
		again := sheets(t, other)
		for _, file := range single {
			if diff := cmp.Diff(read(t, file), read(t, filepath.Join(again, filepath.Base(file)))); diff != "" {
				t.Errorf("%v: %s", operands, diff)
			}
		}
	}
}

// TestDryRun says what would change and changes nothing; the import then does
// what was said, of one table with the others as they are.
func TestDryRun(t *testing.T) {
	t.Parallel()
	dir := demoShop.New(t)
	before := done(t, "export", "-data", dir)
	folder := sheets(t, dir)
	file := edit(t, folder, "add_ons.csv", "seat-rear,Harnessed child seat,4.1,", "seat-rear,Harnessed child seat,\"4,35\",")
	edit(t, folder, "add_ons.csv", "\r\nlock-chain,", "\r\n\r\nlock-rope,")
	status, out, said := execute(t, "import", "-data", dir, "-dry-run", file)
	const source = "figure weight_kg, source own_measure, on 2026-03-02, by whom workshop"
	want := "SOURCE GOES add_ons seat-rear weight_kg: " + source + "\nchanged add_ons seat-rear weight_kg: 4.1 kg → 4.35 kg\n" +
		"removed add_ons seat-rear evidence[11]: " + source + " → nothing\nremoved add_ons lock-chain\nadded add_ons lock-rope\n"
	if status != 0 || out != want || !strings.Contains(said, "1 added, 2 removed, 1 changed") || !strings.Contains(said, "shop, frames, zones, combined, places, on_frame, units, evidence") {
		t.Errorf("%d %q %q", status, out, said)
	}
	if diff := cmp.Diff(before, done(t, "export", "-data", dir)); diff != "" {
		t.Error(diff)
	}
	done(t, "import", "-data", dir, file)
	exported := done(t, "export", "-data", dir)
	if changes, err := catalog.Edits(changed(t, before), parsed(t, exported)); err != nil || len(changes) > 0 {
		t.Errorf("%v %v", changes, err)
	}
	if out := done(t, "import", "-data", dir, "-dry-run", write(t, exported)); out != "" {
		t.Errorf("against itself: %s", out)
	}
}

func parsed(t *testing.T, document string) *catalog.Catalogue {
	t.Helper()
	c, err := catalog.Parse([]byte(document))
	if err != nil {
		t.Fatal(err)
	}
	return c
}

// changed is the shop after the import: the seat weighs more, which was not
// weighed, and of the other lock nobody has said anything.
func changed(t *testing.T, before string) *catalog.Catalogue {
	t.Helper()
	c := parsed(t, before)
	for i := range c.AddOns {
		switch a := &c.AddOns[i]; a.Code {
		case "seat-rear":
			a.Weight = 4350
			a.Evidence = slices.DeleteFunc(a.Evidence, func(e catalog.Evidence) bool { return e.Figure == "weight_kg" })
		case "lock-chain":
			a.Code, a.Evidence = "lock-rope", nil
		}
	}
	return c
}

// TestDryRunNamesFirst names a limit that goes and a price that leaps before the
// rest.
func TestDryRunNamesFirst(t *testing.T) {
	t.Parallel()
	dir, table := demoShop.New(t), filepath.Join(t.TempDir(), "add_ons (1).csv")
	if err := os.WriteFile(table, []byte("code;needs;price\r\nseat-rear;;1599,00\r\n"), 0o600); err != nil {
		t.Fatal(err)
	}
	out := done(t, "import", "-data", dir, "-dry-run", table)
	lines := strings.Split(out, "\n")
	if len(lines) != 5 || !strings.HasPrefix(lines[0], "LOST add_ons seat-rear needs: two_leg_stand") || lines[1] != "LOOK AT add_ons seat-rear price_cents: EUR\u00a0159.00 → EUR\u00a01,599.00" {
		t.Errorf("%q", lines)
	}
}

func TestDryRunWithoutAStore(t *testing.T) {
	t.Parallel()
	dir := filepath.Join(t.TempDir(), "new")
	if out := done(t, "import", "-data", dir, "-dry-run", demoFile); !strings.Contains(out, "added frames sedge\n") || strings.Count(out, "added ") != 14+47+30 {
		t.Error(out)
	}
	faulty := write(t, "{}")
	if status, _, _ := execute(t, "import", "-data", dir, faulty); status != 1 {
		t.Errorf("exit status %d", status)
	}
	if _, err := os.Stat(dir); !os.IsNotExist(err) {
		t.Errorf("a store was made: %v", err)
	}
}

// TestFaultySheetsChangeNothing names file, row and column of every fault.
func TestFaultySheetsChangeNothing(t *testing.T) {
	t.Parallel()
	dir := demoShop.New(t)
	before := done(t, "export", "-data", dir)
	folder := sheets(t, dir)
	edit(t, folder, "units.csv", ",demo,", ",toy,")
	edit(t, folder, "frames.csv", "\r\nsedge,Sedge,", "\r\nsedge,,")
	status, out, said := execute(t, "import", "-data", dir, folder)
	if status != 1 || out != "" || !strings.Contains(said, folder+" has 2 faults\nframes.csv, row 2, name: ") || !strings.Contains(said, "\nunits.csv, row 2, kind: ") {
		t.Errorf("%d %q %q", status, out, said)
	}
	if diff := cmp.Diff(before, done(t, "export", "-data", dir)); diff != "" {
		t.Error(diff)
	}
}

func TestInterchangeUsage(t *testing.T) {
	t.Parallel()
	dir := demoShop.New(t)
	folder := sheets(t, dir)
	table, archive := filepath.Join(folder, "units.csv"), filepath.Join(t.TempDir(), "shop.zip")
	done(t, "export", "-data", dir, "-format", "csv", archive)
	for _, c := range []struct {
		status int
		args   []string
	}{
		{2, []string{"export", "-data", dir, "-format", "csv"}}, {2, []string{"export", "-data", dir, folder}}, {2, []string{"export", "-data", dir, "-format", "xml"}}, {2, []string{"export", "-data", dir, "-format", "xlsx"}}, {1, []string{"export", "-data", dir, "-format", "xlsx", table}},
		{2, []string{"import", "-data", dir}}, {2, []string{"import", "-data", dir, table, demoFile}}, {2, []string{"import", "-data", dir, demoFile, demoFile}},
		{1, []string{"export", "-data", dir, "-format", "csv", folder}}, {1, []string{"export", "-data", dir, "-format", "csv", archive}},
		{1, []string{"export", "-data", dir, "-format", "csv", filepath.Join(table, "under")}},
		{1, []string{"import", "-data", dir, dir}}, {1, []string{"import", "-data", dir, filepath.Join(dir, "none.csv")}}, {1, []string{"import", "-data", dir, write(t, "")}},
	} {
		if status, out, said := execute(t, c.args...); status != c.status || out != "" || said == "" || c.status == 1 && strings.Count(said, "\n") != 1 {
			t.Errorf("%v: %d, want %d: %q %q", c.args, status, c.status, out, said)
		}
	}
	if diff := cmp.Diff([]string{"add_ons.csv", "combined.csv", "evidence.csv", "frames.csv", "on_frame.csv", "places.csv", "shop.csv", "units.csv", "zones.csv"}, filesIn(t, folder)); diff != "" {
		t.Error(diff)
	}
}
