package fitting

import (
	"slices"
	"strings"

	"kinwain/internal/catalog"
	"kinwain/internal/load"
	"kinwain/internal/measure"
	"kinwain/internal/parking"
)

// Problem is one frame and the add-ons that fit it, held against a demand. It
// is for one goroutine at a time.
type Problem struct {
	Frame  *catalog.Frame
	Demand *Demand

	shelf    *Shelf
	options  []option // by code
	framed   []place  // the frame's own places
	mounts   []int    // that the options use, as the shelf numbers them
	capacity []int    // per mount
	users    [][]user // per mount
	groups   []need   // every group of needs of the options and the frame's places
	offered  []int    // per group, 1 where the frame itself meets it
	limits   []load.Limit

	delivered []catalog.AddOn // what the frame comes with
	rivals    []rivals        // that may outdo each other
	stowage   []stowage       // what may carry cargo, in the order of filling
	zonesOf   [][]int         // per limit of zones, the zones that it is over
	byItself  [][]int         // per zone, itself alone
	homes     []outline       // outlines that were held against the home already
	bars      []bool          // per option, see barred; nil: not asked for yet
	known     *known          // shared by all problems of the frame with the same riders
	refuted   refuted
	base      state // the frame as the maker delivers it; nobody changes it
	// overlapping tells that two combined ratings share a zone, and neither
	// is over all the zones of the other.
	overlapping bool
	only        *state        // the set, where it is chosen already; see Only
	without     shortcut      // for tests: what the search does without
	observe     func(*search) // for tests: sees the search before each node
}

// option is an add-on that may be on the frame.
type option struct {
	*catalog.AddOn // with the facts of the pair
	article        int
	delivered      int // how many the frame comes with
	buyable        bool
	most           int
	stay           int           // of those that the frame comes with, how many do not come off
	labour         measure.Money // to fit one, or to take one off
	spot           load.Spot
	per            []int64 // what one that is bought takes up of every limit
	perOff         []int64 // what one that came with the frame frees when it comes off
	uses           []use
	excludes       []int // options
	needs          []int // groups
	meets          []int // groups that it meets
	places         []place
}

// need is a group of needs as the options of one frame can meet it.
type need struct {
	group *group // of the shelf
	zone  int    // of the places that ask, where a tag of a seat is in the group; or anywhere
	by    []int  // options
}

const anywhere = -2 // beside load.Nowhere

type place struct {
	*catalog.Place
	needs []int // groups
	spot  load.Spot
	per   []int64 // what a gram takes up of every limit
	like  int     // one more than the index of the place before it that is the same, or 0
}

// stowage is what can carry a share of the cargo: a zone of the frame, or
// every copy of an option.
type stowage struct {
	option int // -1 for a zone
	code   string
	zone   string
	spot   load.Spot
	mass   measure.Mass
	volume measure.Volume
	per    []int64

	displacing []int // of a zone: the options that take some of it
}

// outline is the outer size of a bike and whether it gets home.
type outline struct {
	bike parking.Bike
	fits bool
}

// New sets up the problem of one frame of a catalogue, which must have been
// checked. For many frames, make one Shelf and ask it.
func New(c *catalog.Catalogue, f *catalog.Frame, d *Demand) *Problem {
	return NewShelf(c).Problem(f, d)
}

// setUp sets up the problem of one frame.
func (s *Shelf) setUp(f *catalog.Frame, d *Demand) *Problem {
	list := s.byFrame[f.Code]
	p := &Problem{Frame: f, Demand: d, shelf: s, options: make([]option, len(list)), known: new(known)}
	for i, at := range list {
		p.options[i] = s.option(f, at)
	}
	p.mount()
	p.delivered = p.deliveredParts()
	p.limit()
	p.overlapping = overlapping(f)
	for z := range f.Zones {
		p.byItself = append(p.byItself, []int{z})
	}
	p.zonesOf = make([][]int, len(p.limits))
	for l := range p.limits {
		for z := range f.Zones {
			if r := p.limits[l].Rule; (r == load.InZone || r == load.Combined) && p.limits[l].Per(load.Spot{Zone: z}) > 0 {
				p.zonesOf[l] = append(p.zonesOf[l], z)
			}
		}
	}
	p.link()
	p.order()
	p.rivals = p.findRivals()
	p.base = p.deliver()
	return p
}

