package match

import (
	"context"
	"errors"
	"slices"

	"kinwain/internal/catalog"
	"kinwain/internal/fitting"
	"kinwain/internal/measure"
	"kinwain/internal/profile"
)

// The change that would make a frame fit, the plain way: a demand and a problem
// of its own for every step of a halving, for every month and for every budget.

// PlainChange looks for the change of a frame that does not fit.
func PlainChange(ctx context.Context, c *catalog.Catalogue, f *catalog.Frame, p *profile.Profile, s Settings) (*Change, error) {
	return NewReady(c).judge(p, s).plainChange(ctx, f)
}

// plainSeeker looks for a change that makes one frame fit one customer.
type plainSeeker struct {
	*judge
	ctx   context.Context
	frame *catalog.Frame
	err   error
}

// plainChange returns the first change, in the order of plainSeeker.tries, that makes
// the frame fit; nil where no single one does. What it returns was judged
// again with the change made.
func (j *judge) plainChange(ctx context.Context, f *catalog.Frame) (*Change, error) {
	s := &plainSeeker{judge: j, ctx: ctx, frame: f}
	if s.beyondChange() {
		return nil, nil
	}
	for _, try := range s.tries() {
		if c := try(); c != nil || s.err != nil {
			return c, s.err
		}
	}
	return nil, nil
}

// beyondChange reports whether the only rider is stopped by the frame itself,
// which nothing in the list mends.
func (s *plainSeeker) beyondChange() bool {
	if len(s.profile.Riders) != 1 {
		return false
	}
	return slices.ContainsFunc(riderReasons(s.frame, s.demand, s.settings), func(r Reason) bool { return r.Weight == Stop })
}

func (s *plainSeeker) tries() []func() *Change {
	return []func() *Change{s.lessCargo, s.fewerLitres, s.lyingFlat, s.widerDoorway, s.widerCorner, s.largerSpace,
		s.largerLift, s.withoutPet, s.waitUntil, s.withoutRider, s.withoutPassenger, s.moreBudget}
}

// fits judges the frame for a changed profile.
func (s *plainSeeker) fits(p *profile.Profile) bool { return s.fitsOn(p, p.AsOf) }

func (s *plainSeeker) fitsOn(p *profile.Profile, day measure.Date) bool {
	if s.err != nil {
		return false
	}
	if s.ctx.Err() != nil {
		s.err = fitting.ErrUnsettled
		return false
	}
	stop, err := s.plainStopped(s.ctx, s.frame, p, day)
	s.err = err
	return err == nil && !stop
}

func (s *plainSeeker) lessCargo() *Change {
	cargo := s.profile.Cargo.Or(0)
	with := func(m measure.Mass) bool {
		p := *s.profile
		p.Cargo = profile.Given(m)
		return s.fits(&p)
	}
	if cargo == 0 || !with(0) {
		return nil
	}
	to := edge(0, cargo, with)
	c := &Change{Code: "less_cargo", ToMass: &to, Message: say("Fits with %v of cargo instead of %v.", down(to), up(cargo))}
	if to < noMass {
		c.Message = say("Fits without the %v of cargo.", up(cargo))
	}
	return c
}

func (s *plainSeeker) fewerLitres() *Change {
	size := s.profile.CargoSize.Or(0)
	with := func(v measure.Volume) bool {
		p := *s.profile
		p.CargoSize = profile.Given(v)
		return s.fits(&p)
	}
	if size == 0 || !with(0) {
		return nil
	}
	to := edge(0, size, with)
	c := &Change{Code: "fewer_litres", ToVolume: &to, Message: say("Fits with %v of cargo instead of %v.", down(to), size)}
	if to < measure.Litre/10 {
		c.Message = say("Fits without the %v of cargo.", size)
	}
	return c
}

// atHome judges the frame with the home changed.
func (s *plainSeeker) atHome(change func(h *profile.Home)) bool {
	p := *s.profile
	h := p.Home.Or(profile.Home{})
	change(&h)
	p.Home = profile.Given(h)
	return s.fits(&p)
}

