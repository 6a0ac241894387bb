package recheck

import (
	"encoding/json"
	"math"
	"slices"
	"strings"
)

// The reasons that follow from the documents and the build, each by its rule.

func (r *recheck) ofRiders() {
	f := r.frame
	for _, p := range r.profile.Riders {
		if p.Height.given {
			r.height(p.Label, p.Height.value)
		}
		if p.Inseam.given {
			r.edge("standover", float64(p.Inseam.value-f.Standover-20), 1)
			if want := f.Standover + 20; f.Standover > 0 && p.Inseam.value < want {
				r.add(reason{Code: "standover", Weight: "care", Rider: p.Label, OverSize: want - p.Inseam.value})
			}
			saddle := float64(p.Inseam.value) * 883 / 1000
			if low := float64(f.SaddleMin); f.SaddleMin > 0 && saddle < low {
				r.add(reason{Code: "saddle_range", Weight: "care", Rider: p.Label, OverSize: millimetres(up(low - saddle))})
			} else if high := float64(f.SaddleMax); f.SaddleMax > 0 && saddle > high {
				r.add(reason{Code: "saddle_range", Weight: "care", Rider: p.Label, OverSize: millimetres(up(saddle - high))})
			}
		}
		hard := func(brake string) bool { return strings.Contains(brake, "cable") || strings.Contains(brake, "rim") }
		switch {
		case p.Grip.value != "reduced":
		case hard(f.FrontBrake) || hard(f.RearBrake):
			r.add(reason{Code: "grip", Weight: "care", Rider: p.Label})
		case f.FrontBrake != "" || f.RearBrake != "":
			r.add(reason{Code: "grip", Weight: "note", Rider: p.Label})
		}
	}
	for _, w := range r.riders {
		r.edge("rider weight", float64(w.riding-f.RiderKg), 1)
		if f.RiderKg > 0 && w.riding > f.RiderKg {
			r.add(reason{Code: "rider_weight", Weight: "stop", Rider: w.label, Over: w.riding - f.RiderKg})
		}
		if w.allowanceAdded {
			r.estimated = true
			r.add(reason{Code: "weight_estimated", Weight: "note", Rider: w.label})
		}
	}
}

func (r *recheck) height(label string, tall millimetres) {
	above, under := tall-r.frame.RiderMin, r.frame.RiderMax-tall
	r.edge("height rounding", float64(max(-above, -under)-5), 1)
	r.edge("height margin", float64(min(above, under)-20), 1)
	of := reason{Code: "rider_height", Weight: "care", Rider: label}
	switch {
	case above < 0 || under < 0:
		of.OverSize = max(-above, -under)
		if of.OverSize > 5 {
			of.Weight = "stop"
		}
	case above <= 20:
		of.Slack = above
	case under <= 20:
		of.Slack = under
	default:
		return
	}
	r.add(of)
}

func (r *recheck) ofPassengers() {
	for i := range r.profile.Passengers.value {
		p := &r.profile.Passengers.value[i]
		st := p.on(r.asOf, r.asOf)
		if !st.present {
			continue
		}
		on := r.asOf
		joins, later := p.joins(r.asOf)
		if later = later && on.Before(joins); later {
			on = joins
		}
		days, known := p.birth()
		if known {
			r.edge("first birthday", on.Sub(monthsOn(days[1], 12)).Hours()/24, 1)
			r.edge("second birthday", on.Sub(monthsOn(days[1], 24)).Hours()/24, 1)
		}
		infant := known && on.Before(monthsOn(days[1], 12))
		switch {
		case infant:
			r.add(reason{Code: "infant", Weight: "stop", Passenger: p.Label, Day: monthsOn(days[1], 12).Format("2006-01-02")})
		case later:
			r.add(reason{Code: "joins_later", Weight: "care", Passenger: p.Label, Day: joins.Format("2006-01-02")})
		}
		if !known {
			r.add(reason{Code: "age_unknown", Weight: "care", Passenger: p.Label})
		}
		young := !known || on.Before(monthsOn(days[1], 24))
		switch {
		case p.Sits.given && !p.Sits.value && !later:
			r.add(reason{Code: "not_sitting", Weight: "stop", Passenger: p.Label})
		case p.Sits.given && !p.Sits.value, !p.Sits.given && young:
			r.add(reason{Code: "not_sitting", Weight: "care", Passenger: p.Label})
		}
		if st.estimated {
			r.estimated = true
			of := reason{Code: "weight_estimated", Weight: "note", Passenger: p.Label}
			if known && r.asOf.Before(days[0]) { // to be born
				of.Day = joins.Format("2006-01-02")
			}
			r.add(of)
		}
		if st.outside {
			r.add(reason{Code: "beyond_reference", Weight: "note", Passenger: p.Label})
		}
	}
}

