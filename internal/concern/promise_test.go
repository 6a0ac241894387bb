package concern_test

import (
	"context"
	"fmt"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	"kinwain/internal/advice"
	"kinwain/internal/catalog"
	"kinwain/internal/concern"
	"kinwain/internal/match"
	"kinwain/internal/measure"
	"kinwain/internal/profile"
	"kinwain/internal/quote"
	"kinwain/internal/store"
	"kinwain/internal/summary"
)

// promised is a store in which a family was told of the Osier M and promised it
// in every way: sent home, quoted, held and booked.
type promised struct {
	*store.Store
	*concern.Watch
	id string
}

func promise(t *testing.T, faults *[]string) *promised {
	t.Helper()
	s := opened(t, t.TempDir())
	t.Cleanup(func() { closed(t, s) })
	c := demo(t)
	if err := s.ReplaceCatalogue(t.Context(), c); err != nil {
		t.Fatal(err)
	}
	_, documents := customers(t)
	document := documents["profiles/twins.json"]
	who, err := profile.Parse(document)
	if err != nil {
		t.Fatal(err)
	}
	saved, err := s.CreateConsultation(t.Context(), "", "family D", document, noon)
	if err != nil {
		t.Fatal(err)
	}
	shop := &advice.Shop{Catalogue: c, Settings: match.DefaultSettings()}
	f := c.Frame("osier-m")
	m, err := shop.Best(t.Context(), f, who, match.Options{})
	if err != nil || !m.Fits() {
		t.Fatalf("%v, %v", m.Verdict, err)
	}
	kept, err := summary.Of(shop, who, m, false)
	if err != nil {
		t.Fatal(err)
	}
	if document, err = kept.Document(); err != nil {
		t.Fatal(err)
	}
	if _, err := s.IssueFitSummary(t.Context(), store.FitSummary{Consultation: saved.ID, Frame: f.Code, Document: document, Created: noon, Expires: noon.AddDate(0, 0, 60)}); err != nil {
		t.Fatal(err)
	}
	q, err := s.CreateQuote(t.Context(), quote.Quote{Consultation: saved.ID, Customer: "family D", Shop: c.Shop.Name, Currency: c.Shop.Currency, Frame: f.Code, FrameName: f.Called(), FrameKind: "longtail",
		Language: "en", ValidUntil: measure.Date{Year: 2026, Month: 12, Day: 25}, Sum: quote.NewSum(c, f, m.Build, quote.DefaultSettings())}, noon)
	if err != nil {
		t.Fatal(err)
	}
	if err := s.Reserve(t.Context(), "S-105", q.ID, measure.Date{Year: 2026, Month: 12, Day: 1}, noon); err != nil {
		t.Fatal(err)
	}
	if _, err := s.BookRide(t.Context(), store.Ride{Consultation: saved.ID, Frame: f.Code, FrameName: f.Called(), Unit: "D-014", Starts: noon.Add(time.Hour), Ends: noon.Add(2 * time.Hour)}, noon); err != nil {
		t.Fatal(err)
	}
	return &promised{s, watching(t, s, advice.NewAdvisor(s), faults), saved.ID}
}

// settled judges to the end, and returns what is marked.
func (p *promised) settled(t *testing.T) []string {
	t.Helper()
	if err := p.Settle(t.Context()); err != nil {
		t.Fatal(err)
	}
	marks, err := p.Marks(t.Context(), p.id)
	if err != nil {
		t.Fatal(err)
	}
	var texts []string
	for _, m := range marks {
		texts = append(texts, m.Text)
		if (m.Quote != "") != strings.Contains(m.Text, "as quoted in") || (m.Ride != "") != strings.HasPrefix(m.Text, "the test ride") {
			t.Errorf("%+v", m)
		}
	}
	return texts
}

