package match

import (
	"slices"

	"kinwain/internal/load"
	"kinwain/internal/measure"
)

// standTag is what an add-on provides that holds the loaded bike up.
const standTag = "two_leg_stand"

// balanceReasons judges how a build stands on its wheels: what holds the front
// down, one side against the other, and what its stand bears.
func (j *judge) balanceReasons(m *Match) []Reason {
	if m.Asked != nil && m.Asked.NoPlace > 0 {
		return nil // nobody knows where that would be
	}
	var reasons []Reason
	for i := range m.Sheets {
		s := &m.Sheets[i]
		if s.Axles {
			reasons = append(reasons, j.frontLight(m, s)...)
		}
	}
	return append(append(reasons, j.sideLoad(m)...), standReasons(m)...)
}

// frontLight holds the load on the front axle against its least share of
// everything on the bike. That it bears no less than nothing is a rule that
// every build keeps.
func (j *judge) frontLight(m *Match, s *load.Sheet) []Reason {
	front := load.FrontOf(m.Frame, s.Items, s.Rider)
	if _, lifts := front.Lifts(); lifts || !front.Under(j.settings.FrontShare, s.Total) {
		return nil
	}
	r := Reason{Code: ReasonFrontLight, Weight: Care, Rider: s.Rider.Label, Axle: load.FrontAxle}
	r.Message = say("Under rider %v the front wheel bears only %v of %v, less than %v of it: the steering goes light. Load further forward, or less behind.",
		r.Rider, down(front.Mass()), up(s.Total), measure.Percentage(j.settings.FrontShare))
	if front.Mass() < noMass {
		r.Message = say("Under rider %v the front wheel bears next to nothing of %v: the steering goes light. Load further forward, or less behind.", r.Rider, up(s.Total))
	}
	return []Reason{r}
}

// sideLoad holds the left of the bike against the right, whoever rides.
func (j *judge) sideLoad(m *Match) []Reason {
	left, right := m.unridden.Sides(m.Frame)
	heavier, over := Word("left"), left-right
	if right > left {
		heavier, over = "right", right-left
	}
	if over <= j.settings.SideMargin {
		return nil
	}
	return []Reason{{Code: ReasonSideLoad, Weight: Care, Over: over,
		Message: say("The %v side is %v heavier than the other. Spread the load over both sides.", heavier, up(over))}}
}

// standReasons holds the loaded bike, without its rider, against what its
// stands bear.
func standReasons(m *Match) []Reason {
	standing := m.unridden.Standing()
	var reasons []Reason
	for i := range m.aboard.fitted {
		a := &m.aboard.fitted[i]
		if a.StandMax == 0 || !slices.Contains(a.Provides, standTag) || standing <= a.StandMax {
			continue
		}
		over := standing - a.StandMax
		reasons = append(reasons, Reason{Code: ReasonStandRating, Weight: Care, AddOn: a.Code, Over: over,
			Message: say("The loaded bike is %v over the %v that the %v bears. Hold the bike while anybody gets on or off.", up(over), down(a.StandMax), AddOn{Code: a.Code, Name: a.Name})})
	}
	return reasons
}
