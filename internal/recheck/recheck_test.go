package recheck

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"time"
)

func digits(n int) string { return strconv.Itoa(n) }

// recheck is one match worked out anew.
type recheck struct {
	catalogue *catalogue
	profile   *profile
	frame     *frame
	match     *match
	asOf      time.Time
	pace      string // by which the children grow, of paces
	joined    bool   // no place is kept for who joins later

	riders    []weighed
	list      []string // what is fitted
	all       []thing
	sums      sums
	reasons   []reason
	searched  []reason
	estimated bool
	vague     bool // an edge is too near to tell
	score     float64
	near      []string // edges that figures lie at
	addOns    map[string]*addOn

	complaints []string
}

func (r *recheck) complain(format string, args ...any) {
	r.complaints = append(r.complaints, fmt.Sprintf(format, args...))
}

// addOn returns an add-on as it is on the frame, nil where there is none.
func (r *recheck) addOn(code string) *addOn {
	if r.addOns == nil {
		r.addOns = map[string]*addOn{}
	}
	a, known := r.addOns[code]
	if !known {
		a = r.catalogue.on(r.frame, code)
		r.addOns[code] = a
	}
	return a
}

func (r *recheck) passenger(label string) *passenger {
	for i := range r.profile.Passengers.value {
		if r.profile.Passengers.value[i].Label == label {
			return &r.profile.Passengers.value[i]
		}
	}
	r.complain("%q is nobody", label)
	return &passenger{}
}

// leftOut reports whether the build leaves something out.
func (r *recheck) leftOut(what string) bool { return slices.Contains(r.match.Relaxed, what) }

func (r *recheck) sheets() {
	if len(r.match.Loads) != len(r.riders) {
		r.complain("%d sheets for %d riders", len(r.match.Loads), len(r.riders))
		return
	}
	for i, w := range r.riders {
		want, said := r.sheet(w), r.match.Loads[i]
		if !sameAxles(r, w, said) {
			a := r.frame.axles(r.all, w.riding)
			r.complain("axles under %s: %v and %v, but %+v", w.label, deref(said.Front), deref(said.Rear), a)
		}
		want.Front, want.Rear = said.Front, said.Rear
		if fmt.Sprintf("%+v", want) != fmt.Sprintf("%+v", said) {
			r.complain("sheet %+v, but %+v", said, want)
		}
	}
}

func deref(g *grams) grams {
	if g == nil {
		return -1
	}
	return *g
}

func (r *recheck) sheet(w weighed) sheet {
	total := r.sums.whole + w.riding
	s := sheet{Rider: w.label, Total: total, Gross: r.frame.Gross, Spare: r.frame.Gross - total, Carried: r.sums.carried, Guideline: w.own * 80 / 100}
	for i, z := range r.frame.Zones {
		s.Zones = append(s.Zones, zoneLoad{z.Code, r.sums.zones[i], z.Rating})
	}
	for i, c := range r.frame.Combined {
		s.Combined = append(s.Combined, zoneLoad{joined(c.Zones), r.sums.combined[i], c.Rating})
	}
	return s
}

func joined(zones []string) string {
	text := zones[0]
	for _, z := range zones[1:] {
		text += "+" + z
	}
	return text
}

// sameAxles compares each axle with the moments about the other one. Both are
// said to the gram, and together they bear all that has its place.
func sameAxles(r *recheck, w weighed, said sheet) bool {
	if !r.frame.statesAxles() {
		return said.Front == nil && said.Rear == nil
	}
	if said.Front == nil || said.Rear == nil {
		return false
	}
	a := r.frame.axles(r.all, w.riding)
	if asked := r.match.Asked; asked != nil { // both together
		unplaced := func(codes []string) (sum grams) {
			for _, code := range codes {
				if r.addOn(code).Zone == "" && r.addOn(code).Ahead == 0 {
					sum += r.addOn(code).Weight
				}
			}
			return sum
		}
		return *said.Front+*said.Rear == r.sums.whole+w.riding-asked.NoPlace+unplaced(asked.AddOns)+unplaced(asked.TakenOff)
	}
	off := func(said grams, moment int64) float64 {
		return math.Abs(float64(said-a.nowhere) - float64(moment)/float64(a.scale))
	}
	return off(*said.Front, a.front) <= 0.5 && off(*said.Rear, a.rear) <= 0.5 &&
		*said.Front+*said.Rear-2*a.nowhere == grams((a.front+a.rear)/a.scale)
}

// money compares what the build adds in price, labour and weight.
func (r *recheck) money() {
	price, labour, weight := r.costs()
	b := &r.match.Build
	if b.Price != price || b.Labour != labour || b.Weight != weight || r.match.Total != r.frame.Price+price+labour {
		r.complain("%d + %d cents and %d g, %d in all, but %d + %d and %d", b.Price, b.Labour, b.Weight, r.match.Total, price, labour, weight)
	}
}

