package advice

import (
	"context"
	"errors"
	"slices"
	"testing"

	"kinwain/internal/catalog"
	"kinwain/internal/match"
	"kinwain/internal/measure"
	"kinwain/internal/profile"
	"kinwain/internal/quote"
	"kinwain/internal/store"
	"kinwain/testdata"
)

// kept is what is kept of the demo shop, in memory.
type kept struct {
	catalogue *catalog.Catalogue
	retired   map[store.Thing]bool
	held      []quote.Reservation
	settings  map[string]int64
	fails     string
}

func (k *kept) fail(what string) error {
	if k.fails == what {
		return errors.New(what)
	}
	return nil
}

func (k *kept) Catalogue(context.Context) (*catalog.Catalogue, error) {
	return k.catalogue, k.fail("catalogue")
}
func (k *kept) Retired(context.Context) (map[store.Thing]bool, error) {
	return k.retired, k.fail("retired")
}
func (k *kept) Reservations(context.Context) ([]quote.Reservation, error) {
	return k.held, k.fail("held")
}
func (k *kept) Texts(context.Context) (map[string]string, error) { return nil, nil }

func (k *kept) Settings(context.Context) (map[string]int64, error) {
	return k.settings, k.fail("settings")
}

var today = measure.Date{Year: 2026, Month: 11, Day: 25}

func demo(t *testing.T) *catalog.Catalogue {
	t.Helper()
	c, err := catalog.Parse(testdata.Demo)
	if err != nil {
		t.Fatal(err)
	}
	return c
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

// TestOn joins what is kept, and leaves that as it is.
func TestOn(t *testing.T) {
	c := demo(t)
	free := slices.IndexFunc(c.Units, func(u catalog.Unit) bool { return u.Status == quote.Available && u.Frame != "sedge" })
	tag := c.Units[free].Tag
	k := &kept{catalogue: c, retired: map[store.Thing]bool{{List: "frames", Code: "sedge"}: true}, settings: map[string]int64{"clothing_g": 2000},
		held: []quote.Reservation{{Unit: tag, Until: today}}}
	shop, err := On(t.Context(), k, today)
	if err != nil {
		t.Fatal(err)
	}
	if shop.Catalogue.Frame("sedge") != nil || shop.Catalogue.Frame("osier-m") == nil || c.Frame("sedge") == nil {
		t.Error("what is retired is offered, or lost")
	}
	status := func(c *catalog.Catalogue) string {
		return c.Units[slices.IndexFunc(c.Units, func(u catalog.Unit) bool { return u.Tag == tag })].Status
	}
	if status(shop.Catalogue) != quote.Reserved || status(c) != quote.Available {
		t.Errorf("held is %s, kept is %s", status(shop.Catalogue), status(c))
	}
	if got := shop.Settings.Figures()["clothing_g"]; got != 2000 {
		t.Errorf("clothes weigh %d", got)
	}
	if shop, err = On(t.Context(), k, quote.After(today, 1)); err != nil || status(shop.Catalogue) != quote.Available {
		t.Errorf("the day after it is %s, %v", status(shop.Catalogue), err)
	}
	for _, what := range []string{"catalogue", "retired", "held", "settings"} {
		k.fails = what
		if _, err := On(t.Context(), k, today); err == nil || err.Error() != what {
			t.Errorf("%s: %v", what, err)
		}
	}
}

// TestDocument holds that the document is that of the ranking with changes and stages.
func TestDocument(t *testing.T) {
	shop := &Shop{Catalogue: demo(t), Settings: match.DefaultSettings()}
	ranked, err := match.Rank(t.Context(), shop.Catalogue, customer(t), shop.Settings, match.Options{Changes: true, Stages: true})
	if err != nil {
		t.Fatal(err)
	}
	asked, _, err := match.Questions(t.Context(), shop.Catalogue, customer(t), shop.Settings)
	if err != nil {
		t.Fatal(err)
	}
	want, err := match.Document(ranked, asked)
	if err != nil {
		t.Fatal(err)
	}
	if got, err := shop.Document(t.Context(), customer(t)); err != nil || string(got) != string(want) {
		t.Errorf("another document, %v", err)
	}
}

// TestDemos judges the demos of a frame as they stand, and no other bike.
func TestDemos(t *testing.T) {
	shop := &Shop{Catalogue: demo(t), Settings: match.DefaultSettings()}
	for i := range shop.Catalogue.Frames {
		code := shop.Catalogue.Frames[i].Code
		var want []string
		for _, u := range shop.Catalogue.Units {
			if u.Frame == code && u.Kind == "demo" && u.Status != "sold" {
				want = append(want, u.Tag)
			}
		}
		demos, err := shop.Demos(t.Context(), code, customer(t))
		if err != nil {
			t.Fatal(err)
		}
		var got []string
		for j := range demos {
			d := &demos[j]
			got = append(got, d.Tag)
			if d.CarriesAll() == (d.Match.Verdict == match.DoesNotFit) || d.CarriesAll() && d.Alone {
				t.Errorf("%s: %+v", d.Tag, d)
			}
		}
		if !slices.Equal(got, want) {
			t.Errorf("%s: %v, want %v", code, got, want)
		}
	}
}

// TestFrameName tells frames of one family apart.
func TestFrameName(t *testing.T) {
	for want, f := range map[string]catalog.Frame{
		"Osier": {Name: "Osier"}, "Sedge": {Name: "Sedge", Size: "one size"}, "Osier M": {Name: "Osier", Size: "M"}, "Osier L": {Name: "Osier L", Size: "L"},
	} {
		if got := FrameName(&f); got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
}
