package fitting

import (
	"kinwain/internal/growth"
	"kinwain/internal/measure"
)

// How children grow who grow fast, and slowly: those whom no scale has read at
// the percentile, those it has at their own z-score so far above and below.
// 0.67 is what lies between the median and the 75th percentile; the charts of
// a practice have their lines about so far apart, and a child that crosses
// more than one or two of them is looked at.
const (
	fastPercentile = 95 * measure.Percent
	slowPercentile = 25 * measure.Percent
	crossing       = 0.67
)

// pace is a way in which children grow.
type pace struct {
	planning measure.Share
	apart    float64 // from the own z-score
}

var (
	fast = pace{fastPercentile, crossing}
	slow = pace{slowPercentile, -crossing}
)

// Band is how long a build lasts where the children grow fast, and where they
// grow slowly.
type Band struct{ Early, Late Horizon }

// Band returns the horizon of a build as a band around the one given, which
// counts with the planning percentile. Neither end names a limit.
//
// Early is never after it and Late never before. Children who grow fast are
// heavier and taller on every day, and no minimum that holds today is lost
// again; so that follows where what is harder for heavier people is all that
// there is. Where it is not, since somebody holds the front down or hangs over
// the other axle, or where the shop plans with a percentile beyond 95 or below
// 25, the three are put in order.
func (p *Problem) Band(b *Build, h Horizon) Band {
	at := func(d *Demand) Horizon {
		under := p.Under(d)
		set := under.stateOf(b.counts)
		months := under.failsIn(&set, b.rules)
		if months > HorizonMonths {
			return Horizon{Months: HorizonMonths}
		}
		return Horizon{Ends: true, Month: d.Day.InMonth() + measure.Month(months-1), Months: months}
	}
	band := Band{at(p.Demand.Fast()), at(p.Demand.Slow())}
	lasts := func(h Horizon) int {
		if !h.Ends {
			return HorizonMonths + 1
		}
		return h.Months
	}
	ends := [...]Horizon{{Ends: h.Ends, Month: h.Month, Months: h.Months}, band.Early, band.Late}
	for _, e := range ends {
		if lasts(e) < lasts(band.Early) {
			band.Early = e
		}
		if lasts(e) > lasts(band.Late) {
			band.Late = e
		}
	}
	return band
}

// Fast returns the demand as it is where the children grow fast, from tomorrow
// on, and Slow where they grow slowly; see Band.
func (d *Demand) Fast() *Demand { return d.growing(d.future.fast) }

// Slow is told with Fast.
func (d *Demand) Slow() *Demand { return d.growing(d.future.slow) }

func (d *Demand) growing(f *future) *Demand {
	if f == nil {
		return d
	}
	other := *d
	other.future = f
	return &other
}

// at returns a passenger who grows at a pace of their own.
func (g *passenger) at(s Settings, with pace) *passenger {
	other := *g
	if !g.child.Born.IsZero() {
		other.plan = growth.PlanApart(g.child, growth.Z(with.planning), growth.Z(s.Minimum), with.apart)
	}
	return &other
}