// ofLoad is what the loads ask for: the guideline, the balance, the stand.
func (r *recheck) ofLoad() {
	for _, w := range r.riders {
		r.edge("carry guideline", float64(100*r.sums.carried-80*w.own), 80)
		r.edge("gross rating", float64(r.sums.whole+w.riding-r.frame.Gross), 1)
		if 100*r.sums.carried > 80*w.own {
			r.add(reason{Code: "carry_guideline", Weight: "care", Rider: w.label, Over: r.sums.carried - w.own*80/100})
		}
		if !r.frame.statesAxles() {
			continue
		}
		a := r.frame.axles(r.all, w.riding)
		front := float64(a.front)/float64(a.scale) - float64(a.off)
		r.edge("front share", front-0.2*float64(r.sums.whole+w.riding), 4)
		if front >= 0 && 100*front < 20*float64(r.sums.whole+w.riding) {
			r.add(reason{Code: "front_light", Weight: "care", Rider: w.label, Axle: "front"})
		}
	}
	d := r.sums.left - r.sums.right
	r.edge("sides", float64(max(d, -d)-5*kg), 1)
	if max(d, -d) > 5*kg {
		r.add(reason{Code: "side_load", Weight: "care", Over: max(d, -d)})
	}
	for _, code := range r.list {
		a := r.addOn(code)
		r.edge("stand", float64(r.sums.whole-a.StandMax), 1)
		if slices.Contains(a.Provides, "two_leg_stand") && a.StandMax > 0 && r.sums.whole > a.StandMax {
			r.add(reason{Code: "stand_rating", Weight: "care", AddOn: code, Over: r.sums.whole - a.StandMax})
		}
	}
}

// ofMargin looks at the first limit where a weight is estimated. A stand that
// bears too little has a reason of its own.
func (r *recheck) ofMargin() {
	if !r.estimated {
		return
	}
	for _, l := range r.match.Limits {
		if l.Spare < 0 {
			continue
		}
		r.edge("estimate margin", float64(l.Spare-5*kg), 1)
		if l.Spare < 5*kg {
			r.add(reason{Code: "estimate_margin", Weight: "care", Rating: l.Rating, Spare: l.Spare})
		}
		return
	}
}

// ofRoad is the hill and what stops the bike.
func (r *recheck) ofRoad() {
	f, heaviest := r.frame, grams(0)
	for _, w := range r.riders {
		total := r.sums.whole + w.riding
		heaviest = max(heaviest, total)
		if hill := r.profile.Hill; hill.value > 0 {
			v := f.climb(total, w.own, hill.value)
			r.edge("hill speed", v-4000, 25)
			if math.Abs(v-4000) < 3 {
				r.vague = true
			}
			if v < 4000 {
				r.add(reason{Code: "hill", Weight: "care", Rider: w.label, Speed: int64(v)})
			}
		}
	}
	stated := slices.DeleteFunc([]string{f.FrontBrake, f.RearBrake}, func(b string) bool { return b == "" })
	if len(stated) == 0 || slices.ContainsFunc(stated, func(b string) bool { return !weakBrake(b) }) {
		return
	}
	r.edge("brake mass", float64(heaviest-150*kg), 1)
	if r.seatedCount() > 0 {
		r.edge("brake hill", math.Round(100*float64(r.profile.Hill.value))-800, 1)
	}
	switch {
	case heaviest > 150*kg:
		r.add(reason{Code: "brakes", Weight: "care", Over: heaviest - 150*kg})
	case r.seatedCount() > 0 && r.profile.Hill.value >= 8:
		r.add(reason{Code: "brakes", Weight: "care"})
	}
}

