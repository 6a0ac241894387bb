package coverage

import (
	"cmp"
	"context"
	"slices"

	"kinwain/internal/catalog"
	"kinwain/internal/match"
)

// Answer is what counts of the answer to one customer. Nothing of it tells who
// that is, or when it was.
type Answer struct {
	Grades []Grade  // by frame of the catalogue
	Stops  []Stop   // what ruled frames out, each once
	Helps  []string // codes of single changes that make some frame fit, where none does
	Builds [][]int  // by frame that fits: the add-ons of its best build, by their place in the catalogue
	Open   int      // frames that could not be judged in time: they count as not fitting
}

// Stop is one figure of a frame that ruled it out: the rule, and which of
// several figures of its kind.
type Stop struct {
	Frame int // in the catalogue
	Code  match.Code
	At    string // the zone, the zones with a + between, the axle or the add-on; empty for the frame as a whole
}

// AnswerOf counts what a catalogue's frames are to one customer, as they were
// judged in any order.
func AnswerOf(c *catalog.Catalogue, judged []*match.Match) Answer {
	a := Answer{Grades: make([]Grade, len(c.Frames)), Builds: make([][]int, len(c.Frames))}
	for _, m := range judged {
		i := slices.IndexFunc(c.Frames, func(f catalog.Frame) bool { return f.Code == m.Frame.Code })
		switch m.Verdict {
		case match.Fits:
			a.Grades[i] = Well
		case match.FitsWithCare:
			a.Grades[i] = WithCare
		case match.NotJudged:
			a.Open++
		default:
			a.stopped(i, m)
		}
		if a.Grades[i] > No {
			a.Builds[i] = fitted(c, m)
		}
	}
	return a
}

func fitted(c *catalog.Catalogue, m *match.Match) []int {
	var list []int
	for i := range m.Fitted {
		at := slices.IndexFunc(c.AddOns, func(a catalog.AddOn) bool { return a.Code == m.Fitted[i].Code })
		if !slices.Contains(list, at) {
			list = append(list, at)
		}
	}
	return list
}

// stopped notes why a frame does not fit.
func (a *Answer) stopped(frame int, m *match.Match) {
	for i := range m.Reasons {
		r := &m.Reasons[i]
		s := Stop{frame, r.Code, cmp.Or(r.AddOn, r.Zone, r.Axle)}
		if r.Weight == match.Stop && !slices.Contains(a.Stops, s) {
			a.Stops = append(a.Stops, s)
		}
	}
	if m.Change != nil && !slices.Contains(a.Helps, m.Change.Code) {
		a.Helps = append(a.Helps, m.Change.Code)
	}
}

// Served reports whether any frame fits.
func (a *Answer) Served() bool { return slices.Max(append([]Grade{No}, a.Grades...)) > No }

// Survey is what the answers to many customers come to, in counts alone.
type Survey struct {
	Table     Table
	Have      []int  // the frames that there are demo units of, by their place in the catalogue
	Now       Count  // whom one of them fits
	Any       Count  // whom any frame fits
	Keep      []Plan // the best choices among those there are
	Best      []Plan // and among all frames, up to one more than there are
	Next      []Step
	Without   []Step
	Helps     []Tally[string] // of customers whom no frame fits, by the change that would help
	Missing   []Tally[int]    // of those whom only frames without a demo fit, by the add-on of their builds that goes on no demo
	Stops     []Tally[Stop]
	Unneeded  []int // add-ons that are in no best build of a frame that fits
	Unsettled int   // answers about a frame that were not found in time
}

// Tally is how many customers something concerns.
type Tally[T comparable] struct {
	Of        T
	Customers int
}

// leastPlans is for how many bikes a choice is worked out where the shop has
// fewer.
const leastPlans = 4

// Of surveys the answers to the customers of a shop. The error is that of the
// context.
func Of(ctx context.Context, c *catalog.Catalogue, answers []Answer) (*Survey, error) {
	s := &Survey{Have: demos(c)}
	all := make([]int, len(c.Frames))
	for i := range c.Frames {
		all[i] = i
		s.Table.Bikes = append(s.Table.Bikes, Bike{c.Frames[i].Code, c.Frames[i].Price})
	}
	for i := range answers {
		s.Table.Rows = append(s.Table.Rows, answers[i].Grades)
		s.Unsettled += answers[i].Open
	}
	s.Now, s.Any = s.Table.Served(s.Have), s.Table.Served(all)
	s.Next, s.Without = s.Table.Next(s.Have), s.Table.Without(s.Have)
	s.tally(c, answers)
	var err error
	if s.Keep, err = s.Table.Plans(ctx, s.Have, len(s.Have)); err == nil {
		s.Best, err = s.Table.Plans(ctx, all, max(len(s.Have)+1, leastPlans))
	}
	return s, err
}

// demos lists the frames that a shop has demo units of that are not sold.
func demos(c *catalog.Catalogue) []int {
	var have []int
	for i := range c.Frames {
		if slices.ContainsFunc(c.Units, func(u catalog.Unit) bool {
			return u.Kind == "demo" && u.Status != "sold" && u.Frame == c.Frames[i].Code
		}) {
			have = append(have, i)
		}
	}
	return have
}

// tally counts what was in the way, and what was needed.
func (s *Survey) tally(c *catalog.Catalogue, answers []Answer) {
	helps, missing, stops := map[string]int{}, map[int]int{}, map[Stop]int{}
	needed := make([]bool, len(c.AddOns))
	for i := range answers {
		a := &answers[i]
		for _, stop := range a.Stops {
			stops[stop]++
		}
		if !a.Served() {
			for _, code := range a.Helps {
				helps[code]++
			}
		}
		for _, build := range a.Builds {
			for _, addOn := range build {
				needed[addOn] = true
			}
		}
		if gradeOf(a.Grades, s.Have) == No {
			for _, addOn := range a.beyond(c, s.Have) {
				missing[addOn]++
			}
		}
	}
	for i, is := range needed {
		if !is {
			s.Unneeded = append(s.Unneeded, i)
		}
	}
	s.Helps, s.Missing = tallies(helps, cmp.Compare), tallies(missing, cmp.Compare)
	s.Stops = tallies(stops, func(a, b Stop) int {
		return cmp.Or(a.Frame-b.Frame, cmp.Compare(a.Code, b.Code), cmp.Compare(a.At, b.At))
	})
}

// beyond lists the add-ons that are in the build of a frame that fits and go on
// none of some frames.
func (a *Answer) beyond(c *catalog.Catalogue, have []int) []int {
	var list []int
	for _, build := range a.Builds {
		for _, addOn := range build {
			goes := slices.ContainsFunc(have, func(f int) bool { return slices.Contains(c.AddOns[addOn].Fits, c.Frames[f].Code) })
			if !goes && !slices.Contains(list, addOn) {
				list = append(list, addOn)
			}
		}
	}
	return list
}

// tallies lists counts, the greatest first.
func tallies[T comparable](counts map[T]int, order func(a, b T) int) []Tally[T] {
	var list []Tally[T]
	for of, n := range counts {
		list = append(list, Tally[T]{of, n})
	}
	slices.SortFunc(list, func(a, b Tally[T]) int { return cmp.Or(b.Customers-a.Customers, order(a.Of, b.Of)) })
	return list
}
