package fitting

import (
	"fmt"
	"slices"
	"strings"

	"kinwain/internal/catalog"
)

// Shelf is a catalogue made ready for many frames: every code is a number,
// and every frame knows its add-ons. It may be shared: what it still learns it
// only learns once.
type Shelf struct {
	catalogue *catalog.Catalogue
	articles  []article // by code
	byFrame   map[string][]int
	places    map[string][][]int // the needs of every place that a frame has itself
	groups    []group            // every group of needs that there is, once
	known     map[string]int     // where a group is among them
	tags      map[string]int
	seatTags  []int // those that serve places
	mounts    map[string]int
	kept      map[string]*kept // by frame
}

// article is an add-on with its codes resolved.
type article struct {
	*catalog.AddOn
	fits     map[string]bool // frames: some fit every one of a thousand
	uses     []use
	excludes []int   // articles, whichever names the other
	needs    []int   // groups of the shelf
	places   [][]int // the same for each place
	tags     []int
}

type use struct{ mount, count int }

// group is one group of needs: some article fitted, or some tag provided. Both
// lists are in order.
type group struct{ articles, tags []int }

// NewShelf makes a catalogue ready, which must have been checked and must not
// change while the shelf is used.
func NewShelf(c *catalog.Catalogue) *Shelf {
	s := &Shelf{catalogue: c, byFrame: map[string][]int{}, places: map[string][][]int{}, known: map[string]int{}, tags: map[string]int{}, mounts: map[string]int{},
		kept: make(map[string]*kept, len(c.Frames))}
	order := make([]*catalog.AddOn, len(c.AddOns))
	for i := range c.AddOns {
		order[i] = &c.AddOns[i]
	}
	slices.SortFunc(order, func(a, b *catalog.AddOn) int { return strings.Compare(a.Code, b.Code) })
	byCode := make(map[string]int, len(order))
	for i, a := range order {
		byCode[a.Code] = i
	}
	for _, a := range order {
		s.articles = append(s.articles, s.resolve(a, byCode))
	}
	s.place(byCode)
	s.exclude(byCode)
	for tag, n := range s.tags {
		if catalog.OfASeat(tag) {
			s.seatTags = append(s.seatTags, n)
		}
	}
	return s
}

// number returns the number of a name, a new one where it has none.
func number(names map[string]int, name string) int {
	n, ok := names[name]
	if !ok {
		n = len(names)
		names[name] = n
	}
	return n
}

func (s *Shelf) resolve(a *catalog.AddOn, byCode map[string]int) article {
	out := article{AddOn: a, needs: s.resolveNeeds(a.Needs, byCode), fits: make(map[string]bool, len(a.Fits))}
	for _, frame := range a.Fits {
		out.fits[frame] = true
	}
	for _, u := range a.Uses {
		out.uses = append(out.uses, use{number(s.mounts, u.Mount), u.Count})
	}
	for _, tag := range a.Provides {
		out.tags = append(out.tags, number(s.tags, tag))
	}
	for i := range a.Places {
		out.places = append(out.places, s.resolveNeeds(a.Places[i].Needs, byCode))
	}
	return out
}

// resolveNeeds numbers groups of needs. A member that names no add-on is a
// tag.
func (s *Shelf) resolveNeeds(needs [][]string, byCode map[string]int) []int {
	var list []int
	for _, members := range needs {
		var g group
		for _, m := range members {
			if i, ok := byCode[m]; ok {
				g.articles = append(g.articles, i)
			} else {
				g.tags = append(g.tags, number(s.tags, m))
			}
		}
		slices.Sort(g.articles)
		slices.Sort(g.tags)
		n := number(s.known, fmt.Sprint(g))
		if n == len(s.groups) {
			s.groups = append(s.groups, g)
		}
		list = append(list, n)
	}
	return list
}

// exclude makes exclusions mutual.
func (s *Shelf) exclude(byCode map[string]int) {
	for i := range s.articles {
		for _, code := range s.articles[i].Excludes {
			if j, ok := byCode[code]; ok {
				s.articles[i].excludes = append(s.articles[i].excludes, j)
				s.articles[j].excludes = append(s.articles[j].excludes, i)
			}
		}
	}
	for i := range s.articles {
		slices.Sort(s.articles[i].excludes)
		s.articles[i].excludes = slices.Compact(s.articles[i].excludes)
	}
}

// place lists for every frame what fits it and what it comes with, by code.
func (s *Shelf) place(byCode map[string]int) {
	for i := range s.articles {
		for _, frame := range s.articles[i].Fits {
			s.byFrame[frame] = append(s.byFrame[frame], i)
		}
	}
	for i := range s.catalogue.Frames {
		f := &s.catalogue.Frames[i]
		s.kept[f.Code] = &kept{frame: f}
		for _, m := range f.Mounts {
			number(s.mounts, m.Code)
		}
		for j := range f.Places {
			s.places[f.Code] = append(s.places[f.Code], s.resolveNeeds(f.Places[j].Needs, byCode))
		}
		for _, tag := range f.Provides {
			number(s.tags, tag)
		}
		for _, code := range f.ComesWith {
			if j, ok := byCode[code]; ok {
				s.byFrame[f.Code] = append(s.byFrame[f.Code], j)
			}
		}
		list := s.byFrame[f.Code]
		slices.Sort(list)
		s.byFrame[f.Code] = slices.Compact(list)
	}
}

// ofASeat reports whether a tag is one that serves places.
func (s *Shelf) ofASeat(tag int) bool { return slices.Contains(s.seatTags, tag) }

func within(a, b []int) bool {
	return !slices.ContainsFunc(a, func(i int) bool { return !slices.Contains(b, i) })
}
