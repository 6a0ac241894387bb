package profile

import (
	"slices"
	"strings"

	"kinwain/internal/measure"
	"kinwain/internal/problem"
	"kinwain/internal/schema"
)

// FirstRideMonths is the age before which no child rides (American Academy of
// Pediatrics: infants under 12 months do not ride).
const FirstRideMonths = 12

// checker collects the faults of one profile.
type checker struct {
	problem.List
	asOf   measure.Date
	labels map[string]bool // in the list that is checked
	whole  bool            // one rider's height and weight are known
	first  *Rider
}

// Check returns every fault of meaning, in the order of the document. The
// error is a problem.List.
func (p *Profile) Check() error {
	k := &checker{asOf: p.AsOf}
	k.whole = slices.ContainsFunc(p.Riders, func(r Rider) bool { return r.Height.IsGiven() && r.Weight.IsGiven() })
	if len(p.Riders) > 0 {
		k.first = &p.Riders[0]
	}
	if p.Version != 1 {
		k.Add("profile", problem.OutOfRange, "this is version %d of the format; version 1 is read here", p.Version)
	}
	if p.AsOf.Day == 0 || p.AsOf.Year < 2000 || p.AsOf.Year > 2200 {
		k.Add("as_of", problem.Missing, "write the day that this is judged from, such as 2026-11-25")
	}
	k.answers("", Questions, p)
	return k.Err()
}

// mayWait reports whether a rider's height or weight may stay unknown for now.
func (k *checker) mayWait(r *Rider) bool { return k.whole || r != k.first }

func asked[T any](k *checker, path string, answer Answer[T], mayWait bool) {
	switch {
	case answer.IsZero():
		k.Add(path, problem.Missing, "this figure is needed, or null while it is not known")
	case answer.IsUnknown() && !mayWait:
		k.Add(path, problem.Missing, "one rider's height and weight are needed before anything can be judged")
	}
}

func shorterThanThePerson(k *checker, path string, r *Rider) {
	if inseam, ok := r.Inseam.Get(); ok && r.Height.IsGiven() && inseam*10 > r.Height.Or(0)*6 {
		k.Add(path, problem.Conflict, "an inseam is less than six tenths of the height; measure from the floor to the crotch")
	}
}

// bornOnce reports a birth that cannot be.
func bornOnce(k *checker, path string, p *Passenger) {
	born, ok := p.Born.Get()
	switch {
	case p.Born.IsUnknown():
	case !ok:
		k.Add(path, problem.Missing, "a birth month is needed, or null while it is not known")
	case born.IsZero():
		k.Add(path, problem.Missing, "write the birth month, such as 2023-05")
	case tooFarAhead(born, k.asOf):
		k.Add(path, problem.OutOfRange, "this birth is more than two years ahead; a child is planned for from two years before it is born")
	case born.Year < k.asOf.Year-110:
		k.Add(path, problem.OutOfRange, "this birth month is more than 110 years back")
	}
}

// known returns the birth to reckon from, if there is one that can be.
func (k *checker) known(p *Passenger) (measure.Date, bool) {
	born, ok := p.Born.Get()
	return born, ok && !born.IsZero() && !tooFarAhead(born, k.asOf) && born.Year >= k.asOf.Year-110
}

// expectedMonths is how far ahead a birth may lie.
const expectedMonths = 24

func tooFarAhead(born, asOf measure.Date) bool {
	return asOf.AddMonths(expectedMonths).Before(born.Earliest())
}

// bornFirst reports what only somebody can have or do who is born.
func bornFirst[T any](k *checker, path string, p *Passenger, answer Answer[T], says string) {
	if _, known := k.known(p); known && answer.IsGiven() && p.Expected(k.asOf) {
		k.Add(path, problem.Conflict, "%s", says)
	}
}

func weighedOnceBorn(k *checker, path string, p *Passenger) {
	bornFirst(k, path, p, p.Weight, "a child that is not born yet has no weight; leave it out, and it is estimated")
}

func measuredOnceBorn(k *checker, path string, p *Passenger) {
	bornFirst(k, path, p, p.Stature, "a child that is not born yet has no height; leave it out, and it is estimated")
}

func sitsOnceBorn(k *checker, path string, p *Passenger) {
	if p.SitsUnaided.Or(false) {
		bornFirst(k, path, p, p.SitsUnaided, "a child that is not born yet does not sit unaided; leave it out, and it is asked before the first ride")
	}
}

// referenceEnds is the age in whole months at which the growth reference, and
// so every estimate, ends: 204.5 months.
const referenceEnds = 204

func weighedOrEstimated(k *checker, path string, p *Passenger) {
	born, known := k.known(p)
	switch {
	case p.Weight.IsGiven(), p.Born.IsUnknown(): // who has neither is not judged yet
	case known && born.Earliest().AddMonths(referenceEnds).Before(k.asOf):
		k.Add(path, problem.Missing, "somebody this age cannot be estimated; a weight is needed")
	}
}

func noInfantJoins(k *checker, path string, p *Passenger) {
	born, known := k.known(p)
	first := born.Latest().AddMonths(FirstRideMonths)
	if joins, ok := p.JoinsIn(); ok && known && joins.Last().Before(first) {
		k.Add(path, problem.OutOfRange, "no child rides before 12 months: %v at the earliest", first.InMonth())
	}
}

// maxLabel is how long a name may be.
const maxLabel = 60

// label declares what somebody is called, which tells one from the other.
func label[T any](of func(*T) *string) Question {
	return Question{Name: "label", Named: called, Label: "Called", Kind: Text, Aside: true, Sure: true,
		shape: func() *schema.Schema {
			return &schema.Schema{Type: schema.Types{schema.Text}, MinLength: 1, MaxLength: maxLabel, Pattern: `\S`}
		},
		at: func(owner any) any { return of(owner.(*T)) }, zero: func(owner any) bool { return *of(owner.(*T)) == "" },
		checks: []check{func(k *checker, path string, owner any) {
			label := *of(owner.(*T))
			switch {
			case strings.TrimSpace(label) == "":
				k.Add(path, problem.Missing, "a short name is needed to tell one from the other, such as A or first")
			case len([]rune(label)) > maxLabel:
				k.Add(path, problem.OutOfRange, "this name is too long; keep it under %d characters", maxLabel)
			case k.labels[label]:
				k.Add(path, problem.Duplicate, "%q is used twice; every one needs its own", label)
			}
			k.labels[label] = true
		}},
	}
}
