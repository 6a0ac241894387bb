package fitting

import (
	"slices"

	"kinwain/internal/parking"
)

// refuted are sets of rules of which it was proved that nothing keeps them all,
// for the demand of one problem. Who is asked about more rules than one of them
// has need not look again. A problem has them by value, so that one that is made
// of another goes on by itself.
//
// They come of searches: whatever closed a node says on which rules that rests,
// and what closed all of them rests on the rules of all.
//
// Proof: let a search under the rules R close every node by rows that rest on
// the rules U of R, and let a set hold under U. Take out of it what U makes
// nobody want; that leaves it as it is under U, see findUseful, and of use under
// R. Seat everyone as that set does if U asks for that, and else nobody; the same
// for the pet; and have the cargo where that set has it if U asks for all of the
// cargo that R asks for, and else nowhere. That keeps every row that rests on U
// alone, so that no such set is.
type refuted struct {
	sets [8]Rules
	n    int
}

// Rules of which the rows of a model rest on several.
const (
	sitting  = PlaceMissing | PlaceLimits
	relieved = AxleRating | FrontLight // which a load may relieve
)

// add notes a set of rules, in place of the oldest one where there is no room.
func (r *refuted) add(rules Rules) {
	r.sets[r.n%len(r.sets)] = rules
	r.n++
}

func (r *refuted) all() []Rules { return r.sets[:min(r.n, len(r.sets))] }

// has reports whether it follows that nothing keeps the rules. More rules that
// forbid make nothing possible. Neither do more that ask for something, unless
// what they ask for relieves an axle; those that ask for something that is here
// are given.
func (r *refuted) has(rules, asked Rules) bool {
	return slices.ContainsFunc(r.all(), func(of Rules) bool {
		return rules.Has(of) && (of&relieved == 0 || (rules&^of)&asked == 0)
	})
}

// besides returns those of the sets that have none of the rules.
func (r *refuted) besides(rules Rules) refuted {
	var other refuted
	for _, of := range r.all() {
		if of&rules == 0 {
			other.add(of)
		}
	}
	return other
}

// differing returns the rules that ask something else of a build by another
// demand of the same riders.
func (d *Demand) differing(o *Demand) Rules {
	var rules Rules
	if d.HasHome != o.HasHome || d.HasHome && !sameHome(&d.Home, &o.Home) {
		rules |= Storage
	}
	if d.CargoSize != o.CargoSize {
		rules |= CargoVolume
	}
	if d.Cargo != o.Cargo {
		rules |= CargoWeight | GrossRating
	}
	if d.Pet != o.Pet {
		rules |= PetPlace | GrossRating
	}
	if !slices.Equal(d.Today, o.Today) {
		rules |= sitting | PassengersMax | GrossRating
	}
	return rules
}

func sameHome(a, b *parking.Home) bool {
	return a.Space == b.Space && a.Clearance == b.Clearance && a.MustStandUpright == b.MustStandUpright &&
		slices.Equal(a.Doorways, b.Doorways) && slices.Equal(a.Corners, b.Corners) &&
		(a.Lift == b.Lift || a.Lift != nil && b.Lift != nil && *a.Lift == *b.Lift)
}

// ofToday reports whether it is asked about the people of today, all that they
// are.
func (p *Problem) ofToday(a *aim) bool {
	return len(a.stages) == 1 && !a.loose && slices.Equal(a.stages[0], p.Demand.Today)
}

// asks returns the rules that ask for something that is here.
func (p *Problem) asks() Rules {
	var rules Rules
	for one := range demands.Each {
		if p.applies(one) {
			rules |= one
		}
	}
	return rules
}

// ruledOut reports whether it is known that nothing keeps the rules today.
func (p *Problem) ruledOut(rules Rules) bool {
	return p.only == nil && p.without&refuting == 0 && p.refuted.has(rules, p.asks())
}
