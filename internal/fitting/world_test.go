// The rules of a build once more, written down plainly and slowly, with none
// of the solver's code: what goes together, who may sit where, what every
// rating leaves. The checker and the search through every set ask it.
package fitting_test

import (
	"slices"
	"strings"

	"kinwain/internal/catalog"
	"kinwain/internal/fitting"
	"kinwain/internal/growth"
	"kinwain/internal/measure"
	"kinwain/internal/parking"
	"kinwain/internal/profile"
)

// world is an instance as the plain rules see it.
type world struct {
	*instance
	kinds   []kind // of add-on that may be on the frame, by code
	ratings []rating
	pet     measure.Mass
	cargo   measure.Mass
	size    measure.Volume
}

// kind is an add-on with the facts of its pair with the frame.
type kind struct {
	catalog.AddOn
	delivered, most int
	labour          measure.Money // for one, on or off
	zone            int           // -1: none
}

func worldOf(in *instance) *world {
	w := &world{instance: in, pet: in.profile.Pet.Or(0), cargo: in.profile.Cargo.Or(0), size: in.profile.CargoSize.Or(0)}
	for _, a := range in.catalogue.AddOns {
		k := kind{AddOn: paired(a, in.frame.Code), zone: zoneAt(in.frame, a.Zone)}
		for _, code := range in.frame.ComesWith {
			if code == a.Code {
				k.delivered++
			}
		}
		k.most = k.delivered
		if slices.Contains(a.Fits, in.frame.Code) {
			k.most = max(k.delivered, a.UpTo, 1)
		}
		// Half up to a cent: the floor of rate × minutes ÷ 60 + ½.
		k.labour = (2*in.catalogue.Shop.LabourPerHour*measure.Money(k.FittingMinutes) + 60) / 120
		if k.most > 0 {
			w.kinds = append(w.kinds, k)
		}
	}
	slices.SortFunc(w.kinds, func(a, b kind) int { return strings.Compare(a.Code, b.Code) })
	w.ratings = ratingsOf(in)
	return w
}

func paired(a catalog.AddOn, frame string) catalog.AddOn {
	p := a.OnFrame[frame]
	if p.FittingMinutes != nil {
		a.FittingMinutes = *p.FittingMinutes
	}
	if p.MaxLoad != nil {
		a.MaxLoad = *p.MaxLoad
	}
	for _, size := range []struct{ own, pair *measure.Length }{
		{&a.FrontOverhang, p.FrontOverhang}, {&a.RearOverhang, p.RearOverhang}, {&a.OverallWidth, p.OverallWidth}, {&a.OverallHeight, p.OverallHeight},
	} {
		if size.pair != nil {
			*size.own = *size.pair
		}
	}
	if p.BlocksUpright != nil {
		a.BlocksUpright = *p.BlocksUpright
	}
	return a
}

func zoneAt(f *catalog.Frame, code string) int {
	return slices.IndexFunc(f.Zones, func(z catalog.Zone) bool { return z.Code == code })
}

// person is a passenger who rides along on a day.
type person struct {
	label       string
	load, light measure.Mass   // dressed and heavy; undressed and light
	tall        measure.Length // 0: not known
	born        measure.Date   // zero: not known
	on          measure.Date   // the day on which they are judged
}

// party returns everyone who rides along on a day, in profile order.
func party(p *profile.Profile, day measure.Date) []person {
	var list []person
	for _, c := range p.Passengers.Or(nil) {
		born, known := c.Born.Get()
		one := person{label: c.Label, load: c.Weight.Or(0) + 1*kg, light: c.Weight.Or(0), tall: c.Stature.Or(0)}
		if known {
			if years := c.LeavesAtYears.Or(0); years > 0 && day.Compare(lastDay(born).AddMonths(12*years)) >= 0 {
				continue
			}
			on := day
			if rides := ridesFrom(p, &c, born); on.Before(rides) {
				on = rides
			}
			one = grownUp(p.AsOf, &c, born, on)
		}
		list = append(list, one)
	}
	return list
}

// ridesFrom returns the first day on which a passenger rides along: of the
// month that was given, but not before the first birthday, and that where the
// birth is ahead and no month was given. The zero day: always.
func ridesFrom(p *profile.Profile, c *profile.Passenger, born measure.Date) measure.Date {
	birthday, joins := lastDay(born).AddMonths(12), c.Joins.Or(profile.Month{}).Month
	switch {
	case joins != 0 && birthday.Before(joins.First()):
		return joins.First()
	case joins != 0 || p.AsOf.Before(firstDay(born)):
		return birthday
	}
	return measure.Date{}
}

