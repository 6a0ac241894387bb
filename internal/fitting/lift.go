package fitting

import (
	"kinwain/internal/load"
	"kinwain/internal/measure"
)

// mayLift reports whether the front axle can be made to bear less than nothing:
// with all that is asked for as far behind as anything sits, on every part that
// helps; and with as much there as the gross rating ever bears. Where neither
// does it, no build on any day breaks the limit, so that it need not be kept.
func (p *Problem) mayLift(limit *load.Limit) bool {
	most := int64(0) // that a gram lifts, wherever it sits
	for i := range p.Frame.Zones {
		most = max(most, limit.Per(load.ZoneSpot(p.Frame, p.Frame.Zones[i].Code)))
	}
	for i := range p.Frame.Places {
		most = max(most, limit.Per(load.PlaceSpot(p.Frame, p.Frame.Places[i].Zone, &p.Frame.Places[i])))
	}
	parts, off := int64(0), int64(0)
	for i := range p.options {
		o := &p.options[i]
		spot := load.AddOnSpot(p.Frame, o.AddOn)
		for k := range o.AddOn.Places {
			most = max(most, limit.Per(load.PlaceSpot(p.Frame, o.Zone, &o.AddOn.Places[k])))
		}
		most = max(most, limit.Per(spot))
		parts += max(limit.Per(spot), 0) * int64(o.Weight) * int64(o.most)
		off += max(-limit.PerOff(spot), 0) * int64(o.Weight) * int64(o.delivered)
	}
	asked := p.Demand.Pet + p.Demand.Cargo
	for i := range p.Demand.Today {
		asked += p.Demand.Today[i].Load
	}
	bears := p.Frame.GrossRating - p.Frame.BareWeight
	for i := range p.options {
		bears += measure.Mass(p.options[i].delivered) * p.options[i].Weight
	}
	return parts+off+most*int64(asked) > limit.Cap || off+most*int64(bears) > limit.Cap
}
