package match

import (
	"math/big"

	"kinwain/internal/load"
	"kinwain/internal/measure"
)

// Criterion is what one criterion contributes to a score.
type Criterion struct {
	Code   string
	Value  *big.Rat // 0 to 1
	Weight int64
}

// Points returns the part of the 100 points that the criterion brings in,
// given the sum of all weights.
func (c Criterion) Points(weights int64) *big.Rat {
	if weights == 0 {
		return new(big.Rat)
	}
	return new(big.Rat).Mul(c.Value, big.NewRat(100*c.Weight, weights))
}

// Weights returns the sum of the weights of criteria.
func Weights(criteria []Criterion) int64 {
	var sum int64
	for _, c := range criteria {
		sum += c.Weight
	}
	return sum
}

// score is the weighted mean of the criteria times 100, exactly.
func score(criteria []Criterion) *big.Rat {
	weights, sum := Weights(criteria), new(big.Rat)
	for _, c := range criteria {
		sum.Add(sum, c.Points(weights))
	}
	return sum
}

// criteria values every criterion that the profile asks for.
func (j *judge) criteria(m *Match) []Criterion {
	var list []Criterion
	for _, s := range j.settings.Criteria {
		figure, asked := j.figure(s.Code, m)
		if asked {
			list = append(list, Criterion{Code: s.Code, Value: between(figure, s.Zero, s.One), Weight: s.Weight})
		}
	}
	return list
}

// between maps a figure linearly from its ends to 0 and 1 and holds it there.
func between(figure *big.Rat, zero, one int64) *big.Rat {
	if zero == one {
		return new(big.Rat)
	}
	v := new(big.Rat).Sub(figure, new(big.Rat).SetInt64(zero))
	v.Quo(v, new(big.Rat).SetInt64(one-zero))
	switch {
	case v.Sign() < 0:
		return new(big.Rat)
	case v.Cmp(big.NewRat(1, 1)) > 0:
		return big.NewRat(1, 1)
	}
	return v
}

func share(part, whole int64) *big.Rat {
	return big.NewRat(part*int64(measure.Whole), whole)
}

// figure returns what a criterion measures, in its own small unit, and
// whether the profile asks for it.
func (j *judge) figure(code string, m *Match) (*big.Rat, bool) {
	switch code {
	case LoadHeadroom:
		return headroom(m)
	case HillSpeed:
		return j.hillSpeed(m)
	case CarryShare:
		return carryShare(m.Sheets)
	case HorizonShare:
		years, ok := j.profile.Years.Get()
		if !ok || years == 0 || m.Horizon == nil {
			return nil, false
		}
		return share(int64(m.Horizon.Months), int64(12*years)), true
	case RiderHeight:
		return j.riderHeight(m)
	case StorageSlack:
		if m.Home == nil || !m.Home.Constrained {
			return nil, false
		}
		return new(big.Rat).SetInt64(int64(m.Home.Slack)), true
	case Price:
		budget := j.profile.Budget.Or(j.dearest)
		if budget == 0 {
			return nil, false
		}
		return share(int64(m.Total), int64(budget)), true
	case HandlingMass:
		return new(big.Rat).SetInt64(int64(m.Handling())), true
	}
	return nil, false
}

// least keeps the smaller of two figures, of which the first may be missing.
func least(a, b *big.Rat) *big.Rat {
	if a == nil || b.Cmp(a) < 0 {
		return b
	}
	return a
}

// headroom is the least share that is spare of the gross rating and of those
// of the axles.
func headroom(m *Match) (*big.Rat, bool) {
	var worst *big.Rat
	for i := range m.Sheets {
		s := &m.Sheets[i]
		worst = least(worst, share(int64(s.Spare()), int64(s.Rating)))
		for _, axle := range [...][2]measure.Mass{{s.Front, m.Frame.FrontAxleRating}, {s.Rear, m.Frame.RearAxleRating}} {
			if load, rating := axle[0], axle[1]; s.Axles && rating > 0 {
				worst = least(worst, share(int64(rating-load), int64(rating)))
			}
		}
	}
	return worst, worst != nil
}

// hillSpeed is the speed on the hill asked for of the slowest rider.
func (j *judge) hillSpeed(m *Match) (*big.Rat, bool) {
	var worst *big.Rat
	for i := range m.Sheets {
		c, asked := j.climbOf(m, &m.Sheets[i])
		if !asked {
			return nil, false
		}
		worst = least(worst, new(big.Rat).SetInt64(c.speed))
	}
	return worst, worst != nil
}

func carryShare(sheets []load.Sheet) (*big.Rat, bool) {
	var worst *big.Rat
	for i := range sheets {
		if sheets[i].Carried == 0 {
			return nil, false
		}
		s := share(int64(sheets[i].Carried), int64(sheets[i].Rider.Own))
		if worst == nil || s.Cmp(worst) > 0 {
			worst = s
		}
	}
	return worst, worst != nil
}

func (j *judge) riderHeight(m *Match) (*big.Rat, bool) {
	var worst *big.Rat
	for i := range j.profile.Riders {
		height, ok := j.profile.Riders[i].Height.Get()
		if !ok {
			continue
		}
		f := m.Frame
		nearer := min(height-f.RiderMin, f.RiderMax-height)
		worst = least(worst, share(2*int64(nearer), int64(f.RiderMax-f.RiderMin)))
	}
	return worst, worst != nil
}
