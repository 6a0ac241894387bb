package recheck

import (
	"slices"
	"time"
)

// thing is one mass on the bike besides the bare frame and the rider.
type thing struct {
	kind    string // add_on, delivered, taken_off, passenger, pet, cargo
	code    string // of the add-on that it is or that carries it
	copy    int
	who     string
	mass    grams
	zone    int // -1 is none
	arm     millimetres
	nowhere bool // an add-on of which nobody knows where it sits
}

func (t thing) carried() bool { return t.kind == "passenger" || t.kind == "pet" || t.kind == "cargo" }

// ofWhole is what the thing adds to the weight of all.
func (t thing) ofWhole() grams {
	switch t.kind {
	case "delivered":
		return 0
	case "taken_off":
		return -t.mass
	}
	return t.mass
}

func (f *frame) zone(code string) int {
	return slices.IndexFunc(f.Zones, func(z zone) bool { return z.Code == code })
}

// put places a thing in a zone, or where it states that it sits.
func (f *frame) put(t thing, zone string, ahead millimetres) thing {
	if t.zone = f.zone(zone); t.zone >= 0 {
		t.arm = f.Zones[t.zone].Ahead
	}
	if ahead != 0 {
		t.arm = ahead
	}
	return t
}

// fitted lists what is on the bike: what came, less what came off, and what
// was bought; sorted by code.
func (r *recheck) fitted() []string {
	return r.fittedWith(r.match.Build.AddOns, r.match.Build.TakenOff)
}

func (r *recheck) fittedWith(bought, off []string) []string {
	list := slices.Clone(r.frame.ComesWith)
	for _, code := range off {
		i := slices.Index(list, code)
		if i < 0 {
			r.complain("%s comes off that did not come with it", code)
			continue
		}
		list = slices.Delete(list, i, i+1)
	}
	list = append(list, bought...)
	slices.Sort(list)
	return list
}

// things lists everything that the build says is on the bike.
func (r *recheck) things(day time.Time) []thing {
	var list []thing
	f, b := r.frame, &r.match.Build
	part := func(kind, code string) {
		a := r.addOn(code)
		t := thing{kind: kind, code: code, mass: a.Weight, nowhere: a.Zone == "" && a.Ahead == 0}
		if a.Zone == "" {
			t.zone, t.arm = -1, a.Ahead
		} else {
			t = f.put(t, a.Zone, 0)
		}
		list = append(list, t)
	}
	kept := slices.Clone(f.ComesWith)
	for _, code := range b.TakenOff {
		part("taken_off", code)
		if i := slices.Index(kept, code); i >= 0 {
			kept = slices.Delete(kept, i, i+1)
		}
	}
	for _, code := range kept {
		part("delivered", code)
	}
	for _, code := range b.AddOns {
		part("add_on", code)
	}
	for i, s := range b.Seating {
		pl, in := r.placeOf(s)
		if pl == nil {
			continue
		}
		t := thing{kind: "passenger", code: s.AddOn, who: s.Passenger, copy: r.copyOf(i)}
		t.mass = up(r.passenger(s.Passenger).on(r.asOf, day).load)
		list = append(list, f.put(t, in, pl.Ahead))
	}
	if b.Pet != "" {
		list = append(list, f.put(thing{kind: "pet", code: b.Pet, mass: r.profile.Pet.value}, r.addOn(b.Pet).Zone, 0))
	}
	for _, c := range b.Cargo {
		list = append(list, f.put(thing{kind: "cargo", code: c.Carrier, mass: c.Mass}, c.Zone, 0))
	}
	return list
}

// placeOf returns a place and the zone that it lies in.
func (r *recheck) placeOf(s seat) (*place, string) {
	places, in := r.frame.Places, ""
	if s.AddOn != "" {
		a := r.addOn(s.AddOn)
		places, in = a.Places, a.Zone
	}
	if s.Place < 0 || s.Place >= len(places) {
		r.complain("there is no place %d on %q", s.Place, s.AddOn)
		return nil, ""
	}
	if s.AddOn == "" {
		in = places[s.Place].Zone
	}
	return &places[s.Place], in
}

