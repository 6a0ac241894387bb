package fitting

// displacing lists the options that take of a zone's own room for cargo.
func (p *Problem) displacing(zone string) []int {
	var list []int
	for i := range p.options {
		if o := &p.options[i]; o.Zone == zone && (o.DisplacesCargo > 0 || o.DisplacesVolume > 0) {
			list = append(list, i)
		}
	}
	return list
}

// displace says what add-ons take of a zone's own room for cargo, in kilograms
// and in litres. What is left is never below nothing, which no row can say; but
// along the way from none of them to all that there can be it lies on or below
// a straight line, since it falls no faster later than before.
func (b *block) displace() {
	for n := range b.shares {
		s := &b.shares[n]
		if len(s.displacing) == 0 || s.option >= 0 {
			continue
		}
		if b.mass > 0 {
			b.displaced(s, float64(s.mass), b.mass, func(o *option) float64 { return float64(o.DisplacesCargo) })
		}
		if size := float64(b.p.Demand.CargoSize); size > 0 && b.rules.Has(CargoVolume) {
			b.displaced(s, float64(s.volume), size, func(o *option) float64 { return float64(o.DisplacesVolume) })
		}
	}
}

func (b *block) displaced(s *carrying, room, asked float64, of func(o *option) float64) {
	all := 0.0
	for _, i := range s.displacing {
		if b.can(i) {
			all += float64(b.most(i)) * of(&b.p.options[i])
		}
	}
	if all == 0 {
		return
	}
	slope := min(1, room/all) / asked * (1 - 1e-12) // wider, for rounding
	b.hold(s.heap, func(*carrying) float64 {
		sum := -room / asked * (1 + 1e-12)
		for _, i := range s.displacing {
			sum += b.fitted(i, slope*of(&b.p.options[i]))
		}
		return sum
	})
}
