// Answers of "don't know yet": they stay open questions, cap the verdict and
// constrain nothing.
package match_test

import (
	"encoding/json"
	"slices"
	"strconv"
	"strings"
	"testing"

	"kinwain/internal/match"
	"kinwain/internal/measure"
	"kinwain/internal/profile"
)

// full is a document in which every question is answered; the bike of the
// counter fits it.
const full = `{"profile": 1, "as_of": "2026-11-25", "objective": "least_cost",
 "riders": [{"label": "A", "height_cm": 170, "inseam_cm": 80, "weight_kg": 80, "weighed": "dressed", "grip": "full"},
            {"label": "B", "height_cm": 172, "weight_kg": 70, "weighed": "dressed"}],
 "passengers": [{"label": "p", "born": "2023-05", "sex": "girl", "weight_kg": 15, "stature_cm": 98, "sits_unaided": true, "joins": "2026-10", "leaves_at_years": 8}],
 "pet_kg": 5, "cargo_kg": 6, "cargo_litres": 12,
 "home": {"length_cm": 300, "width_cm": 150, "height_cm": 220, "clearance_cm": 5, "must_stand_upright": false,
   "doorways": [{"width_cm": 90, "height_cm": 200}], "corners": [{"in_cm": 300, "out_cm": 310}],
   "lift": {"length_cm": 250, "width_cm": 150, "height_cm": 210, "door_cm": 100}, "steps": 2},
 "budget_cents": 350000, "budget_firm": true, "years": 4, "hill_percent": 7}`

// needed are the answers that have to be there, if only as not known.
var needed = []string{"riders[1].height_cm", "riders[1].weight_kg", "passengers[0].born"}

func parsed(t *testing.T, document string) *profile.Profile {
	t.Helper()
	p, err := profile.Parse([]byte(document))
	if err != nil {
		t.Fatalf("%v in %s", err, document)
	}
	return p
}

// shopFor is the counter with another customer, and room for all they bring.
func shopFor(p *profile.Profile) *counter {
	k := atCounter()
	k.p = p
	return k
}

func TestOpenQuestionsCapTheVerdict(t *testing.T) {
	t.Parallel()
	if m := shopFor(parsed(t, full)).judge(t); m.Verdict != match.Fits || len(m.Open) > 0 {
		t.Fatalf("with everything answered: %s, open %v, reasons %v", m.Verdict, m.Open, codesOf(m))
	}
	for _, path := range []string{
		"riders[0].inseam_cm", "riders[0].grip", "riders[1].height_cm", "riders[1].weight_kg", "riders[1].weighed", "passengers",
		"passengers[0].sex", "passengers[0].weight_kg", "passengers[0].stature_cm", "passengers[0].sits_unaided",
		"passengers[0].joins", "passengers[0].leaves_at_years", "pet_kg", "cargo_kg", "cargo_litres",
		"home", "home.length_cm", "home.width_cm", "home.height_cm", "home.clearance_cm", "home.must_stand_upright", "home.doorways",
		"home.doorways[0].width_cm", "home.doorways[0].height_cm", "home.corners", "home.corners[0].in_cm", "home.corners[0].out_cm",
		"home.lift", "home.lift.length_cm", "home.lift.width_cm", "home.lift.height_cm", "home.lift.door_cm", "home.steps",
		"budget_cents", "budget_firm", "years", "hill_percent",
	} {
		m := shopFor(parsed(t, edited(t, path, func(at map[string]any, key string) { at[key] = nil }))).judge(t)
		if m.Verdict != match.FitsWithCare || !slices.Equal(m.Open, []string{path}) || m.Count(stop)+m.Count(care) > 0 {
			t.Errorf("%s not known: %s, open %v, reasons %v", path, m.Verdict, m.Open, codesOf(m))
		}
		absent := edited(t, path, func(at map[string]any, key string) { delete(at, key) })
		if _, err := profile.Parse([]byte(absent)); err != nil && slices.Contains(needed, path) {
			continue
		}
		m = shopFor(parsed(t, absent)).judge(t)
		if m.Verdict != match.Fits || len(m.Open) > 0 {
			t.Errorf("%s not asked: %s, open %v, reasons %v", path, m.Verdict, m.Open, codesOf(m))
		}
	}
}

// TestWhoIsNotKnownIsOpen holds that of a passenger of whom neither birth nor
// weight is known nothing is guessed: the others are judged as if alone, and
// the frame does not fit without care.
func TestWhoIsNotKnownIsOpen(t *testing.T) {
	t.Parallel()
	alone := shopFor(parsed(t, full)).judge(t)
	p := parsed(t, full)
	stranger := profile.Passenger{Label: "q", Born: profile.Unknown[measure.Date](), Weight: profile.Unknown[measure.Mass]()}
	p.Passengers = profile.Given([]profile.Passenger{stranger, p.Passengers.Or(nil)[0]})
	if err := p.Check(); err != nil {
		t.Fatal(err)
	}
	m := shopFor(p).judge(t)
	if m.Verdict != match.FitsWithCare || !slices.Equal(m.Open, []string{"passengers[0].born", "passengers[0].weight_kg"}) || m.Count(stop)+m.Count(care) > 0 {
		t.Errorf("%s, open %v, reasons %v", m.Verdict, m.Open, codesOf(m))
	}
	if m.Total != alone.Total || m.Sheets[0].Total != alone.Sheets[0].Total || len(m.Seated) != 1 {
		t.Errorf("the others are judged in another way: %v and %v", m.Sheets[0].Total, alone.Sheets[0].Total)
	}
}

