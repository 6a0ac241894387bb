package fitting_test

import (
	"context"
	"errors"
	"fmt"
	"testing"
	"time"

	"kinwain/internal/fitting"
	"kinwain/internal/profile"
)

// variant is a search that does without some shortcuts.
type variant struct {
	name    string
	without uint16
}

// variants are: without each shortcut, with each alone, and without any.
func variants() []variant {
	all := uint16(1<<len(fitting.Shortcuts) - 1)
	list := []variant{{"none", all}}
	for i, name := range fitting.Shortcuts {
		list = append(list, variant{"without " + name, 1 << i}, variant{name + " alone", all &^ (1 << i)})
	}
	return list
}

// The answers are the same whichever shortcuts are taken, to the codes and the
// seating. With all of them the answers are held to every set and to the
// reference elsewhere; here a few are again, so that this test stands alone.
func TestShortcutsChangeNoAnswer(t *testing.T) {
	t.Parallel()
	for _, sort := range []struct {
		name  string
		seeds int
		draw  func(seed int) *instance
	}{
		{"anything", 150, func(seed int) *instance { return sample(anything, seed) }},
		{"outings", 100, func(seed int) *instance { return sample(outings, seed) }},
		{"wide", 100, func(seed int) *instance { return sampleWide(wideAnything, seed) }},
		{"haulers", 60, sampleHauler},
		{"packed", 250, packed},
		{"trips", 60, func(seed int) *instance { return equip(trip(seed), seed) }},
		{"bags", 8, func(seed int) *instance { return bagged(8, seed) }},
	} {
		t.Run(sort.name, func(t *testing.T) {
			unfinished := 0
			for seed := range referenceSeeds(t, sort.seeds) {
				in := sort.draw(seed)
				for _, objective := range []profile.Objective{profile.LeastCost, profile.Lightest} {
					unfinished += compareVariants(t, in, objective, seed)
				}
				if t.Failed() {
					t.Logf("seed %d", seed)
					in.show(t)
					return
				}
			}
			if most := sort.seeds * len(variants()) / 20; unfinished > most {
				t.Errorf("%d searches did not come to an end though they asked %d times whether to go on", unfinished, mostAsked)
			}
		})
	}
}

// compareVariants asks the variants in turn, six of them a seed, for what
// the search with every shortcut answers, and says how many had no answer in
// time.
func compareVariants(t *testing.T, in *instance, objective profile.Objective, seed int) (unfinished int) {
	t.Helper()
	a, list := ask(in), variants()
	want, err := a.fresh().Solve(enough(), objective, fitting.AllRules)
	if errors.Is(err, fitting.ErrUnsettled) || want != nil && want.Unproved {
		return 1
	}
	if seed%10 == 0 {
		compareWithReference(t, in, objective)
	}
	for i := range 6 {
		v := list[(6*seed+i)%len(list)]
		got, err := a.fresh().Without(v.without).Solve(enough(), objective, fitting.AllRules)
		switch {
		case errors.Is(err, fitting.ErrUnsettled) || got != nil && got.Unproved:
			unfinished++
		case err != nil && !errors.Is(err, fitting.ErrInfeasible):
			t.Fatal(err)
		case said(got) != said(want):
			t.Errorf("%s, %s: %s; with every shortcut %s", objective, v.name, said(got), said(want))
		}
	}
	return unfinished
}

// BenchmarkAblation says what each shortcut gains on the recorded problems:
// how many nodes and how much time the search takes without it, over what it
// takes with all of them. Above one, it gains something. A search that is not
// over in time counts with what it took until then.
//
//	go test ./internal/fitting -run '^$' -bench Ablation -benchtime 1x
func BenchmarkAblation(b *testing.B) {
	for _, family := range []struct {
		name string
		draw func(seed int) *instance
	}{
		{"ordinary", func(seed int) *instance { return equip(ordinary, seed) }},
		{"hard", func(seed int) *instance { return equip(hard, seed) }},
		{"rated", func(seed int) *instance { return equip(rated, seed) }},
		{"bags32", func(seed int) *instance { return bagged(32, seed) }},
	} {
		var list []*asked
		for seed := range ablationSeeds {
			list = append(list, ask(family.draw(seed)))
		}
		for i, name := range fitting.Shortcuts {
			b.Run(fmt.Sprintf("%s/without_%s", family.name, name), func(b *testing.B) {
				whole, less := newEffort(0), newEffort(1<<i)
				for b.Loop() {
					for range ablationRounds {
						whole.add(list)
						less.add(list)
					}
				}
				b.ReportMetric(float64(less.nodes)/float64(whole.nodes), "nodes")
				b.ReportMetric(float64(less.took.sum())/float64(whole.took.sum()), "time")
				b.ReportMetric(float64(less.took.median())/float64(whole.took.median()), "median")
				b.ReportMetric(float64(less.unfinished-whole.unfinished), "more-unfinished")
				b.ReportMetric(0, "ns/op")
			})
		}
	}
}

const ablationSeeds, ablationRounds = 40, 3

// effort is what some problems take.
type effort struct {
	without           uint16
	nodes, unfinished int // of all rounds
	took              timings
}

func newEffort(without uint16) *effort {
	return &effort{without: without, took: make(timings, ablationSeeds)}
}

func (e *effort) add(list []*asked) {
	for seed, a := range list {
		p, start := a.fresh().Without(e.without), time.Now()
		nodes, proved := p.Nodes(&hurried{context.Background(), start.Add(patience)}, profile.LeastCost, fitting.AllRules)
		e.took.note(seed, time.Since(start))
		e.nodes, e.unfinished = e.nodes+nodes, e.unfinished+b2i(!proved)
	}
}
