package fitting_test

import (
	"context"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"strconv"
	"strings"
	"testing"
	"time"

	"kinwain/internal/profile"
)

var shelves = [...]int{8, 16, 32, 64}

// BenchmarkBags is how the solver takes to a shelf of bags that grows; growth
// is how many times longer the median takes than with half as many bags.
func BenchmarkBags(b *testing.B) {
	var before time.Duration
	for _, bags := range shelves {
		b.Run(fmt.Sprintf("%d_bags", bags), func(b *testing.B) {
			median := timeInstances(b, profile.LeastCost, func(seed int) *instance { return bagged(bags, seed) }).median()
			if before > 0 {
				b.ReportMetric(float64(median)/float64(before), "growth")
			}
			before = median
		})
	}
}

// BenchmarkBagsReference solves some of the same shelves with the solver and
// with the reference, by turns, and compares the sums of what they take. The
// reference cannot be broken off, so it runs in a process of its own, which
// tells how long it took and is ended when it has had its time.
func BenchmarkBagsReference(b *testing.B) {
	for _, bags := range shelves {
		b.Run(fmt.Sprintf("%d_bags", bags), func(b *testing.B) {
			ours, theirs := make(timings, racingSeeds), make(timings, racingSeeds)
			for b.Loop() {
				for seed := range racingSeeds {
					a := ask(bagged(bags, seed))
					for range 5 { // to start a process disturbs what comes after it
						ours.note(seed, timeSolve(b, a.fresh(), profile.LeastCost))
					}
					theirs.note(seed, referenceApart(b, bags, seed))
				}
			}
			ours.report(b, "")
			theirs.report(b, "reference-")
			b.ReportMetric(float64(ours.sum())/float64(theirs.sum()), "ours/reference")
			b.ReportMetric(float64(ours.median())/float64(theirs.median()), "ours/reference-median")
		})
	}
}

const (
	racingSeeds = 20
	racing      = "FITTING_REFERENCE_OF" // bags/seed, of the process that runs the reference
)

// referenceApart returns how long the reference takes, or all the time that it
// may take where that is not enough.
func referenceApart(b *testing.B, bags, seed int) time.Duration {
	ctx, cancel := context.WithTimeout(context.Background(), patience+time.Second/2) // to start takes a while
	defer cancel()
	self, err := os.Executable()
	if err != nil {
		b.Fatal(err)
	}
	command := exec.CommandContext(ctx, self)
	command.Env = append(os.Environ(), fmt.Sprintf("%s=%d/%d", racing, bags, seed))
	out, err := command.Output()
	if errors.Is(ctx.Err(), context.DeadlineExceeded) {
		return patience
	}
	if err != nil {
		b.Fatal(err)
	}
	took, err := time.ParseDuration(strings.TrimSpace(string(out)))
	if err != nil {
		b.Fatal(err)
	}
	return min(took, patience)
}

// TestMain runs the reference alone where that is what was asked for.
func TestMain(m *testing.M) {
	which := os.Getenv(racing)
	if which == "" {
		os.Exit(m.Run())
	}
	bags, seed, _ := strings.Cut(which, "/")
	in := bagged(number(bags), number(seed))
	start := time.Now()
	reference(in, profile.LeastCost)
	fmt.Println(time.Since(start))
}

func number(text string) int {
	n, err := strconv.Atoi(text)
	if err != nil {
		panic(err)
	}
	return n
}
