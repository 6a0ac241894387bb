package profile

import (
	"cmp"
	"strings"

	"kinhaul/internal/measure"
	"kinhaul/internal/problem"
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
	complete := false
	seen := map[string]bool{}
	for i := range riders {
		k.rider(seen, problem.Index("riders", i), &riders[i])
		complete = complete || riders[i].Height.IsGiven() && riders[i].Weight.IsGiven()
	}
	if complete || len(riders) == 0 {
		return
	}
	const needed = "one rider's height and weight are needed before anything can be judged"
	if riders[0].Height.IsUnknown() {
		k.Add("riders[0].height_cm", problem.Missing, needed)
	}
	if riders[0].Weight.IsUnknown() {
		k.Add("riders[0].weight_kg", problem.Missing, needed)
	}
}

func (k *checker) rider(seen map[string]bool, path string, r *Rider) {
	at := func(field string) string { return problem.Join(path, field) }
	k.label(seen, at("label"), r.Label)
	if r.Height.IsZero() {
		k.Add(at("height_cm"), problem.Missing, "a height is needed, or null while it is not known")
	}
	within(k, at("height_cm"), r.Height, 100*cm, 230*cm)
	within(k, at("inseam_cm"), r.Inseam, 40*cm, 120*cm)
	if inseam, ok := r.Inseam.Get(); ok && r.Height.IsGiven() && inseam*10 > r.Height.Or(0)*6 {
		k.Add(at("inseam_cm"), problem.Conflict, "an inseam is less than six tenths of the height; measure from the floor to the crotch")
	}
	if r.Weight.IsZero() {
		k.Add(at("weight_kg"), problem.Missing, "a weight is needed, or null while it is not known")
	}
	within(k, at("weight_kg"), r.Weight, 25*kg, 250*kg)
	problem.Word(&k.List, at("weighed"), r.Weighed.Or(Stated), []Weighed{Dressed, Undressed, Stated})
	problem.Word(&k.List, at("grip"), r.Grip.Or(FullGrip), []Grip{FullGrip, ReducedGrip})
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
	within(k, at("weight_kg"), p.Weight, 2*kg, 200*kg)
	within(k, at("stature_cm"), p.Stature, 40*cm, 230*cm)
	within(k, at("leaves_at_years"), p.LeavesAtYears, 0, 30)
	problem.Word(&k.List, at("sex"), p.Sex.Or(Unstated), []Sex{Girl, Boy, Unstated})
	if p.Born.IsZero() {
		k.Add(at("born"), problem.Missing, "a birth month is needed, or null while it is not known")
	}
	born, ok := p.Born.Get()
	if !ok {
		if p.Born.IsUnknown() && !p.Weight.IsGiven() {
			k.Add(at("weight_kg"), problem.Missing, "without a birth month there is nothing to estimate a weight from; a weight is needed")
		}
		return
	}
	switch {
	case born.IsZero():
		k.Add(at("born"), problem.Missing, "write the birth month, such as 2023-05")
		return
	case k.asOf.Before(born.Earliest()):
		k.Add(at("born"), problem.OutOfRange, "this birth month has not come yet")
		return
	case born.Year < k.asOf.Year-110:
		k.Add(at("born"), problem.OutOfRange, "this birth month is more than 110 years back")
		return
	}
	if oldest := born.Earliest().AddMonths(referenceEnds); oldest.Before(k.asOf) && !p.Weight.IsGiven() {
		k.Add(at("weight_kg"), problem.Missing, "somebody this age cannot be estimated; a weight is needed")
	}
	if joins, ok := p.JoinsIn(); ok && joins.Last().Before(born.Latest().AddMonths(FirstRideMonths)) {
		k.Add(at("joins"), problem.OutOfRange, "no child rides before 12 months: %v at the earliest",
			born.Latest().AddMonths(FirstRideMonths).InMonth())
	}
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
	for i, d := range doorways {
		lengths(problem.Index("home.doorways", i), 5*measure.Metre, field{"width_cm", d.Width}, field{"height_cm", d.Height})
	}
	for i, c := range corners {
		lengths(problem.Index("home.corners", i), 10*measure.Metre, field{"in_cm", c.In}, field{"out_cm", c.Out})
	}
	if lift, ok := h.Lift.Get(); ok {
		lengths("home.lift", 10*measure.Metre, field{"length_cm", lift.Length}, field{"width_cm", lift.Width},
			field{"height_cm", lift.Height}, field{"door_cm", lift.Door})
	}
	if len(doorways) > maxWayParts {
		k.Add("home.doorways", problem.OutOfRange, "at most %d doorways are judged here; leave out the widest", maxWayParts)
	}
	if len(corners) > maxWayParts {
		k.Add("home.corners", problem.OutOfRange, "at most %d corners are judged here; leave out the widest", maxWayParts)
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
