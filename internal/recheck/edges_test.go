package recheck

import (
	"math"
	"slices"
	"testing"
)

// Answers at an edge: what was told is moved to just under, on, and just over
// each figure of the shop's settings, and asked about again.

// edges are those of the settings, and of what the maker states.
var edges = []string{"height rounding", "height margin", "standover", "rider weight", "gross rating", "carry guideline", "estimate margin", "front share",
	"sides", "stand", "hill speed", "brake mass", "brake hill", "heavy rider", "heavy cargo", "steps mass", "slack", "budget", "outgrown soon",
	"outgrown before", "first birthday", "second birthday", "a tenth", "a tenth of an age"}

// mover changes documents so that a figure comes to lie at an edge, off by so
// many units. It is false where there is no such figure.
type mover func(d dice, r *recheck, shop, person document, off float64) bool

func frameOf(shop document, code string) document {
	list := listOf(shop, "frames")
	return list[slices.IndexFunc(list, func(f document) bool { return f["code"] == code })]
}

func byCode(shop document, code string) document {
	for _, a := range listOf(shop, "add_ons") {
		if a["code"] == code {
			return a
		}
	}
	return nil
}

func inKilograms(g grams, off float64) float64 { return tidy(float64(g)/1000 + off/1000) }

// byFrame moves a figure of the frame.
func byFrame(name string, figure func(d dice, r *recheck) float64, unit float64) mover {
	return func(d dice, r *recheck, shop, _ document, off float64) bool {
		to := figure(d, r)
		if to <= 0 {
			return false
		}
		frameOf(shop, r.match.Frame)[name] = tidy(to + off*unit)
		return true
	}
}

// byRider moves a figure of the first rider.
func byRider(name string, figure func(d dice, r *recheck) float64, unit float64) mover {
	return func(d dice, r *recheck, _, person document, off float64) bool {
		to := figure(d, r)
		if to <= 0 {
			return false
		}
		listOf(person, "riders")[0][name] = tidy(to + off*unit)
		return true
	}
}

func byPerson(name string, figure func(d dice, r *recheck) float64, unit float64) mover {
	return func(d dice, r *recheck, _, person document, off float64) bool {
		to := figure(d, r)
		if to <= 0 {
			return false
		}
		person[name] = tidy(to + off*unit)
		return true
	}
}

func (r *recheck) heaviest() grams {
	most := grams(0)
	for _, w := range r.riders {
		most = max(most, w.riding)
	}
	return most
}

func kilos(g grams) float64 { return float64(g) / 1000 }

