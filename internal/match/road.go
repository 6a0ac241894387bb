package match

import (
	"math"
	"strings"

	"kinwain/internal/load"
	"kinwain/internal/measure"
	"kinwain/internal/ride"
)

// climb is how the rider of a sheet takes the hill asked for.
type climb struct {
	effort ride.Watts
	speed  int64 // metres an hour
	turned bool  // the lowest gear, as often as it should
}

// climbOf works out a climb. It is false where no hill is asked for.
func (j *judge) climbOf(m *Match, s *load.Sheet) (climb, bool) {
	slope, asked := j.profile.Hill.Get()
	if !asked || slope <= 0 {
		return climb{}, false
	}
	effort := ride.EffortOf(s.Rider.Own, j.settings.HillEffort)
	v, turned := ride.HillSpeed(m.Frame, s.Total, slope, effort, j.settings.HillTurns)
	return climb{effort, v.MetresPerHour(), turned}, true
}

// climbs returns how the build takes the hill asked for under each rider.
func (j *judge) climbs(m *Match) []ride.Climb {
	var climbs []ride.Climb
	slope := j.profile.Hill.Or(0)
	for i := range m.Sheets {
		if s := &m.Sheets[i]; slope > 0 {
			climbs = append(climbs, ride.ClimbOf(m.Frame, s.Total, ride.EffortOf(s.Rider.Own, j.settings.HillEffort),
				ride.Hill{Slope: slope, Slow: ride.PerHour(j.settings.HillSpeed), Turns: j.settings.HillTurns}))
		}
	}
	return climbs
}

// roadReasons judges the way: the hill, and what stops the bike.
func (j *judge) roadReasons(m *Match) []Reason {
	var reasons []Reason
	slope := j.profile.Hill.Or(0)
	for i := range m.Sheets {
		s := &m.Sheets[i]
		c, asked := j.climbOf(m, s)
		if !asked || c.speed >= j.settings.HillSpeed {
			continue
		}
		r := Reason{Code: ReasonHill, Weight: Care, Rider: s.Rider.Label, Speed: c.speed,
			Message: say("Rider %v climbs the %v hill at %v, slower than %v. Expect to push, or ride it with a motor.", s.Rider.Label, slope, kmh(c.speed), kmh(j.settings.HillSpeed))}
		if !c.turned {
			r.Message = say("On the %v hill rider %v cannot turn the lowest gear %v times a minute with %v W. Expect to push, or ride it with a lower gear or a motor.",
				slope, s.Rider.Label, int(j.settings.HillTurns), int(math.Round(float64(c.effort))))
		}
		reasons = append(reasons, r)
	}
	return append(reasons, j.brakeReasons(m)...)
}

// kmh shows a speed in kilometres an hour, rounded down to a tenth.
func kmh(metresPerHour int64) Message {
	return say("%v.%v km/h", int(metresPerHour/1000), int(metresPerHour%1000/100))
}

// weakBrake reports whether a brake loses much on a long descent under load.
func weakBrake(brake string) bool {
	return brake == "coaster" || strings.HasSuffix(brake, "_rim") || strings.HasPrefix(brake, "cable_")
}

// brakeReasons asks for care where nothing but weak brakes holds a heavy load,
// or passengers on a steep hill.
func (j *judge) brakeReasons(m *Match) []Reason {
	weak := ""
	for _, brake := range [...]string{m.Frame.FrontBrake, m.Frame.RearBrake} {
		if brake != "" && !weakBrake(brake) {
			return nil
		}
		if weak == "" {
			weak = brake
		}
	}
	if weak == "" {
		return nil
	}
	total := measure.Mass(0)
	for i := range m.Sheets {
		total = max(total, m.Sheets[i].Total)
	}
	r := Reason{Code: ReasonBrakes, Weight: Care}
	slope := j.profile.Hill.Or(0)
	switch {
	case total > j.settings.BrakeMass:
		r.Over = total - j.settings.BrakeMass
		r.Message = say("%v in all on a %v brake, more than the usual %v for it. Try it loaded, downhill, before you decide.", up(total), wordOf(weak), down(j.settings.BrakeMass))
	case len(m.aboard.seated) > 0 && slope >= j.settings.BrakeHill:
		r.Message = say("Passengers on a hill of %v with a %v brake. Try it loaded, downhill, before you decide.", slope, wordOf(weak))
	default:
		return nil
	}
	return []Reason{r}
}