// TestEveryPromiseIsTold changes what was promised and takes that back: then
// nothing is left of it.
func TestEveryPromiseIsTold(t *testing.T) {
	t.Parallel()
	retire := func(list, code string) func(t *testing.T, p *promised) (back func()) {
		return func(t *testing.T, p *promised) func() {
			to := func(is bool) {
				if err := p.Retire(t.Context(), store.Thing{List: list, Code: code}, is, manager); err != nil {
					t.Fatal(err)
				}
			}
			to(true)
			return func() { to(false) }
		}
	}
	edit := func(there, back func(c *catalog.Catalogue)) func(t *testing.T, p *promised) func() {
		return func(t *testing.T, p *promised) func() {
			changed(t, p.Store, there)
			return func() { changed(t, p.Store, back) }
		}
	}
	rating := func(by measure.Mass) func(c *catalog.Catalogue) {
		return func(c *catalog.Catalogue) { c.Frame("osier-m").GrossRating += by }
	}
	fitted := slices.Clone(unitOf(demo(t), "D-014").Fitted)
	all := []string{"the Osier M: ", "the Osier M, as sent home: ", "the Osier M, as quoted in Q-2026-0001: ", "the test ride on the Osier M, D-014: "}
	for name, test := range map[string]struct {
		change func(t *testing.T, p *promised) (back func())
		want   []string // beginnings
		says   string
	}{
		"a lower rating":       {edit(rating(-100*measure.Kilogram), rating(100*measure.Kilogram)), all, "does not fit"},
		"a retired frame":      {retire("frames", "osier-m"), all, "retired, and no longer offered"},
		"a retired bike":       {retire("units", "S-105"), all[2:3], "the bike S-105, held for it, is retired"},
		"the bike of the ride": {retire("units", "D-014"), all[3:], "the bike is retired"},
		"what is on the bike":  {edit(func(c *catalog.Catalogue) { unitOf(c, "D-014").Fitted = nil }, func(c *catalog.Catalogue) { unitOf(c, "D-014").Fitted = fitted }), all[3:], "no longer has on it: "},
		"labour":               {edit(func(c *catalog.Catalogue) { c.Shop.LabourPerHour += 10_00 }, func(c *catalog.Catalogue) { c.Shop.LabourPerHour -= 10_00 }), nil, "→ EUR"},
		"a figure of the settings": {func(t *testing.T, p *promised) func() {
			set := func(c store.SettingsChange) {
				c.Judged = concern.Judged()
				if err := p.ChangeSettings(t.Context(), c, manager); err != nil {
					t.Fatal(err)
				}
			}
			set(store.SettingsChange{Set: map[string]int64{"clothing_g": 9_900}})
			return func() { set(store.SettingsChange{Reset: []string{"clothing_g"}}) }
		}, nil, "→"},
		"the order of the frames": {func(t *testing.T, p *promised) func() {
			if err := p.ChangeSettings(t.Context(), store.SettingsChange{Set: map[string]int64{"price_weight": 9}, Judged: concern.Judged()}, manager); err != nil {
				t.Fatal(err)
			}
			if pending, err := p.PendingJudgings(t.Context(), ""); err != nil || len(pending) != 0 {
				t.Errorf("the order makes no other answer, and %d are to be judged, %v", len(pending), err)
			}
			return func() {}
		}, []string{}, ""},
	} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			p := promise(t, nil)
			back := test.change(t, p)
			got := p.settled(t)
			about := slices.DeleteFunc(slices.Clone(got), func(text string) bool {
				return !slices.ContainsFunc(all, func(begins string) bool { return strings.HasPrefix(text, begins) })
			})
			if test.want == nil && len(about) == 0 {
				t.Errorf("nothing is told of it: %q", got)
			}
			if test.want != nil && len(about) != len(test.want) {
				t.Errorf("%q, want %q", about, test.want)
			}
			for i, text := range about {
				if test.want != nil && i < len(test.want) && !strings.HasPrefix(text, test.want[i]) || !strings.Contains(text, test.says) {
					t.Errorf("%q", text)
				}
			}
			back()
			if left := p.settled(t); len(left) != 0 {
				t.Errorf("taken back, and %q is left", left)
			}
		})
	}
}

func unitOf(c *catalog.Catalogue, tag string) *catalog.Unit {
	return &c.Units[slices.IndexFunc(c.Units, func(u catalog.Unit) bool { return u.Tag == tag })]
}

// TestSeenIsWhatIsTold changes something again after somebody has seen the
// first change: only the second is told, and its undoing does not bring the
// first back.
func TestSeenIsWhatIsTold(t *testing.T) {
	t.Parallel()
	p := promise(t, nil)
	price := func(by measure.Money) {
		changed(t, p.Store, func(c *catalog.Catalogue) { c.Frame("osier-m").Price += by })
	}
	price(100_00)
	first := p.settled(t)
	marks, err := p.Marks(t.Context(), p.id)
	if err != nil || len(first) == 0 {
		t.Fatalf("%q, %v", first, err)
	}
	if err := p.DismissMarks(t.Context(), p.id, marks[len(marks)-1].ID); err != nil {
		t.Fatal(err)
	}
	price(50_00)
	second := p.settled(t)
	if len(second) != len(first) || second[0] == first[0] {
		t.Errorf("%q after %q", second, first)
	}
	price(-50_00)
	if left := p.settled(t); len(left) != 0 {
		t.Errorf("%q is left", left)
	}
}

