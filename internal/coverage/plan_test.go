package coverage

import (
	"context"
	"errors"
	"fmt"
	"math/rand/v2"
	"slices"
	"sync"
	"testing"

	"github.com/crillab/gophersat/solver"
	"pgregory.net/rapid"

	"kinwain/internal/measure"
)

// better says by the order of the rules alone which of two choices is to be
// taken: bikes are numbered in the order of their codes.
func better(t *Table, a, b []int) bool {
	cost := func(bikes []int) (sum measure.Money) {
		for _, i := range bikes {
			sum += t.Bikes[i].Price
		}
		return sum
	}
	switch x, y := t.Served(a).Served, t.Served(b).Served; {
	case x != y:
		return x > y
	case len(a) != len(b):
		return len(a) < len(b)
	case cost(a) != cost(b):
		return cost(a) < cost(b)
	}
	return slices.Compare(a, b) < 0
}

// everyChoice is the best of all choices of at most k bikes.
func everyChoice(t *Table, k int) []int {
	var best, bikes []int
	var from func(first int)
	from = func(first int) {
		if better(t, bikes, best) {
			best = slices.Clone(bikes)
		}
		for i := first; i < len(t.Bikes) && len(bikes) < k; i++ {
			bikes = append(bikes, i)
			from(i + 1)
			bikes = bikes[:len(bikes)-1]
		}
	}
	from(0)
	return best
}

// drawTable draws a small table in which equals are frequent.
func drawTable(t *rapid.T) *Table {
	table := &Table{}
	for i := range rapid.IntRange(1, 9).Draw(t, "bikes") {
		table.Bikes = append(table.Bikes, Bike{fmt.Sprintf("b%02d", i), measure.Money(rapid.IntRange(0, 3).Draw(t, "price") * 1000)})
	}
	kinds := rapid.SliceOfN(rapid.SliceOfN(rapid.SampledFrom([]Grade{No, No, WithCare, Well}), len(table.Bikes), len(table.Bikes)), 1, 8).Draw(t, "kinds")
	for range rapid.IntRange(0, 14).Draw(t, "customers") {
		table.Rows = append(table.Rows, rapid.SampledFrom(kinds).Draw(t, "row"))
	}
	return table
}

// TestPlansAgainstEveryChoice holds the search, with each shortcut and without
// any, to all choices there are.
func TestPlansAgainstEveryChoice(t *testing.T) {
	t.Parallel()
	for _, with := range []shortcut{every, 0, grouping, dominance, bounding, bounding | fixing, bounding | guessing, every &^ guessing} {
		t.Run(fmt.Sprintf("%05b", with), func(t *testing.T) {
			t.Parallel()
			rapid.Check(t, func(t *rapid.T) {
				table := drawTable(t)
				among := make([]int, len(table.Bikes))
				for i := range among {
					among[i] = len(among) - 1 - i // the order in which they are named is no matter
				}
				plans, err := table.plans(t.Context(), among, len(among), with)
				if err != nil {
					t.Fatal(err)
				}
				for k := 1; k <= len(among); k++ {
					p := Plan{}
					if len(plans) > 0 {
						p = plans[min(k, len(plans))-1]
					}
					if want := everyChoice(table, k); !slices.Equal(p.Bikes, want) || !p.Proved() || p.Count != table.Served(want) {
						t.Fatalf("%d of %v: %v serve %v of at most %d, want %v with %v", k, table, p.Bikes, p.Count, p.Most, want, table.Served(want))
					}
				}
			})
		})
	}
}

// shopTable is a shop as they are: bikes of some families, which serve some ways
// of life, and sizes, which serve some statures.
func shopTable(seed uint64, bikes, customers int) *Table {
	r := rand.New(rand.NewPCG(seed, 1))
	table := &Table{}
	type kind struct{ load, low, high, home int }
	var kinds []kind
	for i := range bikes {
		low := 145 + r.IntN(20)
		kinds = append(kinds, kind{1 + r.IntN(6), low, low + 18 + r.IntN(25), r.IntN(5)})
		table.Bikes = append(table.Bikes, Bike{fmt.Sprintf("b%03d", i), measure.Money(150_000 + 500*r.IntN(1000))})
	}
	for range customers {
		load, height, home := 1+r.IntN(7), 150+r.IntN(45), r.IntN(6)
		row := make([]Grade, bikes)
		for i, k := range kinds {
			if load <= k.load+1 && height >= k.low && height <= k.high && k.home <= home+1 && r.IntN(10) > 1 {
				row[i] = Grade(1 + r.IntN(2))
			}
		}
		table.Rows = append(table.Rows, row)
	}
	return table
}

