package build

import (
	"slices"
	"strings"

	"kinhaul/internal/catalog"
	"kinhaul/internal/load"
	"kinhaul/internal/measure"
	"kinhaul/internal/parking"
)

// Problem is one frame and the add-ons that fit it, held against a demand. It
// is for one goroutine at a time.
type Problem struct {
	Frame  *catalog.Frame
	Demand *Demand

	options []option // sorted by code
	tags    map[string]int
	framed  []place // the frame's own places
	offered []int   // per tag, 1 where the frame itself provides it
	mounts  []catalog.Mount
	limits  []load.Limit
	own     []carrier // zones with cargo of their own
	homes   map[parking.Bike]bool
}

// option is an add-on that may be on the frame.
type option struct {
	catalog.AddOn
	delivered int // how many the frame comes with
	buyable   bool
	labour    measure.Money // to fit one, or to take one off
	spot      load.Spot
	per       []int64 // what one takes up of every limit
	uses      []use
	excludes  []int // options, whichever names the other
	needs     []group
	tags      []int
	places    []place
}

type use struct{ mount, count int }

// group is one group of needs: some option fitted, or some tag provided.
type group struct{ options, tags []int }

type place struct {
	*catalog.Place
	needs []group
	spot  load.Spot
	per   []int64
}

// carrier is what can carry a share of the cargo.
type carrier struct {
	code   string
	copy   int
	zone   string
	spot   load.Spot
	mass   measure.Mass
	volume measure.Volume
	per    []int64
	rank   rank
}

// New sets up the problem of one frame of a catalogue, which must have been
// checked.
func New(c *catalog.Catalogue, f *catalog.Frame, d *Demand) *Problem {
	p := &Problem{Frame: f, Demand: d, tags: map[string]int{}, mounts: f.Mounts, homes: map[parking.Bike]bool{}}
	for i := range c.AddOns {
		a := &c.AddOns[i]
		delivered := 0
		for _, code := range f.ComesWith {
			if code == a.Code {
				delivered++
			}
		}
		buyable := slices.Contains(a.Fits, f.Code)
		if delivered == 0 && !buyable {
			continue
		}
		on := a.On(f.Code)
		p.options = append(p.options, option{AddOn: on, delivered: delivered, buyable: buyable, labour: c.Shop.Labour(on.FittingMinutes)})
	}
	slices.SortFunc(p.options, func(a, b option) int { return strings.Compare(a.Code, b.Code) })
	p.limits = load.Limits(f, p.deliveredParts(), d.Riders)
	p.link()
	return p
}

func (p *Problem) deliveredParts() []catalog.AddOn {
	var parts []catalog.AddOn
	for i := range p.options {
		for range p.options[i].delivered {
			parts = append(parts, p.options[i].AddOn)
		}
	}
	return parts
}

// link resolves every code to an index.
func (p *Problem) link() {
	for _, tag := range p.Frame.Provides {
		p.tag(tag)
	}
	for i := range p.options {
		o := &p.options[i]
		o.spot = load.ZoneSpot(p.Frame, o.Zone)
		o.per = p.take(o.spot, o.Weight)
		for _, u := range o.Uses {
			o.uses = append(o.uses, use{p.mount(u.Mount), u.Count})
		}
		for _, tag := range o.Provides {
			o.tags = append(o.tags, p.tag(tag))
		}
		o.needs = p.groups(o.Needs)
		for j := range p.options {
			if slices.Contains(o.Excludes, p.options[j].Code) || slices.Contains(p.options[j].Excludes, o.Code) {
				o.excludes = append(o.excludes, j)
			}
		}
		o.places = p.places(o.AddOn.Places, o.Zone)
	}
	p.framed = p.places(p.Frame.Places, "")
	p.offered = make([]int, len(p.tags))
	for _, tag := range p.Frame.Provides {
		p.offered[p.tags[tag]] = 1
	}
	for i := range p.Frame.Zones {
		if z := &p.Frame.Zones[i]; z.Cargo > 0 {
			p.own = append(p.own, p.carrier(z.Code, 0, z.Code, z.Cargo, z.CargoVolume))
		}
	}
}

func (p *Problem) tag(name string) int {
	i, ok := p.tags[name]
	if !ok {
		i = len(p.tags)
		p.tags[name] = i
	}
	return i
}

// mount returns the index of a mount. One that the frame does not have is
// taken up with no capacity, so that whatever uses it never fits.
func (p *Problem) mount(code string) int {
	if i := slices.IndexFunc(p.mounts, func(m catalog.Mount) bool { return m.Code == code }); i >= 0 {
		return i
	}
	p.mounts = append(slices.Clip(p.mounts), catalog.Mount{Code: code})
	return len(p.mounts) - 1
}

func (p *Problem) groups(needs [][]string) []group {
	var groups []group
	for _, members := range needs {
		var g group
		for _, m := range members {
			if i := p.option(m); i >= 0 {
				g.options = append(g.options, i)
			} else {
				g.tags = append(g.tags, p.tag(m))
			}
		}
		groups = append(groups, g)
	}
	return groups
}

func (p *Problem) option(code string) int {
	i, ok := slices.BinarySearchFunc(p.options, code, func(o option, code string) int { return strings.Compare(o.Code, code) })
	if !ok {
		return -1
	}
	return i
}

func (p *Problem) places(places []catalog.Place, zone string) []place {
	var list []place
	for i := range places {
		pl := place{Place: &places[i], needs: p.groups(places[i].Needs)}
		in := zone
		if in == "" {
			in = places[i].Zone
		}
		pl.spot = load.PlaceSpot(p.Frame, in, pl.Place)
		pl.per = p.take(pl.spot, 1)
		list = append(list, pl)
	}
	return list
}

// take returns what a mass at a spot takes up of every limit.
func (p *Problem) take(s load.Spot, m measure.Mass) []int64 {
	per := make([]int64, len(p.limits))
	for i := range p.limits {
		per[i] = p.limits[i].Per(s) * int64(m)
	}
	return per
}

func (p *Problem) carrier(code string, copied int, zone string, mass measure.Mass, volume measure.Volume) carrier {
	s := load.ZoneSpot(p.Frame, zone)
	return carrier{code: code, copy: copied, zone: zone, spot: s, mass: mass, volume: volume, per: p.take(s, 1),
		rank: rankOf(p.Frame, s, code, copied)}
}

// rank orders carriers by where cargo goes first: unsteered zones, then the
// lowest, then the nearest to mid-wheelbase, then by code.
type rank struct {
	steered bool
	height  measure.Length
	off     measure.Length
	code    string
	copy    int
}

func rankOf(f *catalog.Frame, s load.Spot, code string, copied int) rank {
	r := rank{code: code, copy: copied}
	if s.Zone == load.Nowhere {
		return r
	}
	z := &f.Zones[s.Zone]
	r.steered, r.height, r.off = z.Steered, z.Height, 2*s.Ahead-f.Wheelbase
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
	for _, diff := range [...]int64{int64(r.height - o.height), int64(r.off - o.off)} {
		if diff != 0 {
			return sign(diff)
		}
	}
	if c := strings.Compare(r.code, o.code); c != 0 {
		return c
	}
	return r.copy - o.copy
}

func sign(n int64) int {
	switch {
	case n < 0:
		return -1
	case n > 0:
		return 1
	}
	return 0
}
