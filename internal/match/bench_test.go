// How long a ranking takes, cold: nothing is remembered from one to the next
// but the catalogue made ready. One operation ranks for every sample customer
// in turn; it says what the median customer and the slowest one take, by the
// clock at their best, and what all take of the processors on an average, which
// what else the computer does disturbs least.
//
//	go test ./internal/match -run '^$' -bench Ranking
package match_test

import (
	"fmt"
	"slices"
	"syscall"
	"testing"
	"time"

	"kinwain/internal/catalog"
	"kinwain/internal/match"
	"kinwain/internal/profile"
	"kinwain/internal/wideshop"
)

// BenchmarkRanking is of the demo shop, and of shops that are wider, by copies of
// it and by copies of which no two are alike, with and without what would help
// each frame.
func BenchmarkRanking(b *testing.B) {
	shop, customers := demo(b)
	for _, of := range [...]struct {
		name    string
		frames  int
		widened func(*catalog.Catalogue, int, int) *catalog.Catalogue
	}{
		{"frames=14", 14, nil},
		{"frames=100", 100, wideshop.Of}, {"frames=1000", 1000, wideshop.Of}, {"frames=1000/varied", 1000, wideshop.Varied},
	} {
		c := shop
		if of.widened != nil {
			c = of.widened(shop, of.frames, 5*of.frames)
			if err := c.Check(); err != nil {
				b.Fatal(err)
			}
		}
		for _, o := range [...]match.Options{{}, {Changes: true}} {
			b.Run(fmt.Sprintf("%s/changes=%v", of.name, o.Changes), func(b *testing.B) { timeRankings(b, c, customers, o) })
		}
	}
}

func timeRankings(b *testing.B, c *catalog.Catalogue, customers map[string]*profile.Profile, o match.Options) {
	ready := match.NewReady(c)
	frames := make([]*catalog.Frame, len(c.Frames))
	for i := range c.Frames {
		frames[i] = &c.Frames[i]
	}
	took, rounds, busy := map[string]time.Duration{}, 0, processorTime()
	b.ReportAllocs()
	for b.Loop() {
		rounds++
		for name, p := range customers {
			began := time.Now()
			if _, err := ready.Each(b.Context(), frames, p, match.DefaultSettings(), o); err != nil {
				b.Fatal(err)
			}
			if d := time.Since(began); took[name] == 0 || d < took[name] {
				took[name] = d
			}
		}
	}
	busy = processorTime() - busy
	var sorted []time.Duration
	for name, d := range took {
		sorted = append(sorted, d)
		b.Logf("%s %v", name, d)
	}
	slices.Sort(sorted)
	b.ReportMetric(float64(sorted[len(sorted)/2])/1e6, "median-ms")
	b.ReportMetric(float64(sorted[len(sorted)-1])/1e6, "worst-ms")
	b.ReportMetric(float64(busy)/1e6/float64(rounds*len(customers)), "cpu-ms")
}

// processorTime is how long this program has been busy on all processors.
func processorTime() time.Duration {
	var used syscall.Rusage
	if err := syscall.Getrusage(syscall.RUSAGE_SELF, &used); err != nil {
		panic(err)
	}
	return time.Duration(used.Utime.Nano() + used.Stime.Nano())
}
