// How long the solver takes. One operation of a benchmark solves the problems
// of many seeds in turn; it says how long the median seed and the 99th
// percentile of them take, and which seed takes longest.
//
//	go test ./internal/fitting -run '^$' -bench . -benchtime 2s
package fitting_test

import (
	"context"
	"errors"
	"fmt"
	"runtime"
	"slices"
	"testing"
	"time"

	"kinwain/internal/fitting"
	"kinwain/internal/profile"
)

const benchSeeds = 200

func BenchmarkSolveOrdinary(b *testing.B) { solveSeeds(b, ordinary) }

func BenchmarkSolveHard(b *testing.B) { solveSeeds(b, hard) }

// BenchmarkSolveRated is the hard one with rated axles.
func BenchmarkSolveRated(b *testing.B) { solveSeeds(b, rated) }

func BenchmarkGrowth(b *testing.B) {
	for _, n := range []int{10, 20, 40, 80} {
		b.Run(fmt.Sprintf("%d_add_ons", n), func(b *testing.B) { timeSeeds(b, growing(n), profile.LeastCost) })
	}
}

func solveSeeds(b *testing.B, p plan) {
	for _, objective := range profile.Objectives {
		b.Run(string(objective), func(b *testing.B) { timeSeeds(b, p, objective) })
	}
}

// asked is a problem that can be set up again and again.
type asked struct {
	*instance
	shelf  *fitting.Shelf
	demand *fitting.Demand
}

func (a *asked) fresh() *fitting.Problem { return a.shelf.Problem(a.frame, a.demand) }

func ask(in *instance) *asked {
	a := &asked{in, fitting.NewShelf(in.catalogue), in.demand()}
	a.demand.Months() // worked out once for all the frames of a customer
	return a
}

func timeSeeds(b *testing.B, p plan, objective profile.Objective) timings {
	return timeInstances(b, objective, func(seed int) *instance { return equip(p, seed) })
}

// timeInstances times Solve alone; one operation solves the problem of every
// seed once. Every problem is set up afresh outside of the time taken, because
// one that was asked before remembers some answers.
func timeInstances(b *testing.B, objective profile.Objective, draw func(seed int) *instance) timings {
	var list []*asked
	for seed := range benchSeeds {
		list = append(list, ask(draw(seed)))
	}
	problems := make([]*fitting.Problem, benchSeeds)
	took, rounds := make(timings, benchSeeds), 0
	var before, after runtime.MemStats
	var allocs uint64
	for b.Loop() {
		b.StopTimer()
		for i, a := range list {
			problems[i] = a.fresh()
		}
		runtime.ReadMemStats(&before)
		b.StartTimer()
		for seed, p := range problems {
			took.note(seed, timeSolve(b, p, objective))
		}
		b.StopTimer()
		runtime.ReadMemStats(&after)
		allocs, rounds = allocs+after.Mallocs-before.Mallocs, rounds+1
		b.StartTimer()
	}
	took.report(b, "")
	b.ReportMetric(float64(allocs)/float64(rounds*benchSeeds), "allocs/solve")
	return took
}

// patience is how long one solve may take before it is given up, so that a
// seed that is out of hand does not hold up the rest.
const patience = time.Second

// hurried is a context that gives up by the clock alone: unlike one with a
// timer, setting it costs nothing that would be counted.
type hurried struct {
	context.Context
	until time.Time
}

func (h *hurried) Err() error {
	if time.Now().After(h.until) {
		return context.DeadlineExceeded
	}
	return nil
}

func timeSolve(b *testing.B, p *fitting.Problem, objective profile.Objective) time.Duration {
	start := time.Now()
	_, err := p.Solve(&hurried{context.Background(), start.Add(patience)}, objective, fitting.AllRules)
	took := time.Since(start)
	if err != nil && !errors.Is(err, fitting.ErrInfeasible) && !errors.Is(err, fitting.ErrUnsettled) {
		b.Fatal(err)
	}
	return took
}

// timings holds the shortest time of every seed: what a round takes beyond it
// is the machine's doing.
type timings []time.Duration

func (t timings) note(seed int, took time.Duration) {
	if t[seed] == 0 || took < t[seed] {
		t[seed] = took
	}
}

func (t timings) median() time.Duration { return slices.Sorted(slices.Values(t))[len(t)/2] }

func (t timings) report(b *testing.B, of string) {
	sorted := slices.Sorted(slices.Values(t))
	unfinished := 0
	for _, d := range sorted {
		unfinished += b2i(d >= patience)
	}
	worst := sorted[len(sorted)-1]
	b.ReportMetric(float64(sorted[len(sorted)/2]), of+"median-ns")
	b.ReportMetric(float64(sorted[len(sorted)*99/100]), of+"p99-ns")
	b.ReportMetric(float64(worst), of+"worst-ns")
	b.ReportMetric(float64(slices.Index(t, worst)), of+"worst-seed")
	b.ReportMetric(float64(unfinished), of+"unfinished")
}

// BenchmarkThousandFrames is one customer's question as the shop asks it: set
// up every frame, choose its add-ons and find out how long they last.
func BenchmarkThousandFrames(b *testing.B) {
	const frames = 1000
	c, who := assortment(frames)
	if err := errors.Join(c.Check(), who.Check()); err != nil {
		b.Fatal(err)
	}
	start := time.Now()
	shelf := fitting.NewShelf(c)
	shelved := time.Since(start)
	var solved int
	var setUp, choosing, lasting time.Duration
	b.ReportAllocs()
	for b.Loop() {
		demand := fitting.NewDemand(who, who.AsOf, settings)
		solved, setUp, choosing, lasting = 0, 0, 0, 0
		for i := range c.Frames {
			at := time.Now()
			p := shelf.Problem(&c.Frames[i], demand)
			set := time.Now()
			built, err := p.Solve(context.Background(), profile.LeastCost, fitting.AllRules)
			chosen := time.Now()
			if err == nil {
				p.Horizon(built)
				solved++
			}
			setUp, choosing, lasting = setUp+set.Sub(at), choosing+chosen.Sub(set), lasting+time.Since(chosen)
		}
	}
	b.ReportMetric(float64(solved), "feasible")
	b.ReportMetric(float64(shelved)/1e6, "shelf-ms")
	b.ReportMetric(float64(setUp)/1e6, "setup-ms")
	b.ReportMetric(float64(choosing)/1e6, "solve-ms")
	b.ReportMetric(float64(lasting)/1e6, "horizon-ms")
}

// The problems must stay what the benchmarks say they are: documents without a
// fault, about one in five without an answer. The reference says which, for a
// few of them.
func TestBenchmarkProblemsAreSound(t *testing.T) {
	t.Parallel()
	const few = 40
	for _, p := range []plan{ordinary, hard, rated, growing(10), growing(20), growing(40)} {
		t.Run(fmt.Sprint(p.name, p.addOns), func(t *testing.T) {
			feasible := 0
			for seed := range benchSeeds {
				in := equip(p, seed)
				if err := errors.Join(in.catalogue.Check(), in.profile.Check()); err != nil {
					t.Fatalf("seed %d: %v", seed, err)
				}
				if seed < few {
					_, ok := encode(in, party(in.profile, in.profile.AsOf)).best(sum{})
					feasible += b2i(ok)
				}
			}
			t.Logf("%d of %d are feasible", feasible, few)
			if feasible < few*6/10 || feasible > few*95/100 {
				t.Errorf("%d of %d have an answer; it should be about four in five", feasible, few)
			}
		})
	}
}