// costs adds up price and labour, each to the cent, and weight.
func (r *recheck) costs() (price, labour int64, weight grams) {
	work := func(a *addOn) int64 { return int64(math.Floor(float64(a.Minutes*r.catalogue.Shop.Labour)/60 + 0.5)) }
	for _, code := range r.match.Build.AddOns {
		a := r.addOn(code)
		price, labour, weight = price+a.Price, labour+work(a), weight+a.Weight
	}
	for _, code := range r.match.Build.TakenOff {
		labour, weight = labour+work(r.addOn(code)), weight-r.addOn(code).Weight
	}
	return price, labour, weight
}

// limits compares every rating that something leans on.
func (r *recheck) limits() {
	var want []limit
	add := func(l limit) {
		if l.Most > 0 && l.Mass > 0 {
			l.Spare = l.Most - l.Mass
			want = append(want, l)
		}
	}
	r.underRiders(add)
	for i, z := range r.frame.Zones {
		add(limit{Rating: "zone:" + z.Code, Mass: r.sums.zones[i], Most: z.Rating})
	}
	for i, c := range r.frame.Combined {
		add(limit{Rating: "combined:" + joined(c.Zones), Mass: r.sums.combined[i], Most: c.Rating})
	}
	for _, code := range r.list {
		if a := r.addOn(code); slices.Contains(a.Provides, "two_leg_stand") {
			add(limit{Rating: "stand", Mass: r.sums.whole, Most: a.StandMax})
		}
	}
	seating := r.match.Build.Seating
	if r.match.Asked == nil {
		r.ofAddOns(add)
	} else {
		seating = nil
	}
	for _, s := range seating {
		if pl, in := r.placeOf(s); pl != nil {
			at := s.AddOn
			if at == "" {
				at = in
			}
			add(limit{Rating: "place:" + at, Passenger: s.Passenger, Mass: up(r.passenger(s.Passenger).on(r.asOf, r.asOf).load), Most: pl.MaxMass})
		}
	}
	for i, said := range r.match.Limits {
		if i > 0 && said.Spare < r.match.Limits[i-1].Spare {
			r.complain("limit %s stands behind one that leaves more", said.Rating)
		}
		at := slices.Index(want, said)
		if at < 0 && r.untoldLimit(said) {
			continue
		}
		if at < 0 {
			r.complain("limit said and not so: %+v", said)
			continue
		}
		want = slices.Delete(want, at, at+1)
	}
	for _, w := range want {
		r.complain("limit so and not said: %+v", w)
	}
}

// underRiders are the gross rating and the axles, each under the rider who
// leaves least of it.
func (r *recheck) underRiders(add func(limit)) {
	var gross, front, rear limit
	for i, w := range r.riders {
		if total := r.sums.whole + w.riding; total > gross.Mass {
			gross = limit{Rating: "gross", Rider: w.label, Mass: total, Most: r.frame.Gross}
		}
		if said := r.match.Loads[i]; said.Front != nil && said.Rear != nil {
			if *said.Front > front.Mass {
				front = limit{Rating: "front_axle", Rider: w.label, Mass: *said.Front, Most: r.frame.FrontMax}
			}
			if *said.Rear > rear.Mass {
				rear = limit{Rating: "rear_axle", Rider: w.label, Mass: *said.Rear, Most: r.frame.RearMax}
			}
		}
	}
	add(gross)
	add(front)
	add(rear)
}

// ofAddOns are what add-ons carry: copies with people each by itself; where a
// pet or cargo is spread over copies, all of them together.
func (r *recheck) ofAddOns(add func(limit)) {
	for i, code := range r.list {
		if i > 0 && r.list[i-1] == code {
			continue
		}
		copies, stowed, sat := grams(0), grams(0), map[int]grams{}
		for _, other := range r.list {
			if other == code {
				copies++
			}
		}
		for _, t := range r.all {
			switch {
			case t.code != code:
			case t.kind == "passenger":
				sat[t.copy] += t.mass
			case t.carried():
				stowed += t.mass
			}
		}
		l := limit{Rating: "add_on:" + code, Mass: stowed, Most: copies * r.addOn(code).MaxLoad}
		for _, mass := range sat {
			if l.Mass += mass; stowed == 0 {
				add(limit{Rating: "add_on:" + code, Mass: mass, Most: r.addOn(code).MaxLoad})
			}
		}
		if stowed > 0 {
			add(l)
		}
	}
}

// add notes a reason that follows.
func (r *recheck) add(reason reason) { r.reasons = append(r.reasons, reason) }

// stops counts what rules the frame out.
func (r *recheck) stops() int {
	n := 0
	for _, said := range r.match.Reasons {
		if said.Weight == "stop" {
			n++
		}
	}
	return n
}

// edge notes on which side of an edge a figure lies, where it is as near as
// can be: a unit under it, on it, or a unit over it.
func (r *recheck) edge(name string, distance, unit float64) {
	switch {
	case distance == 0:
		r.near = append(r.near, name+" at")
	case math.Abs(distance) > unit:
	case distance < 0:
		r.near = append(r.near, name+" under")
	default:
		r.near = append(r.near, name+" over")
	}
}
