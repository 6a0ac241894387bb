package concern

import (
	"context"
	"errors"
	"slices"
	"testing"
	"time"

	"kinwain/internal/advice"
	"kinwain/internal/catalog"
	"kinwain/internal/match"
	"kinwain/internal/measure"
	"kinwain/internal/profile"
	"kinwain/internal/store"
	"kinwain/internal/summary"
	"kinwain/testdata"
)

var noon = time.Date(2026, 11, 25, 12, 0, 0, 0, time.UTC)

// kept is a store of a few consultations and summaries, in memory.
type kept struct {
	consultations []store.Consultation
	summaries     []store.FitSummary
	replaced      *catalog.Catalogue
	marks         []store.Mark
	marksFail     bool
}

func (k *kept) Consultation(_ context.Context, id string) (store.Consultation, error) {
	for _, c := range k.consultations {
		if c.ID == id {
			return c, nil
		}
	}
	return store.Consultation{}, errors.New("no such consultation")
}

func (k *kept) ConsultationsSince(_ context.Context, since time.Time, _ int) ([]store.Consultation, error) {
	var open []store.Consultation
	for _, c := range k.consultations {
		if !c.Updated.Before(since) {
			open = append(open, c)
		}
	}
	return open, nil
}

func (k *kept) LiveFitSummaries(context.Context, time.Time, int) ([]store.FitSummary, error) {
	return k.summaries, nil
}

func (k *kept) Settings(context.Context) (map[string]int64, error) { return nil, nil }
func (k *kept) Texts(context.Context) (map[string]string, error)   { return nil, nil }

func (k *kept) ReplaceCatalogueAt(_ context.Context, _ int64, c *catalog.Catalogue, _ store.Author) error {
	k.replaced = c
	return nil
}

func (k *kept) AddMarks(_ context.Context, marks []store.Mark) error {
	if k.marksFail {
		return errors.New("the disk is full")
	}
	k.marks = marks
	return nil
}

// watched returns a watch of a store, and what it was told could not be done.
func watched(t *testing.T, k *kept) (*Watch, *[]string) {
	t.Helper()
	var faults []string
	return &Watch{Store: k, Advice: advice.NewAdvisor(nil), Now: func() time.Time { return noon },
		Profile: func(c store.Consultation) (*profile.Profile, error) {
			if string(c.Answers) == "damaged" {
				return nil, errors.New("damaged")
			}
			return customer(t), nil
		},
		Fault: func(what string, _ error) { faults = append(faults, what) }}, &faults
}

func customer(t *testing.T) *profile.Profile {
	t.Helper()
	document, err := testdata.Profiles.ReadFile("profiles/twins.json")
	if err != nil {
		t.Fatal(err)
	}
	p, err := profile.Parse(document)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// change returns the demo catalogue, and the same with a lower rating.
func change(t *testing.T) (before, after *catalog.Catalogue) {
	t.Helper()
	for _, c := range []**catalog.Catalogue{&before, &after} {
		var err error
		if *c, err = catalog.Parse(testdata.Demo); err != nil {
			t.Fatal(err)
		}
	}
	after.Frame("osier-m").GrossRating = 100 * measure.Kilogram
	return before, after
}

// sent is a summary of the frame that changes.
func sent(t *testing.T, c *catalog.Catalogue) []byte {
	t.Helper()
	shop := &advice.Shop{Catalogue: c, Settings: match.DefaultSettings()}
	m, err := shop.Best(t.Context(), c.Frame("osier-m"), customer(t), match.Options{})
	if err != nil {
		t.Fatal(err)
	}
	s, err := summary.Of(shop, customer(t), m, false)
	if err != nil {
		t.Fatal(err)
	}
	document, err := s.Document()
	if err != nil {
		t.Fatal(err)
	}
	return document
}

// TestWhatCannotBeReadStandsInNobodysWay changes the catalogue while a summary
// of a program before and a consultation lie there damaged.
func TestWhatCannotBeReadStandsInNobodysWay(t *testing.T) {
	before, after := change(t)
	k := &kept{consultations: []store.Consultation{{ID: "a", Customer: "family D", Updated: noon}, {ID: "b", Updated: noon.AddDate(0, 0, -OpenDays-1)},
		{ID: "c", Updated: noon, Answers: []byte("damaged")}},
		summaries: []store.FitSummary{{Consultation: "a", Frame: "osier-m", Document: []byte(`{"fit_summary": 0}`)}, {Consultation: "b", Frame: "osier-m", Document: sent(t, before)},
			{Consultation: "gone", Frame: "sedge", Document: []byte("of a frame that nobody touches")}}}
	w, faults := watched(t, k)
	found, err := w.Of(t.Context(), before, after)
	if err != nil {
		t.Fatal(err)
	}
	if found.Unread != 2 || found.Judged != 2 || found.Unjudged != 0 || !slices.Equal(*faults, []string{"a consultation cannot be read", "a fit summary cannot be read"}) {
		t.Errorf("%+v, %v", found, *faults)
	}
	if len(found.Rows) != 2 || found.Consultations() != 2 || found.Rows[0].Whom != "“family D”" || !found.Rows[1].Sent || found.Rows[1].Whom != "a customer without a name" {
		t.Errorf("%+v", found.Rows)
	}
	if err := w.Replace(t.Context(), 1, before, after, store.Author{}); err != nil || k.replaced != after || len(k.marks) != 2 {
		t.Errorf("%v, %d marks", err, len(k.marks))
	}
	if want := "the Osier M, as sent home: fits with care → does not fit"; len(k.marks) == 2 && (k.marks[1].Consultation != "b" || k.marks[1].Text != want) {
		t.Errorf("%q", k.marks[1].Text)
	}
}

// TestMarksThatAreNotKept holds that a catalogue that is changed is changed.
func TestMarksThatAreNotKept(t *testing.T) {
	before, after := change(t)
	k := &kept{consultations: []store.Consultation{{ID: "a", Updated: noon}}, marksFail: true}
	w, faults := watched(t, k)
	if err := w.Replace(t.Context(), 1, before, after, store.Author{}); err != nil || k.replaced != after || len(*faults) != 1 {
		t.Errorf("%v, %v", err, *faults)
	}
}

// TestNothingTouchesNobody holds that a change that no answer rests on is not
// even held against them.
func TestNothingTouchesNobody(t *testing.T) {
	before, after := change(t)
	after.Frame("osier-m").GrossRating = before.Frame("osier-m").GrossRating
	w, _ := watched(t, &kept{consultations: []store.Consultation{{ID: "a", Updated: noon}}})
	if found, err := w.Of(t.Context(), before, after); err != nil || len(found.Rows) != 0 || found.Judged != 0 {
		t.Errorf("%+v, %v", found, err)
	}
}