func overlapping(f *catalog.Frame) bool {
	for i := range f.Combined {
		for j := range i {
			a, b := f.Combined[i].Zones, f.Combined[j].Zones
			shared := 0
			for _, zone := range a {
				if slices.Contains(b, zone) {
					shared++
				}
			}
			if shared > 0 && shared < min(len(a), len(b)) {
				return true
			}
		}
	}
	return false
}

func (s *Shelf) option(f *catalog.Frame, at int) option {
	a := &s.articles[at]
	o := option{AddOn: a.AddOn, article: at, most: a.Most(), uses: a.uses, buyable: a.fits[f.Code]}
	if _, ok := a.OnFrame[f.Code]; ok {
		on := a.On(f.Code)
		o.AddOn = &on
	}
	for _, code := range f.ComesWith {
		if code == a.Code {
			o.delivered++
		}
	}
	o.labour = s.catalogue.Shop.Labour(o.FittingMinutes)
	return o
}

func (p *Problem) deliveredParts() []catalog.AddOn {
	var parts []catalog.AddOn
	for i := range p.options {
		for range p.options[i].delivered {
			parts = append(parts, *p.options[i].AddOn)
		}
	}
	return parts
}

// link finds for every option its spot, and for what it names the options of
// this frame.
func (p *Problem) link() {
	per := make([]int64, 0, 2*len(p.options)*len(p.limits))
	for i := range p.options {
		o := &p.options[i]
		a := &p.shelf.articles[o.article]
		o.spot = load.AddOnSpot(p.Frame, o.AddOn)
		per, o.per = p.take(per, o.spot, o.Weight)
		if o.perOff = o.per; o.delivered > 0 && !o.spot.Placed() {
			o.perOff = make([]int64, len(p.limits))
			for l := range p.limits {
				o.perOff[l] = p.limits[l].PerOff(o.spot) * int64(o.Weight)
			}
		}
		for _, x := range a.excludes {
			if j := p.find(x); j >= 0 {
				o.excludes = append(o.excludes, j)
			}
		}
		if len(a.Places) > 0 {
			o.places = make([]place, len(a.Places))
		}
		for k := range o.places {
			pl := &o.places[k]
			*pl = place{Place: &o.AddOn.Places[k]}
			pl.spot = load.PlaceSpot(p.Frame, o.Zone, pl.Place)
			per, pl.per = p.take(per, pl.spot, 1)
		}
	}
	for i := range p.Frame.Places {
		pl := place{Place: &p.Frame.Places[i]}
		pl.spot = load.PlaceSpot(p.Frame, pl.Place.Zone, pl.Place)
		per, pl.per = p.take(per, pl.spot, 1)
		p.framed = append(p.framed, pl)
	}
	p.linkNeeds()
}

// linkNeeds numbers the groups of needs that this frame has to do with, and
// finds who meets them.
func (p *Problem) linkNeeds() {
	local := func(groups []int, zone int, own []int) []int {
		var list []int
		for _, g := range groups {
			group, zone := &p.shelf.groups[g], zone
			if !slices.ContainsFunc(group.tags, p.shelf.ofASeat) {
				zone = anywhere
			} else if zone != anywhere && slices.ContainsFunc(own, func(tag int) bool { return p.shelf.ofASeat(tag) && slices.Contains(group.tags, tag) }) {
				continue // whoever sits there has it
			}
			n := slices.IndexFunc(p.groups, func(known need) bool { return known.group == group && known.zone == zone })
			if n < 0 {
				n = len(p.groups)
				p.groups = append(p.groups, need{group: group, zone: zone})
			}
			list = append(list, n)
		}
		return list
	}
	for i := range p.options {
		o := &p.options[i]
		a := &p.shelf.articles[o.article]
		o.needs = local(a.needs, anywhere, nil)
		for k := range o.places {
			o.places[k].needs = local(a.places[k], o.places[k].spot.Zone, a.tags)
		}
		markLikes(o.places)
	}
	for k, needs := range p.shelf.places[p.Frame.Code] {
		p.framed[k].needs = local(needs, p.framed[k].spot.Zone, nil)
	}
	markLikes(p.framed)
	p.offered = make([]int, len(p.groups))
	for n := range p.groups {
		g := &p.groups[n]
		for i := range p.options {
			if p.meets(i, g) {
				g.by = append(g.by, i)
				p.options[i].meets = append(p.options[i].meets, n)
			}
		}
		for _, tag := range p.Frame.Provides {
			if slices.Contains(g.group.tags, p.shelf.tags[tag]) {
				p.offered[n] = 1
			}
		}
	}
}