func grownUp(asOf measure.Date, c *profile.Passenger, born, day measure.Date) person {
	child := growth.Child{Born: born, Measured: asOf, Weight: c.Weight.Or(0), Stature: c.Stature.Or(0)}
	switch c.Sex.Or("") {
	case profile.Girl:
		child.Sex = growth.Girl
	case profile.Boy:
		child.Sex = growth.Boy
	}
	state := growth.Plan(child, growth.Z(75*measure.Percent), growth.Z(25*measure.Percent)).On(day)
	return person{label: c.Label, load: state.Heavy + 1*kg, light: state.Light, tall: state.Tall, born: born, on: day}
}

// firstDay and lastDay are what a birth month without a day may mean.
func firstDay(d measure.Date) measure.Date {
	if d.Day == 0 {
		d.Day = 1
	}
	return d
}

func lastDay(d measure.Date) measure.Date {
	if d.Day == 0 {
		d.Day = 31
		return d.AddMonths(0) // held to the length of the month
	}
	return d
}

func (p *person) suits(pl *catalog.Place) bool {
	if p.born == (measure.Date{}) {
		if pl.MinMonths > 0 || pl.MaxMonths > 0 {
			return false
		}
	} else {
		if p.on.Compare(lastDay(p.born).AddMonths(pl.MinMonths)) < 0 {
			return false
		}
		if pl.MaxMonths > 0 && p.on.Compare(firstDay(p.born).AddMonths(pl.MaxMonths)) > 0 {
			return false
		}
	}
	return p.light >= pl.MinMass && (pl.MaxMass == 0 || p.load <= pl.MaxMass) && (pl.MaxStature == 0 || p.tall <= pl.MaxStature)
}

// rating is one stated rating under one rider: the sum of mass × per over all
// that is put on or taken off the delivered bike is at most room.
type rating struct {
	rule  fitting.Rules
	name  string
	zones []int // for zones and combined ones
	front bool  // for an axle: which; for the lift of the front, neither
	base  measure.Length
	room  int64
	sides func(zone int) int64 // of no rating: what a gram adds to one side over the other
}

func (r *rating) per(zone int, ahead measure.Length) int64 {
	switch {
	case r.sides != nil:
		return r.sides(zone)
	case r.rule == fitting.GrossRating:
		return 1
	case r.rule == fitting.ZoneRating || r.rule == fitting.CombinedRating:
		return int64(b2i(slices.Contains(r.zones, zone)))
	case zone < 0 && ahead == 0: // nobody knows where: see parts
		return 10_000 * int64(r.base)
	case r.rule == fitting.FrontLight:
		return -10_000 * int64(ahead)
	case r.front:
		return 10_000 * int64(ahead)
	}
	return 10_000 * int64(r.base-ahead)
}

func b2i(b bool) int {
	if b {
		return 1
	}
	return 0
}

func ratingsOf(in *instance) []rating {
	f := in.frame
	var list []rating
	for i, z := range f.Zones {
		if z.Rating > 0 {
			list = append(list, rating{rule: fitting.ZoneRating, name: z.Code, zones: []int{i}, room: int64(z.Rating)})
		}
	}
	for _, c := range f.Combined {
		r := rating{rule: fitting.CombinedRating, name: strings.Join(c.Zones, "+"), room: int64(c.Rating)}
		for _, z := range c.Zones {
			r.zones = append(r.zones, zoneAt(f, z))
		}
		list = append(list, r)
	}
	for _, rider := range in.profile.Riders {
		weight, ok := rider.Weight.Get()
		if !ok {
			continue
		}
		switch rider.Weighed.Or(profile.Stated) {
		case profile.Undressed:
			weight += 4 * kg
		case profile.Stated:
			weight += 6 * kg
		}
		list = append(list, rating{rule: fitting.GrossRating, name: rider.Label, room: int64(f.GrossRating - f.BareWeight - weight)})
		list = append(list, axlesUnder(f, rider.Label, int64(weight))...)
		if in.flies || f.Wheelbase == 0 || f.RiderAhead == 0 || f.BareFrontShare == 0 {
			continue
		}
		down := int64(f.BareWeight)*int64(f.BareFrontShare)*int64(f.Wheelbase) + int64(weight)*int64(f.RiderAhead)*10_000
		list = append(list, rating{rule: fitting.FrontLight, name: "the front under " + rider.Label, base: f.Wheelbase,
			room: down - int64(in.downBy)*int64(f.Wheelbase)*10_000})
	}
	return list
}

