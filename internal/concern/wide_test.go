package concern_test

import (
	"context"
	"io/fs"
	"slices"
	"strings"
	"testing"
	"time"

	"kinwain/internal/advice"
	"kinwain/internal/catalog"
	"kinwain/internal/concern"
	"kinwain/internal/match"
	"kinwain/internal/measure"
	"kinwain/internal/profile"
	"kinwain/internal/store"
	"kinwain/internal/wideshop"
	"kinwain/testdata"
)

var noon = time.Date(2026, 11, 25, 12, 0, 0, 0, time.UTC)

var manager = store.Author{Who: "B", How: store.ByEdit, At: noon}

// opened opens a store, which is closed at the end.
func opened(t *testing.T, dir string) *store.Store {
	t.Helper()
	s, err := store.Open(t.Context(), dir)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

func closed(t *testing.T, s *store.Store) {
	t.Helper()
	if err := s.Close(); err != nil {
		t.Error(err)
	}
}

// watching judges for a store whose answers are profile documents. What it is
// told of fails the test, unless it is expected.
func watching(t *testing.T, s concern.Store, advisor *advice.Advisor, faults *[]string) *concern.Watch {
	t.Helper()
	return &concern.Watch{Store: s, Advice: advisor, Now: func() time.Time { return noon },
		Profile: func(c store.Consultation) (*profile.Profile, error) {
			if len(c.Answers) == 0 {
				return nil, nil
			}
			return profile.Parse(c.Answers)
		},
		Fault: func(what string, err error) {
			if faults == nil {
				t.Errorf("%s: %v", what, err)
				return
			}
			*faults = append(*faults, what)
		}}
}

func demo(t *testing.T) *catalog.Catalogue {
	t.Helper()
	c, err := catalog.Parse(testdata.Demo)
	if err != nil {
		t.Fatal(err)
	}
	return c
}

// customers are the documents of the sample customers, by name.
func customers(t *testing.T) (names []string, documents map[string][]byte) {
	t.Helper()
	documents = map[string][]byte{}
	files, err := fs.Glob(testdata.Profiles, "profiles/*.json")
	if err != nil {
		t.Fatal(err)
	}
	for _, file := range files {
		if documents[file], err = testdata.Profiles.ReadFile(file); err != nil {
			t.Fatal(err)
		}
		names = append(names, file)
	}
	return names, documents
}

// changed stores the catalogue after a change, and returns how long that took.
func changed(t *testing.T, s *store.Store, change func(c *catalog.Catalogue)) time.Duration {
	t.Helper()
	c, revision, err := s.CatalogueAt(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	document, err := c.Document()
	if err != nil {
		t.Fatal(err)
	}
	other, err := catalog.Parse(document)
	if err != nil {
		t.Fatal(err)
	}
	change(other)
	began := time.Now()
	if err := s.ReplaceCatalogueAt(t.Context(), revision, other, manager); err != nil {
		t.Fatal(err)
	}
	return time.Since(began)
}

// seatTo gives every place of the first child seat another greatest weight.
func seatTo(most measure.Mass) func(c *catalog.Catalogue) {
	return func(c *catalog.Catalogue) { c.AddOn("seat-rear-0").Places[0].MaxMass = most }
}

// killer ends the work once so much of it is done.
type killer struct {
	*store.Store
	after int
	kill  context.CancelFunc
}

func (k *killer) FinishJudging(ctx context.Context, j store.Judging, marks []store.Mark) (bool, error) {
	if k.after--; k.after < 0 {
		k.kill()
		return false, ctx.Err()
	}
	return k.Store.FinishJudging(ctx, j, marks)
}

// TestAWideShopIsJudgedToTheEnd lowers what a child seat bears in a shop of 60
// frames, 400 add-ons and 120 open consultations, ends the program in the
// middle, and holds what came of it against judging every frame for everybody.
func TestAWideShopIsJudgedToTheEnd(t *testing.T) {
	dir := t.TempDir()
	s := opened(t, dir)
	wide := wideshop.Of(demo(t), 60, 400)
	if err := s.ReplaceCatalogue(t.Context(), wide); err != nil {
		t.Fatal(err)
	}
	names, documents := customers(t)
	whose := map[string]string{}
	for i := range 120 {
		name := names[i%len(names)]
		c, err := s.CreateConsultation(t.Context(), "", name, documents[name], noon)
		if err != nil {
			t.Fatal(err)
		}
		whose[c.ID] = name
	}
	if took := changed(t, s, seatTo(12*measure.Kilogram)); took > 5*time.Second {
		t.Errorf("the save took %v", took)
	}
	ctx, kill := context.WithCancel(t.Context())
	if err := watching(t, &killer{s, 40, kill}, advice.NewAdvisor(s), nil).Settle(ctx); err == nil {
		t.Fatal("nobody ended it")
	}
	closed(t, s)
	s = opened(t, dir)
	defer func() { closed(t, s) }()
	if p, err := s.Progress(t.Context()); err != nil || p != (store.Progress{Judged: 40, Of: 120}) {
		t.Fatalf("after a restart: %+v, %v", p, err)
	}
	w := watching(t, s, advice.NewAdvisor(s), nil)
	began := time.Now()
	if err := w.Settle(t.Context()); err != nil {
		t.Fatal(err)
	}
	t.Logf("80 of them took %v", time.Since(began))
	marks, err := s.Marks(t.Context(), "")
	if err != nil {
		t.Fatal(err)
	}
	got := map[string][]string{}
	for _, m := range marks {
		got[m.Consultation] = append(got[m.Consultation], m.Frame)
	}
	want := byForce(t, wide, documents)
	concerned := 0
	for id, name := range whose {
		slices.Sort(got[id])
		if concerned += min(1, len(got[id])); !slices.Equal(got[id], want[name]) {
			t.Errorf("%s: marked are %v, by force %v", name, got[id], want[name])
		}
	}
	if concerned == 0 || concerned == len(whose) {
		t.Errorf("%d of %d are concerned", concerned, len(whose))
	}
	t.Logf("%d are concerned", concerned)
	changed(t, s, seatTo(22*measure.Kilogram)) // and back
	if err := w.Settle(t.Context()); err != nil {
		t.Fatal(err)
	}
	if marks, err := s.Marks(t.Context(), ""); err != nil || len(marks) != 0 {
		t.Errorf("what was undone leaves %d marks, %v", len(marks), err)
	}
}

// byForce lists for every customer the frames of which the verdict, the horizon
// or the total is another one, in order.
func byForce(t *testing.T, before *catalog.Catalogue, documents map[string][]byte) map[string][]string {
	t.Helper()
	document, err := before.Document()
	if err != nil {
		t.Fatal(err)
	}
	after, err := catalog.Parse(document)
	if err != nil {
		t.Fatal(err)
	}
	seatTo(12 * measure.Kilogram)(after)
	settings := match.DefaultSettings()
	settings.Patience = 0
	want := map[string][]string{}
	for name, document := range documents {
		p, err := profile.Parse(document)
		if err != nil {
			t.Fatal(err)
		}
		said := map[string]string{}
		for i, c := range []*catalog.Catalogue{before, after} {
			ranked, err := match.Rank(t.Context(), c, p, settings, match.Options{})
			if err != nil {
				t.Fatal(err)
			}
			for _, m := range ranked {
				words := []string{string(m.Verdict)}
				if m.Fits() {
					words = append(words, m.Total.String())
					if m.Horizon != nil {
						words = append(words, m.Horizon.Month.String())
					}
				}
				text := strings.Join(words, " ")
				if i == 1 && said[m.Frame.Code] != text {
					want[name] = append(want[name], m.Frame.Code)
				}
				said[m.Frame.Code] = text
			}
		}
		slices.Sort(want[name])
	}
	return want
}
