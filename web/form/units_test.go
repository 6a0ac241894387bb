package form_test

import (
	"fmt"
	"net/url"
	"testing"

	"pgregory.net/rapid"

	"kinwain/internal/measure"
	"kinwain/internal/profile"
	"kinwain/web/form"
)

// masses and lengths are the questions that are answered in units, with how
// their answers are found in a profile.
var masses = map[string]func(*profile.Profile) profile.Answer[measure.Mass]{
	"riders[0].weight_kg":     func(p *profile.Profile) profile.Answer[measure.Mass] { return p.Riders[0].Weight },
	"riders[1].weight_kg":     func(p *profile.Profile) profile.Answer[measure.Mass] { return p.Riders[1].Weight },
	"passengers[1].weight_kg": func(p *profile.Profile) profile.Answer[measure.Mass] { return p.Passengers.Or(nil)[1].Weight },
	"pet_kg":                  func(p *profile.Profile) profile.Answer[measure.Mass] { return p.Pet },
	"cargo_kg":                func(p *profile.Profile) profile.Answer[measure.Mass] { return p.Cargo },
}

var lengths = map[string]func(*profile.Profile) profile.Answer[measure.Length]{
	"riders[0].height_cm":        func(p *profile.Profile) profile.Answer[measure.Length] { return p.Riders[0].Height },
	"passengers[0].stature_cm":   func(p *profile.Profile) profile.Answer[measure.Length] { return p.Passengers.Or(nil)[0].Stature },
	"home.length_cm":             func(p *profile.Profile) profile.Answer[measure.Length] { return home(p).Length },
	"home.width_cm":              func(p *profile.Profile) profile.Answer[measure.Length] { return home(p).Width },
	"home.height_cm":             func(p *profile.Profile) profile.Answer[measure.Length] { return home(p).Height },
	"home.clearance_cm":          func(p *profile.Profile) profile.Answer[measure.Length] { return home(p).Clearance },
	"home.doorways[1].width_cm":  func(p *profile.Profile) profile.Answer[measure.Length] { return home(p).Doorways.Or(nil)[1].Width },
	"home.doorways[0].height_cm": func(p *profile.Profile) profile.Answer[measure.Length] { return home(p).Doorways.Or(nil)[0].Height },
	"home.corners[0].in_cm":      func(p *profile.Profile) profile.Answer[measure.Length] { return home(p).Corners.Or(nil)[0].In },
	"home.corners[0].out_cm":     func(p *profile.Profile) profile.Answer[measure.Length] { return home(p).Corners.Or(nil)[0].Out },
	"home.lift.length_cm":        func(p *profile.Profile) profile.Answer[measure.Length] { return lift(p).Length },
	"home.lift.width_cm":         func(p *profile.Profile) profile.Answer[measure.Length] { return lift(p).Width },
	"home.lift.height_cm":        func(p *profile.Profile) profile.Answer[measure.Length] { return lift(p).Height },
	"home.lift.door_cm":          func(p *profile.Profile) profile.Answer[measure.Length] { return lift(p).Door },
}

func home(p *profile.Profile) profile.Home { return p.Home.Or(profile.Home{}) }
func lift(p *profile.Profile) profile.Lift { return home(p).Lift.Or(profile.Lift{}) }