// axlesUnder balances moments about the other axle, in grams × millimetres ×
// ten-thousandths.
func axlesUnder(f *catalog.Frame, label string, riding int64) []rating {
	if f.Wheelbase == 0 || f.RiderAhead == 0 || f.BareFrontShare == 0 {
		return nil
	}
	var list []rating
	base, saddle, share := int64(f.Wheelbase), int64(f.RiderAhead), int64(f.BareFrontShare)
	if r := int64(f.FrontAxleRating); r > 0 {
		room := r*base*10_000 - int64(f.BareWeight)*share*base - riding*saddle*10_000
		list = append(list, rating{rule: fitting.AxleRating, name: "front under " + label, front: true, base: f.Wheelbase, room: room})
	}
	if r := int64(f.RearAxleRating); r > 0 {
		room := r*base*10_000 - int64(f.BareWeight)*(10_000-share)*base - riding*(base-saddle)*10_000
		list = append(list, rating{rule: fitting.AxleRating, name: "rear under " + label, base: f.Wheelbase, room: room})
	}
	return list
}

// point is a mass at a spot. A delivered part weighs nothing more as a whole
// but counts in its zone; one taken off is the other way round.
type point struct {
	whole, inZone int64
	onAxle, lifts int64 // for the ratings of the axles, and for what lifts the front
	zone          int
	ahead         measure.Length
}

func (w *world) spot(zone int, ahead measure.Length) point {
	p := point{zone: zone, ahead: ahead}
	if zone >= 0 && ahead == 0 {
		p.ahead = w.frame.Zones[zone].Ahead
	}
	return p
}

func (p point) of(mass measure.Mass) point {
	p.whole, p.inZone, p.onAxle, p.lifts = int64(mass), int64(mass), int64(mass), int64(mass)
	return p
}

// left returns what a rating leaves with the points on the bike.
func (r *rating) left(points []point) int64 {
	left := r.room
	for _, p := range points {
		left -= p.counts(r) * r.per(p.zone, p.ahead)
	}
	return left
}

// counts returns the mass of a point that counts for a rating.
func (p point) counts(r *rating) int64 {
	switch r.rule {
	case fitting.ZoneRating, fitting.CombinedRating:
		return p.inZone
	case fitting.AxleRating:
		return p.onAxle
	case fitting.FrontLight:
		return p.lifts
	}
	return p.whole
}

// parts returns the points of a set of add-ons.
func (w *world) parts(counts []int) []point {
	var list []point
	for i := range w.kinds {
		k := &w.kinds[i]
		for n := range max(counts[i], k.delivered) {
			switch {
			case n >= counts[i]:
				list = append(list, w.gone(k))
			case n < k.delivered:
				p := w.fitted(k)
				p.whole, p.onAxle, p.lifts = 0, 0, 0
				list = append(list, p)
			default:
				list = append(list, w.fitted(k))
			}
		}
	}
	return list
}

// fitted is one more on the bike. In no zone and with no place stated it is
// whole on either axle, and does not hold the front down.
func (w *world) fitted(k *kind) point {
	if k.zone >= 0 {
		return w.spot(k.zone, 0).of(k.Weight)
	}
	p := w.spot(-1, k.AddOn.Ahead).of(k.Weight)
	if k.AddOn.Ahead == 0 {
		p.lifts = 0
	}
	return p
}

// gone is one that came with the bike and is off it. With no place stated it
// relieves neither axle, and all of it held the front down: lifting counts it
// as if it were put behind by as much as there is between the axles.
func (w *world) gone(k *kind) point {
	p := w.fitted(k)
	p.whole, p.inZone, p.onAxle, p.lifts = -p.whole, 0, -p.onAxle, -p.lifts
	if k.zone < 0 && k.AddOn.Ahead == 0 {
		p.onAxle, p.lifts = 0, int64(k.Weight)
	}
	return p
}

// goesTogether reports whether a set keeps to the mounts, the needs and the
// exclusions.
func (w *world) goesTogether(counts []int) bool {
	return w.clash(counts) == ""
}

func (w *world) clash(counts []int) string {
	used := map[string]int{}
	for i, n := range counts {
		k := &w.kinds[i]
		for _, u := range k.Uses {
			used[u.Mount] += n * u.Count
		}
		if n == 0 {
			continue
		}
		for _, group := range k.Needs {
			if !w.met(counts, group) {
				return k.Code + " lacks what it needs"
			}
		}
		for j := range w.kinds {
			if counts[j] > 0 && slices.Contains(k.Excludes, w.kinds[j].Code) {
				return k.Code + " excludes " + w.kinds[j].Code
			}
		}
	}
	for mount, n := range used {
		capacity := 0
		for _, m := range w.frame.Mounts {
			if m.Code == mount {
				capacity = m.Capacity
			}
		}
		if n > capacity {
			return "the mount " + mount + " is overfull"
		}
	}
	return ""
}

// met reports whether one member of a group holds: an add-on fitted, or a tag
// that the frame or a fitted add-on provides.
func (w *world) met(counts []int, group []string) bool {
	for _, member := range group {
		if slices.Contains(w.frame.Provides, member) {
			return true
		}
		for i := range w.kinds {
			if counts[i] > 0 && (w.kinds[i].Code == member || slices.Contains(w.kinds[i].Provides, member)) {
				return true
			}
		}
	}
	return false
}

