package fitting

import (
	"sync/atomic"

	"kinwain/internal/catalog"
	"kinwain/internal/load"
)

// kept are problems of a frame without what differs from customer to customer:
// one for those with whom its front axle never lifts, and one for the others.
type kept struct {
	frame *catalog.Frame
	lifts [2]atomic.Pointer[Problem]
}

// Problem sets up the problem of one frame of the catalogue. What of it is the
// same for every customer is set up once.
func (s *Shelf) Problem(f *catalog.Frame, d *Demand) *Problem {
	kept := s.kept[f.Code]
	if kept == nil || kept.frame != f {
		return s.setUp(f, d)
	}
	for lifts := range kept.lifts {
		if p := kept.lifts[lifts].Load().under(d, lifts); p != nil {
			return p
		}
	}
	p := s.setUp(f, d)
	of := *p
	of.Demand, of.known = nil, nil
	kept.lifts[p.lifts()].Store(&of)
	return p
}

// under returns a problem of the same frame for any other demand, or nil where
// there is none yet, or where it makes a difference whether the front axle may
// lift.
func (p *Problem) under(d *Demand, lifts int) *Problem {
	if p == nil {
		return nil
	}
	other := *p
	other.Demand, other.known = d, new(known)
	other.limit()
	if other.lifts() != lifts {
		return nil
	}
	return &other
}

// limit lists the ratings under the riders of the demand.
func (p *Problem) limit() {
	p.limits = load.Limits(p.Frame, p.delivered, p.Demand.Riders)
	if limit, stated := load.FrontStays(p.Frame, p.Demand.Riders); stated && p.mayLift(&limit) {
		p.limits = append(p.limits, limit)
	}
}

// lifts returns 1 where the front axle may lift, and is the last of the limits
// then.
func (p *Problem) lifts() int { return b2i(p.limits[len(p.limits)-1].Rule == load.Lift) }
