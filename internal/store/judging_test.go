package store

import (
	"path/filepath"
	"slices"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"kinwain/internal/catalog"
	"kinwain/internal/measure"
)

var manager = Author{Who: "B", How: ByEdit, At: midday}

// changeShop stores the catalogue after a change of it.
func changeShop(t *testing.T, s *Store, change func(c *catalog.Catalogue)) {
	t.Helper()
	changeShopBy(t, s, manager, change)
}

func changeShopBy(t *testing.T, s *Store, by Author, change func(c *catalog.Catalogue)) {
	t.Helper()
	c, revision, err := s.CatalogueAt(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	document, err := c.Document()
	if err != nil {
		t.Fatal(err)
	}
	changed, err := catalog.Parse(document)
	if err != nil {
		t.Fatal(err)
	}
	change(changed)
	if err := s.ReplaceCatalogueAt(t.Context(), revision, changed, by); err != nil {
		t.Fatal(err)
	}
}

// lowered takes a gram from what a frame may weigh.
func lowered(t *testing.T, s *Store, frame string) {
	t.Helper()
	changeShop(t, s, func(c *catalog.Catalogue) { c.Frame(frame).GrossRating -= measure.Gram })
}

// judged ends all that is to be judged, with these marks of answers.
func judged(t *testing.T, s *Store, marks ...Mark) {
	t.Helper()
	for {
		j, err := s.NextJudging(t.Context())
		if CodeOf(err) == NotFound {
			return
		}
		if err != nil {
			t.Fatal(err)
		}
		var of []Mark
		for _, m := range marks {
			if m.Consultation == j.Consultation && j.Summary == 0 && j.Quote+j.Ride == "" {
				of = append(of, m)
			}
		}
		if kept, err := s.FinishJudging(t.Context(), j, of); err != nil || !kept {
			t.Fatalf("%v, %v", kept, err)
		}
	}
}

// judgedAgain marks consultations.
func judgedAgain(t *testing.T, s *Store, marks ...Mark) {
	t.Helper()
	lowered(t, s, "sedge")
	judged(t, s, marks...)
}

// kept counts what is kept of what was told.
func kept(t *testing.T, s *Store) (n int) {
	t.Helper()
	if err := s.readers.QueryRowContext(t.Context(), `SELECT count(*) FROM told`).Scan(&n); err != nil {
		t.Fatal(err)
	}
	return n
}

func pending(t *testing.T, s *Store) []Judging {
	t.Helper()
	list, err := s.PendingJudgings(t.Context(), "")
	if err != nil {
		t.Fatal(err)
	}
	return list
}

// TestWhoIsQueued changes things while something of every kind was told of the
// Sedge.
func TestWhoIsQueued(t *testing.T) {
	t.Parallel()
	s, id := counter(t)
	if _, err := s.IssueFitSummary(t.Context(), FitSummary{Consultation: id, Frame: "sedge", Document: []byte("{}"), Created: midday, Expires: midday.Add(time.Hour)}); err != nil {
		t.Fatal(err)
	}
	q := offer(t, s, id, "sedge", midday)
	if err := s.Reserve(t.Context(), "S-101", q.ID, day(30), midday); err != nil {
		t.Fatal(err)
	}
	if _, err := s.BookRide(t.Context(), rideOn(id, "D-011", midday.Add(time.Hour), time.Hour), midday); err != nil {
		t.Fatal(err)
	}
	seen := func() (kinds string) {
		for _, j := range pending(t, s) {
			switch {
			case j.Summary != 0:
				kinds += "s"
			case j.Quote != "":
				kinds += "q"
			case j.Ride != "":
				kinds += "r"
			default:
				kinds += "c"
			}
		}
		judged(t, s)
		return kinds
	}
	touch := catalog.Touch{Frames: []string{"sedge"}}
	if r, err := s.Reach(t.Context(), touch, midday); err != nil || r != (Reach{1, 1, 1, 1, 1}) {
		t.Errorf("%+v, %v", r, err)
	}
	if r, err := s.Reach(t.Context(), touch, midday.AddDate(0, 0, OpenDays+1)); err != nil || !r.Nobody() {
		t.Errorf("when all is over: %+v, %v", r, err)
	}
	retire := func(list, code string, is bool) {
		if err := s.Retire(t.Context(), Thing{list, code}, is, manager); err != nil {
			t.Fatal(err)
		}
	}
	for _, test := range []struct {
		name, want string
		change     func()
	}{
		{"a rating of the frame", "csqr", func() { lowered(t, s, "sedge") }},
		{"of another", "c", func() { lowered(t, s, "osier-m") }},
		{"the price of the bike that is held", "q", func() { changeShop(t, s, func(c *catalog.Catalogue) { c.Unit("S-101").Price = 1 }) }},
		{"where that is", "q", func() { changeShop(t, s, func(c *catalog.Catalogue) { c.Unit("S-101").Status = catalog.InRepair }) }},
		{"the price of the bike of the ride", "", func() { changeShop(t, s, func(c *catalog.Catalogue) { c.Unit("D-011").Price = 1 }) }},
		{"where that is", "r", func() { changeShop(t, s, func(c *catalog.Catalogue) { c.Unit("D-011").Status = catalog.InRepair }) }},
		{"the colour of a bike", "", func() { changeShop(t, s, func(c *catalog.Catalogue) { c.Units[0].Colour = "rust" }) }},
		{"the frame retired", "csqr", func() { retire("frames", "sedge", true) }},
		{"and back: nobody was told of it", "", func() { retire("frames", "sedge", false) }},
		{"the bike of the ride", "r", func() { retire("units", "D-011", true) }},
		{"the bike that is held", "q", func() { retire("units", "S-101", true) }},
		{"a figure of the answers", "csqr", func() {
			if err := s.ChangeSettings(t.Context(), SettingsChange{Set: map[string]int64{"a": 1}, Judged: []string{"a"}}, manager); err != nil {
				t.Fatal(err)
			}
		}},
		{"another figure", "", func() {
			if err := s.ChangeSettings(t.Context(), SettingsChange{Set: map[string]int64{"b": 1}, Judged: []string{"a"}}, manager); err != nil {
				t.Fatal(err)
			}
		}},
	} {
		test.change()
		if got := seen(); got != test.want {
			t.Errorf("%s: %q, want %q", test.name, got, test.want)
		}
	}
	if n := kept(t, s); n != 0 {
		t.Errorf("%d of what was told are left, and nobody is judged by them", n)
	}
}

// TestRounds holds what becomes of judgings while the shop changes again.
func TestRounds(t *testing.T) {
	t.Parallel()
	s, id := counter(t)
	told, err := s.Catalogue(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	mark := Mark{Frame: "sedge", Text: "worse", Created: midday}
	lowered(t, s, "sedge")
	slow := pending(t, s)[0]
	lowered(t, s, "sedge")
	if kept, err := s.FinishJudging(t.Context(), slow, []Mark{mark}); err != nil || kept {
		t.Errorf("what was judged by figures of before counts: %v, %v", kept, err)
	}
	again := pending(t, s)[0]
	if again.Base != slow.Base || again.Round == slow.Round || kept(t, s) != 1 {
		t.Errorf("%+v after %+v, %d kept", again, slow, kept(t, s))
	}
	if base, err := s.Told(t.Context(), again.Base); err != nil {
		t.Error(err)
	} else if diff := cmp.Diff(told, base.Catalogue); diff != "" {
		t.Error(diff)
	}
	if p, err := s.Progress(t.Context()); err != nil || p != (Progress{0, 1}) || !p.Pending() {
		t.Errorf("%+v, %v", p, err)
	}
	mark.Consultation = id
	judged(t, s, mark)
	if p, err := s.Progress(t.Context()); err != nil || p != (Progress{1, 1}) || p.Pending() || kept(t, s) != 1 {
		t.Errorf("%+v, %v, %d kept", p, err, kept(t, s))
	}
	lowered(t, s, "sedge") // a third, of which nobody knows yet
	third := pending(t, s)[0]
	if third.Base != again.Base {
		t.Errorf("it is judged from %d, though nobody has seen what came of %d", third.Base, again.Base)
	}
	marks, err := s.Marks(t.Context(), id)
	if err != nil || len(marks) != 1 {
		t.Fatalf("%v, %v", marks, err)
	}
	if err := s.DismissMarks(t.Context(), id, marks[0].ID); err != nil {
		t.Fatal(err)
	}
	if kept, err := s.FinishJudging(t.Context(), third, []Mark{mark}); err != nil || kept {
		t.Errorf("what is seen comes back: %v, %v", kept, err)
	}
	if last := pending(t, s)[0]; last.Base <= third.Base {
		t.Errorf("what was seen is not what was told: %+v", last)
	}
	judged(t, s)
	if n := kept(t, s); n != 0 {
		t.Errorf("%d are left", n)
	}
	_, err = s.Told(t.Context(), slow.Base)
	wantCode(t, err, NotFound)
}

// TestJudgingsOutliveARestart closes the store in the middle.
func TestJudgingsOutliveARestart(t *testing.T) {
	t.Parallel()
	dir := t.TempDir()
	var before []Judging
	openClose(t, dir, func(s *Store) {
		if err := s.ReplaceCatalogue(t.Context(), parse(t, filepath.Join("testdata", "rich.json"))); err != nil {
			t.Fatal(err)
		}
		for range 3 {
			if _, err := s.CreateConsultation(t.Context(), "", "", nil, midday); err != nil {
				t.Fatal(err)
			}
		}
		c, err := s.Catalogue(t.Context())
		if err != nil {
			t.Fatal(err)
		}
		lowered(t, s, c.Frames[0].Code)
		before = pending(t, s)
		if _, err := s.FinishJudging(t.Context(), before[0], nil); err != nil {
			t.Fatal(err)
		}
	})
	s := opened(t, dir)
	if after := pending(t, s); len(before) != 3 || !slices.Equal(after, before[1:]) {
		t.Errorf("%v, then %v", before, after)
	}
	if p, err := s.Progress(t.Context()); err != nil || p != (Progress{1, 3}) {
		t.Errorf("%+v, %v", p, err)
	}
}

// TestMarksOfAProgramBefore upgrades a store with a mark in it: it stays as it
// is until somebody has seen it.
func TestMarksOfAProgramBefore(t *testing.T) {
	t.Parallel()
	dir := t.TempDir()
	openClose(t, dir, func(s *Store) {
		id := consulted(t, s)
		p, err := migrator(s.writer)
		if err != nil {
			t.Fatal(err)
		}
		if _, err := p.DownTo(t.Context(), 20); err != nil {
			t.Fatal(err)
		}
		if _, err := s.writer.ExecContext(t.Context(), `INSERT INTO marks (consultation, frame, text, created) VALUES (?, 'sedge', 'the Sedge: dearer', ?)`, id, midday.UnixMilli()); err != nil {
			t.Fatal(err)
		}
	})
	s := opened(t, dir)
	marks, err := s.Marks(t.Context(), "")
	if err != nil || len(marks) != 1 || marks[0].Text != "the Sedge: dearer" || marks[0].Quote+marks[0].Ride != "" || !marks[0].Created.Equal(midday) {
		t.Fatalf("%+v, %v", marks, err)
	}
	if err := s.DismissMarks(t.Context(), marks[0].Consultation, marks[0].ID); err != nil {
		t.Fatal(err)
	}
	if marks, err = s.Marks(t.Context(), ""); err != nil || len(marks) != 0 {
		t.Errorf("%+v, %v", marks, err)
	}
}
