package concern_test

import (
	"slices"
	"testing"

	"kinwain/internal/catalog"
	"kinwain/internal/measure"
	"kinwain/internal/quote"
)

// TestABikesOwnFacts changes one bike that is held, one that a quote is for and
// one that is to be ridden, and takes that back. The totals are those of the
// quotes themselves.
func TestABikesOwnFacts(t *testing.T) {
	t.Parallel()
	p := promise(t, nil)
	made, err := p.Quotes(t.Context(), p.id)
	if err != nil {
		t.Fatal(err)
	}
	own, err := p.Quote(t.Context(), made[0].ID)
	if err != nil {
		t.Fatal(err)
	}
	own.ID, own.Unit = "", "S-113"
	if own, err = p.CreateQuote(t.Context(), own, noon); err != nil {
		t.Fatal(err)
	}
	const held, very, ride = "the Osier M, as quoted in Q-2026-0001: the bike S-105, held for it, ", "the Osier M, as quoted in Q-2026-0002: ",
		"the test ride on the Osier M, D-014: "
	const which = "the bike S-113, which it is for, "
	total := func(more measure.Money) string { return (own.Total + more).Show("EUR") }
	weighed := func(m measure.Mass) func(u *catalog.Unit) {
		return func(u *catalog.Unit) { u.Weighed, u.WeighedOn = m, measure.Date{Year: 2026, Month: 11, Day: 25} }
	}
	status := func(s string) func(u *catalog.Unit) { return func(u *catalog.Unit) { u.Status = s } }
	arrives := func(d measure.Date) func(u *catalog.Unit) { return func(u *catalog.Unit) { u.Arrival = d } }
	for _, test := range []struct {
		tag    string
		change func(u *catalog.Unit)
		want   []string
		worse  bool
	}{
		{"S-105", func(u *catalog.Unit) { u.Price = 2_200_00 }, []string{held + "costs EUR\u00a02,200.00 instead of EUR\u00a02,290.00"}, false},
		{"S-105", func(u *catalog.Unit) { u.Price = 2_290_00 }, nil, false}, // what the frame costs
		{"S-105", status(catalog.InRepair), []string{held + "is in repair"}, true},
		{"S-105", status(quote.Sold), []string{held + "is sold"}, true},
		{"S-105", func(u *catalog.Unit) { u.Fitted = []string{"tray-front"} }, []string{held + "has on it now: front tray rack"}, false},
		{"S-105", status(quote.Reserved), nil, false}, // which ends by itself
		{"S-105", func(u *catalog.Unit) { u.Colour, u.Odometer = "rust", 3 }, nil, false},
		{"S-113", func(u *catalog.Unit) { u.Price = 2_400_00 },
			[]string{very + total(0) + " → " + total(110_00) + "; " + which + "costs EUR\u00a02,400.00 instead of EUR\u00a02,290.00"}, false},
		{"S-113", status(quote.Available), []string{very + which + "is in the shop now, and was ordered"}, false},
		{"S-113", arrives(measure.Date{Year: 2027, Month: 1}), []string{very + which + "is expected January 2027 instead of 14 December 2026"}, true},
		{"S-113", arrives(measure.Date{}), []string{very + which + "is not expected 14 December 2026 any more"}, true},
		{"S-113", weighed(150 * measure.Kilogram), []string{very + "fits with care → does not fit; " + which + "weighs 150 kg instead of 28.9 kg"}, true},
		{"S-113", weighed(28_901), []string{very + which + "weighs 29 kg instead of 28.9 kg"}, true},
		{"D-014", func(u *catalog.Unit) {
			u.Status, u.Arrival = catalog.Ordered, measure.Date{Year: 2026, Month: 12, Day: 1}
		}, []string{ride + "the bike is not in the shop yet, but expected 1 December 2026"}, true},
		{"D-014", status(catalog.InRepair), []string{ride + "the bike is in repair"}, true},
		{"D-014", func(u *catalog.Unit) { u.Kind = "stock" }, []string{ride + "the bike is no demo any more"}, true},
		{"D-014", func(u *catalog.Unit) { u.Price = 1_900_00 }, nil, false},
	} {
		var was catalog.Unit
		changed(t, p.Store, func(c *catalog.Catalogue) { was = *unitOf(c, test.tag); test.change(unitOf(c, test.tag)) })
		if got := p.settled(t); !slices.Equal(got, test.want) {
			t.Errorf("%s: %q, want %q", test.tag, got, test.want)
		}
		marks, err := p.Marks(t.Context(), p.id)
		if err != nil || len(marks) > 0 && marks[0].Worse != test.worse {
			t.Errorf("%s: %+v, %v", test.tag, marks, err)
		}
		changed(t, p.Store, func(c *catalog.Catalogue) { *unitOf(c, test.tag) = was })
		if left := p.settled(t); len(left) > 0 {
			t.Errorf("%s: set back, and %q is left", test.tag, left)
		}
	}
}

// TestTheFrameOfABikeWithItsOwnPrice changes what a frame costs: nothing for
// whom a bike with a price of its own was quoted, and whom it was handed over to
// is told nothing of the bike.
func TestTheFrameOfABikeWithItsOwnPrice(t *testing.T) {
	t.Parallel()
	p := promise(t, nil)
	changed(t, p.Store, func(c *catalog.Catalogue) { unitOf(c, "S-113").Price = 2_100_00 })
	made, err := p.Quotes(t.Context(), p.id)
	if err != nil {
		t.Fatal(err)
	}
	own, err := p.Quote(t.Context(), made[0].ID)
	if err != nil {
		t.Fatal(err)
	}
	own.ID, own.Unit = "", "S-113"
	if own, err = p.CreateQuote(t.Context(), own, noon); err != nil {
		t.Fatal(err)
	}
	ofOwn := func() (texts []string) {
		p.settled(t)
		marks, err := p.Marks(t.Context(), p.id)
		if err != nil {
			t.Fatal(err)
		}
		for _, m := range marks {
			if m.Quote == own.ID {
				texts = append(texts, m.Text)
			}
		}
		return texts
	}
	changed(t, p.Store, func(c *catalog.Catalogue) { c.Frame("osier-m").Price += 50_00 })
	if got := ofOwn(); len(got) > 0 {
		t.Errorf("it is told of the frame's price: %q", got)
	}
	if err := p.AcceptQuote(t.Context(), own.ID, noon); err != nil {
		t.Fatal(err)
	}
	there := func(told []string) {
		t.Helper()
		if err := p.HandOver(t.Context(), own.ID, manager); err != nil {
			t.Fatal(err)
		}
		if got := ofOwn(); !slices.Equal(got, told) {
			t.Errorf("handed over, and told: %q, want %q", got, told)
		}
		if _, err := p.TakeBack(t.Context(), own.ID, noon, manager); err != nil {
			t.Fatal(err)
		}
		if got := ofOwn(); !slices.Equal(got, told) {
			t.Errorf("taken back, and told: %q, want %q", got, told)
		}
	}
	there(nil)
	changed(t, p.Store, func(c *catalog.Catalogue) { c.Shop.LabourPerHour += 10_00 })
	told := ofOwn()
	if len(told) != 1 {
		t.Fatalf("work costs more: %q", told)
	}
	there(told)
	changed(t, p.Store, func(c *catalog.Catalogue) { unitOf(c, "S-113").Status = catalog.InRepair })
	if got := ofOwn(); len(got) != 1 || got[0] != told[0]+"; the bike S-113, which it is for, is in repair" {
		t.Errorf("then it goes into repair: %q", got)
	}
}
