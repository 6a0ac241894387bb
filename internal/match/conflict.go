package match

import (
	"cmp"
	"context"
	"errors"
	"slices"
	"strings"

	"kinwain/internal/fitting"
	"kinwain/internal/load"
	"kinwain/internal/measure"
	"kinwain/internal/parking"
	"kinwain/internal/profile"
)

// conflicts are why no build holds: minimal sets of rules that cannot hold
// together, each with those to blame, and the rules that are left, with a build
// that keeps those.
type conflicts struct {
	sets, blamed []fitting.Rules
	kept         fitting.Rules
	whole        *fitting.Build // nil where it was not found in time
}

// conflictsOf finds every independent conflict that keeps a build from being,
// of which it is known that none holds: a minimal set of rules that cannot hold
// together, then what still cannot hold without the rules to blame for it, and
// so on. The build that keeps what is left is the cheapest, or the lightest where
// the gross rating is to blame or that is what was asked for. With an error come
// those that were found before it.
func conflictsOf(ctx context.Context, p *fitting.Problem, goal profile.Objective) (conflicts, error) {
	c := conflicts{kept: fitting.AllRules}
	for {
		conflict, err := p.Conflict(ctx, c.kept)
		if err != nil {
			return c, err
		}
		blame := conflict.Blame()
		if blame == 0 {
			return c, nil
		}
		c.sets, c.blamed = append(c.sets, conflict), append(c.blamed, blame)
		c.kept &^= blame
		objective := profile.LeastCost
		if !c.kept.Has(fitting.GrossRating) || goal == profile.Lightest {
			objective = profile.Lightest
		}
		whole, err := p.Solve(ctx, objective, c.kept)
		if errors.Is(err, fitting.ErrInfeasible) {
			continue
		}
		if err == nil && !whole.Unproved {
			c.whole = whole
		}
		return c, err
	}
}

// reasons says of every rule to blame by how much it is broken: by the
// lightest build that does all that was asked, or, where that one keeps the
// rule or there is none, by the lightest that keeps the rest of the conflict.
// With an error come those that were found before it.
func (c *conflicts) reasons(ctx context.Context, p *fitting.Problem) ([]Reason, error) {
	var reasons []Reason
	for i, blame := range c.blamed {
		for rule := range blame.Each {
			if rule == fitting.CargoVolume && !c.kept.Has(fitting.CargoWeight) && carriesNothing(p) {
				continue // said of its weight
			}
			if c.whole != nil {
				if br := p.BreachIn(c.whole, rule); br.Over > 0 {
					reasons = append(reasons, breachReason(p, br))
					continue
				}
			}
			if counted.Has(rule) {
				reasons = append(reasons, breachReason(p, fitting.Breach{Rule: rule}))
				continue
			}
			br, err := p.Breach(ctx, c.sets[i], rule)
			if err == nil && br.Build != nil && br.Build.Unproved {
				err = fitting.ErrUnsettled // by how much is not known
			}
			if err != nil {
				return reasons, err
			}
			reasons = append(reasons, breachReason(p, br))
		}
	}
	return reasons, nil
}

// counted are the rules of which no build says by how much they are broken.
const counted = fitting.PassengersMax | fitting.PlaceMissing | fitting.PetPlace | fitting.CargoWeight | fitting.CargoVolume

// carriesNothing reports whether nothing of a set that was chosen by hand
// carries cargo at all.
func carriesNothing(p *fitting.Problem) bool {
	if !p.Chosen() {
		return false
	}
	mass, volume := p.Holds()
	return mass == 0 && volume == 0
}

func breachReason(p *fitting.Problem, br fitting.Breach) Reason {
	r := Reason{Code: Code(br.Rule.Code()), Weight: Stop, Over: br.Over}
	switch br.Rule {
	case fitting.GrossRating:
		r.Message = say("Everything together is %v over the gross rating of %v, even with the lightest add-ons.", up(br.Over), down(p.Frame.GrossRating))
		if p.Chosen() {
			r.Message.Format = "Everything together is %v over the gross rating of %v."
		}
	case fitting.ZoneRating:
		r.Zone = br.About
		r.Message = say("%v over the %v rating.", up(br.Over), zoneName(br.About))
	case fitting.CombinedRating:
		r.Zone = br.About
		r.Message = say("%v over the rating of %v together.", up(br.Over), zoneName(br.About))
	case fitting.AxleRating:
		r.Axle = br.About
		r.Message = say("%v over the rating of the %v axle.", up(br.Over), wordOf(br.About))
	case fitting.FrontLight:
		r.Axle, r.Rider = load.FrontAxle, lightest(p)
		r.Message = say("Under rider %v the front wheel lifts: it bears %v less than nothing. Load further forward, or less behind.", r.Rider, up(br.Over))
	case fitting.AddOnRating:
		r.AddOn = br.About
		r.Message = say("%v over what the %v may carry.", up(br.Over), addOnName(p, br.About))
	case fitting.PassengersMax:
		r.Message = say("%v passengers are more than the %v the maker allows.", present(p.Demand.Today), p.Frame.PassengersMax)
	case fitting.PlaceLimits:
		return placeReason(p, br)
	case fitting.Storage:
		return storageReason(p, br)
	default:
		r.Message = demandMessage(p, br.Rule)
	}
	return r
}

// lightest returns the label of the rider who holds the front down least.
func lightest(p *fitting.Problem) string {
	return slices.MinFunc(p.Demand.Riders, func(a, b load.Rider) int {
		return cmp.Compare(int64(a.Riding)*int64(p.Frame.RiderAhead), int64(b.Riding)*int64(p.Frame.RiderAhead))
	}).Label
}