func (s *plainSeeker) lyingFlat() *Change {
	home, ok := s.profile.Home.Get()
	if !ok || !home.MustStandUpright.Or(false) || !s.atHome(func(h *profile.Home) { h.MustStandUpright = profile.Given(false) }) {
		return nil
	}
	return &Change{Code: "lying_flat", Message: say("Fits if it may stand on its wheels at home instead of upright.")}
}

func (s *plainSeeker) widerDoorway() *Change {
	home, _ := s.profile.Home.Get()
	for i, d := range home.Doorways.Or(nil) {
		with := func(w measure.Length) bool {
			return s.atHome(func(h *profile.Home) {
				doorways := slices.Clone(h.Doorways.Or(nil))
				doorways[i].Width = profile.Given(w)
				h.Doorways = profile.Given(doorways)
			})
		}
		if width, ok := d.Width.Get(); ok && width > 0 && with(widest) {
			to := edge(widest, width, with)
			return &Change{Code: "wider_doorway", Part: "doorways[" + itoa(i) + "]", ToLength: to,
				Message: say("Fits if doorway %v is %v wide.", i+1, up(to))}
		}
	}
	return nil
}

// widerCorner widens whichever legs of a corner are narrower than a figure to
// it.
func (s *plainSeeker) widerCorner() *Change {
	home, _ := s.profile.Home.Get()
	for i, c := range home.Corners.Or(nil) {
		with := func(w measure.Length) bool {
			return s.atHome(func(h *profile.Home) {
				corners := slices.Clone(h.Corners.Or(nil))
				corners[i].In, corners[i].Out = plainAtLeast(corners[i].In, w), plainAtLeast(corners[i].Out, w)
				h.Corners = profile.Given(corners)
			})
		}
		narrow := min(c.In.Or(widest), c.Out.Or(widest))
		if narrow < widest && with(widest) {
			to := edge(widest, narrow, with)
			return &Change{Code: "wider_corner", Part: "corners[" + itoa(i) + "]", ToLength: to,
				Message: say("Fits if both corridors of corner %v are %v wide.", i+1, up(to))}
		}
	}
	return nil
}

func plainAtLeast(a profile.Answer[measure.Length], least measure.Length) profile.Answer[measure.Length] {
	if l, ok := a.Get(); ok && l > 0 {
		return profile.Given(max(l, least))
	}
	return a
}

// plainGrown adds to a length that constrains; one that does not stays as it is.
func plainGrown(a profile.Answer[measure.Length], by measure.Length) profile.Answer[measure.Length] {
	if l, ok := a.Get(); ok && l > 0 {
		return profile.Given(l + by)
	}
	return a
}

func (s *plainSeeker) largerSpace() *Change {
	with := func(by measure.Length) bool {
		return s.atHome(func(h *profile.Home) {
			h.Length, h.Width, h.Height = plainGrown(h.Length, by), plainGrown(h.Width, by), plainGrown(h.Height, by)
		})
	}
	if !s.profile.Home.IsGiven() || !with(widest) {
		return nil
	}
	by := edge(widest, 0, with)
	return &Change{Code: "larger_space", ByLength: by, Message: say("Fits if its place at home is %v larger each way.", up(by))}
}

func (s *plainSeeker) largerLift() *Change {
	home, _ := s.profile.Home.Get()
	lift, ok := home.Lift.Get()
	with := func(by measure.Length) bool {
		return s.atHome(func(h *profile.Home) {
			h.Lift = profile.Given(profile.Lift{Length: plainGrown(lift.Length, by), Width: plainGrown(lift.Width, by),
				Height: plainGrown(lift.Height, by), Door: plainGrown(lift.Door, by)})
		})
	}
	if !ok || !with(widest) {
		return nil
	}
	by := edge(widest, 0, with)
	return &Change{Code: "larger_lift", ByLength: by, Message: say("Fits if the lift is %v larger each way, door included.", up(by))}
}

