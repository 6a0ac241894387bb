package profile

import (
	"cmp"
	"slices"
	"strings"

	"kinwain/internal/measure"
	"kinwain/internal/problem"
)

const (
	kg = measure.Kilogram
	cm = measure.Centimetre

	maxRiders     = 8
	maxPassengers = 8
	maxWayParts   = 20

	// FirstRideMonths is the age before which no child rides (American
	// Academy of Pediatrics: infants under 12 months do not ride).
	FirstRideMonths = 12
)

// checker collects the faults of one profile.
type checker struct {
	problem.List
	asOf measure.Date
}

// Check returns every fault of meaning, in the order of the document. The
// error is a problem.List. The ranges are wide: they catch a slipped decimal
// point or a figure in the wrong unit, not an unusual person.
func (p *Profile) Check() error {
	k := &checker{asOf: p.AsOf}
	if p.Version != 1 {
		k.Add("profile", problem.OutOfRange, "this is version %d of the format; version 1 is read here", p.Version)
	}
	if p.AsOf.Day == 0 || p.AsOf.Year < 2000 || p.AsOf.Year > 2200 {
		k.Add("as_of", problem.Missing, "write the day that this is judged from, such as 2026-11-25")
	}
	problem.Word(&k.List, "objective", p.Goal(), Objectives)
	k.riders(p.Riders)
	k.passengers(p.Passengers.Or(nil))
	within(k, "pet_kg", p.Pet, 0, 100*kg)
	within(k, "cargo_kg", p.Cargo, 0, 400*kg)
	within(k, "cargo_litres", p.CargoSize, 0, 2000*measure.Litre)
	if home, ok := p.Home.Get(); ok {
		k.home(home)
	}
	within(k, "budget_cents", p.Budget, 1, 1_000_000_00)
	within(k, "years", p.Years, 0, 10)
	within(k, "hill_percent", p.Hill, 0, 40_00)
	return k.Err()
}

func (k *checker) riders(riders []Rider) {
	if len(riders) == 0 {
		k.Add("riders", problem.Missing, "somebody has to ride: at least one rider's height and weight are needed")
	}
	if len(riders) > maxRiders {
		k.Add("riders", problem.OutOfRange, "at most %d riders share a bike here", maxRiders)
	}
	complete := slices.ContainsFunc(riders, func(r Rider) bool { return r.Height.IsGiven() && r.Weight.IsGiven() })
	seen := map[string]bool{}
	for i := range riders {
		k.rider(seen, problem.Index("riders", i), &riders[i], i > 0 || complete)
	}
}

// rider checks one rider; an unknown height or weight may stand where
// mayWait.
func (k *checker) rider(seen map[string]bool, path string, r *Rider, mayWait bool) {
	at := func(field string) string { return problem.Join(path, field) }
	k.label(seen, at("label"), r.Label)
	asked(k, at("height_cm"), r.Height, mayWait)
	within(k, at("height_cm"), r.Height, 100*cm, 230*cm)
	within(k, at("inseam_cm"), r.Inseam, 40*cm, 120*cm)
	if inseam, ok := r.Inseam.Get(); ok && r.Height.IsGiven() && inseam*10 > r.Height.Or(0)*6 {
		k.Add(at("inseam_cm"), problem.Conflict, "an inseam is less than six tenths of the height; measure from the floor to the crotch")
	}
	asked(k, at("weight_kg"), r.Weight, mayWait)
	within(k, at("weight_kg"), r.Weight, 25*kg, 250*kg)
	problem.Word(&k.List, at("weighed"), r.Weighed.Or(Stated), []Weighed{Dressed, Undressed, Stated})
	problem.Word(&k.List, at("grip"), r.Grip.Or(FullGrip), []Grip{FullGrip, ReducedGrip})
}

func asked[T any](k *checker, path string, answer Answer[T], mayWait bool) {
	switch {
	case answer.IsZero():
		k.Add(path, problem.Missing, "this figure is needed, or null while it is not known")
	case answer.IsUnknown() && !mayWait:
		k.Add(path, problem.Missing, "one rider's height and weight are needed before anything can be judged")
	}
}

func (k *checker) passengers(passengers []Passenger) {
	if len(passengers) > maxPassengers {
		k.Add("passengers", problem.OutOfRange, "at most %d passengers are judged here", maxPassengers)
	}
	seen := map[string]bool{}
	for i := range passengers {
		k.passenger(seen, problem.Index("passengers", i), &passengers[i])
	}
}

