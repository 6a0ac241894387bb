package main

import (
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
)

const demoFile = "../../testdata/demo.json"

func read(t *testing.T, file string) string {
	t.Helper()
	data, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	return string(data)
}

func write(t *testing.T, text string) (file string) {
	t.Helper()
	file = filepath.Join(t.TempDir(), "document.json")
	if err := os.WriteFile(file, []byte(text), 0o600); err != nil {
		t.Fatal(err)
	}
	return file
}

// emptied is the catalogue document of a shop that sells nothing yet.
const emptied = `{"catalogue": 1, "shop": {"name": "Empty Quay", "currency": "EUR", "labour_cents_per_hour": 6000, "tax_percent": 21, "prices_include_tax": true}, "frames": [], "add_ons": [], "units": []}`

// TestANewStoreHoldsTheDemoShop exports what a new store holds.
func TestANewStoreHoldsTheDemoShop(t *testing.T) {
	t.Parallel()
	if diff := cmp.Diff(read(t, demoFile), done(t, "export", "-data", demoShop.New(t))); diff != "" {
		t.Error(diff)
	}
}

// TestAWrongFolderStaysAsItIs names a folder without a store, and one that is
// not there, to whatever only reads.
func TestAWrongFolderStaysAsItIs(t *testing.T) {
	t.Parallel()
	empty := t.TempDir()
	for _, dir := range []string{empty, filepath.Join(empty, "none")} {
		for _, args := range [][]string{
			{"backup", filepath.Join(t.TempDir(), "b.db")}, {"export"}, {"export", "-format", "csv", filepath.Join(t.TempDir(), "b")}, {"match", "-profile", sampleProfiles(t)[0]},
		} {
			status, out, said := execute(t, slices.Insert(slices.Clone(args), 1, "-data", dir)...)
			if status != 1 || out != "" || strings.Count(said, "\n") != 1 || !strings.Contains(said, "there is no store in the folder "+dir) {
				t.Errorf("%v: %d %q %q", args, status, out, said)
			}
			if to := args[len(args)-1]; args[0] != "match" && to != "export" {
				if _, err := os.Stat(to); err == nil {
					t.Errorf("%v wrote %s", args, to)
				}
			}
		}
	}
	if files := filesIn(t, empty); len(files) != 0 {
		t.Errorf("made: %v", files)
	}
}

// TestRestoreAsksBeforeMuchIsLost restores an emptied shop over a full one,
// with somebody at the terminal and without.
func TestRestoreAsksBeforeMuchIsLost(t *testing.T) {
	t.Parallel()
	dir, poor, backup := demoShop.New(t), t.TempDir(), filepath.Join(t.TempDir(), "poor.db")
	done(t, "import", "-data", poor, write(t, emptied))
	if said := done(t, "backup", "-data", poor, backup); !strings.Contains(said, "is whole and holds 0 frames, 0 add-ons, 0 bikes, 0 consultations") {
		t.Errorf("a backup of nothing says %q", said)
	}
	full := done(t, "export", "-data", dir)
	for answer, want := range map[string]int{"": 1, "no\n": 1, "yes\n": 0} {
		var out, said output
		at := &program{out: &out, err: &said}
		if answer != "" {
			at.in = strings.NewReader(answer)
		}
		if status := run(t.Context(), at, []string{"restore", "-data", dir, backup}); status != want {
			t.Errorf("%q: %d %s", answer, status, &said)
		}
		if !strings.Contains(said.String(), "holds much less (0 frames") || !strings.Contains(said.String(), "what stands in "+dir+" (14 frames") {
			t.Errorf("%q: %q does not name both", answer, &said)
		}
		if want == 0 {
			done(t, "restore", "-data", dir, "-yes", filepath.Join(dir, "kinwain.db.before-restore"))
		}
		if diff := cmp.Diff(full, done(t, "export", "-data", dir)); diff != "" {
			t.Errorf("%q: %s", answer, diff)
		}
	}
	done(t, "restore", "-data", dir, "-yes", backup)
	if status, _, said := execute(t, "restore", "-data", dir, filepath.Join(dir, "kinwain.db")); status != 1 || !strings.Contains(said, "is the store itself") {
		t.Errorf("restored onto itself: %d %q", status, said)
	}
}

// TestTwoProgramsOnOneFolder starts a second app beside the first, and what
// only comes by.
func TestTwoProgramsOnOneFolder(t *testing.T) {
	t.Parallel()
	dir := demoShop.New(t)
	a := start(t, dir)
	status, out, said := execute(t, "serve", "-addr", "127.0.0.1:0", "-data", dir)
	if status != 1 || out != "" || strings.Count(said, "\n") != 1 || !strings.Contains(said, "in use by another Kinwain") {
		t.Errorf("a second app: %d %q %q", status, out, said)
	}
	done(t, "import", "-data", dir, write(t, done(t, "export", "-data", dir)))
	done(t, "backup", "-data", dir, filepath.Join(t.TempDir(), "b.db"))
	a.stop()
	start(t, dir).stop()
}

// TestExportComesBackByteForByte sends a catalogue through a store and back,
// twice.
func TestExportComesBackByteForByte(t *testing.T) {
	t.Parallel()
	changed := strings.NewReplacer(`"Low Quay`, `"High Quay`, `"price_cents": 1`, `"price_cents": 2`).Replace(read(t, demoFile))
	if changed == read(t, demoFile) {
		t.Fatal("nothing was changed")
	}
	one, other := t.TempDir(), t.TempDir()
	done(t, "import", "-data", one, write(t, changed))
	exported := done(t, "export", "-data", one)
	if diff := cmp.Diff(changed, exported); diff != "" {
		t.Error(diff)
	}
	done(t, "import", "-data", other, write(t, exported))
	if diff := cmp.Diff(exported, done(t, "export", "-format", "json", "-data", other)); diff != "" {
		t.Error(diff)
	}
}

