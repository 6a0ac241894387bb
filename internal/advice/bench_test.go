// How long a ranking takes while somebody types: one field is changed to what it
// never was before, so that every frame that depends on it is judged anew, and
// then what would help is added.
//
//	go test ./internal/advice -run '^$' -bench .
package advice

import (
	"syscall"
	"testing"
	"time"

	"kinwain/internal/catalog"
	"kinwain/internal/match"
	"kinwain/internal/measure"
	"kinwain/internal/profile"
	"kinwain/testdata"
)

func BenchmarkRanking(b *testing.B) {
	document, err := testdata.Profiles.ReadFile("profiles/two-parents.json")
	if err != nil {
		b.Fatal(err)
	}
	p, err := profile.Parse(document)
	if err != nil {
		b.Fatal(err)
	}
	c, err := catalog.Parse(testdata.Demo)
	if err != nil {
		b.Fatal(err)
	}
	shop := &Shop{Catalogue: c, Settings: match.DefaultSettings(), of: "demo"}
	next := func(change func(p *profile.Profile, by int)) func(by int) *profile.Profile {
		return func(by int) *profile.Profile {
			other := *p
			other.Riders = append([]profile.Rider{}, p.Riders...)
			change(&other, by)
			return &other
		}
	}
	for name, changed := range map[string]func(int) *profile.Profile{
		"weight": next(func(p *profile.Profile, by int) {
			p.Riders[0].Weight = profile.Given(60*measure.Kilogram + measure.Mass(by%20_000))
		}),
		"cargo":   next(func(p *profile.Profile, by int) { p.Cargo = profile.Given(measure.Mass(1000 + by%20_000)) }),
		"years":   next(func(p *profile.Profile, by int) { p.Years = profile.Given(1 + by%15) }),
		"nothing": next(func(*profile.Profile, int) {}),
	} {
		b.Run("changed="+name, func(b *testing.B) { rerank(b, shop, changed, false) })
		b.Run("changed="+name+"/helped", func(b *testing.B) { rerank(b, shop, changed, true) })
	}
}

func rerank(b *testing.B, shop *Shop, changed func(by int) *profile.Profile, helped bool) {
	shop.memory = newMemory(mostBytes)
	b.ReportAllocs()
	rounds, busy := 0, processorTime(b)
	for ; b.Loop(); rounds++ {
		p := changed(rounds)
		ranked, err := shop.Rank(b.Context(), p, match.Options{})
		if err == nil && helped {
			_, err = shop.Again(b.Context(), ranked, p, match.Options{Changes: true})
		}
		if err != nil {
			b.Fatal(err)
		}
	}
	b.ReportMetric(float64(processorTime(b)-busy)/1e6/float64(rounds), "cpu-ms")
}

// processorTime is how long this program has been busy on all processors, which
// what else the computer does disturbs least.
func processorTime(b *testing.B) time.Duration {
	var used syscall.Rusage
	if err := syscall.Getrusage(syscall.RUSAGE_SELF, &used); err != nil {
		b.Fatal(err)
	}
	return time.Duration(used.Utime.Nano() + used.Stime.Nano())
}
