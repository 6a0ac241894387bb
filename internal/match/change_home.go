package match

import (
	"slices"

	"kinwain/internal/fitting"
	"kinwain/internal/measure"
	"kinwain/internal/parking"
)

// atHome reports whether the frame fits with the home changed: not where it
// does not without any home.
func (s *seeker) atHome(change func(h *parking.Home)) bool {
	if s.placed == nil {
		s.placed = new(!s.rider && len(s.barred) == 0 && s.ask(func() (bool, error) {
			if most := s.spare(s.whole); most != nil {
				return s.whole.Affordable(s.ctx, fitting.AllRules&^fitting.Storage, *most)
			}
			return s.whole.Feasible(s.ctx, fitting.AllRules&^fitting.Storage)
		}))
	}
	if !*s.placed {
		return false
	}
	d := *s.demand
	change(&d.Home)
	return s.fits(&d)
}

func (s *seeker) lyingFlat() *Change {
	if !s.demand.Home.MustStandUpright || !s.atHome(func(h *parking.Home) { h.MustStandUpright = false }) {
		return nil
	}
	return &Change{Code: "lying_flat", Message: say("Fits if it may stand on its wheels at home instead of upright.")}
}

// widest is wider than any home: what does not fit through it is not stopped
// by a width.
const widest = 20 * measure.Metre

func (s *seeker) widerDoorway() *Change {
	for i, d := range s.demand.Home.Doorways {
		with := func(w measure.Length) bool {
			return s.atHome(func(h *parking.Home) {
				h.Doorways = slices.Clone(h.Doorways)
				h.Doorways[i].Width = w
			})
		}
		if d.Width > 0 && with(widest) {
			to := edge(widest, d.Width, with)
			return &Change{Code: "wider_doorway", Part: "doorways[" + itoa(i) + "]", ToLength: to,
				Message: say("Fits if doorway %v is %v wide.", i+1, up(to))}
		}
	}
	return nil
}

// widerCorner widens whichever legs of a corner are narrower than a figure to
// it.
func (s *seeker) widerCorner() *Change {
	for i, c := range s.demand.Home.Corners {
		with := func(w measure.Length) bool {
			return s.atHome(func(h *parking.Home) {
				h.Corners = slices.Clone(h.Corners)
				h.Corners[i] = parking.Corner{In: atLeast(c.In, w), Out: atLeast(c.Out, w)}
			})
		}
		narrow := s.narrow(i)
		if narrow < widest && with(widest) {
			to := edge(widest, narrow, with)
			return &Change{Code: "wider_corner", Part: "corners[" + itoa(i) + "]", ToLength: to,
				Message: say("Fits if both corridors of corner %v are %v wide.", i+1, up(to))}
		}
	}
	return nil
}

// narrow returns the narrower of the stated legs of a corner.
func (s *seeker) narrow(corner int) measure.Length {
	home, _ := s.profile.Home.Get()
	c := home.Corners.Or(nil)[corner]
	return min(c.In.Or(widest), c.Out.Or(widest))
}

// atLeast widens a length that constrains; one that does not stays as it is.
func atLeast(l, least measure.Length) measure.Length {
	if l > 0 {
		return max(l, least)
	}
	return l
}

// grown adds to a length that constrains; one that does not stays as it is.
func grown(l, by measure.Length) measure.Length {
	if l > 0 {
		return l + by
	}
	return l
}

func (s *seeker) largerSpace() *Change {
	with := func(by measure.Length) bool {
		return s.atHome(func(h *parking.Home) {
			h.Space = parking.Box{Length: grown(h.Space.Length, by), Width: grown(h.Space.Width, by), Height: grown(h.Space.Height, by)}
		})
	}
	if !s.demand.HasHome || !with(widest) {
		return nil
	}
	by := edge(widest, 0, with)
	return &Change{Code: "larger_space", ByLength: by, Message: say("Fits if its place at home is %v larger each way.", up(by))}
}

func (s *seeker) largerLift() *Change {
	lift := s.demand.Home.Lift
	with := func(by measure.Length) bool {
		return s.atHome(func(h *parking.Home) {
			h.Lift = &parking.Lift{Length: grown(lift.Length, by), Width: grown(lift.Width, by), Height: grown(lift.Height, by), Door: grown(lift.Door, by)}
		})
	}
	if lift == nil || !with(widest) {
		return nil
	}
	by := edge(widest, 0, with)
	return &Change{Code: "larger_lift", ByLength: by, Message: say("Fits if the lift is %v larger each way, door included.", up(by))}
}
