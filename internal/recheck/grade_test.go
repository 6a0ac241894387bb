package recheck

import (
	"math"
	"slices"
)

// ends says where a criterion counts nothing, where all, and how much.
var ends = []struct {
	code              string
	zero, one, weight float64
}{
	{"load_headroom", 0, 0.25, 3}, {"hill", 3000, 9000, 1}, {"carry_share", 1, 0.4, 2}, {"horizon", 0, 1, 3},
	{"rider_height", 0, 0.6, 2}, {"storage_slack", 0, 200, 1}, {"price", 1.2, 0.6, 2}, {"handling_mass", 60, 18, 1},
}

// grade compares verdict, criteria and score.
func (r *recheck) grade() {
	care := slices.ContainsFunc(r.match.Reasons, func(s reason) bool { return s.Weight == "care" })
	want := "fits"
	switch {
	case r.stops() > 0:
		want = "does_not_fit"
	case care || len(r.match.Open) > 0:
		want = "fits_with_care"
	}
	if r.match.Verdict != want {
		r.complain("verdict %s, but %s", r.match.Verdict, want)
	}
	if want == "does_not_fit" {
		if r.match.Score != nil || len(r.match.Criteria) > 0 {
			r.complain("a score of a frame that does not fit")
		}
		return
	}
	sum, weights, i := 0.0, 0.0, 0
	for _, e := range ends {
		figure, asked := r.figure(e.code)
		if !asked {
			continue
		}
		value := min(max((figure-e.zero)/(e.one-e.zero), 0), 1)
		sum, weights = sum+value*e.weight, weights+e.weight
		off := 0.00006
		if e.code == "hill" {
			off = 0.0004 // two metres an hour
		}
		if i >= len(r.match.Criteria) || r.match.Criteria[i].Code != e.code || r.match.Criteria[i].Weight != e.weight || math.Abs(r.match.Criteria[i].Value-value) > off {
			r.complain("criterion %s of %v is not the next in %+v", e.code, value, r.match.Criteria)
			return
		}
		i++
	}
	if i != len(r.match.Criteria) {
		r.complain("%d criteria, but %d", len(r.match.Criteria), i)
	}
	r.score = 100 * sum / weights
	if r.match.Score == nil || math.Abs(*r.match.Score-r.score) > 0.06 {
		r.complain("score %v, but %v", r.match.Score, r.score)
	}
}

// figure is what a criterion measures, and whether the profile asks for it.
func (r *recheck) figure(code string) (float64, bool) {
	f, p := r.frame, r.profile
	handling := float64(f.Bare + r.match.Build.Weight)
	switch code {
	case "load_headroom":
		return r.headroom(), len(r.riders) > 0
	case "hill":
		worst := math.Inf(1)
		for _, w := range r.riders {
			worst = min(worst, f.climb(r.sums.whole+w.riding, w.own, p.Hill.value))
		}
		return worst, p.Hill.value > 0 && len(r.riders) > 0
	case "carry_share":
		worst := 0.0
		for _, w := range r.riders {
			worst = max(worst, float64(r.sums.carried)/float64(w.own))
		}
		return worst, r.sums.carried > 0 && len(r.riders) > 0
	case "horizon":
		lasts := 120
		if r.match.Horizon != nil {
			lasts = monthsBetween(r.asOf, dayOf(*r.match.Horizon)) + 1
		}
		return float64(lasts) / float64(12*p.Years.value), p.Years.value > 0
	case "rider_height":
		worst, known := math.Inf(1), false
		for _, w := range p.Riders {
			if w.Height.given {
				nearer := float64(min(w.Height.value-f.RiderMin, f.RiderMax-w.Height.value))
				worst, known = min(worst, nearer/(float64(f.RiderMax-f.RiderMin)/2)), true
			}
		}
		return worst, known
	case "storage_slack":
		if r.match.Parking == nil || r.match.Parking.Tightest == "" {
			return 0, false
		}
		return float64(r.match.Parking.Slack), true
	case "price":
		against := int64(0)
		for _, other := range r.catalogue.Frames {
			against = max(against, other.Price)
		}
		if p.Budget.given {
			against = p.Budget.value
		}
		return float64(r.match.Total) / float64(against), true
	}
	return handling / 1000, true
}

// headroom is the least that is spare of the gross rating and of each axle's,
// as its share.
func (r *recheck) headroom() float64 {
	worst := math.Inf(1)
	least := func(load, rating grams) {
		if rating > 0 {
			worst = min(worst, float64(rating-load)/float64(rating))
		}
	}
	for i, w := range r.riders {
		least(r.sums.whole+w.riding, r.frame.Gross)
		if said := r.match.Loads[i]; said.Front != nil && said.Rear != nil {
			least(*said.Front, r.frame.FrontMax)
			least(*said.Rear, r.frame.RearMax)
		}
	}
	return worst
}