// ofMoneyAndHome is the budget, the slack at home, the steps and the wheels.
func (r *recheck) ofMoneyAndHome() {
	f := r.frame
	tightest, constrained := r.parking()
	if constrained {
		r.edge("slack", tightest.slack-50, 1)
		r.edge("home", tightest.slack, 1)
	}
	if r.match.Parking != nil && r.match.Parking.Fits && constrained && tightest.slack < 50 {
		r.add(reason{Code: "storage_slack", Weight: "care", Part: tightest.name, Slack: millimetres(tightest.slack)})
	}
	if r.profile.Home.value.Steps.value > 3 {
		r.edge("steps mass", float64(f.Bare+r.match.Build.Weight-25*kg), 1)
	}
	if r.profile.Home.value.Steps.value > 3 && f.Bare+r.match.Build.Weight > 25*kg {
		r.add(reason{Code: "steps", Weight: "care"})
	}
	r.edge("budget", float64(r.match.Total-r.profile.Budget.value), 1)
	if budget := r.profile.Budget; budget.given && r.match.Total > budget.value {
		weight := "care"
		if r.profile.Firm.value {
			weight = "stop"
		}
		r.add(reason{Code: "budget", Weight: weight, OverPrice: r.match.Total - budget.value})
	}
	small := func(text string) bool {
		_, bead := tyre(text)
		return bead > 0 && bead < 559
	}
	if f.OddWheel && (small(f.FrontTyre) || small(f.RearTyre)) {
		r.add(reason{Code: "odd_wheel", Weight: "note"})
	}
}

// ofSilence is what the maker does not state.
func (r *recheck) ofSilence() {
	f := r.frame
	missing := func(is bool, leans bool, field, addOn string) {
		if weight := "note"; is {
			if leans {
				weight = "care"
			}
			if addOn != "" {
				field = addOn + "." + field
			}
			r.add(reason{Code: "spec_missing", Weight: weight, Field: field})
		}
	}
	heavy, inseam, reduced := false, false, false
	for _, w := range r.riders {
		r.edge("heavy rider", float64(w.riding-110*kg), 1)
		heavy = heavy || w.riding > 110*kg
	}
	for _, p := range r.profile.Riders {
		inseam, reduced = inseam || p.Inseam.given, reduced || p.Grip.value == "reduced"
	}
	seated := r.seatedCount() > 0
	missing(f.RiderKg == 0 && len(r.riders) > 0, heavy, "rider_max_kg", "")
	missing(f.Standover == 0 && inseam, false, "standover_cm", "")
	missing((f.SaddleMin == 0 || f.SaddleMax == 0) && inseam, false, "saddle_min_cm", "")
	missing((f.FrontBrake == "" || f.RearBrake == "") && reduced, false, "front_brake", "")
	missing(f.Seats == 0 && seated, true, "passengers_max", "")
	r.edge("heavy cargo", float64(r.sums.cargo-25*kg), 1)
	axles := seated || r.sums.cargo > 25*kg
	missing(f.FrontMax == 0, axles, "front_axle_max_kg", "")
	missing(f.RearMax == 0, axles, "rear_axle_max_kg", "")
	missing(f.Wheelbase == 0, axles, "wheelbase_cm", "")
	missing(f.Rider == 0, axles, "rider_ahead_of_rear_axle_cm", "")
	missing(f.FrontShare == 0, axles, "bare_front_share", "")
	for i, z := range f.Zones {
		leans := slices.ContainsFunc(r.all, func(t thing) bool {
			switch {
			case t.zone != i:
				return false
			case t.kind == "pet" || t.kind == "cargo":
				a := r.addOn(t.code)
				return a != nil && a.MaxLoad == 0
			}
			return t.kind == "passenger"
		})
		missing(z.Rating == 0 && r.sums.zones[i] > 0, leans, "zones["+digits(i)+"].rating_kg", "")
	}
	for _, s := range r.match.Build.Seating {
		if pl, _ := r.placeOf(s); pl != nil {
			missing(pl.MinMonths == 0, true, "places["+digits(s.Place)+"].min_months", s.AddOn)
			missing(pl.MaxMass == 0, true, "places["+digits(s.Place)+"].max_kg", s.AddOn)
		}
	}
}

