package fitting

import (
	"slices"
	"strings"

	"kinwain/internal/measure"
)

// Only returns the same problem with the add-ons chosen already: the codes of
// all that is on the bike, delivered parts included, each as often as it is
// fitted. Every question is then about this one set. It also returns what
// keeps the set from being put together at all; codes of add-ons that do not
// belong to the frame are left out.
func (p *Problem) Only(fitted []string) (*Problem, []Misfit) {
	only := *p
	counts := make([]int, len(p.options))
	for _, code := range fitted {
		if i := slices.IndexFunc(p.options, func(o option) bool { return o.Code == code }); i >= 0 {
			counts[i]++
		}
	}
	set := p.stateOf(counts)
	only.only = &set
	return &only, p.misfits(&set)
}

// Chosen reports whether the add-ons are chosen already.
func (p *Problem) Chosen() bool { return p.only != nil }

// Holds returns what all that is chosen may carry as cargo, each carrier by its
// own kilograms and litres: ratings of zones, axles and the whole aside.
func (p *Problem) Holds() (mass measure.Mass, volume measure.Volume) {
	for _, s := range p.stowage {
		n := 1
		if s.option >= 0 {
			n = p.only.counts[s.option]
		}
		mass, volume = mass+measure.Mass(n)*s.mass, volume+measure.Volume(n)*s.volume
	}
	return mass, volume
}

// Misfit is one reason why add-ons do not go together on the frame.
type Misfit struct {
	Code    MisfitCode
	AddOn   Name
	Other   Name   // of Excluded
	Mount   string // of MountFull
	Over    int    // of MountFull and TooMany: by how many
	Missing []Need // of NeedsMissing: each would do
}

// MisfitCode says what a misfit is.
type MisfitCode string

// The misfits.
const (
	MountFull    MisfitCode = "mount_full"
	NeedsMissing MisfitCode = "needs_missing"
	Excluded     MisfitCode = "excluded"
	TooMany      MisfitCode = "too_many"
)

// Need is one way to meet a need: an add-on for this frame, or a tag that
// nothing for this frame provides.
type Need struct {
	Name
	Tag string
}

func (p *Problem) misfits(s *state) []Misfit {
	var list []Misfit
	for i, n := range s.counts {
		o := &p.options[i]
		name := p.name(i)
		if n > o.most {
			list = append(list, Misfit{Code: TooMany, AddOn: name, Over: n - o.most})
		}
		if n == 0 {
			continue
		}
		for _, g := range o.needs {
			if s.met[g] == 0 {
				list = append(list, Misfit{Code: NeedsMissing, AddOn: name, Missing: p.offers(g)})
			}
		}
		for _, x := range o.excludes {
			if x > i && s.counts[x] > 0 {
				list = append(list, Misfit{Code: Excluded, AddOn: name, Other: p.name(x)})
			}
		}
	}
	for mount, used := range s.used {
		if over := used - p.capacity[mount]; over > 0 {
			list = append(list, Misfit{Code: MountFull, AddOn: p.name(p.lastOn(s, mount)), Mount: p.shelf.mountName(p.mounts[mount]), Over: over})
		}
	}
	return list
}

// lastOn returns the last option, by code, that uses a mount.
func (p *Problem) lastOn(s *state, mount int) int {
	last := 0
	for i, n := range s.counts {
		if n > 0 && slices.ContainsFunc(p.options[i].uses, func(u use) bool { return u.mount == mount }) {
			last = i
		}
	}
	return last
}

func (s *Shelf) mountName(mount int) string {
	for name, n := range s.mounts {
		if n == mount {
			return name
		}
	}
	return ""
}

// offers lists what would meet a group of needs.
func (p *Problem) offers(g int) []Need {
	var needs []Need
	for _, i := range p.groups[g].by {
		if p.options[i].buyable {
			needs = append(needs, Need{Name: p.name(i)})
		}
	}
	if needs != nil {
		return needs
	}
	for name, tag := range p.shelf.tags {
		if slices.Contains(p.groups[g].group.tags, tag) {
			needs = append(needs, Need{Tag: name})
		}
	}
	slices.SortFunc(needs, func(a, b Need) int { return strings.Compare(a.Tag, b.Tag) })
	return needs
}

func (p *Problem) name(i int) Name { return Name{p.options[i].Code, p.options[i].AddOn.Name} }

// alone answers an aim where the set is chosen already.
func (p *Problem) alone(a aim) *state {
	c := p.newSeating(true)
	defer c.done()
	if a.rules.Has(Storage) && !p.atHome(p.only) {
		return nil
	}
	for _, stage := range a.stages {
		if !c.settle(p.only, stage, a.rules) {
			return nil
		}
	}
	return p.only
}
