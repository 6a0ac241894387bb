package profile_test

import (
	"fmt"

	"pgregory.net/rapid"

	"kinwain/internal/measure"
	"kinwain/internal/profile"
)

// answer draws one of the three states.
func answer[T any](t *rapid.T, name string, draw func() T) profile.Answer[T] {
	switch rapid.SampledFrom([]string{"given", "unknown", "absent"}).Draw(t, name+" is") {
	case "given":
		return profile.Given(draw())
	case "unknown":
		return profile.Unknown[T]()
	}
	return profile.Answer[T]{}
}

// asked makes an absent answer an unknown one.
func asked[T any](a profile.Answer[T]) profile.Answer[T] {
	if a.IsZero() {
		return profile.Unknown[T]()
	}
	return a
}

func figure[T ~int | ~int64](t *rapid.T, name string, least, most T) profile.Answer[T] {
	return answer(t, name, func() T { return T(rapid.Int64Range(int64(least), int64(most)).Draw(t, name)) })
}

func word[T ~string](t *rapid.T, name string, words ...T) profile.Answer[T] {
	return answer(t, name, func() T { return rapid.SampledFrom(words).Draw(t, name) })
}

func flag(t *rapid.T, name string) profile.Answer[bool] {
	return answer(t, name, func() bool { return rapid.Bool().Draw(t, name) })
}

func list[T any](t *rapid.T, name string, most int, draw func(i int) T) profile.Answer[[]T] {
	return answer(t, name, func() []T {
		var all []T
		for i := range rapid.IntRange(0, most).Draw(t, name) {
			all = append(all, draw(i))
		}
		return all
	})
}

// drawProfile draws a profile without a fault.
func drawProfile(t *rapid.T) *profile.Profile {
	p := &profile.Profile{
		Version: 1, AsOf: measure.Date{Year: 2026, Month: 11, Day: 25},
		Objective:  rapid.SampledFrom(append([]profile.Objective{""}, profile.Objectives...)).Draw(t, "objective"),
		Passengers: list(t, "passengers", 3, func(i int) profile.Passenger { return drawPassenger(t, i) }),
		Pet:        figure(t, "pet", 0, 100*kg), Cargo: figure(t, "cargo", 0, 400*kg), CargoSize: figure(t, "litres", 0, 2000*measure.Litre),
		Home:   answer(t, "home", func() profile.Home { return drawHome(t) }),
		Budget: figure[measure.Money](t, "budget", 1, 1_000_000_00), BudgetFirm: flag(t, "firm"), Years: figure(t, "years", 0, 10),
		Hill: figure[measure.Percentage](t, "hill", 0, 40_00),
	}
	for i := range rapid.IntRange(1, 3).Draw(t, "riders") {
		p.Riders = append(p.Riders, profile.Rider{
			Label:  fmt.Sprint(i, rapid.StringN(0, 10, -1).Draw(t, "label")),
			Height: asked(figure(t, "height", 180*cm, 230*cm)), Inseam: figure(t, "inseam", 40*cm, 108*cm), Weight: asked(figure(t, "weight", 25*kg, 250*kg)),
			Weighed: word(t, "weighed", profile.Dressed, profile.Undressed, profile.Stated), Grip: word(t, "grip", profile.FullGrip, profile.ReducedGrip),
		})
	}
	p.Riders[0].Height, p.Riders[0].Weight = profile.Given(178*cm), profile.Given(82*kg)
	p.Riders[0].Inseam = figure(t, "inseam", 40*cm, 100*cm)
	return p
}

func drawPassenger(t *rapid.T, i int) profile.Passenger {
	p := profile.Passenger{
		Label: fmt.Sprint(i, rapid.StringN(0, 10, -1).Draw(t, "label")),
		Sex:   word(t, "sex", profile.Girl, profile.Boy, profile.Unstated), Weight: figure(t, "weight", 2*kg, 200*kg), Stature: figure(t, "stature", 40*cm, 230*cm),
		SitsUnaided: flag(t, "sits"), LeavesAtYears: figure(t, "leaves", 0, 30),
		Joins: answer(t, "joins", func() profile.Month {
			return profile.Month{Month: rapid.SampledFrom([]measure.Month{0, measure.MonthOf(2028, 1), measure.MonthOf(9999, 12)}).Draw(t, "joins")}
		}),
	}
	if !p.Weight.IsGiven() || rapid.Bool().Draw(t, "born known") {
		p.Born = profile.Given(measure.Date{Year: rapid.IntRange(2010, 2025).Draw(t, "year"), Month: 3, Day: rapid.IntRange(0, 31).Draw(t, "day")})
	} else {
		p.Born = profile.Unknown[measure.Date]()
	}
	return p
}

func drawHome(t *rapid.T) profile.Home {
	length := func(name string, most measure.Length) profile.Answer[measure.Length] { return figure(t, name, 0, most) }
	return profile.Home{
		Length: length("length", 2000*cm), Width: length("width", 2000*cm), Height: length("height", 2000*cm), Clearance: length("clearance", 200*cm),
		MustStandUpright: flag(t, "upright"),
		Doorways: list(t, "doorways", 2, func(int) profile.Doorway {
			return profile.Doorway{Width: length("door width", 500*cm), Height: length("door height", 500*cm)}
		}),
		Corners: list(t, "corners", 2, func(int) profile.Corner {
			return profile.Corner{In: length("in", 1000*cm), Out: length("out", 1000*cm)}
		}),
		Lift: answer(t, "lift", func() profile.Lift {
			return profile.Lift{Length: length("lift length", 1000*cm), Width: length("lift width", 1000*cm), Height: length("lift height", 1000*cm), Door: length("lift door", 1000*cm)}
		}),
		Steps: figure(t, "steps", 0, 500),
	}
}