// ofSources is what nobody noted the source of: the rating of the whole, of each
// zone, what each add-on carries, and each limit of a place. A limit that is
// within a tenth of itself from what comes under it is leaned on, whether it is
// the most or the least.
func (r *recheck) ofSources() {
	f := r.frame
	missing := func(noted []source, figure, field string, left, limit int64) {
		if limit <= 0 || slices.Contains(noted, source{figure}) {
			return
		}
		weight := "note"
		if 10*left <= limit {
			weight = "care"
		}
		r.add(reason{Code: "source_missing", Weight: weight, Field: field})
	}
	rated := func(noted []source, figure, field string, mass, most grams) {
		if mass > 0 {
			r.edge("a tenth", float64(mass)-0.9*float64(most), 1)
			missing(noted, figure, field, int64(most-mass), int64(most))
		}
	}
	if len(r.riders) > 0 {
		rated(f.Evidence, "gross_rating_kg", "gross_rating_kg", r.sums.whole+r.heaviest(), f.Gross)
	}
	for i, z := range f.Zones {
		rated(f.Evidence, "zones["+z.Code+"].rating_kg", "zones["+digits(i)+"].rating_kg", r.sums.zones[i], z.Rating)
	}
	heaviest := map[string]limit{}
	r.ofAddOns(func(l limit) {
		if l.Most-l.Mass < heaviest[l.Rating].Most-heaviest[l.Rating].Mass || heaviest[l.Rating].Most == 0 {
			heaviest[l.Rating] = l
		}
	})
	for rating, l := range heaviest {
		code, figure := strings.TrimPrefix(rating, "add_on:"), "max_load_kg"
		var pair map[string]any
		if json.Unmarshal(r.addOn(code).OnFrame[f.Code], &pair) == nil && pair["max_load_kg"] != nil {
			figure = "on_frame." + f.Code
		}
		rated(r.addOn(code).Evidence, figure, code+"."+figure, l.Mass, l.Most)
	}
	for _, t := range r.all {
		if t.kind == "pet" && t.code != "" {
			rated(r.addOn(t.code).Evidence, "pet_kg", t.code+".pet_kg", t.mass, r.addOn(t.code).Pet)
		}
	}
	for _, s := range r.match.Build.Seating {
		pl, _ := r.placeOf(s)
		if pl == nil {
			continue
		}
		noted, place, owner := f.Evidence, "places["+digits(s.Place)+"].", ""
		if s.AddOn != "" {
			noted, owner = r.addOn(s.AddOn).Evidence, s.AddOn+"."
		}
		who := r.passenger(s.Passenger).on(r.asOf, r.asOf)
		if pl.MaxMonths > 0 && !who.ageless {
			r.edge("a tenth of an age", float64(pl.MaxMonths-who.old*10/9), 1)
		}
		for figure, of := range map[string][2]int64{
			"min_months":     {int64(who.young - pl.MinMonths), int64(pl.MinMonths)},
			"max_months":     {int64(pl.MaxMonths - who.old), int64(pl.MaxMonths)},
			"min_kg":         {int64(down(who.light) - pl.MinMass), int64(pl.MinMass)},
			"max_kg":         {int64(pl.MaxMass - up(who.load)), int64(pl.MaxMass)},
			"max_stature_cm": {int64(pl.MaxStature - millimetres(up(who.tall))), int64(pl.MaxStature)},
		} {
			missing(noted, place+figure, owner+place+figure, of[0], of[1])
		}
	}
}

// ofTime is how long it lasts.
func (r *recheck) ofTime() {
	if r.match.Horizon == nil || r.stops() > 0 {
		return
	}
	left := monthsBetween(r.asOf, dayOf(*r.match.Horizon))
	r.edge("outgrown soon", float64(left-6), 1)
	r.edge("outgrown before", float64(left+1-12*r.profile.Years.value), 1)
	if left < 6 {
		r.add(reason{Code: "outgrown_soon", Weight: "care", Month: *r.match.Horizon})
	}
	if left+1 < 12*r.profile.Years.value {
		r.add(reason{Code: "outgrown_before", Weight: "note", Month: *r.match.Horizon})
	}
}

// searched are the stops that a search finds: that no build holds is not
// worked out again here.
var searched = []string{"gross_rating", "zone_rating", "combined_rating", "axle_rating", "front_light", "add_on_rating", "passengers_max", "place_missing",
	"place_limits", "pet_place", "cargo_weight", "cargo_volume", "storage_space", "storage_way", "upright"}

var rank = []string{"stop", "care", "note"}

// compareReasons holds what is said against what follows.
func (r *recheck) compareReasons() {
	last := 0
	want := slices.Clone(r.reasons)
	for _, said := range r.match.Reasons {
		if now := slices.Index(rank, said.Weight); now < last {
			r.complain("%s stands behind a lighter one", said.Code)
		} else {
			last = now
		}
		if said.Text == "" || strings.Contains(said.Text, "%!") {
			r.complain("%s says %q", said.Code, said.Text)
		}
		if slices.Contains(searched, said.Code) && said.Weight == "stop" {
			r.searched = append(r.searched, said)
			continue
		}
		i := slices.IndexFunc(want, func(w reason) bool {
			w.Text = said.Text
			if d := w.Speed - said.Speed; max(d, -d) <= 2 {
				w.Speed = said.Speed
			}
			return w == said
		})
		if i < 0 && r.untoldIn(said) {
			continue
		}
		if i < 0 {
			r.complain("said and not so: %+v", said)
			continue
		}
		want = slices.Delete(want, i, i+1)
	}
	for _, w := range slices.DeleteFunc(want, r.untoldIn) {
		r.complain("so and not said: %+v", w)
	}
}
