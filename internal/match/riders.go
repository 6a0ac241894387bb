package match

import (
	"strings"

	"kinwain/internal/catalog"
	"kinwain/internal/fitting"
	"kinwain/internal/growth"
	"kinwain/internal/load"
	"kinwain/internal/measure"
	"kinwain/internal/profile"
	"kinwain/internal/ride"
)

// riderReasons judges whether every rider fits the frame itself.
func riderReasons(f *catalog.Frame, d *fitting.Demand, s Settings) []Reason {
	var reasons []Reason
	for i := range d.Profile.Riders {
		r := &d.Profile.Riders[i]
		reasons = append(reasons, riderHeight(f, r, s)...)
		reasons = append(reasons, riderInseam(f, r, s)...)
		reasons = append(reasons, riderGrip(f, r)...)
	}
	for _, r := range d.Riders {
		if f.RiderMaxMass > 0 && r.Riding > f.RiderMaxMass {
			over := r.Riding - f.RiderMaxMass
			reasons = append(reasons, Reason{Code: ReasonRiderWeight, Weight: Stop, Rider: r.Label, Over: over,
				Message: say("Rider %v is %v over the maker's limit for a rider of %v.", r.Label, up(over), down(f.RiderMaxMass))})
		}
		if r.Estimated {
			reasons = append(reasons, Reason{Code: ReasonWeightEstimated, Weight: Note, Rider: r.Label,
				Message: say("Rider %v counts with an estimated %v for shoes, clothes, helmet, lock and bag. A weigh-in dressed to ride replaces the estimate.", r.Label, up(r.Riding-r.Own))})
		}
	}
	return reasons
}

// nothing is less than either system of units shows: it is said in words, as a
// figure it would be 0.
const nothing = 3 * measure.Millimetre

// riderHeight holds a height against the range. A little outside is within
// what a height in feet and inches is rounded by.
func riderHeight(f *catalog.Frame, r *profile.Rider, s Settings) []Reason {
	height, ok := r.Height.Get()
	if !ok {
		return nil
	}
	reason := Reason{Code: ReasonRiderHeight, Weight: Care, Rider: r.Label}
	above, under := height-f.RiderMin, f.RiderMax-height
	switch {
	case above < 0:
		reason.OverSize = -above
		reason.Message = say("Rider %v is %v shorter than the frame is made for, no more than heights are rounded by. Try it for size.", r.Label, up(-above))
		if -above > s.HeightRounding {
			reason.Weight = Stop
			reason.Message = say("Rider %v is %v too short: the frame is made for %v to %v.", r.Label, up(-above), f.RiderMin, f.RiderMax)
		}
	case under < 0:
		reason.OverSize = -under
		reason.Message = say("Rider %v is %v taller than the frame is made for, no more than heights are rounded by. Try it for size.", r.Label, up(-under))
		if -under > s.HeightRounding {
			reason.Weight = Stop
			reason.Message = say("Rider %v is %v too tall: the frame is made for %v to %v.", r.Label, up(-under), f.RiderMin, f.RiderMax)
		}
	case above < nothing:
		reason.Slack = above
		reason.Message = say("Rider %v is just as tall as the shortest the frame is made for. Try it for size.", r.Label)
	case above <= s.HeightMargin:
		reason.Slack = above
		reason.Message = say("Rider %v is only %v above the shortest the frame is made for. Try it for size.", r.Label, down(above))
	case under < nothing:
		reason.Slack = under
		reason.Message = say("Rider %v is just as tall as the tallest the frame is made for. Try it for size.", r.Label)
	case under <= s.HeightMargin:
		reason.Slack = under
		reason.Message = say("Rider %v is only %v under the tallest the frame is made for. Try it for size.", r.Label, down(under))
	default:
		return nil
	}
	return []Reason{reason}
}