func (k *checker) passenger(seen map[string]bool, path string, p *Passenger) {
	at := func(field string) string { return problem.Join(path, field) }
	k.label(seen, at("label"), p.Label)
	known := k.born(at("born"), p.Born)
	born := p.Born.Or(measure.Date{})
	problem.Word(&k.List, at("sex"), p.Sex.Or(Unstated), []Sex{Girl, Boy, Unstated})
	switch {
	case p.Weight.IsGiven():
	case p.Born.IsUnknown():
		k.Add(at("weight_kg"), problem.Missing, "without a birth month there is nothing to estimate a weight from; a weight is needed")
	case known && born.Earliest().AddMonths(referenceEnds).Before(k.asOf):
		k.Add(at("weight_kg"), problem.Missing, "somebody this age cannot be estimated; a weight is needed")
	}
	within(k, at("weight_kg"), p.Weight, 2*kg, 200*kg)
	within(k, at("stature_cm"), p.Stature, 40*cm, 230*cm)
	first := born.Latest().AddMonths(FirstRideMonths)
	if joins, ok := p.JoinsIn(); ok && known && joins.Last().Before(first) {
		k.Add(at("joins"), problem.OutOfRange, "no child rides before 12 months: %v at the earliest", first.InMonth())
	}
	within(k, at("leaves_at_years"), p.LeavesAtYears, 0, 30)
}

// born reports a birth that cannot be, and whether there is one to reckon
// from.
func (k *checker) born(path string, answer Answer[measure.Date]) bool {
	born, ok := answer.Get()
	switch {
	case answer.IsUnknown():
		return false
	case !ok:
		k.Add(path, problem.Missing, "a birth month is needed, or null while it is not known")
	case born.IsZero():
		k.Add(path, problem.Missing, "write the birth month, such as 2023-05")
	case k.asOf.Before(born.Earliest()):
		k.Add(path, problem.OutOfRange, "this birth month has not come yet")
	case born.Year < k.asOf.Year-110:
		k.Add(path, problem.OutOfRange, "this birth month is more than 110 years back")
	default:
		return true
	}
	return false
}

// referenceEnds is the age in whole months at which the growth reference, and
// so every estimate, ends: 204.5 months.
const referenceEnds = 204

func (k *checker) home(h Home) {
	lengths := func(path string, most measure.Length, fields ...field) {
		for _, f := range fields {
			within(k, problem.Join(path, f.name), f.answer, 0, most)
		}
	}
	lengths("home", 20*measure.Metre, field{"length_cm", h.Length}, field{"width_cm", h.Width}, field{"height_cm", h.Height})
	lengths("home", 2*measure.Metre, field{"clearance_cm", h.Clearance})
	doorways, corners := h.Doorways.Or(nil), h.Corners.Or(nil)
	if len(doorways) > maxWayParts {
		k.Add("home.doorways", problem.OutOfRange, "at most %d doorways are judged here; leave out the widest", maxWayParts)
	}
	for i, d := range doorways {
		lengths(problem.Index("home.doorways", i), 5*measure.Metre, field{"width_cm", d.Width}, field{"height_cm", d.Height})
	}
	if len(corners) > maxWayParts {
		k.Add("home.corners", problem.OutOfRange, "at most %d corners are judged here; leave out the widest", maxWayParts)
	}
	for i, c := range corners {
		lengths(problem.Index("home.corners", i), 10*measure.Metre, field{"in_cm", c.In}, field{"out_cm", c.Out})
	}
	if lift, ok := h.Lift.Get(); ok {
		lengths("home.lift", 10*measure.Metre, field{"length_cm", lift.Length}, field{"width_cm", lift.Width},
			field{"height_cm", lift.Height}, field{"door_cm", lift.Door})
	}
	within(k, "home.steps", h.Steps, 0, 500)
}

type field struct {
	name   string
	answer Answer[measure.Length]
}

func (k *checker) label(seen map[string]bool, path, label string) {
	switch {
	case strings.TrimSpace(label) == "":
		k.Add(path, problem.Missing, "a short name is needed to tell one from the other, such as A or first")
	case len([]rune(label)) > 60:
		k.Add(path, problem.OutOfRange, "this name is too long; keep it under 60 characters")
	case seen[label]:
		k.Add(path, problem.Duplicate, "%q is used twice; every one needs its own", label)
	}
	seen[label] = true
}

func within[T cmp.Ordered](k *checker, path string, answer Answer[T], least, most T) {
	if figure, ok := answer.Get(); ok {
		problem.Within(&k.List, path, figure, least, most)
	}
}
