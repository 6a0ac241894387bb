package recheck

import (
	"fmt"
	"math"
	"math/rand/v2"
	"time"
)

// Random customers, as documents: every question answered, left out, or not
// known yet.

// document is a part of a document, to be changed by the names of its fields.
type document = map[string]any

type dice struct{ *rand.Rand }

// chance is true so many times in a hundred.
func (d dice) chance(percent int) bool { return d.IntN(100) < percent }

// within is a figure of a range, in whole steps.
func (d dice) within(low, high, step float64) float64 {
	n := int(math.Round((high - low) / step))
	return tidy(low + step*float64(d.IntN(n+1)))
}

func tidy(figure float64) float64 { return math.Round(figure*1000) / 1000 }

func one[T any](d dice, list ...T) T { return list[d.IntN(len(list))] }

// ask answers a question: mostly, or leaves it out, or it is not known yet.
func (d dice) ask(doc document, name string, percent int, value any) {
	switch n := d.IntN(100); {
	case n < percent:
		doc[name] = value
	case n < percent+(100-percent)/8:
		doc[name] = nil
	}
}

func (d dice) customer() document {
	asOf := time.Date(2026, 1, 1, 0, 0, 0, 0, time.UTC).AddDate(0, 0, d.IntN(900))
	if d.chance(15) {
		asOf = lastOf(asOf)
	}
	p := document{"profile": 1, "as_of": asOf.Format("2006-01-02"), "riders": d.riders()}
	if d.chance(20) {
		p["objective"] = one(d, "least_cost", "lightest", "longest")
	}
	if n := one(d, 0, 0, 0, 1, 1, 1, 1, 2, 2, 3, 4); d.chance(92) {
		list := make([]any, n)
		for i := range list {
			list[i] = d.passenger(fmt.Sprintf("child %d", i+1), asOf)
		}
		p["passengers"] = list
	} else if d.chance(30) {
		p["passengers"] = nil
	}
	d.ask(p, "pet_kg", 15, d.within(0, 40, 0.5))
	d.ask(p, "cargo_kg", 60, one(d, 0.0, d.within(1, 20, 0.1), d.within(1, 12, 0.001), d.within(10, 60, 0.5), 25, 25.001))
	d.ask(p, "cargo_litres", 40, one(d, 0.0, d.within(5, 60, 1), d.within(20, 200, 1)))
	d.ask(p, "home", 50, d.home())
	d.ask(p, "budget_cents", 50, d.within(150000, 800000, 100))
	d.ask(p, "budget_firm", 40, d.chance(50))
	d.ask(p, "years", 70, d.IntN(11))
	d.ask(p, "hill_percent", 60, one(d, 0.0, 8, 7.99, d.within(1, 25, 0.1)))
	return p
}

func (d dice) riders() []any {
	list := make([]any, one(d, 1, 1, 1, 2, 2, 3))
	for i := range list {
		height := one(d, d.within(146, 204, 0.5), d.within(165, 185, 0.5), d.within(165, 180, 0.1))
		r := document{"label": string(rune('A' + i)), "height_cm": height, "weight_kg": one(d, d.within(45, 115, 0.1), d.within(50, 80, 0.001), d.within(60, 75, 0.1))}
		d.ask(r, "inseam_cm", 45, math.Round(height*d.within(0.42, 0.53, 0.01)))
		d.ask(r, "weighed", 70, one(d, "dressed", "dressed", "undressed", "stated"))
		d.ask(r, "grip", 50, one(d, "full", "full", "reduced"))
		d.ask(r, "age_years", 20, d.IntN(60)+12)
		if i > 0 && d.chance(10) {
			r[one(d, "height_cm", "weight_kg")] = nil
		}
		list[i] = r
	}
	return list
}