func riderInseam(f *catalog.Frame, r *profile.Rider, s Settings) []Reason {
	inseam, ok := r.Inseam.Get()
	if !ok {
		return nil
	}
	var reasons []Reason
	if least := f.Standover + s.StandoverMargin; f.Standover > 0 && inseam < least {
		reasons = append(reasons, Reason{Code: ReasonStandover, Weight: Care, Rider: r.Label, OverSize: least - inseam,
			Message: say("Rider %v stands over the frame with %v less room than the usual %v. Try it, stopped and loaded.", r.Label, up(least-inseam), s.StandoverMargin)})
	}
	saddle := inseam * ride.SaddlePerInseam
	reason := Reason{Code: ReasonSaddleRange, Weight: Care, Rider: r.Label}
	switch {
	case f.SaddleMin > 0 && saddle < f.SaddleMin*1000:
		reason.OverSize = (f.SaddleMin*1000 - saddle + 999) / 1000
		reason.Message = say("The lowest saddle is about %v too high for rider %v.", up(reason.OverSize), r.Label)
	case f.SaddleMax > 0 && saddle > f.SaddleMax*1000:
		reason.OverSize = (saddle - f.SaddleMax*1000 + 999) / 1000
		reason.Message = say("The highest saddle is about %v too low for rider %v.", up(reason.OverSize), r.Label)
	default:
		return reasons
	}
	return append(reasons, reason)
}

// riderGrip says of every rider with a reduced grip what the levers ask for:
// cables and rims for force, which is care; hydraulics for little.
func riderGrip(f *catalog.Frame, r *profile.Rider) []Reason {
	if r.Grip.Or(profile.FullGrip) != profile.ReducedGrip {
		return nil
	}
	pulled, light := "", ""
	for _, brake := range [...]string{f.FrontBrake, f.RearBrake} {
		switch {
		case strings.HasPrefix(brake, "cable") || strings.HasSuffix(brake, "rim"):
			return []Reason{{Code: ReasonGrip, Weight: Care, Rider: r.Label,
				Message: say("Rider %v has a reduced grip, and this frame has a %v brake. Try the levers under load.", r.Label, wordOf(brake))}}
		case brake == "hydraulic_disc" || brake == "coaster":
			light = brake
		case brake != "":
			pulled = brake
		}
	}
	note := Reason{Code: ReasonGrip, Weight: Note, Rider: r.Label}
	switch {
	case pulled != "":
		note.Message = say("Rider %v has a reduced grip. Whether the %v brake of this frame suits it, only a try under load tells.", r.Label, wordOf(pulled))
	case light != "":
		note.Message = say("Rider %v has a reduced grip, and the brakes of this frame suit it: %v.", r.Label, wordOf(light))
	default:
		return nil // that nothing is stated is said elsewhere
	}
	return []Reason{note}
}

// passengerReasons judges what no seat can change: age, sitting, joining
// later, and where a weight comes from. Until somebody joins they are judged
// as on the day on which they do.
func passengerReasons(d *fitting.Demand) []Reason {
	var reasons []Reason
	passengers := d.Profile.Passengers.Or(nil)
	for i := range passengers {
		if !d.Today[i].Present {
			continue // rides alone by now
		}
		p := &passengers[i]
		born, known := p.Born.Get()
		on := fitting.JudgedOn(p, d.Profile.AsOf, d.Day)
		child := growth.Child{Born: born}
		later := on != d.Day
		switch {
		case infant(p, on):
			from := born.Latest().AddMonths(profile.FirstRideMonths)
			reasons = append(reasons, Reason{Code: ReasonInfant, Weight: Stop, Passenger: p.Label, Day: from,
				Message: say("%v is under 12 months. Infants do not ride; the earliest is %v, and the maker's manual and local law come first.", Label{p.Label, true}, from)})
		case later:
			reasons = append(reasons, Reason{Code: ReasonJoinsLater, Weight: Care, Passenger: p.Label, Day: on,
				Message: say("%v does not ride before %v. A place is kept, and the frame is judged with the child as on that day.", Label{p.Label, true}, on)})
		}
		if !known {
			reasons = append(reasons, Reason{Code: ReasonAgeUnknown, Weight: Care, Passenger: p.Label,
				Message: say("The age of %v is not known: no place with limits of age counts, and nothing says how long the bike lasts. Ask for the month of birth.", Label{Text: p.Label})})
		}
		reasons = append(reasons, sitting(p, !known || !child.OldEnough(24, on), later)...)
		reasons = append(reasons, estimated(p, d.Today[i], d.Profile.AsOf, on)...)
	}
	return reasons
}