// movers bring a figure to each edge. All are in the unit of the document.
var movers = map[string]mover{
	"height_rounding": byRider("height_cm", func(d dice, r *recheck) float64 {
		return one(d, float64(r.frame.RiderMin-5)/10, float64(r.frame.RiderMax+5)/10)
	}, 0.1),
	"height_margin": byRider("height_cm", func(d dice, r *recheck) float64 {
		return one(d, float64(r.frame.RiderMin+20)/10, float64(r.frame.RiderMax-20)/10)
	}, 0.1),
	"height_end": byRider("height_cm", func(d dice, r *recheck) float64 {
		return one(d, float64(r.frame.RiderMin)/10, float64(r.frame.RiderMax)/10)
	}, 0.1),
	"standover": byFrame("standover_cm", func(d dice, r *recheck) float64 {
		return float64(r.profile.Riders[0].Inseam.value-20) / 10
	}, 0.1),
	"rider_weight": byFrame("rider_max_kg", func(d dice, r *recheck) float64 { return kilos(r.heaviest()) }, 0.001),
	"gross":        byFrame("gross_rating_kg", func(d dice, r *recheck) float64 { return kilos(r.sums.whole + r.heaviest()) }, 0.001),
	"estimate_margin": byFrame("gross_rating_kg", func(d dice, r *recheck) float64 {
		return kilos(r.sums.whole + r.heaviest() + 5*kg)
	}, 0.001),
	"tenth": func(d dice, r *recheck, shop, _ document, off float64) bool {
		f := frameOf(shop, r.match.Frame)
		delete(f, "evidence")
		f["gross_rating_kg"] = tidy(math.Round(float64(r.sums.whole+r.heaviest())/0.9)/1000 - off/1000)
		return len(r.riders) > 0
	},
	"tenth_of_age": func(d dice, r *recheck, shop, _ document, off float64) bool {
		for _, s := range r.match.Build.Seating {
			if a := byCode(shop, s.AddOn); a != nil && r.profile.Passengers.value != nil {
				who := r.passenger(s.Passenger).on(r.asOf, r.asOf)
				delete(a, "evidence")
				listOf(a, "places")[s.Place]["max_months"] = float64(who.old*10/9) + off
				return !who.ageless && who.old > 20
			}
		}
		return false
	},
	"front_axle": byFrame("front_axle_max_kg", func(d dice, r *recheck) float64 { return r.axle(0) }, 0.001),
	"rear_axle":  byFrame("rear_axle_max_kg", func(d dice, r *recheck) float64 { return r.axle(1) }, 0.001),
	"brake_mass": func(d dice, r *recheck, shop, person document, off float64) bool {
		f := frameOf(shop, r.match.Frame)
		f["bare_weight_kg"] = kilos(r.frame.Bare+150*kg-r.sums.whole-r.heaviest()) + off/1000
		f["front_brake"], f["rear_brake"] = one(d, "cable_rim", "cable_disc", "hydraulic_rim", ""), one(d, "coaster", "cable_disc")
		return true
	},
	"brake_hill": func(d dice, r *recheck, shop, person document, off float64) bool {
		f := frameOf(shop, r.match.Frame)
		f["front_brake"], f["rear_brake"] = one(d, "cable_rim", "cable_disc", ""), "coaster"
		person["hill_percent"] = 8 + off/100
		return len(r.match.Build.Seating) > 0
	},
	"hill_speed": byPerson("hill_percent", func(d dice, r *recheck) float64 {
		if len(r.riders) == 0 {
			return 0
		}
		w := one(d, r.riders...)
		hill := root(func(hill float64) float64 { return 4000 - r.frame.climb(r.sums.whole+w.riding, w.own, percent(hill)) })
		return math.Round(hill*100) / 100
	}, 0.01),
	"carry": byRider("weight_kg", func(d dice, r *recheck) float64 { return kilos(r.sums.carried) / 0.8 }, 0.001),
	"heavy_rider": func(d dice, r *recheck, shop, person document, off float64) bool {
		delete(frameOf(shop, r.match.Frame), "rider_max_kg")
		rider, added := listOf(person, "riders")[0], 6.0
		switch rider["weighed"] {
		case "dressed":
			added = 0
		case "undressed":
			added = 4
		}
		rider["weight_kg"] = tidy(110 - added + off/1000)
		return len(r.riders) == 1
	},
	"heavy_cargo": func(d dice, r *recheck, shop, person document, off float64) bool {
		person["cargo_kg"] = tidy(25 + off/1000)
		delete(frameOf(shop, r.match.Frame), one(d, "front_axle_max_kg", "rear_axle_max_kg", "wheelbase_cm"))
		return len(r.match.Build.Seating) == 0
	},
	"steps_mass": func(d dice, r *recheck, shop, person document, off float64) bool {
		frameOf(shop, r.match.Frame)["bare_weight_kg"] = kilos(25*kg-r.match.Build.Weight) + off/1000
		if homeOf(person) == nil {
			person["home"] = document{}
		}
		homeOf(person)["steps"] = one(d, 3, 4, 4, 4)
		return true
	},
	"budget": byPerson("budget_cents", func(d dice, r *recheck) float64 { return float64(r.match.Total) }, 1),
	"slack": func(d dice, r *recheck, _, person document, off float64) bool {
		p := r.match.Parking
		if p == nil || p.Tightest == "" {
			return false
		}
		by := (50 + off - float64(p.Slack)) / 10
		h := homeOf(person)
		switch {
		case p.Tightest == "space":
			grow(h, spaceNames, by)
		case p.Tightest == "lift":
			grow(h["lift"].(document), liftNames, by)
		case p.Tightest[0] == 'd':
			grow(listOf(h, "doorways")[int(p.Tightest[9]-'0')], []string{"width_cm", "height_cm"}, by)
		default:
			grow(listOf(h, "corners")[int(p.Tightest[8]-'0')], legNames, by)
		}
		return true
	},
	"side": func(d dice, r *recheck, shop, person document, off float64) bool {
		if len(r.match.Build.Cargo) != 1 {
			return false
		}
		c := r.match.Build.Cargo[0]
		for _, z := range listOf(frameOf(shop, r.match.Frame), "zones") {
			z["side"] = "centre"
			if z["code"] == c.Zone {
				z["side"] = one(d, "left", "right")
			}
		}
		rest := 5*kg - (r.sums.zones[r.frame.zone(c.Zone)] - c.Mass)
		person["cargo_kg"] = inKilograms(rest, off)
		return rest > 0
	},
	"stand": func(d dice, r *recheck, shop, _ document, off float64) bool {
		for _, code := range r.list {
			if slices.Contains(r.addOn(code).Provides, "two_leg_stand") {
				byCode(shop, code)["stand_max_kg"] = kilos(r.sums.whole) + off/1000
				return true
			}
		}
		return false
	},
	"front_share": func(d dice, r *recheck, shop, _ document, off float64) bool {
		if !r.frame.statesAxles() || len(r.riders) == 0 {
			return false
		}
		w := one(d, r.riders...)
		a := r.frame.axles(r.all, w.riding)
		missing := 0.2*float64(r.sums.whole+w.riding) - float64(a.front)/float64(a.scale)
		share := r.frame.FrontShare + missing/float64(r.frame.Bare)
		frameOf(shop, r.match.Frame)["bare_front_share"] = math.Round(share*10000+off) / 10000
		return share > 0.01 && share < 0.99
	},
	"outgrown_soon": func(d dice, r *recheck, _, person document, off float64) bool {
		if r.match.Horizon == nil {
			return false
		}
		day := monthsOn(dayOf(*r.match.Horizon), -6-int(off)).AddDate(0, 0, d.IntN(28))
		person["as_of"] = day.Format("2006-01-02")
		return true
	},
	"years": func(d dice, r *recheck, _, person document, off float64) bool {
		if r.match.Horizon == nil {
			return false
		}
		left := monthsBetween(r.asOf, dayOf(*r.match.Horizon)) + 1
		person["as_of"] = monthsOn(r.asOf.AddDate(0, 0, 1-r.asOf.Day()), left%12+int(off)).Format("2006-01-02")
		person["years"] = left / 12
		return left >= 12
	},
	"birthday": func(d dice, r *recheck, _, person document, off float64) bool {
		for i, p := range listOf(person, "passengers") {
			if born, known := r.profile.Passengers.value[i].birth(); known {
				person["as_of"] = monthsOn(born[1], one(d, 12, 24)).AddDate(0, 0, int(off)).Format("2006-01-02")
				delete(p, one(d, "joins", "sits_unaided"))
				return true
			}
		}
		return false
	},
	"place_weight": func(d dice, r *recheck, shop, _ document, off float64) bool {
		for _, s := range r.match.Build.Seating {
			if a := byCode(shop, s.AddOn); a != nil {
				listOf(a, "places")[s.Place]["max_kg"] = inKilograms(up(r.passenger(s.Passenger).on(r.asOf, r.asOf).load), off)
				return true
			}
		}
		return false
	},
	"zone": func(d dice, r *recheck, shop, _ document, off float64) bool {
		i := d.IntN(len(r.frame.Zones))
		listOf(frameOf(shop, r.match.Frame), "zones")[i]["rating_kg"] = inKilograms(r.sums.zones[i], off)
		return r.sums.zones[i] > kg
	},
}

func (r *recheck) axle(i int) float64 {
	if !r.frame.statesAxles() || len(r.match.Loads) == 0 || r.match.Loads[0].Front == nil {
		return 0
	}
	most := grams(0)
	for _, s := range r.match.Loads {
		most = max(most, []grams{*s.Front, *s.Rear}[i])
	}
	return kilos(most)
}

// toEdge moves one figure of a match to an edge and asks again; nil where it
// cannot be.
func (a *asked) toEdge(t *testing.T, d dice, name string, off float64) *asked {
	t.Helper()
	tries := slices.Clone(a.checked)
	d.Shuffle(len(tries), func(i, j int) { tries[i], tries[j] = tries[j], tries[i] })
	slices.SortStableFunc(tries, func(x, y *recheck) int { // what fits has more edges
		return slices.Index(verdicts, x.match.Verdict) - slices.Index(verdicts, y.match.Verdict)
	})
	for _, m := range tries {
		shop, person := cloned(a.wares), cloned(a.who)
		if movers[name](d, m, shop, person, off) {
			return answerTo(t, shop, person, false)
		}
	}
	return nil
}