func (s *plainSeeker) withoutPet() *Change {
	p := *s.profile
	p.Pet = profile.Answer[measure.Mass]{}
	if s.profile.Pet.Or(0) == 0 || !s.fits(&p) {
		return nil
	}
	return &Change{Code: "without_pet", Message: say("Fits without the pet.")}
}

// waitUntil looks for the first month on whose first day the frame fits, and
// in the month before for the day from which it does.
func (s *plainSeeker) waitUntil() *Change {
	if len(s.profile.Passengers.Or(nil)) == 0 {
		return nil
	}
	for m := s.profile.AsOf.InMonth() + 1; m <= s.profile.AsOf.InMonth()+12*10; m++ {
		if s.fitsOn(s.profile, m.First()) {
			day := s.profile.AsOf
			if before := (m - 1).First(); day.Before(before) {
				day = before // which did not fit
			}
			day.Day = edge((m-1).Last().Day+1, day.Day, func(n int) bool {
				on := day
				on.Day = n
				return s.fitsOn(s.profile, on)
			})
			if day.Day > (m - 1).Last().Day {
				day = m.First()
			}
			c := &Change{Code: "wait_until", Day: day, Message: say("Fits from %v on.", day)}
			if day.Day == 1 {
				c.Message = say("Fits from %v.", day.InMonth())
			}
			return c
		}
		if s.err != nil {
			return nil
		}
	}
	return nil
}

func (s *plainSeeker) withoutRider() *Change {
	if len(s.profile.Riders) < 2 {
		return nil
	}
	for i, r := range s.profile.Riders {
		p := *s.profile
		p.Riders = slices.Delete(slices.Clone(p.Riders), i, i+1)
		if p.Check() == nil && s.fits(&p) {
			return &Change{Code: "without_rider", Rider: r.Label, Message: say("Fits if rider %v does not ride it.", r.Label)}
		}
	}
	return nil
}

func (s *plainSeeker) withoutPassenger() *Change {
	for i, r := range s.profile.Passengers.Or(nil) {
		p := *s.profile
		p.Passengers = profile.Given(slices.Delete(slices.Clone(p.Passengers.Or(nil)), i, i+1))
		if s.fits(&p) {
			return &Change{Code: "without_passenger", Passenger: r.Label, Message: say("Fits without %v.", Label{Text: r.Label})}
		}
	}
	return nil
}

// moreBudget asks anew at every step: what is cheapest may be another build
// where more may be spent.
func (s *plainSeeker) moreBudget() *Change {
	budget, ok := s.profile.Budget.Get()
	with := func(b measure.Money) bool {
		p := *s.profile
		p.Budget = profile.Given(b)
		return s.fits(&p)
	}
	const most = measure.Money(1_000_000_00)
	if !ok || !s.profile.BudgetFirm.Or(false) || !with(most) {
		return nil
	}
	to := edge(most, budget, with)
	return &Change{Code: "more_budget", ToCents: to, Message: say("Fits with a budget of %v.", Cost{to, s.catalogue.Shop.Currency})}
}

// plainStopped reports whether the frame is ruled out for a changed profile, as
// seen from a day, without working out the rest. It agrees with frame on
// whether there is any stop.
func (j *judge) plainStopped(ctx context.Context, f *catalog.Frame, p *profile.Profile, day measure.Date) (bool, error) {
	d := fitting.NewDemand(p, day, j.settings.Settings)
	for _, r := range append(riderReasons(f, d, j.settings), passengerReasons(d)...) {
		if r.Weight == Stop {
			return true, nil
		}
	}
	problem := j.shelf.Problem(f, d)
	budget, limited := p.Budget.Get()
	limited = limited && p.BudgetFirm.Or(false)
	if !limited {
		ok, err := problem.Feasible(ctx, fitting.AllRules)
		return !ok, err
	}
	b, err := problem.Solve(ctx, p.Goal(), fitting.AllRules)
	if errors.Is(err, fitting.ErrInfeasible) {
		return true, nil
	}
	if err != nil {
		return false, err
	}
	if b.Unproved { // another one may cost less, or be chosen and cost more
		return false, fitting.ErrUnsettled
	}
	return f.Price+b.Price+b.Labour > budget, nil
}