// seatTags serve the places of what gives them: its own where it has any, or
// else those of its zone.
var seatTags = []string{"foot_support", "hand_hold", "backrest"}

// reaches reports whether what a kind provides serves a place of a kind, or the
// frame's own at -1, in a zone.
func (w *world) reaches(giver int, tag string, kind, zone int) bool {
	g := &w.kinds[giver]
	if !slices.Contains(seatTags, tag) {
		return true
	}
	if len(g.Places) == 0 {
		return g.zone >= 0 && g.zone == zone
	}
	return giver == kind
}

// metFor is met for who sits in a place of a kind in a zone.
func (w *world) metFor(counts []int, group []string, kind, zone int) bool {
	return slices.ContainsFunc(group, func(member string) bool {
		if slices.Contains(w.frame.Provides, member) {
			return true
		}
		for i := range w.kinds {
			if k := &w.kinds[i]; counts[i] > 0 && (k.Code == member || slices.Contains(k.Provides, member) && w.reaches(i, member, kind, zone)) {
				return true
			}
		}
		return false
	})
}

// kindOf returns the number of the kind of a code, or -1.
func (w *world) kindOf(code string) int {
	return slices.IndexFunc(w.kinds, func(k kind) bool { return k.Code == code })
}

// ownRoom returns what a zone takes of cargo itself beside a set.
func (w *world) ownRoom(counts []int, zone int) (mass measure.Mass, volume measure.Volume) {
	z := &w.frame.Zones[zone]
	mass, volume = z.Cargo, z.CargoVolume
	for i := range w.kinds {
		if k := &w.kinds[i]; k.zone == zone {
			mass = max(mass-measure.Mass(counts[i])*k.DisplacesCargo, 0)
			volume = max(volume-measure.Volume(counts[i])*k.DisplacesVolume, 0)
		}
	}
	return mass, volume
}

// homely reports whether the bike with a set on it gets home and fits.
func (w *world) homely(counts []int) bool {
	home, ok := w.profile.Home.Get()
	return !ok || parking.Check(w.outline(counts), plain(home)).Fits
}

func (w *world) outline(counts []int) parking.Bike {
	f := w.frame
	front, rear := measure.Length(0), measure.Length(0)
	width, height, upright := f.Width, f.Height, f.Upright
	for i, n := range counts {
		if k := &w.kinds[i]; n > 0 {
			front, rear = max(front, k.FrontOverhang), max(rear, k.RearOverhang)
			width, height, upright.Width = max(width, k.OverallWidth), max(height, k.OverallHeight), max(upright.Width, k.OverallWidth)
		}
	}
	b := parking.Bike{Flat: parking.Box{Length: f.Length + front + rear, Width: width, Height: height}}
	if f.Upright != (catalog.Box{}) && !w.blocked(counts) {
		b.Upright = parking.Box{Length: upright.Length + height - f.Height, Width: upright.Width, Height: upright.Height + front + rear}
	}
	return b
}

func (w *world) blocked(counts []int) bool {
	for i, n := range counts {
		if n > 0 && w.kinds[i].BlocksUpright {
			return true
		}
	}
	return false
}

// plain turns the answers about a home into a home.
func plain(h profile.Home) parking.Home {
	home := parking.Home{Space: parking.Box{Length: h.Length.Or(0), Width: h.Width.Or(0), Height: h.Height.Or(0)},
		Clearance: h.Clearance.Or(0), MustStandUpright: h.MustStandUpright.Or(false)}
	for _, d := range h.Doorways.Or(nil) {
		home.Doorways = append(home.Doorways, parking.Doorway{Width: d.Width.Or(0), Height: d.Height.Or(0)})
	}
	for _, c := range h.Corners.Or(nil) {
		home.Corners = append(home.Corners, parking.Corner{In: c.In.Or(0), Out: c.Out.Or(0)})
	}
	if l, ok := h.Lift.Get(); ok {
		home.Lift = &parking.Lift{Length: l.Length.Or(0), Width: l.Width.Or(0), Height: l.Height.Or(0), Door: l.Door.Or(0)}
	}
	return home
}

// price, labour and weight of a set, over the delivered frame.
func (w *world) sums(counts []int) (price, labour measure.Money, weight measure.Mass) {
	for i, n := range counts {
		k := &w.kinds[i]
		bought, off := max(n-k.delivered, 0), max(k.delivered-n, 0)
		price += measure.Money(bought) * k.Price
		labour += measure.Money(bought+off) * k.labour
		weight += measure.Mass(bought-off) * k.Weight
	}
	return price, labour, weight
}