func present(stage fitting.Stage) int {
	n := 0
	for i := range stage {
		if stage[i].Present {
			n++
		}
	}
	return n
}

func demandMessage(p *fitting.Problem, rule fitting.Rules) Message {
	if p.Chosen() {
		return chosenMessage(p, rule)
	}
	switch rule {
	case fitting.PetPlace:
		return say("No carrier that fits this frame takes a pet of %v.", up(p.Demand.Pet))
	case fitting.CargoWeight:
		return say("Nothing that fits together on this frame bears %v of cargo.", up(p.Demand.Cargo))
	case fitting.CargoVolume:
		return say("Nothing that fits together on this frame holds %v of cargo.", p.Demand.CargoSize)
	}
	switch n := present(p.Demand.Today); {
	case n > 2:
		return say("No set of add-ons gives all %v passengers a place on this frame.", n)
	case n == 2:
		return say("No set of add-ons gives both passengers a place on this frame.")
	}
	return say("No add-on gives the passenger a place on this frame.")
}

// chosenMessage speaks of a set that was chosen by hand, and of no other.
func chosenMessage(p *fitting.Problem, rule fitting.Rules) Message {
	mass, volume := p.Holds()
	switch {
	case rule == fitting.PetPlace:
		return say("Nothing on the bike takes a pet of %v.", up(p.Demand.Pet))
	case rule == fitting.PlaceMissing:
		return say("These add-ons do not give every passenger a place.")
	case mass == 0 && volume == 0:
		return say("Nothing on the bike carries cargo.")
	case rule == fitting.CargoVolume && volume >= measure.Litre/10 && volume < p.Demand.CargoSize:
		return say("What is on the bike holds %v of the %v of cargo.", down(volume), p.Demand.CargoSize)
	case rule == fitting.CargoVolume:
		return say("What is on the bike does not hold %v of cargo with all the rest.", p.Demand.CargoSize)
	case mass >= noMass && mass < p.Demand.Cargo:
		return say("What is on the bike bears %v of the %v of cargo.", down(mass), up(p.Demand.Cargo))
	}
	return say("What is on the bike does not bear %v of cargo with all the rest.", up(p.Demand.Cargo))
}

func placeReason(p *fitting.Problem, br fitting.Breach) Reason {
	r := Reason{Code: ReasonPlaceLimits, Weight: Stop, Passenger: br.Passenger, AddOn: br.About}
	if br.Place == nil && present(p.Demand.Today) == 1 {
		r.Message = say("A place suits the passenger, but on this frame not together with all else that was asked for.")
		return r
	}
	if br.Place == nil {
		r.Message = say("Everyone has a place that suits, but these places do not go together on this frame.")
		return r
	}
	who, what := Label{br.Passenger, true}, addOnName(p, br.About)
	st, pl := br.Standing, br.Place
	switch {
	case st.Ageless && (pl.MinMonths > 0 || pl.MaxMonths > 0):
		r.Message = say("The age of %v is not known, and the %v has limits of age. Ask for the month of birth.", Label{Text: br.Passenger}, what)
	case pl.MaxMass > 0 && st.Load > pl.MaxMass:
		r.Over = st.Load - pl.MaxMass
		r.Message = say("%v, dressed, is %v over the limit of the %v.", who, up(r.Over), what)
	case st.Light < pl.MinMass:
		r.Message = say("%v is %v under the least weight for the %v.", who, up(pl.MinMass-st.Light), what)
	case st.Young < pl.MinMonths:
		r.Message = say("%v is too young for the %v, which is for %v months and up.", who, what, pl.MinMonths)
	case pl.MaxMonths > 0 && st.Old > pl.MaxMonths:
		r.Message = say("%v is too old for the %v, which is for up to %v months.", who, what, pl.MaxMonths)
	default:
		r.OverSize = st.Tall - pl.MaxStature
		r.Message = say("%v is %v too tall for the %v.", who, up(r.OverSize), what)
	}
	return r
}

// storageReason speaks of the lightest build that keeps all the rest.
func storageReason(p *fitting.Problem, br fitting.Breach) Reason {
	r := Reason{Code: ReasonStorageSpace, Weight: Stop, Message: say("The bike does not reach or fit its place at home.")}
	if br.Build == nil {
		return r
	}
	fit := parking.Check(p.Bike(br.Build), p.Demand.Home)
	switch {
	case fit.NeedsUpright:
		r.Code, r.Part = ReasonUpright, "space"
		r.Message = say("It has to stand upright at home, and with these add-ons this frame cannot.")
		if !p.Frame.CanStand() {
			r.Message = say("It has to stand upright at home, and this frame cannot.")
		}
	case !fit.WayFits:
		r.Code, r.Part, r.OverSize = ReasonStorageWay, fit.Tightest, -fit.Slack
		r.Message = say("%v too large for %v.", up(r.OverSize), partName(fit.Tightest))
		if fit.Tightest == "space" {
			r.Part, r.OverSize = worstOnWay(p, br.Build)
			r.Message = say("%v too large for %v.", up(r.OverSize), partName(r.Part))
		}
	default:
		r.Part, r.OverSize = "space", -fit.Slack
		r.Message = say("%v too large for its place at home.", up(r.OverSize))
	}
	return r
}

func partName(part string) Message {
	kind, index, _ := strings.Cut(strings.TrimSuffix(part, "]"), "[")
	switch kind {
	case "doorways":
		return say("doorway %v", ordinal(index))
	case "corners":
		return say("corner %v", ordinal(index))
	case "lift":
		return say("the lift on the way")
	}
	return say("its place at home")
}
