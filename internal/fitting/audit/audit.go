// Package audit checks finished builds, each against every rule, from the
// documents and the build alone. It shares no code with the search that makes
// them, so that a fault there is found here before anybody is shown it.
package audit

import (
	"errors"
	"fmt"
	"slices"

	"kinwain/internal/catalog"
	"kinwain/internal/fitting"
	"kinwain/internal/measure"
	"kinwain/internal/parking"
)

// Auditor checks builds of the frames of one catalogue, which must have been
// checked. It is read only and may be shared.
type Auditor struct {
	catalogue *catalog.Catalogue
	addOns    map[string]*catalog.AddOn
}

// New returns an auditor of a catalogue, which must not change any more.
func New(c *catalog.Catalogue) *Auditor {
	a := &Auditor{catalogue: c, addOns: make(map[string]*catalog.AddOn, len(c.AddOns))}
	for i := range c.AddOns {
		a.addOns[c.AddOns[i].Code] = &c.AddOns[i]
	}
	return a
}

// Check returns nil where a build of the frame keeps every rule under the
// demand, as it is today, and else an error that names each one that it breaks.
func (a *Auditor) Check(f *catalog.Frame, d *fitting.Demand, b *fitting.Build) error {
	c := &check{Auditor: a, frame: f, demand: d, build: b}
	if c.take(); c.faults == nil { // the rest builds on what is fitted
		c.goTogether()
		c.add()
		c.seat()
		c.leash()
		c.stow()
		c.rate()
		c.park()
	}
	return errors.Join(c.faults...)
}

// check is one build under examination.
type check struct {
	*Auditor
	frame  *catalog.Frame
	demand *fitting.Demand
	build  *fitting.Build
	parts  []*part
	masses []mass
	faults []error
}

// part is an add-on that is fitted, came with the frame, or both.
type part struct {
	catalog.AddOn // with the facts of the pair
	delivered     int
	bought        int
	off           int
	copies        []copied // one for each that is fitted
}

// copied is what one copy of an add-on carries.
type copied struct {
	people int
	load   measure.Mass
	pet    bool
}

func (c *check) fault(format string, args ...any) {
	c.faults = append(c.faults, fmt.Errorf(format, args...))
}

// take works out what is fitted: what came, and was bought, less what came off.
func (c *check) take() {
	count := func(codes []string, in func(p *part) *int) {
		for _, code := range codes {
			if p := c.part(code); p != nil {
				*in(p)++
			} else {
				c.fault("%s is not in the catalogue", code)
			}
		}
	}
	count(c.frame.ComesWith, func(p *part) *int { return &p.delivered })
	count(c.build.AddOns, func(p *part) *int { return &p.bought })
	count(c.build.TakenOff, func(p *part) *int { return &p.off })
	for _, p := range c.parts {
		fitted := p.delivered + p.bought - p.off
		switch {
		case p.bought > 0 && !slices.Contains(p.Fits, c.frame.Code):
			c.fault("%s does not fit the frame", p.Code)
		case p.bought > 0 && p.off > 0:
			c.fault("%s is bought and taken off", p.Code)
		case p.off > p.delivered:
			c.fault("%d of %s come off, of %d that came", p.off, p.Code, p.delivered)
		case p.bought > 0 && fitted > max(p.UpTo, 1):
			c.fault("%d of %s are fitted, of at most %d", fitted, p.Code, max(p.UpTo, 1))
		default:
			p.copies = make([]copied, fitted)
		}
	}
}

// part returns the part of a code, nil where the catalogue has none.
func (c *check) part(code string) *part {
	for _, p := range c.parts {
		if p.Code == code {
			return p
		}
	}
	if c.addOns[code] == nil {
		return nil
	}
	p := &part{AddOn: c.addOns[code].On(c.frame.Code)}
	c.parts = append(c.parts, p)
	return p
}

// fitted reports whether any of an add-on is on the bike.
func (c *check) fitted(code string) bool {
	return slices.ContainsFunc(c.parts, func(p *part) bool { return p.Code == code && len(p.copies) > 0 })
}

// goTogether checks mounts, exclusions and the needs of what is fitted.
func (c *check) goTogether() {
	used := map[string]int{}
	for _, p := range c.parts {
		for _, u := range p.Uses {
			used[u.Mount] += len(p.copies) * u.Count
		}
		if len(p.copies) == 0 {
			continue
		}
		c.meet(p.Code, p.Needs, func(*part, string) bool { return true })
		for _, code := range p.Excludes {
			if c.fitted(code) {
				c.fault("%s and %s exclude each other", p.Code, code)
			}
		}
	}
	for _, m := range c.frame.Mounts {
		if used[m.Code] > m.Capacity {
			c.fault("mount %s: %d of %d", m.Code, used[m.Code], m.Capacity)
		}
		delete(used, m.Code)
	}
	for mount, n := range used {
		if n > 0 {
			c.fault("the frame has no mount %s", mount)
		}
	}
}

// meet checks that every group of needs has a member that is there: an add-on
// that is fitted, or a tag, which is any name that no add-on has, of the frame
// or of a part that is fitted and serves who asks.
func (c *check) meet(who string, needs [][]string, serves func(p *part, tag string) bool) {
	for _, group := range needs {
		if !slices.ContainsFunc(group, func(member string) bool {
			if c.addOns[member] != nil {
				return c.fitted(member)
			}
			return slices.Contains(c.frame.Provides, member) || slices.ContainsFunc(c.parts, func(p *part) bool {
				return len(p.copies) > 0 && slices.Contains(p.Provides, member) && serves(p, member)
			})
		}) {
			c.fault("%s needs one of %v", who, group)
		}
	}
}

// add checks the sums of price, labour and weight over the delivered frame.
func (c *check) add() {
	var price, labour measure.Money
	var weight measure.Mass
	for _, p := range c.parts {
		price += measure.Money(p.bought) * p.Price
		// A cent more from the half on: the whole part of minutes × rate ÷ 60 + ½.
		labour += measure.Money(p.bought+p.off) * ((2*c.catalogue.Shop.LabourPerHour*measure.Money(p.FittingMinutes) + 60) / 120)
		weight += measure.Mass(p.bought-p.off) * p.Weight
	}
	if b := c.build; b.Price != price || b.Labour != labour || b.Weight != weight {
		c.fault("%d and %d cents and %d g are said, of %d, %d and %d", b.Price, b.Labour, b.Weight, price, labour, weight)
	}
}

// park checks that the bike with all that is fitted gets home and fits there.
func (c *check) park() {
	if !c.demand.HasHome {
		return
	}
	f := c.frame
	bike := parking.Bike{Flat: parking.Box{Length: f.Length, Width: f.Width, Height: f.Height}, Upright: parking.Box(f.Upright)}
	stands := bike.CanStand()
	var front, rear measure.Length
	for _, p := range c.parts {
		if len(p.copies) == 0 {
			continue
		}
		front, rear, stands = max(front, p.FrontOverhang), max(rear, p.RearOverhang), stands && !p.BlocksUpright
		bike.Flat.Width, bike.Upright.Width = max(bike.Flat.Width, p.OverallWidth), max(bike.Upright.Width, p.OverallWidth)
		bike.Flat.Height = max(bike.Flat.Height, p.OverallHeight)
	}
	bike.Flat.Length += front + rear
	bike.Upright.Height += front + rear
	bike.Upright.Length += bike.Flat.Height - f.Height
	if !stands {
		bike.Upright = parking.Box{}
	}
	if !parking.Check(bike, c.demand.Home).Fits {
		c.fault("the bike does not get home, or does not fit there")
	}
}