// TestAnyUnitInAnyField types every spelling into every field, under both
// systems. By the international yard and pound a pound is 0.45359237 kg and
// an inch 2.54 cm.
func TestAnyUnitInAnyField(t *testing.T) {
	for _, c := range []struct {
		typed            string
		metric, imperial int64 // grams
	}{
		{"180 lb", 81647, 81647}, {"12 st 4", 78018, 78018}, {"12st 4lb", 78018, 78018}, {"82,5 kg", 82500, 82500}, {"82.5kg", 82500, 82500},
		{"82,5", 82500, 37421}, {" 99 ", 99000, 44906},
	} {
		for name, read := range masses {
			if got := typedMass(t, name, c.typed, "metric", read); got != c.metric {
				t.Errorf("%s: %q is %d g", name, c.typed, got)
			}
			if got := typedMass(t, name, c.typed, form.Imperial, read); got != c.imperial {
				t.Errorf("%s: %q among pounds is %d g", name, c.typed, got)
			}
		}
	}
	for _, c := range []struct {
		typed            string
		metric, imperial int64 // millimetres
	}{
		{`5'10"`, 1778, 1778}, {"5 ft 10", 1778, 1778}, {"5’10”", 1778, 1778}, {"1.78 m", 1780, 1780}, {"178 cm", 1780, 1780}, {"70 in", 1778, 1778},
		{"178,5", 1785, 0}, {"70,5", 0, 1791},
	} {
		for name, read := range lengths {
			if got := typedLength(t, name, c.typed, "metric", read); c.metric > 0 && got != c.metric {
				t.Errorf("%s: %q is %d mm", name, c.typed, got)
			}
			if got := typedLength(t, name, c.typed, form.Imperial, read); c.imperial > 0 && got != c.imperial {
				t.Errorf("%s: %q among inches is %d mm", name, c.typed, got)
			}
		}
	}
}

// typedMass returns the grams that a text typed into a field means; -1 where
// it is no answer.
func typedMass(t *testing.T, name, typed, units string, read func(*profile.Profile) profile.Answer[measure.Mass]) int64 {
	if p := withTyped(t, name, typed, units); p != nil {
		return int64(read(p).Or(-1))
	}
	return -1
}

func typedLength(t *testing.T, name, typed, units string, read func(*profile.Profile) profile.Answer[measure.Length]) int64 {
	if p := withTyped(t, name, typed, units); p != nil {
		return int64(read(p).Or(-1))
	}
	return -1
}

// withTyped reads the form of somebody who has answered everything, in
// kilograms and centimetres, but for one text; nil where there is a fault.
func withTyped(t *testing.T, name, typed, units string) *profile.Profile {
	posted := fill(t, everything)
	posted.Del("riders[0].inseam_cm") // it would have to suit the height
	f := form.FromValues(posted)
	f.Set(form.Units, units)
	f.SwitchUnits(measure.Metric)
	f.Set(name, typed)
	p, err := f.Profile(today)
	if err != nil {
		return nil
	}
	return p
}

// typedQuantity draws what people type into a field of masses or lengths:
// bare or with a unit, right or wrong.
func typedQuantity(t *rapid.T, units ...string) string {
	number := rapid.StringMatching(`[0-9]{0,4}([.,][0-9]{0,3})?`).Draw(t, "number")
	space := rapid.SampledFrom([]string{"", " ", "  ", "\u00a0", "\t"})
	typed := space.Draw(t, "before") + number + space.Draw(t, "between") + rapid.SampledFrom(append(units, "", "", "")).Draw(t, "unit")
	if rapid.Bool().Draw(t, "second part") {
		typed += " " + rapid.StringMatching(`[0-9]{1,2}`).Draw(t, "second")
	}
	return typed + space.Draw(t, "after")
}

// TestSwitchedUnitsKeepTheirMeaning holds that what was typed under one
// system means the same under the other, and again after switching back, and
// that what meant nothing stays as it was typed.
func TestSwitchedUnitsKeepTheirMeaning(t *testing.T) {
	systems := [...]string{measure.Metric: "metric", measure.Imperial: form.Imperial}
	rapid.Check(t, func(t *rapid.T) {
		from := rapid.SampledFrom([]measure.System{measure.Metric, measure.Imperial}).Draw(t, "from")
		to := 1 - from
		mass := typedQuantity(t, "kg", "lb", "st", "g", "oz", "stones", "m")
		length := typedQuantity(t, "cm", "m", "in", "ft", "'", `"`, "kg")
		f := form.FromValues(url.Values{"cargo_kg": {mass}, "home.corners[3].in_cm": {length}, "cargo_litres": {"60"}, "years": {"4"}, "home.steps": {"3"}, "units": {systems[to]}})
		f.SwitchUnits(from)
		sameMeaning(t, f, from, to, mass, length)
		switched := f.Get("cargo_kg") + "|" + f.Get("home.corners[3].in_cm")
		f.Set(form.Units, systems[from])
		f.SwitchUnits(to)
		sameMeaning(t, f, from, from, mass, length)
		if back := f.Get("cargo_kg") + "|" + f.Get("home.corners[3].in_cm"); back != switched {
			t.Errorf("switching back made %q of %q", back, switched)
		}
		if others := f.Get("cargo_litres") + f.Get("years") + f.Get("home.steps"); others != "6043" {
			t.Errorf("figures without such units became %s", others)
		}
	})
}