// edited changes one key of the full document.
func edited(t *testing.T, path string, change func(at map[string]any, key string)) string {
	t.Helper()
	var document map[string]any
	if err := json.Unmarshal([]byte(full), &document); err != nil {
		t.Fatal(err)
	}
	keys := strings.FieldsFunc(path, func(r rune) bool { return strings.ContainsRune(".[]", r) })
	var at any = document
	for _, key := range keys[:len(keys)-1] {
		if i, err := strconv.Atoi(key); err == nil {
			at = at.([]any)[i]
		} else {
			at = at.(map[string]any)[key]
		}
	}
	change(at.(map[string]any), keys[len(keys)-1])
	data, err := json.Marshal(document)
	if err != nil {
		t.Fatal(err)
	}
	return string(data)
}

// What is not known rules nothing out and asks for nothing, even where the
// answer that was given would have.
func TestWhatIsNotKnownConstrainsNothing(t *testing.T) {
	t.Parallel()
	for name, set := range map[string]func(k *counter, known bool){
		"pet":     func(k *counter, known bool) { k.p.Pet = answer(20*kg, known) },
		"cargo":   func(k *counter, known bool) { k.p.Cargo = answer(90*kg, known) },
		"litres":  func(k *counter, known bool) { k.p.CargoSize = answer(measure.Volume(90_000), known) },
		"ceiling": func(k *counter, known bool) { k.home(profile.Home{Height: answer(90*cm, known)}) },
		"doorway": func(k *counter, known bool) {
			k.home(profile.Home{Doorways: profile.Given([]profile.Doorway{{Width: answer(50*cm, known)}})})
		},
		"upright": func(k *counter, known bool) { k.home(profile.Home{MustStandUpright: answer(true, known)}) },
		"budget": func(k *counter, known bool) {
			k.p.BudgetFirm, k.p.Budget = profile.Given(true), answer(measure.Money(1000), known)
		},
		"firm": func(k *counter, known bool) {
			k.p.BudgetFirm, k.p.Budget = answer(true, known), profile.Given(measure.Money(1000))
		},
		"stature": func(k *counter, known bool) {
			k.kids(kid("p", "2023-05"))
			k.p.Passengers.Or(nil)[0].Stature = answer(150*cm, known)
			k.seat().Places[0].MaxStature = 120 * cm
		},
		"passenger": func(k *counter, known bool) {
			k.p.Passengers = answer(append(slices.Clone(threeKids), kid("s", "2020-05")), known)
		},
		"height": func(k *counter, known bool) {
			k.p.Riders = append(k.p.Riders, profile.Rider{Label: "B", Height: answer(140*cm, known), Weight: profile.Given(60 * kg), Weighed: profile.Given(profile.Dressed)})
		},
		"weight": func(k *counter, known bool) {
			k.p.Riders = append(k.p.Riders, profile.Rider{Label: "B", Height: given(180 * cm), Weight: answer(150*kg, known), Weighed: profile.Given(profile.Dressed)})
		},
	} {
		for known, want := range map[bool]match.Verdict{true: match.DoesNotFit, false: match.FitsWithCare} {
			k := atCounter()
			set(k, known)
			m := k.judge(t)
			if m.Verdict != want || (len(m.Open) > 0) == known || len(m.Relaxed) > 0 && !known {
				t.Errorf("%s, known %v: %s, open %v, reasons %v", name, known, m.Verdict, m.Open, codesOf(m))
			}
		}
	}
}

// answer is a value, or that it is not known yet.
func answer[V any](value V, known bool) profile.Answer[V] {
	if known {
		return profile.Given(value)
	}
	return profile.Unknown[V]()
}

// A birth month that is not known caps the verdict and says so. No place with
// limits of age counts then, whatever the child weighs and whenever it joins,
// and nothing tells how long the build lasts.
func TestWithoutABirthMonth(t *testing.T) {
	t.Parallel()
	for _, joins := range []any{nil, "", "2028-03"} {
		nothing := edited(t, "passengers[0].joins", func(at map[string]any, key string) {
			if delete(at, key); joins != nil {
				at[key] = joins
			}
			at["born"] = nil
		})
		if m := shopFor(parsed(t, nothing)).judge(t); m.Verdict != match.DoesNotFit || len(reasonsOf(m, "place_limits")) != 1 {
			t.Errorf("joins %v, in a place from one month on: %s, reasons %v", joins, m.Verdict, codesOf(m))
		}
		k := shopFor(parsed(t, nothing))
		k.seat().Places[0].MinMonths = 0
		m := k.judge(t)
		if m.Verdict != match.FitsWithCare || !slices.Equal(m.Open, []string{"passengers[0].born"}) || len(reasonsOf(m, "age_unknown")) != 1 {
			t.Errorf("joins %v: %s, open %v, reasons %v", joins, m.Verdict, m.Open, codesOf(m))
		}
		if m.Horizon != nil || slices.ContainsFunc(m.Criteria, func(c match.Criterion) bool { return c.Code == match.HorizonShare }) {
			t.Errorf("joins %v: lasts %+v, criteria %v", joins, m.Horizon, m.Criteria)
		}
	}
}

// A stop weighs more than an open question.
func TestAStopOutweighsAnOpenQuestion(t *testing.T) {
	t.Parallel()
	k := atCounter()
	k.p.Pet, k.f.GrossRating = profile.Unknown[measure.Mass](), 90*kg
	if m := k.judge(t); m.Verdict != match.DoesNotFit || !slices.Equal(m.Open, []string{"pet_kg"}) {
		t.Errorf("%s, open %v", m.Verdict, m.Open)
	}
}