// TestEmptiedShopStaysEmpty empties the shop and starts the app on it.
func TestEmptiedShopStaysEmpty(t *testing.T) {
	t.Parallel()
	used, fresh := t.TempDir(), t.TempDir()
	start(t, used).stop() // the demo shop is in it
	for _, dir := range []string{used, fresh} {
		done(t, "import", "-data", dir, write(t, emptied))
		want := done(t, "export", "-data", dir)
		if strings.Contains(want, "sedge") || !strings.Contains(want, "Empty Quay") {
			t.Errorf("not emptied: %.300s", want)
		}
		a := start(t, dir).signIn()
		if _, page := a.get("/"); page.Find(".shop").Text() != "Empty Quay" {
			t.Errorf("the shop is %q", page.Find(".shop").Text())
		}
		a.stop()
		if diff := cmp.Diff(want, done(t, "export", "-data", dir)); diff != "" {
			t.Error(diff)
		}
	}
}

// TestFaultyImportChangesNothing names every fault and leaves what was there.
func TestFaultyImportChangesNothing(t *testing.T) {
	t.Parallel()
	dir := demoShop.New(t)
	before := done(t, "export", "-data", dir)
	faulty := strings.Replace(before, `"gross_rating_kg"`, `"gross_rating"`, 1)
	twice := strings.Replace(strings.Replace(before, `"code": "sedge"`, `"code": ""`, 1), `"kind": "demo"`, `"kind": "toy"`, 1)
	for name, c := range map[string]struct {
		document string
		lines    []string
	}{
		"unknown key": {faulty, []string{"frames[0].gross_rating"}},
		"no JSON":     {"codes and names", []string{"JSON"}},
		"two faults":  {twice, []string{"faults", "frames[0].code", "units[0].kind"}},
	} {
		status, out, said := execute(t, "import", "-data", dir, write(t, c.document))
		if status != 1 || out != "" || !strings.HasPrefix(said, "kinwain: ") {
			t.Errorf("%s: %d %q %q", name, status, out, said)
		}
		for _, line := range c.lines {
			if !strings.Contains(said, line) {
				t.Errorf("%s: %q does not name %s", name, said, line)
			}
		}
		if diff := cmp.Diff(before, done(t, "export", "-data", dir)); diff != "" {
			t.Errorf("%s: %s", name, diff)
		}
	}
	if status, _, said := execute(t, "import", "-data", dir, filepath.Join(dir, "nothing.json")); status != 1 || strings.Count(said, "\n") != 1 || !strings.Contains(said, "nothing.json") {
		t.Errorf("%d %q", status, said)
	}
}

// TestBackupAndRestore goes back to an earlier shop, and finds the later one
// kept beside it.
func TestBackupAndRestore(t *testing.T) {
	t.Parallel()
	dir, backup := demoShop.New(t), filepath.Join(t.TempDir(), "friday.db")
	demo := done(t, "export", "-data", dir)
	done(t, "backup", "-data", dir, backup)
	done(t, "import", "-data", dir, write(t, emptied))
	later := done(t, "export", "-data", dir)
	done(t, "restore", "-data", dir, backup)
	if diff := cmp.Diff(demo, done(t, "export", "-data", dir)); diff != "" {
		t.Error(diff)
	}
	if files := filesIn(t, dir); !slices.Equal(files, []string{"kinwain.db", "kinwain.db.before-restore"}) {
		t.Errorf("in the folder: %v", files)
	}
	elsewhere := t.TempDir()
	done(t, "restore", "-data", elsewhere, filepath.Join(dir, "kinwain.db.before-restore"))
	if diff := cmp.Diff(later, done(t, "export", "-data", elsewhere)); diff != "" {
		t.Error(diff)
	}
}

func TestBackupWhileTheAppRuns(t *testing.T) {
	t.Parallel()
	dir, backup := demoShop.New(t), filepath.Join(t.TempDir(), "copy.db")
	a := start(t, dir).signIn()
	done(t, "backup", "-data", dir, backup)
	response, _ := a.post("/consultations", formType, "")
	if status, _, said := execute(t, "restore", "-data", dir, backup); status != 1 || strings.Count(said, "\n") != 1 || !strings.Contains(said, "in use") {
		t.Errorf("restored under a running app: %d %q", status, said)
	}
	if again, _ := a.get(response.Request.URL.Path); again.StatusCode != 200 {
		t.Errorf("the consultation is gone: %d", again.StatusCode)
	}
	a.stop()
	done(t, "restore", "-data", t.TempDir(), backup)
}

func TestBackupAndRestoreSayWhyTheyCannot(t *testing.T) {
	t.Parallel()
	dir := demoShop.New(t)
	file := write(t, "no store")
	for _, args := range [][]string{
		{"backup", "-data", dir, file}, {"backup", "-data", dir, filepath.Join(file, "under")}, {"restore", "-data", dir, filepath.Join(dir, "nothing.db")}, {"restore", "-data", dir, file},
		{"restore", "-data", dir, filepath.Join(newerStore(t), "kinwain.db")}, {"export", "-data", filepath.Join(file, "data")}, {"match", "-profile", sampleProfiles(t)[0], "-data", filepath.Join(file, "data")},
	} {
		status, out, said := execute(t, args...)
		if status != 1 || out != "" || strings.Count(said, "\n") != 1 || !strings.HasPrefix(said, "kinwain: ") {
			t.Errorf("%v: %d %q %q", args, status, out, said)
		}
	}
	if read(t, file) != "no store" {
		t.Error("a file was overwritten")
	}
}