// meets reports whether an option meets a group of needs. A tag of a seat that
// it gives serves its own places, of which local has seen to that; or where it
// has none, those of its zone.
func (p *Problem) meets(i int, g *need) bool {
	o := &p.options[i]
	serves := g.zone == anywhere || len(o.places) == 0 && o.spot.Zone == g.zone && g.zone != load.Nowhere
	return slices.Contains(g.group.articles, o.article) || slices.ContainsFunc(p.shelf.articles[o.article].tags, func(tag int) bool {
		return slices.Contains(g.group.tags, tag) && (serves || !p.shelf.ofASeat(tag))
	})
}

// markLikes finds for every place the last one before it that is the same.
func markLikes(places []place) {
	for i := range places {
		for j := range i {
			if places[i].same(&places[j]) {
				places[i].like = j + 1
			}
		}
	}
}

// same reports whether two places of one carrier take the same people in the
// same spot, so that it is no matter who sits in which.
func (pl *place) same(o *place) bool {
	a, b := pl.Place, o.Place
	return pl.spot == o.spot && a.MinMonths == b.MinMonths && a.MaxMonths == b.MaxMonths && a.MinMass == b.MinMass &&
		a.MaxMass == b.MaxMass && a.MaxStature == b.MaxStature && within(pl.needs, o.needs) && within(o.needs, pl.needs)
}

// find returns the option of an article, or -1.
func (p *Problem) find(at int) int {
	i, ok := slices.BinarySearchFunc(p.options, at, func(o option, at int) int { return o.article - at })
	if !ok {
		return -1
	}
	return i
}

// take appends to a buffer what a mass at a spot takes up of every limit.
func (p *Problem) take(buffer []int64, s load.Spot, m measure.Mass) (rest, per []int64) {
	from := len(buffer)
	for i := range p.limits {
		buffer = append(buffer, p.limits[i].Per(s)*int64(m))
	}
	return buffer, buffer[from:len(buffer):len(buffer)]
}

// order lists what may carry cargo in the order in which it is filled:
// unsteered zones first, then the lowest, then the nearest to mid-wheelbase,
// then by code.
func (p *Problem) order() {
	var per []int64
	add := func(s stowage) {
		s.spot = load.ZoneSpot(p.Frame, s.zone)
		per, s.per = p.take(per, s.spot, 1)
		p.stowage = append(p.stowage, s)
	}
	for i := range p.Frame.Zones {
		if z := &p.Frame.Zones[i]; z.Cargo > 0 {
			add(stowage{option: -1, code: z.Code, zone: z.Code, mass: z.Cargo, volume: z.CargoVolume, displacing: p.displacing(z.Code)})
		}
	}
	for i := range p.options {
		if o := &p.options[i]; o.Cargo > 0 {
			add(stowage{option: i, code: o.Code, zone: o.Zone, mass: o.Cargo, volume: o.CargoVolume})
		}
	}
	slices.SortStableFunc(p.stowage, func(a, b stowage) int { return p.rank(a).compare(p.rank(b)) })
}

// rank is what carriers are ordered by.
type rank struct {
	steered bool
	height  measure.Length
	off     measure.Length // twice the distance to mid-wheelbase
	code    string
}

func (p *Problem) rank(s stowage) rank {
	r := rank{code: s.code}
	if s.spot.Zone == load.Nowhere {
		return r
	}
	z := &p.Frame.Zones[s.spot.Zone]
	r.steered, r.height, r.off = z.Steered, z.Height, 2*s.spot.Ahead-p.Frame.Wheelbase
	if r.off < 0 {
		r.off = -r.off
	}
	return r
}

func (r rank) compare(o rank) int {
	if r.steered != o.steered {
		if o.steered {
			return -1
		}
		return 1
	}
	for _, diff := range [...]measure.Length{r.height - o.height, r.off - o.off} {
		if diff != 0 {
			return int(min(max(diff, -1), 1))
		}
	}
	return strings.Compare(r.code, o.code)
}
