package fitting_test

import (
	"errors"
	"fmt"
	"runtime"
	"slices"
	"sync"
	"testing"

	"kinwain/internal/catalog"
	"kinwain/internal/fitting"
	"kinwain/internal/measure"
	"kinwain/internal/profile"
)

// The solver against the reference on shelves of bags, and against every set
// where there are few: the reference knows nothing of codes, which decide
// between sets that cost and weigh the same.
func TestPackedBagsAgreeWithReference(t *testing.T) {
	t.Parallel()
	seeds, workers := referenceSeeds(t, packedSeeds), runtime.GOMAXPROCS(0)
	var lock sync.Mutex
	met := map[string]int{}
	t.Run("seeds", func(t *testing.T) {
		for worker := range workers {
			t.Run(fmt.Sprint(worker), func(t *testing.T) {
				t.Parallel()
				mine := map[string]int{}
				for seed := worker; seed < seeds && !t.Failed(); seed += workers {
					comparePacked(t, seed, mine)
				}
				lock.Lock()
				defer lock.Unlock()
				for what, n := range mine {
					met[what] += n
				}
			})
		}
	})
	t.Log(met)
	for what, least := range map[string]int{
		"infeasible": 20, "bought": 25, "bought two of one": 5, "shared out": 20, "cargo in three zones": 2, "combined": 15, "axles": 8, "comes with": 30, "needs": 3,
		"taken off": 20, "four zones": 10, "thought again": 10, "every set": 5, "seated": 2, "pet": 1,
	} {
		if met[what]*100 < least*seeds {
			t.Errorf("%s was met %d times in %d, which is not enough to tell", what, met[what], seeds)
		}
	}
	if given := met["given up"]; given*200 > seeds {
		t.Errorf("%d comparisons were given up", given)
	}
}

// packedSeeds is how many are compared always.
const packedSeeds = 1500

func comparePacked(t *testing.T, seed int, met map[string]int) {
	t.Helper()
	in := packed(seed)
	defer func() {
		if t.Failed() {
			t.Logf("seed %d", seed)
			in.show(t)
		}
	}()
	objective := profile.LeastCost
	if seed%4 == 3 {
		objective = profile.Lightest
	}
	b, ref := compareWithReference(t, in, objective)
	meetReference(met, in, b, ref)
	if w := worldOf(in); !t.Failed() && !ref.givenUp && w.howMany() <= 24 {
		met["every set"]++
		compareOneWithEverySet(t, in, b, objective)
	}
}

// howMany returns how many sets there are, whether they go together or not.
func (w *world) howMany() int {
	n := 1
	for i := range w.kinds {
		n = min(n*(w.kinds[i].most+1), 1<<20)
	}
	return n
}

// compareOneWithEverySet asks for the best of all sets. The slow way divides
// cargo as finely as need be, as the reference does.
func compareOneWithEverySet(t tester, in *instance, got *fitting.Build, objective profile.Objective) {
	t.Helper()
	var want *set
	for _, less := range []measure.Mass{0, fewGrams} {
		w := worldOf(in.withLessOnAxles(less))
		want = w.firstThatHolds(inOrder(w.sets(fitting.AllRules), objective), party(w.profile, asOf), fitting.AllRules)
		if (got == nil) == (want == nil) && (got == nil || got.Price+got.Labour == want.cost && got.Weight == want.weight && slices.Equal(got.AddOns, want.bought)) {
			return
		}
	}
	t.Errorf("%s: %s; the slow way finds %s", objective, said(got), saidSet(want))
}

func TestPackedBagsAreSound(t *testing.T) {
	t.Parallel()
	for seed := range 2000 {
		if in := packed(seed); errors.Join(in.catalogue.Check(), in.profile.Check()) != nil {
			t.Fatalf("seed %d: %v", seed, errors.Join(in.catalogue.Check(), in.profile.Check()))
		}
	}
}

// Three boxes on two mounts in two zones, the smallest shelf on which a bound
// by zones and one by mounts must not be added up: two trays of 10 kg on one
// mount and a basket of 10 kg on another, a front zone of 12 kg with one of
// the trays and the basket in it, and 20 kg to carry.
func TestSmallestShelf(t *testing.T) {
	t.Parallel()
	box := func(code, zone, mount string) catalog.AddOn {
		a := bagFor(code, zone, 10*kg, 0)
		a.Uses = onMount(mount, 1)
		return a
	}
	in := workshop(box("basket", "rear", "bar"), box("tray-a", "front", "deck"), box("tray-b", "front", "deck")).with(func(f *catalog.Frame, p *profile.Profile) {
		f.Zones[0].Rating = 12 * kg
		f.Mounts = []catalog.Mount{{Code: "deck", Capacity: 2}, {Code: "bar", Capacity: 1}}
		p.Cargo = profile.Given(20 * kg)
	}).checked(t)
	b, _ := compareWithReference(t, in, profile.LeastCost)
	if b == nil || !slices.Equal(b.AddOns, []string{"basket", "tray-a"}) {
		t.Errorf("%s; the basket and a tray carry it", said(b))
	}
	compareWithEverySet(t, in)
}

// The shelves of the benchmarks are documents without a fault, and about half
// of them or more have an answer.
func TestShelvesAreSound(t *testing.T) {
	t.Parallel()
	const few = 60
	for _, bags := range shelves {
		feasible := 0
		for seed := range few {
			in := bagged(bags, seed)
			if err := errors.Join(in.catalogue.Check(), in.profile.Check()); err != nil {
				t.Fatalf("%d bags, seed %d: %v", bags, seed, err)
			}
			ok, err := in.problem().Feasible(t.Context(), fitting.AllRules)
			if err != nil {
				t.Fatalf("%d bags, seed %d: %v", bags, seed, err)
			}
			feasible += b2i(ok)
		}
		t.Logf("%d of %d with %d bags are feasible", feasible, few, bags)
		if feasible < few*4/10 || feasible == few {
			t.Errorf("%d of %d with %d bags have an answer", feasible, few, bags)
		}
	}
}
