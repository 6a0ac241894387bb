package fitting

import "kinwain/internal/measure"

// Through returns the last month, up to until, through every day of which the
// add-ons that are chosen already carry whoever rides along then, beginning
// with from. It is the month before from where they do not even carry them
// through that.
func (p *Problem) Through(from, until measure.Month) measure.Month {
	if p.only == nil || !p.goTogether(p.only) || !p.atHome(p.only) {
		return from - 1
	}
	c := p.newSeating(true)
	defer c.done()
	for m := from; m <= until; m++ {
		for _, party := range p.Demand.parties(p.period(m, 1)) {
			if !c.settle(p.only, party, AllRules) {
				return m - 1
			}
		}
	}
	return until
}
