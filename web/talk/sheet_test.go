package talk

import (
	"context"
	"io/fs"
	"regexp"
	"strings"
	"testing"

	"kinwain/internal/advice"
	"kinwain/internal/catalog"
	"kinwain/internal/match"
	"kinwain/internal/measure"
	"kinwain/internal/profile"
	"kinwain/testdata"
	"kinwain/web/say"
)

// figures notes under which figures one thing is shown.
type figures map[string]map[string]bool

func (f figures) add(thing, shown string) {
	if f[thing] == nil {
		f[thing] = map[string]bool{}
	}
	f[thing][shown] = true
}

// number is a mass as pages show it, with its decimal or without.
var number = regexp.MustCompile(`([0-9]+(?:\.[0-9])?)[ \x{a0}](?:kg|lb)`)

// figureOf returns the first figure of a text with one decimal.
func figureOf(text string) string {
	found := number.FindStringSubmatch(text)
	if found == nil {
		return ""
	}
	if !strings.Contains(found[1], ".") {
		return found[1] + ".0"
	}
	return found[1]
}

// shownIn collects what a page says one frame's parts, passengers and riders
// weigh: in the sums, the bars, the bars of zones, the seats, the list of
// add-ons and the reasons.
func shownIn(v *Viewer) figures {
	f := figures{}
	name := func(label string) string {
		label, _, _ = strings.Cut(strings.TrimSuffix(label, ", without a place"), ", dressed")
		return label
	}
	for _, s := range v.LoadSheets() {
		for _, r := range s.Rows {
			if r.Class != "cargo" && r.Class != "off" {
				f.add(name(r.Label), r.Amount)
			}
		}
		bars := s.Bar.Parts
		for _, z := range s.Zones {
			bars = append(bars, z.Bar.Parts...)
		}
		for _, p := range bars {
			if label, amount, _ := strings.Cut(p.Title, ": "); p.Class != "cargo" && p.Class != "off" && label != "together" {
				f.add(name(label), amount)
			}
		}
	}
	for _, s := range v.SeatRows() {
		f.add(s.Who, figureOf(s.Note))
	}
	for _, a := range v.AddOnRows() {
		if !strings.Contains(a.Name, " × ") && !strings.HasPrefix(a.Name, "Taken off") {
			f.add(a.Name, figureOf(a.Mass))
		}
	}
	for _, r := range v.Reasons {
		if r.Code == match.ReasonWeightEstimated && r.Passenger != "" {
			f.add(match.Label{Text: r.Passenger, Begins: true}.String(), figureOf(r.Message.In(v.System())))
		}
	}
	return f
}

// TestOneMassHasOneFigure reads the page of every frame for every sample
// customer in both systems of units: one thing weighs the same wherever it is
// said.
func TestOneMassHasOneFigure(t *testing.T) {
	t.Parallel()
	c, err := catalog.Parse(testdata.Demo)
	if err != nil {
		t.Fatal(err)
	}
	names, err := fs.Glob(testdata.Profiles, "profiles/*.json")
	if err != nil {
		t.Fatal(err)
	}
	shop, several := &advice.Shop{Catalogue: c, Settings: match.DefaultSettings()}, 0
	for _, file := range names {
		document, err := testdata.Profiles.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		p, err := profile.Parse(document)
		if err != nil {
			t.Fatal(err)
		}
		ranked, err := shop.Rank(context.Background(), p, match.Options{})
		if err != nil {
			t.Fatal(err)
		}
		for _, m := range ranked {
			for _, units := range []measure.System{measure.Metric, measure.Imperial} {
				consultation := &Consultation{ID: "a", Profile: p, Shop: shop, Speaker: say.New(say.English, units)}
				for thing, shown := range shownIn(View(consultation, m)) {
					if several++; len(shown) != 1 || shown[""] {
						t.Errorf("%s, %s: %s weighs %v", file, m.Frame.Code, thing, shown)
					}
				}
			}
		}
	}
	if several < 1000 {
		t.Errorf("only %d things were weighed", several)
	}
}