// alone lets one solver work at a time: what it learns it writes to variables of
// its package.
var alone sync.Mutex

// unserved asks a pseudo-Boolean optimiser how few customers are left out by at
// most k bikes.
func unserved(t *Table, k int) int {
	var few, each []int
	for b := range t.Bikes {
		few = append(few, -(b + 1))
	}
	rows := []solver.PBConstr{solver.AtLeast(few, len(few)-k)}
	var leftOut []solver.Lit
	for c, row := range t.Rows {
		who := len(t.Bikes) + c + 1
		clause := []int{who}
		for b, grade := range row {
			if grade > No {
				clause = append(clause, b+1)
			}
		}
		rows = append(rows, solver.AtLeast(clause, 1))
		leftOut, each = append(leftOut, solver.IntToLit(int32(who))), append(each, 1)
	}
	alone.Lock()
	defer alone.Unlock()
	problem := solver.ParsePBConstrs(rows)
	problem.SetCostFunc(leftOut, each)
	return solver.New(problem).Minimize()
}

// TestPlansOfAShop holds the choices of a shop of sixty frames and four hundred
// customers to those of the optimiser, and the few that can be counted out to all
// choices there are.
func TestPlansOfAShop(t *testing.T) {
	t.Parallel()
	for seed := range uint64(3) {
		table := shopTable(seed, 60, 400)
		plans, err := table.Plans(t.Context(), everyBike(table), 6)
		if err != nil || len(plans) != 6 {
			t.Fatalf("%d plans, %v", len(plans), err)
		}
		for i, p := range plans {
			k := i + 1
			if want := len(table.Rows) - unserved(table, k); p.Count.Served != want || !p.Proved() || len(p.Bikes) > k {
				t.Errorf("seed %d: %v serve %v of at most %d; %d bikes can serve %d", seed, p.Bikes, p.Count, p.Most, k, want)
			}
			if k > 2 {
				continue
			}
			if want := everyChoice(table, k); !slices.Equal(p.Bikes, want) {
				t.Errorf("seed %d: %d bikes are %v, want %v", seed, k, p.Bikes, want)
			}
		}
	}
}

// TestPlansOfSmallShops holds the search to all choices in many small shops, also
// where nothing is tried before it is reached.
func TestPlansOfSmallShops(t *testing.T) {
	t.Parallel()
	for seed := range uint64(60) {
		table := shopTable(seed, 11, 50)
		for _, with := range []shortcut{every, every &^ guessing, bounding | fixing} {
			plans, err := table.plans(t.Context(), everyBike(table), 4, with)
			if err != nil {
				t.Fatal(err)
			}
			for i, p := range plans {
				if want := everyChoice(table, i+1); !slices.Equal(p.Bikes, want) || !p.Proved() {
					t.Errorf("seed %d with %b: %d bikes are %v of at most %d, want %v", seed, with, i+1, p, p.Most, want)
				}
			}
		}
	}
}

// TestGivenUp holds that a search without time says no more than it has proved.
func TestGivenUp(t *testing.T) {
	t.Parallel()
	table := shopTable(2, 60, 400)
	gap := false
	for _, nodes := range []int{0, 1, 5, 20} {
		for k := 1; k <= 8; k++ {
			s := table.search(everyBike(table), grouping|bounding|guessing)
			s.nodes = nodes
			if err := s.run(t.Context(), k); err != nil {
				t.Fatal(err)
			}
			p, want := s.plan(table), len(table.Rows)-unserved(table, k)
			if p.Count.Served > want || p.Most < want {
				t.Errorf("%d nodes for %d bikes: %v to %d, and the best serve %d", nodes, k, p.Count, p.Most, want)
			}
			gap = gap || !p.Proved()
		}
	}
	if !gap {
		t.Error("all was proved: nothing was held back")
	}
	ctx, stop := context.WithCancel(t.Context())
	stop()
	if _, err := table.Plans(ctx, everyBike(table), 3); !errors.Is(err, context.Canceled) {
		t.Errorf("after the end: %v", err)
	}
}

func everyBike(t *Table) []int {
	all := make([]int, len(t.Bikes))
	for i := range all {
		all[i] = i
	}
	return all
}