// passenger is a child of mixed age, or now and then somebody grown.
func (d dice) passenger(label string, asOf time.Time) document {
	age := one(d, d.IntN(24), 11+d.IntN(3), 12+d.IntN(30), 12+d.IntN(70), 12+d.IntN(70), 12+d.IntN(100), 10+d.IntN(160))
	if d.chance(4) {
		age = 240 + d.IntN(500)
	}
	born := monthsOn(asOf, -age).AddDate(0, 0, one(d, 0, 0, -1, 1, -d.IntN(28)))
	if asOf.Before(born) {
		born = asOf
	}
	if d.chance(6) {
		return d.expected(label, asOf)
	}
	form := one(d, "2006-01", "2006-01", "2006-01-02")
	p := document{"label": label, "born": born.Format(form)}
	d.ask(p, "sex", 80, one(d, "girl", "boy", "unstated"))
	now := months(born, asOf)
	sex := one(d, "girl", "boy")
	scale := at("weight", sex, now).of(d.within(-2, 2, 0.1))
	d.ask(p, "weight_kg", 70, max(2.5, math.Round(scale*10)/10))
	d.ask(p, "stature_cm", 50, max(45, math.Round(at("stature", sex, now).of(d.within(-2, 2, 0.1))*10)/10))
	d.ask(p, "sits_unaided", 88, !d.chance(5))
	if age >= 200 {
		p["weight_kg"] = d.within(45, 90, 0.1)
	}
	if age < 14 && d.chance(60) || d.chance(6) {
		joins := monthsOn(asOf, one(d, 0, 1, 2, max(0, 12-age), max(0, 12-age), max(0, 13-age), d.IntN(20)))
		p["joins"] = joins.Format("2006-01")
	}
	if d.chance(4) {
		p["born"] = nil
		p["weight_kg"] = tidy(math.Round(scale*10)/10 + 2)
	}
	d.ask(p, "leaves_at_years", 25, one(d, 0, 6, 8, 10, 12))
	return p
}

// expected is a child who is born within two years.
func (d dice) expected(label string, asOf time.Time) document {
	ahead := 1 + d.IntN(24)
	born := monthsOn(asOf, ahead).AddDate(0, 0, -d.IntN(20))
	if !asOf.Before(born) {
		born = asOf.AddDate(0, 0, 1)
	}
	p := document{"label": label, "born": born.Format(one(d, "2006-01", "2006-01-02"))}
	d.ask(p, "sex", 80, one(d, "girl", "boy", "unstated"))
	d.ask(p, "leaves_at_years", 25, one(d, 0, 3, 6))
	if d.chance(30) {
		p["joins"] = monthsOn(lastOf(born), 12+d.IntN(12)).Format("2006-01")
	}
	return p
}

func (d dice) home() document {
	h := document{}
	d.ask(h, "length_cm", 75, one(d, d.within(120, 320, 0.5), d.within(190, 320, 0.1)))
	d.ask(h, "width_cm", 75, one(d, d.within(55, 190, 0.5), d.within(80, 190, 0.1)))
	d.ask(h, "height_cm", 60, one(d, d.within(100, 250, 1), d.within(180, 250, 1)))
	d.ask(h, "clearance_cm", 20, d.within(0, 20, 1))
	d.ask(h, "must_stand_upright", 12, d.chance(60))
	d.ask(h, "steps", 40, one(d, 0, 1, 3, 4, 12))
	if d.chance(50) {
		list := make([]any, 1+d.IntN(2))
		for i := range list {
			o := document{}
			d.ask(o, "width_cm", 90, one(d, d.within(58, 110, 0.5), d.within(75, 120, 0.1)))
			d.ask(o, "height_cm", 70, d.within(105, 220, 0.5))
			list[i] = o
		}
		h["doorways"] = list
	}
	if d.chance(30) {
		list := make([]any, 1+d.IntN(2))
		for i := range list {
			o := document{}
			d.ask(o, "in_cm", 92, d.within(85, 260, 0.1))
			d.ask(o, "out_cm", 92, d.within(85, 260, 0.1))
			list[i] = o
		}
		h["corners"] = list
	}
	if d.chance(15) {
		l := document{}
		d.ask(l, "length_cm", 85, d.within(110, 300, 1))
		d.ask(l, "width_cm", 85, d.within(70, 160, 1))
		d.ask(l, "height_cm", 60, d.within(110, 220, 1))
		d.ask(l, "door_cm", 80, d.within(60, 120, 1))
		h["lift"] = l
	}
	return h
}