// copyOf tells which copy of an add-on a seat is on: the next one wherever
// somebody sits in the same place already.
func (r *recheck) copyOf(i int) int {
	n := 0
	for _, s := range r.match.Build.Seating[:i] {
		if s.AddOn == r.match.Build.Seating[i].AddOn && s.Place == r.match.Build.Seating[i].Place {
			n++
		}
	}
	return n
}

// weighed is a rider whose weight is known.
type weighed struct {
	label          string
	own, riding    grams
	allowanceAdded bool
}

func (p *profile) weighed() []weighed {
	var list []weighed
	for _, r := range p.Riders {
		if !r.Weight.given {
			continue
		}
		w := weighed{r.Label, r.Weight.value, r.Weight.value, true}
		switch r.Weighed.value {
		case "dressed":
			w.allowanceAdded = false
		case "undressed":
			w.riding += 4 * kg
		default:
			w.riding += 6 * kg
		}
		list = append(list, w)
	}
	return list
}

// axles is what both axles bear, times scale: each by the moments of
// everything about the other one.
type axles struct {
	front, rear, scale int64
	nowhere            grams // counts whole on either, and holds the front down by nothing
	off                grams // that came off, and may have held the front down by all of it
}

func (f *frame) statesAxles() bool { return f.Wheelbase > 0 && f.Rider != 0 && f.FrontShare > 0 }

func (f *frame) axles(things []thing, riding grams) axles {
	const whole = 10_000
	base, share := int64(f.Wheelbase), int64(f.FrontShare*whole+0.5)
	a := axles{scale: base * whole}
	a.front = int64(f.Bare)*share*base + int64(riding)*int64(f.Rider)*whole
	a.rear = int64(f.Bare)*(whole-share)*base + int64(riding)*(base-int64(f.Rider))*whole
	for _, t := range things {
		if t.nowhere {
			a.nowhere += max(0, t.ofWhole())
			a.off += max(0, -t.ofWhole())
			continue
		}
		a.front += int64(t.ofWhole()) * int64(t.arm) * whole
		a.rear += int64(t.ofWhole()) * (base - int64(t.arm)) * whole
	}
	return a
}

// sums is a load sheet without its rider.
type sums struct {
	whole, carried, cargo grams
	zones, combined       []grams
	left, right           grams
}

func (f *frame) sum(things []thing) sums {
	s := sums{whole: f.Bare, zones: make([]grams, len(f.Zones))}
	for _, t := range things {
		s.whole += t.ofWhole()
		if t.carried() {
			s.carried += t.mass
		}
		if t.kind == "cargo" {
			s.cargo += t.mass
		}
		if t.kind == "taken_off" || t.zone < 0 {
			continue
		}
		s.zones[t.zone] += t.mass
		switch f.Zones[t.zone].Side {
		case "left":
			s.left += t.mass
		case "right":
			s.right += t.mass
		}
	}
	for _, c := range f.Combined {
		var sum grams
		for _, code := range c.Zones {
			sum += s.zones[f.zone(code)]
		}
		s.combined = append(s.combined, sum)
	}
	return s
}

// riding is how many passengers come along today.
func (r *recheck) riding() int {
	n := 0
	for i := range r.profile.Passengers.value {
		if r.profile.Passengers.value[i].on(r.asOf, r.asOf).present {
			n++
		}
	}
	return n
}

// everything is what all weighs that was asked for.
func (r *recheck) everything() grams {
	sum := r.profile.Pet.value + r.profile.Cargo.value
	for i := range r.profile.Passengers.value {
		if st := r.profile.Passengers.value[i].on(r.asOf, r.asOf); st.present {
			sum += up(st.load)
		}
	}
	return sum
}
