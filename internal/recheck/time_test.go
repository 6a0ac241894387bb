package recheck

import (
	"slices"
	"strings"
	"time"
)

// How long a build lasts, month by month.

// playing is what a weight may be off by where percentiles of seven digits
// stand for L, M and S, and whole grams for parts of them.
const playing = grams(2)

// monthEnd is the last day of the nth month from that of the profile.
func (r *recheck) monthEnd(n int) time.Time {
	return lastOf(monthsOn(r.asOf.AddDate(0, 0, 1-r.asOf.Day()), n))
}

// lasts compares the horizon and what gives out.
func (r *recheck) lasts() {
	said := r.match.Horizon
	if r.stops() > 0 || r.match.Verdict == "not_judged" {
		if said != nil || r.match.GivesOut != nil {
			r.complain("a horizon of a frame that does not fit")
		}
		return
	}
	if (said == nil) != (r.match.GivesOut == nil) {
		r.complain("a horizon without what gives out")
	}
	fails := 121
	if said != nil {
		fails = monthsBetween(r.asOf, dayOf(*said)) + 1
	}
	for n := range min(fails, 121) {
		if !r.holds(r.monthEnd(n), "", -playing) {
			r.complain("fails by the end of month %d already, horizon %s", n, text(said))
			return
		}
	}
	if said == nil {
		return
	}
	if r.holds(r.monthEnd(fails), "", playing) {
		r.complain("still holds a month after the horizon %s by %s: %+v", *said, *r.match.GivesOut, r.match.Build)
		return
	}
	r.givesOut(r.monthEnd(fails), *r.match.GivesOut)
}

func text(s *string) string {
	if s == nil {
		return "none"
	}
	return *s
}

// ruleOrder is the order in which rules are narrowed down.
var ruleOrder = []string{"gross_rating", "zone_rating", "combined_rating", "axle_rating", "front_light", "add_on_rating", "passengers_max", "place_limits"}

// givesOut checks that the rule that is named is the first without which the
// build would still hold.
func (r *recheck) givesOut(day time.Time, said string) {
	rule, about, _ := strings.Cut(said, ":")
	if strings.HasPrefix(rule, "place_") && rule != "place_missing" {
		r.outgrown(day, rule, about)
		rule = "place_limits"
	}
	for _, one := range ruleOrder {
		if one == rule {
			if !r.holds(day, one, -playing) {
				r.complain("it does not hold without %s either", said)
			}
			return
		}
		if r.holds(day, one, playing) {
			r.complain("%s gives out first, not %s", one, said)
			return
		}
	}
}

// outgrown checks that the limit named is passed in a place of that add-on, as
// everyone sits today.
func (r *recheck) outgrown(day time.Time, rule, about string) {
	if rule == "place_limits" {
		return // nobody's place in particular
	}
	if !slices.ContainsFunc(r.match.Build.Seating, func(s seat) bool {
		pl, _ := r.placeOf(s)
		st := r.passenger(s.Passenger).on(r.asOf, day)
		if pl == nil || s.AddOn != about || !st.present {
			return false
		}
		switch rule {
		case "place_weight":
			return pl.MaxMass > 0 && up(st.load)+playing > pl.MaxMass
		case "place_age":
			return pl.MaxMonths > 0 && st.old > pl.MaxMonths
		}
		return pl.MaxStature > 0 && millimetres(up(st.tall)+1) > pl.MaxStature
	}) {
		r.complain("nobody passes %s of %q", rule, about)
	}
}

// longer checks the build that is said to last longer: what it costs more, and
// for how long it holds.
func (r *recheck) longer() {
	l := r.match.Longer
	if l == nil {
		return
	}
	other := *r.match
	other.Build.AddOns, other.Build.TakenOff, other.Build.Seating, other.Build.Cargo, other.Build.Pet = l.AddOns, l.TakenOff, nil, nil, ""
	o := &recheck{catalogue: r.catalogue, profile: r.profile, frame: r.frame, match: &other, asOf: r.asOf}
	o.together(o.heres())
	price, labour, _ := o.costs()
	if price+labour-r.match.Build.Price-r.match.Build.Labour != l.More {
		r.complain("longer for %d more, but %d", l.More, price+labour-r.match.Build.Price-r.match.Build.Labour)
	}
	fails := 121
	if l.Horizon != nil {
		fails = monthsBetween(r.asOf, dayOf(*l.Horizon)) + 1
		if *l.Horizon <= *r.match.Horizon {
			r.complain("%s is no longer than %s", *l.Horizon, *r.match.Horizon)
		}
		if o.holds(o.monthEnd(fails), "", playing) {
			r.complain("what lasts longer lasts longer than %s", *l.Horizon)
		}
	}
	for n := range min(fails, 121) {
		if !o.holds(o.monthEnd(n), "", -playing) {
			r.complain("what lasts longer fails by the end of month %d", n)
			return
		}
	}
	r.complaints = append(r.complaints, o.complaints...)
}
