// What is said where time is over: at once, since the time that these frames
// are given has passed before it begins. A search looks at a few nodes all the
// same, so that what is found is the same on every machine.
package match_test

import (
	"context"
	"encoding/json"
	"fmt"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"
	"time"

	"kinwain/internal/catalog"
	"kinwain/internal/match"
	"kinwain/internal/measure"
	"kinwain/internal/profile"
)

// sized is a counter with bags of odd sizes on one rail, which is as long as
// is needed for the luggage, and a little longer: hardly any set will do.
func sized(bags int, seed uint64, longer int) *counter {
	k := atCounter()
	r := rand.New(rand.NewPCG(seed, 0))
	k.AddOns = nil
	sum := 0
	for i := range bags {
		size := 300 + r.IntN(300)
		sum += size
		k.AddOns = append(k.AddOns, catalog.AddOn{Code: fmt.Sprintf("bag-%02d", i), Name: "Bag", Weight: measure.Mass(50 + r.IntN(100)), Price: measure.Money(20*size + r.IntN(3000)),
			Fits: []string{"sedge"}, Zone: "rear", Uses: []catalog.Use{{Mount: "deck_cm", Count: size}}, Cargo: measure.Mass(size) * 10, CargoVolume: measure.Volume(size) * 10})
	}
	k.f.Mounts[0].Capacity = sum/2 + longer
	k.p.Cargo = profile.Given(measure.Mass(sum/2) * 10)
	k.f.GrossRating = 500 * kg
	return k
}

// patient judges the frame in some time.
func (k *counter) patient(t testing.TB, patience time.Duration) *match.Match {
	t.Helper()
	k.s.Patience = patience
	return k.judge(t)
}

const (
	hurried   = time.Nanosecond
	unhurried = time.Duration(0)
)

// What is said in a hurry is never wrong, only less.
func TestWhatIsSaidInAHurryIsTrue(t *testing.T) {
	met := map[string]int{}
	for seed := range uint64(20) {
		for _, longer := range []int{0, 1, 300} {
			for _, bags := range []int{10, 13} {
				name := fmt.Sprintf("%d bags, %d longer, seed %d", bags, longer, seed)
				k := sized(bags, seed, longer)
				soon, late := k.patient(t, hurried), k.patient(t, unhurried)
				for _, why := range contradictions(soon, late) {
					t.Errorf("%s: %s; %v, then %v", name, why, codesOf(soon), codesOf(late))
				}
				met[string(soon.Verdict)]++
				met[string(soon.Verdict)+", then "+string(late.Verdict)]++
				for _, code := range [...]match.Code{"unproved", "unsettled"} {
					met[string(code)] += len(reasonsOf(soon, code))
				}
				for _, part := range soon.Unsettled {
					met[string(part)]++
				}
			}
		}
	}
	for what, least := range map[string]int{"unproved": 10, "not_judged": 10, "not_judged, then does_not_fit": 3, "not_judged, then fits": 3, "fits": 1} {
		if met[what] < least {
			t.Errorf("%s was met %d times, which is not enough to tell: %v", what, met[what], met)
		}
	}
}

// contradictions lists what a hurried answer says that the whole one denies.
func contradictions(soon, late *match.Match) (list []string) {
	fault := func(format string, args ...any) { list = append(list, fmt.Sprintf(format, args...)) }
	if late.Verdict == match.NotJudged || len(late.Unsettled) > 0 || late.Build.Unproved {
		fault("not settled in all the time in the world")
	}
	switch soon.Verdict {
	case match.NotJudged:
		if soon.Count(care) != 1 || soon.Count(stop) > 0 || len(reasonsOf(soon, "unsettled")) != 1 || soon.Score != nil || soon.Horizon != nil || len(soon.Build.AddOns) > 0 || soon.Fits() {
			fault("not judged, and yet with an answer")
		}
		return list
	case match.DoesNotFit:
		if late.Fits() {
			fault("refused what fits")
		}
		open := slices.Contains(soon.Unsettled, match.WouldFitIf)
		if _, said := soon.Help(); late.Change != nil && soon.Change == nil && !open || said != (soon.Change != nil || open) {
			fault("a change is kept quiet")
		}
		return list
	}
	if !late.Fits() {
		fault("promised what does not fit")
		return list
	}
	by, known := soon.CheaperAtMost()
	if best := late.Total; !known || best > soon.Total || soon.Build.Unproved != (len(reasonsOf(soon, "unproved")) == 1) ||
		soon.Build.Unproved && (by < 0 || best < soon.Total-by) || !soon.Build.Unproved && best != soon.Total {
		fault("%v is said to be at most %v too dear, unproved %v, and the best is %v", soon.Total, by, soon.Build.Unproved, best)
	}
	return list
}

// find returns the first counter of which the hurried answer is as asked.
func find(t *testing.T, objective profile.Objective, longer int, is func(m *match.Match) bool) (*counter, *match.Match) {
	t.Helper()
	for seed := range uint64(60) {
		k := sized(13, seed, longer)
		k.p.Objective = objective
		if m := k.patient(t, hurried); is(m) {
			return k, m
		}
	}
	t.Fatal("none is found")
	return nil, nil
}

func unproved(m *match.Match) bool { return m.Fits() && m.Build.Unproved }

func notJudged(m *match.Match) bool { return m.Verdict == match.NotJudged }