// infant reports whether a passenger is too young to ride on a day.
func infant(p *profile.Passenger, on measure.Date) bool {
	born, known := p.Born.Get()
	return known && !growth.Child{Born: born}.OldEnough(profile.FirstRideMonths, on)
}

// helpless reports whether a passenger surely cannot sit yet.
func helpless(p *profile.Passenger, later bool) bool {
	sits, answered := p.SitsUnaided.Get()
	return answered && !sits && !later
}

func sitting(p *profile.Passenger, young, later bool) []Reason {
	sits, answered := p.SitsUnaided.Get()
	switch {
	case helpless(p, later):
		return []Reason{{Code: ReasonNotSitting, Weight: Stop, Passenger: p.Label,
			Message: say("%v does not yet sit unaided with a helmet on, and cannot ride before that.", Label{p.Label, true})}}
	case (answered && !sits) || !answered && young:
		return []Reason{{Code: ReasonNotSitting, Weight: Care, Passenger: p.Label,
			Message: say("See that %v sits unaided with a helmet on before the first ride.", Label{Text: p.Label})}}
	}
	return nil
}

// estimated says that a weight is not from a scale. Nobody weighs a child
// before it is born: of one that is expected it says for which day it counts.
func estimated(p *profile.Passenger, st fitting.Standing, asOf, on measure.Date) []Reason {
	var reasons []Reason
	switch {
	case st.Estimated && p.Expected(asOf):
		reasons = append(reasons, Reason{Code: ReasonWeightEstimated, Weight: Note, Passenger: p.Label, Day: on,
			Message: say("%v is not born yet and counts with %v, dressed, which the growth reference expects on %v. Weigh the child before its first ride.", Label{p.Label, true}, up(st.Load), on)})
	case st.Estimated:
		reasons = append(reasons, Reason{Code: ReasonWeightEstimated, Weight: Note, Passenger: p.Label,
			Message: say("%v is not weighed and counts with an estimated %v, dressed. Weigh before buying.", Label{p.Label, true}, up(st.Load))})
	}
	if st.Beyond {
		reasons = append(reasons, Reason{Code: ReasonBeyondReference, Weight: Note, Passenger: p.Label,
			Message: say("%v is outside the ages of the growth reference; its nearest figures are used.", Label{p.Label, true})})
	}
	return reasons
}

// capital begins a sentence with a label.
func capital(label string) string {
	for i, r := range label {
		if i == 0 {
			return strings.ToUpper(string(r)) + label[len(string(r)):]
		}
	}
	return label
}

// carryReasons holds what each rider carries against the guideline.
func carryReasons(sheets []load.Sheet, s Settings) []Reason {
	var reasons []Reason
	for i := range sheets {
		sh := &sheets[i]
		// Cross-multiplied, so that the edge is an edge.
		if int64(sh.Carried)*int64(measure.Whole) <= int64(sh.Rider.Own)*int64(s.CarryShare) {
			continue
		}
		over := sh.Carried - sh.Guideline
		reasons = append(reasons, Reason{Code: ReasonCarryGuideline, Weight: Care, Rider: sh.Rider.Label, Over: over,
			Message: say("Rider %v would carry %v, which is %v over %v of their own weight, the usual guideline. Practise unloaded, then load up bit by bit.",
				sh.Rider.Label, up(sh.Carried), up(over), measure.Percentage(s.CarryShare))})
	}
	return reasons
}