// TestWhatCannotBeReadIsLookedAtByHand judges what lies there damaged.
func TestWhatCannotBeReadIsLookedAtByHand(t *testing.T) {
	t.Parallel()
	var faults []string
	p := promise(t, &faults)
	damaged, err := p.CreateConsultation(t.Context(), "", "", []byte("{"), noon)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := p.CreateConsultation(t.Context(), "", "nobody has answered", nil, noon); err != nil {
		t.Fatal(err)
	}
	if _, err := p.IssueFitSummary(t.Context(), store.FitSummary{Consultation: p.id, Frame: "osier-m", Document: []byte(`{"fit_summary": 0}`), Created: noon, Expires: noon.Add(time.Hour)}); err != nil {
		t.Fatal(err)
	}
	changed(t, p.Store, func(c *catalog.Catalogue) { c.Frame("osier-m").GrossRating -= measure.Gram })
	p.settled(t)
	marks, err := p.Marks(t.Context(), "")
	if err != nil {
		t.Fatal(err)
	}
	by := map[string]int{}
	for _, m := range marks {
		if strings.Contains(m.Text, "look at it by hand") {
			by[m.Consultation]++
		}
	}
	if by[damaged.ID] != 1 || by[p.id] != 1 || len(by) != 2 {
		t.Errorf("%+v", marks)
	}
	if want := []string{"a consultation cannot be read", "a fit summary cannot be read"}; !slices.Equal(slices.Sorted(slices.Values(faults)), want) {
		t.Errorf("%q, want %q", faults, want)
	}
}

// TestEditsWhileJudging judges in the background while others write: in the end
// the marks are those of the last catalogue.
func TestEditsWhileJudging(t *testing.T) {
	t.Parallel()
	p := promise(t, nil)
	_, documents := customers(t)
	ctx, stop := context.WithCancel(t.Context())
	look := make(chan time.Time)
	var working, writing sync.WaitGroup
	working.Go(func() { p.Work(ctx, look) })
	writing.Go(func() {
		for i := range 6 {
			changed(t, p.Store, func(c *catalog.Catalogue) { c.Frame("osier-m").GrossRating -= measure.Mass(i+1) * 5 * measure.Kilogram })
			look <- noon
		}
	})
	writing.Go(func() {
		for i := range 6 {
			if _, err := p.CreateConsultation(t.Context(), "", fmt.Sprint("family ", i), documents["profiles/twins.json"], noon); err != nil {
				t.Error(err)
			}
		}
	})
	writing.Wait()
	stop()
	working.Wait()
	last := p.settled(t)
	q := promise(t, nil) // the same in one go
	changed(t, q.Store, func(c *catalog.Catalogue) { c.Frame("osier-m").GrossRating -= 105 * measure.Kilogram })
	if want := q.settled(t); !slices.Equal(slices.Sorted(slices.Values(last)), slices.Sorted(slices.Values(want))) || len(want) == 0 {
		t.Errorf("step by step %q, in one go %q", last, want)
	}
}

// TestReach counts at the most whom changes may concern.
func TestReach(t *testing.T) {
	t.Parallel()
	p := promise(t, nil)
	c, err := p.Catalogue(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	other := *c
	other.Frames = slices.Clone(c.Frames)
	at := slices.IndexFunc(c.Frames, func(f catalog.Frame) bool { return f.Code == "osier-m" })
	all := store.Reach{Consultations: 1, Summaries: 1, Quotes: 1, Held: 1, Rides: 1}
	wants := func(name string, want store.Reach, got store.Reach, err error) {
		t.Helper()
		if err != nil || got != want {
			t.Errorf("%s: %+v, %v, want %+v", name, got, err, want)
		}
	}
	other.Frames[at].GrossRating--
	r, err := p.Watch.Reach(t.Context(), c, &other)
	wants("a rating", all, r, err)
	other.Frames[at] = c.Frames[at]
	other.Frames[at].Notes = "New."
	r, err = p.Watch.Reach(t.Context(), c, &other)
	wants("notes", store.Reach{}, r, err)
	other.Frames[at] = c.Frames[at]
	another := c.Frames[at]
	another.Code = "osier-xl"
	other.Frames = append(other.Frames, another)
	r, err = p.Watch.Reach(t.Context(), c, &other)
	wants("a frame that nobody was told of", store.Reach{}, r, err)
	r, err = p.ReachOfRetiring(t.Context(), store.Thing{List: "frames", Code: "osier-m"}, true)
	wants("retiring", all, r, err)
	r, err = p.ReachOfRetiring(t.Context(), store.Thing{List: "units", Code: "D-014"}, true)
	wants("retiring the bike of the ride", store.Reach{Rides: 1}, r, err)
	r, err = p.ReachOfSettings(t.Context(), []string{"clothing_g"})
	wants("a figure", all, r, err)
	r, err = p.ReachOfSettings(t.Context(), []string{"price_weight", "quote_days"})
	wants("the order", store.Reach{}, r, err)
}