// A set beyond a firm budget is no refusal while a cheaper one may be within
// it, and is one where none can be.
func TestAFirmBudgetRefusesWhatIsProved(t *testing.T) {
	k, m := find(t, "", 300, func(m *match.Match) bool {
		by, _ := m.CheaperAtMost()
		return unproved(m) && by > 1
	})
	by, _ := m.CheaperAtMost()
	k.p.BudgetFirm = profile.Given(true)
	for _, c := range []struct {
		budget measure.Money
		want   match.Verdict
	}{{m.Total, match.FitsWithCare}, {m.Total - 1, match.NotJudged}, {m.Total - by, match.NotJudged}, {m.Total - by - 1, match.DoesNotFit}} {
		k.p.Budget = profile.Given(c.budget)
		if got := k.patient(t, hurried); got.Verdict != c.want || got.Count(stop) > 0 && len(reasonsOf(got, "budget")) != 1 {
			t.Errorf("with %v of %v, at most %v cheaper: %s, %v", c.budget, m.Total, by, got.Verdict, codesOf(got))
		}
	}
}

// By how much a set may be cheaper is known where the cheapest was looked for;
// else it is said what may be better.
func TestWhatMayBeBetterIsSaid(t *testing.T) {
	for objective, says := range map[profile.Objective]string{"": "more than EUR", profile.Lightest: "lighter", profile.Longest: "last longer"} {
		k, m := find(t, objective, 300, unproved)
		r := reasonsOf(m, "unproved")
		by, known := m.CheaperAtMost()
		if len(r) != 1 || r[0].Weight != care || m.Verdict != match.FitsWithCare || !strings.Contains(r[0].Message.In(measure.Metric), says) || known != (objective == "") {
			t.Errorf("%q: %v", objective, r)
		}
		want := map[string]any{}
		if known {
			want["cheaper_at_most_cents"] = float64(by)
		}
		if got := asDocument(t, m)["build"].(map[string]any)["unproved"]; fmt.Sprint(got) != fmt.Sprint(want) {
			t.Errorf("%q: the document says %v, want %v", objective, got, want)
		}
		if again := k.patient(t, unhurried); asDocument(t, again)["build"].(map[string]any)["unproved"] != nil || len(reasonsOf(again, "unproved")) > 0 {
			t.Errorf("%q: %v, with all the time in the world", objective, codesOf(again))
		}
	}
}

// asDocument returns the match as a document has it.
func asDocument(t *testing.T, m *match.Match) map[string]any {
	t.Helper()
	data, err := match.Document([]*match.Match{m}, nil)
	if err != nil {
		t.Fatal(err)
	}
	var doc struct{ Matches []map[string]any }
	if err := json.Unmarshal(data, &doc); err != nil {
		t.Fatal(err)
	}
	return doc.Matches[0]
}

func TestTheDocumentOfWhatIsNotJudged(t *testing.T) {
	_, m := find(t, "", 0, notJudged)
	doc := asDocument(t, m)
	for _, key := range [...]string{"score", "build", "horizon", "parking", "total_cents", "would_fit_if"} {
		if got, there := doc[key]; got != nil || !there {
			t.Errorf("%s is %v", key, got)
		}
	}
	if doc["verdict"] != "not_judged" || len(doc["reasons"].([]any)) != 1 || len(doc["loads"].([]any)) > 0 {
		t.Errorf("the document is %v", doc)
	}
}

// Frames that are not judged come after those that fit and before those that
// do not, by code. A frame that cannot be ridden at all is refused, settled or
// not.
func TestWhatIsNotJudgedHasItsPlace(t *testing.T) {
	k, _ := find(t, "", 0, notJudged)
	k.again("b-too-large", func(f *catalog.Frame) { f.RiderMin = 190 * cm })
	k.again("aster", func(f *catalog.Frame) { f.Price /= 2 })
	k.again("fits", func(f *catalog.Frame) { f.Zones[1].Cargo, f.Zones[1].CargoVolume = 90*kg, 90_000 })
	k.again("a-light", func(f *catalog.Frame) { f.GrossRating = 90 * kg })
	k.s.Patience = hurried
	list := k.rank(t)
	if got, want := order(list), "fits aster sedge a-light b-too-large"; got != want {
		t.Errorf("order %s, want %s", got, want)
	}
	for _, m := range list {
		if m.Frame.Code == "b-too-large" && (m.Verdict != match.DoesNotFit || len(reasonsOf(m, "unsettled")) != 1) {
			t.Errorf("%s: %v", m.Verdict, codesOf(m))
		}
	}
}

// The time of one frame is within that of the whole: where that is over, it is
// an error and no answer.
func TestTheContextIsAboveThePatience(t *testing.T) {
	k, _ := find(t, "", 0, notJudged)
	k.s.Patience = time.Hour
	ctx, cancel := context.WithDeadline(context.Background(), time.Unix(0, 0))
	defer cancel()
	if _, err := match.One(ctx, k.Catalogue, k.f, k.p, k.s, match.Options{Changes: true}); err != context.DeadlineExceeded {
		t.Errorf("one: %v", err)
	}
	if _, err := match.Rank(ctx, k.Catalogue, k.p, k.s, match.Options{}); err != context.DeadlineExceeded {
		t.Errorf("all: %v", err)
	}
	if _, err := match.ByHand(ctx, k.Catalogue, k.f, k.p, k.s, nil); err != context.DeadlineExceeded {
		t.Errorf("by hand: %v", err)
	}
}
