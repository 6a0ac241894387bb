package fitting_test

import (
	"testing"
	"time"

	"kinwain/internal/profile"
)

// BenchmarkReference solves the same ordinary problems with the solver and
// with the reference, by turns. What it reports is how the sums of the
// shortest times compare: ours over the reference's. The reference is given
// the same facts and finds the same optimum, cargo and ties included; setting
// up counts on both sides.
func BenchmarkReference(b *testing.B) {
	for _, p := range []plan{ordinary, growing(20)} {
		b.Run(p.name, func(b *testing.B) { raceSeeds(b, p) })
	}
}

func raceSeeds(b *testing.B, p plan) {
	var list []*asked
	for seed := range benchSeeds {
		list = append(list, ask(equip(p, seed)))
	}
	ours, theirs := make(timings, benchSeeds), make(timings, benchSeeds)
	for b.Loop() {
		for seed, a := range list {
			start := time.Now()
			problem := a.fresh()
			timeSolve(b, problem, profile.LeastCost)
			ours.note(seed, time.Since(start))
			start = time.Now()
			reference(a.instance, profile.LeastCost)
			theirs.note(seed, time.Since(start))
		}
	}
	ours.report(b, "")
	theirs.report(b, "reference-")
	b.ReportMetric(float64(ours.sum())/float64(theirs.sum()), "ours/reference")
}

func (t timings) sum() time.Duration {
	var sum time.Duration
	for _, d := range t {
		sum += d
	}
	return sum
}