func sameMeaning(t *rapid.T, f form.Form, typedUnder, now measure.System, mass, length string) {
	compare(t, "cargo_kg", f.Get("cargo_kg"), mass, typedUnder, now, measure.ParseMass)
	compare(t, "home.corners[3].in_cm", f.Get("home.corners[3].in_cm"), length, typedUnder, now, measure.ParseLength)
}

func compare[T measure.Mass | measure.Length](t *rapid.T, name, kept, typed string, typedUnder, now measure.System, parse func(string, measure.System) (T, error)) {
	want, wrong := parse(typed, typedUnder)
	got, err := parse(kept, now)
	if (wrong == nil) != (err == nil) || got != want {
		t.Errorf("%s: %q meant %d (%v), %q means %d (%v)", name, typed, want, wrong, kept, got, err)
	}
	if wrong != nil && kept != typed {
		t.Errorf("%s: %q, which means nothing, became %q", name, typed, kept)
	}
}

func TestSameUnitsAreLeftAlone(t *testing.T) {
	for _, units := range []string{"metric", "", form.Imperial, "furlongs"} {
		f := form.FromValues(url.Values{"cargo_kg": {" 12 "}, "units": {units}})
		f.SwitchUnits(f.System())
		if got := f.Get("cargo_kg"); got != " 12 " {
			t.Errorf("units %q: %q", units, got)
		}
	}
}

func TestOnlyImperialIsImperial(t *testing.T) {
	for units, want := range map[string]measure.System{"": measure.Metric, "metric": measure.Metric, "Imperial": measure.Metric, "imperial": measure.Imperial} {
		if got := form.FromValues(url.Values{"units": {units}}).System(); got != want {
			t.Errorf("%q is %v", units, got)
		}
	}
}

func TestBirthMonthsAsPeopleWriteThem(t *testing.T) {
	for typed, want := range map[string]string{
		"2023-05": "2023-05", "5.2023": "2023-05", "05.2023": "2023-05", "5/2023": "2023-05", "5 2023": "2023-05", "5-2023": "2023-05", "2023/5": "2023-05",
		"2023.05": "2023-05", " 5 . 2023 ": "2023-05", "May 2023": "2023-05", "may 2023": "2023-05", "Sep 2023": "2023-09", "September 2023": "2023-09",
		"2023-05-14": "2023-05-14", "14.5.2023": "2023-05-14", "14. 5. 2023": "2023-05-14", "14 5 2023": "2023-05-14", "14 May 2023": "2023-05-14", "14 September 2023": "2023-09-14",
		"29.2.2024": "2024-02-29", "2023": "2023-07",
	} {
		if got := bornOf(t, typed); got != want {
			t.Errorf("%q is %q, want %q", typed, got, want)
		}
	}
	for _, typed := range []string{
		"14/5/2023", "5/14/2023", "13.2023", "0.2023", "29.2.2023", "31.4.2023", "5.23", "May", "Mayday 2023", "2023-05-14T00:00", "last spring", "-5.2023", "5.20233",
	} {
		if got := bornOf(t, typed); got != "a fault" {
			t.Errorf("%q is %q", typed, got)
		}
	}
}

func bornOf(t *testing.T, typed string) string {
	f := form.FromValues(fill(t, everything))
	f.Set("passengers[0].born", typed)
	p, err := f.Profile(today)
	if err != nil {
		return "a fault"
	}
	return fmt.Sprint(p.Passengers.Or(nil)[0].Born.Or(measure.Date{}))
}
