// Add-ons chosen by hand, and the same frame under each objective.
package match_test

import (
	"context"
	"slices"
	"testing"

	gocmp "github.com/google/go-cmp/cmp"

	"kinwain/internal/fitting"
	"kinwain/internal/match"
	"kinwain/internal/measure"
	"kinwain/internal/profile"
)

func (k *counter) byHand(t *testing.T, fitted ...string) *match.Match {
	t.Helper()
	k.check(t)
	m, err := match.ByHand(context.Background(), k.Catalogue, k.f, k.p, k.s, fitted)
	if err != nil {
		t.Fatal(err)
	}
	return m
}

// plainly judges the frame without what would help.
func (k *counter) plainly(t *testing.T) *match.Match {
	t.Helper()
	m, err := match.One(context.Background(), k.Catalogue, k.f, k.p, k.s, match.Options{})
	if err != nil {
		t.Fatal(err)
	}
	return m
}

// shown is what a match says of itself as a document.
func shown(t *testing.T, m *match.Match) string {
	t.Helper()
	data, err := match.Document([]*match.Match{m}, nil)
	if err != nil {
		t.Fatal(err)
	}
	return string(data)
}

// Choosing by hand what would be chosen anyway changes nothing.
func TestChosenByHandAsAnyway(t *testing.T) {
	t.Parallel()
	c, profiles := demo(t)
	compared := 0
	for name, p := range profiles {
		for i := range c.Frames {
			k := &counter{c, &c.Frames[i], p, match.DefaultSettings(), nil}
			k.check(t) // of both it is noted where the figures come from
			m := k.plainly(t)
			if len(m.Relaxed) > 0 {
				continue
			}
			var fitted []string
			for _, a := range m.Fitted {
				fitted = append(fitted, a.Code)
			}
			compared++
			if diff := gocmp.Diff(shown(t, m), shown(t, k.byHand(t, fitted...))); diff != "" {
				t.Errorf("%s on %s (− chosen, + by hand): %s", name, k.f.Code, diff)
			}
		}
	}
	if compared < 30 {
		t.Errorf("%d builds compared only", compared)
	}
}

// Nothing is added to what was chosen, and nothing taken off.
func TestByHandKeepsToTheChoice(t *testing.T) {
	t.Parallel()
	k := atCounter()
	k.kids(kid("p", "2023-05"))
	if m := k.byHand(t); m.Verdict != match.DoesNotFit || len(reasonsOf(m, "place_missing")) != 1 || len(m.Fitted) != 0 {
		t.Errorf("with nothing: %s, %v", m.Verdict, codesOf(m))
	}
	if m := k.byHand(t, "seat", "bag"); m.Verdict != match.Fits || !slices.Equal(m.Build.AddOns, []string{"bag", "seat"}) || m.Build.Price != 2000 {
		t.Errorf("with a seat and a bag: %s, %+v", m.Verdict, m.Build)
	}
	k.f.GrossRating = 122 * kg // with the seat; a bag is one kilogram too many
	if m := k.byHand(t, "seat", "bag"); m.Verdict != match.DoesNotFit || len(reasonsOf(m, "gross_rating")) != 1 || reasonsOf(m, "gross_rating")[0].Over != 1*kg {
		t.Errorf("a kilogram too many: %s, %v", m.Verdict, codesOf(m))
	}
}

// Whoever takes one of two bags off, in a home that is no matter, is told of
// the one rule that this breaks, in words that are true of what is on the bike.
func TestTakingOneOffBreaksOneRule(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		cargo   measure.Mass
		litres  measure.Volume
		on      []string
		code    match.Code
		text    string
		relaxed fitting.Relaxation
	}{
		{8 * kg, 30 * measure.Litre, []string{"bag"}, match.ReasonCargoVolume, "What is on the bike holds 20 l of the 30 l of cargo.", fitting.WithoutLitres},
		{12 * kg, 15 * measure.Litre, []string{"bag"}, match.ReasonCargoWeight, "What is on the bike bears 10 kg of the 12 kg of cargo.", fitting.WithoutCargo},
		{12 * kg, 30 * measure.Litre, nil, match.ReasonCargoWeight, "Nothing on the bike carries cargo.", ""},
	} {
		k := atCounter()
		k.AddOn("bag").UpTo = 2
		k.home(profile.Home{Length: profile.Given(300 * cm), Width: profile.Given(200 * cm)})
		k.p.Cargo, k.p.CargoSize = profile.Given(c.cargo), profile.Given(c.litres)
		if m := k.byHand(t, "bag", "bag"); m.Verdict != match.Fits {
			t.Fatalf("with both: %v", codesOf(m))
		}
		m, stops := k.byHand(t, c.on...), []string{}
		for _, r := range m.Reasons {
			if r.Weight == stop {
				stops = append(stops, string(r.Code)+": "+r.Message.In(measure.Metric))
			}
		}
		if want := []string{string(c.code) + ": " + c.text}; !slices.Equal(stops, want) {
			t.Errorf("%q, want %q", stops, want)
		}
		if c.relaxed != "" && !slices.Equal(m.Relaxed, []fitting.Relaxation{c.relaxed}) {
			t.Errorf("%s: leaves out %v", c.text, m.Relaxed)
		}
	}
}

// What does not go together is said once for each, with the add-on's code.
func TestMisfitsAreNamed(t *testing.T) {
	t.Parallel()
	k := atCounter()
	k.seat().Needs, k.seat().Excludes = [][]string{{"lamp"}}, []string{"bag"}
	m := k.byHand(t, "seat", "seat", "seat", "bag")
	if m.Verdict != match.DoesNotFit {
		t.Errorf("%s", m.Verdict)
	}
	for code, addOn := range map[match.Code][]string{"too_many": {"seat"}, "needs_missing": {"seat"}, "excluded": {"bag", "seat"}} {
		if list := reasonsOf(m, code); len(list) != 1 || !slices.Contains(addOn, list[0].AddOn) {
			t.Errorf("%s: %v", code, list)
		}
	}
}

// The alternatives are what each objective by itself would give.
func TestAlternativesAreOneForEachObjective(t *testing.T) {
	t.Parallel()
	c, profiles := demo(t)
	for name, p := range profiles {
		k := &counter{c, c.Frame("osier-assist"), p, match.DefaultSettings(), nil}
		list, err := match.Alternatives(context.Background(), k.Catalogue, k.f, p, k.s)
		if err != nil || len(list) != len(profile.Objectives) {
			t.Fatalf("%d alternatives: %v", len(list), err)
		}
		for i, objective := range profile.Objectives {
			q := *p
			q.Objective = objective
			alone := &counter{c, k.f, &q, k.s, nil}
			if diff := gocmp.Diff(shown(t, alone.plainly(t)), shown(t, list[i])); diff != "" {
				t.Errorf("%s, %s: %s", name, objective, diff)
			}
		}
	}
}
