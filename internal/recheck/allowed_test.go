package recheck

import (
	"math"
	"slices"
)

// allowed holds the build that is told against every rule, as it stands today,
// but for what is left out.
func (r *recheck) allowed() {
	fitted := r.heres()
	r.together(fitted)
	r.seated(fitted)
	r.leashed(fitted)
	r.stowed(fitted)
	for _, l := range r.match.Limits {
		if l.Spare < 0 && l.Rating != "stand" && !r.asAsked() {
			r.complain("%s is exceeded by a build that is told", l.Rating)
		}
	}
	if r.profile.Home.given && !r.leftOut("home") && r.match.Parking != nil && !r.match.Parking.Fits {
		r.complain("the build does not get home")
	}
	if f := r.frame; f.statesAxles() && !r.asAsked() {
		for _, w := range r.riders {
			a := f.axles(r.all, w.riding)
			if f.FrontMax > 0 && a.front > int64(f.FrontMax-a.nowhere)*a.scale || f.RearMax > 0 && a.rear > int64(f.RearMax-a.nowhere)*a.scale {
				r.complain("an axle is exceeded under %s", w.label)
			}
			if a.front < int64(a.off)*a.scale {
				r.complain("the front wheel lifts under %s", w.label)
			}
		}
	}
}

// asAsked reports whether the sheet is that of what was asked, and not of what
// is left of it: then it may be over the line.
func (r *recheck) asAsked() bool {
	if r.match.Asked != nil {
		return true
	}
	p := r.profile
	for what, asked := range map[string]bool{"home": p.Home.given, "cargo_litres": p.Litres.value > 0, "cargo_kg": p.Cargo.value > 0,
		"pet": p.Pet.value > 0, "passengers": len(p.Passengers.value) > 0} {
		if asked && !r.leftOut(what) {
			return false
		}
	}
	return r.match.Verdict == "does_not_fit"
}

// together checks counts, mounts, exclusions and needs.
func (r *recheck) together(fitted []here) {
	used := map[string]int{}
	for _, h := range fitted {
		bought := slices.Contains(r.match.Build.AddOns, h.Code)
		if bought && !slices.Contains(h.Fits, r.frame.Code) {
			r.complain("%s does not fit", h.Code)
		}
		if bought && slices.Contains(r.match.Build.TakenOff, h.Code) {
			r.complain("%s is taken off and bought", h.Code)
		}
		if h.copy >= max(h.UpTo, 1) {
			r.complain("%s is fitted too often", h.Code)
		}
		for _, u := range h.Uses {
			used[u.Mount] += u.Count
		}
		for _, g := range h.Needs {
			if !r.met(g, fitted, false, "", "") {
				r.complain("%s needs one of %v", h.Code, g)
			}
		}
		for _, other := range h.Excludes {
			if slices.ContainsFunc(fitted, func(o here) bool { return o.Code == other }) {
				r.complain("%s is beside %s", h.Code, other)
			}
		}
	}
	for _, m := range r.frame.Mounts {
		if used[m.Code] > m.Capacity {
			r.complain("mount %s holds %d of %d", m.Code, used[m.Code], m.Capacity)
		}
		delete(used, m.Code)
	}
	if len(used) > 0 {
		r.complain("mounts that are not there: %v", used)
	}
}

// seated checks that everyone has a place that suits, in the order of the
// profile.
func (r *recheck) seated(fitted []here) {
	var want []string
	for i := range r.profile.Passengers.value {
		if p := &r.profile.Passengers.value[i]; p.on(r.asOf, r.asOf).present && !r.leftOut("passengers") {
			want = append(want, p.Label)
		}
	}
	var said []string
	spots := r.spots(fitted)
	for i, s := range r.match.Build.Seating {
		said = append(said, s.Passenger)
		pl, _ := r.placeOf(s)
		if pl == nil {
			continue
		}
		if !pl.suits(r.passenger(s.Passenger).on(r.asOf, r.asOf)) {
			r.complain("the place does not suit %s", s.Passenger)
		}
		n := r.copyOf(i)
		if !slices.ContainsFunc(spots, func(o spot) bool { return o.from == s.AddOn && o.copy == n && samePlace(r, o, s) }) {
			r.complain("%s has no such place, or what it needs is not there", s.Passenger)
		}
	}
	if !slices.Equal(said, want) {
		r.complain("seats for %v, but %v ride", said, want)
	}
	if most := r.frame.Seats; most > 0 && len(said) > most {
		r.complain("%d passengers of %d", len(said), most)
	}
}

func samePlace(r *recheck, o spot, s seat) bool {
	pl, _ := r.placeOf(s)
	return o.place == pl
}

// leashed checks that the pet has a carrier that takes it.
func (r *recheck) leashed(fitted []here) {
	pet := r.profile.Pet.value
	if pet == 0 || r.leftOut("pet") {
		if r.match.Build.Pet != "" {
			r.complain("a carrier for no pet")
		}
		return
	}
	if !slices.ContainsFunc(fitted, func(h here) bool { return h.Code == r.match.Build.Pet && h.Pet >= pet }) {
		r.complain("the pet has no carrier")
	}
}

// stowed checks that all of the cargo is in something that takes it, of one
// density.
func (r *recheck) stowed(fitted []here) {
	cargo, volume := r.profile.Cargo.value, r.profile.Litres.value
	if r.leftOut("cargo_litres") {
		volume = 0
	}
	if r.leftOut("cargo_kg") {
		cargo = 0
	}
	masses, litres := grams(0), millilitres(0)
	by := map[[2]string][]share{}
	for _, c := range r.match.Build.Cargo {
		masses, litres = masses+c.Mass, litres+c.Volume
		by[[2]string{c.Carrier, c.Zone}] = append(by[[2]string{c.Carrier, c.Zone}], c)
		if want := float64(c.Mass) / float64(cargo) * float64(volume); cargo > 0 && volume > 0 && math.Abs(want-float64(c.Volume)) > 1+float64(volume)/float64(cargo) {
			r.complain("%d ml in %s, but %v by its share of the kilograms", c.Volume, c.Carrier, want)
		}
	}
	if masses != cargo || litres != volume {
		r.complain("%d g and %d ml are stowed, of %d and %d", masses, litres, cargo, volume)
	}
	for at, shares := range by {
		r.holdsShares(at[0], at[1], shares, fitted)
	}
}

// holdsShares checks what one carrier takes; of an add-on that is fitted
// twice, every copy by itself.
func (r *recheck) holdsShares(carrier, in string, shares []share, fitted []here) {
	most, volume, copies := grams(0), millilitres(0), 0
	for _, h := range fitted {
		if h.Code != carrier || h.Zone != in {
			continue
		}
		copies, most, volume = copies+1, h.Cargo, h.CargoIn
		if h.MaxLoad > 0 {
			most = min(most, h.MaxLoad)
		}
	}
	if r.match.Build.Pet == carrier {
		copies--
	}
	if z := r.frame.zone(in); copies == 0 && carrier == in && z >= 0 {
		of := r.zoneRoom(z)
		copies, most, volume = 1, of.mass, of.volume
	}
	if len(shares) > copies {
		r.complain("%d shares in %s, of which there are %d", len(shares), carrier, copies)
	}
	for _, s := range shares {
		if s.Mass > most || s.Volume > volume {
			r.complain("%+v is more than %d g and %d ml", s, most, volume)
		}
	}
}
