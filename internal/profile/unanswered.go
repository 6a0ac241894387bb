package profile

import (
	"slices"
	"strconv"
	"strings"

	"kinwain/internal/measure"
	"kinwain/internal/problem"
)

// Span is a range of figures in the smallest units: millimetres, grams,
// millilitres, cents, hundredths of a percent, months, or 0 for no and 1 for yes.
type Span struct{ Least, Most int64 }

// Unanswered is one answer that could still be given: it is not known yet, or
// was never asked for.
type Unanswered struct {
	Path     string
	Question Question
}

// Unanswered lists what could still be answered and has a usual range, in the
// order of the talk. Where a list is empty, what it could hold is asked of its
// first row.
func (p *Profile) Unanswered() []Unanswered {
	var list []Unanswered
	unanswered(&list, "", Questions, p.clone())
	return list
}

func unanswered(list *[]Unanswered, path string, questions []Question, owner any) {
	for _, q := range questions {
		at := problem.Join(path, q.Name)
		switch {
		case q.IsList():
			for i := range q.mayHave(owner) {
				unanswered(list, problem.Index(at, i), q.Sub, q.into(owner, i))
			}
		case len(q.Sub) > 0:
			unanswered(list, at, q.Sub, q.into(owner, 0))
		case q.Usual != Span{} && !q.given(owner):
			*list = append(*list, Unanswered{at, q})
		}
	}
}

// count returns how many rows a list has.
func (q *Question) count(owner any) int {
	switch rows := q.at(owner).(type) {
	case *[]Rider:
		return len(*rows)
	case *Answer[[]Passenger]:
		return len(rows.Or(nil))
	case *Answer[[]Doorway]:
		return len(rows.Or(nil))
	case *Answer[[]Corner]:
		return len(rows.Or(nil))
	}
	return 0
}

// mayHave returns how many rows a list has, or that it may have one.
func (q *Question) mayHave(owner any) int {
	if n := q.count(owner); n > 0 || !q.begins {
		return n
	}
	return 1
}

// With returns a copy of the profile with the answer at a path given, as a
// figure in the smallest units. It is false where there is no such answer, or
// where it is not a figure.
func (p *Profile) With(path string, figure int64) (*Profile, bool) {
	c := p.clone()
	questions, owner := Questions, any(c)
	for name := range strings.SplitSeq(path, ".") {
		name, index, _ := strings.Cut(strings.TrimSuffix(name, "]"), "[")
		at := slices.IndexFunc(questions, func(q Question) bool { return q.Name == name })
		if at < 0 {
			return nil, false
		}
		q := &questions[at]
		if len(q.Sub) == 0 {
			return c, give(q.at(owner), figure)
		}
		i := 0
		if q.IsList() {
			var err error
			if i, err = strconv.Atoi(index); err != nil || i < 0 || i >= q.mayHave(owner) {
				return nil, false
			}
		}
		questions, owner = q.Sub, q.into(owner, i)
	}
	return nil, false
}

// give answers with a figure.
func give(answer any, figure int64) bool {
	switch a := answer.(type) {
	case *Answer[measure.Length]:
		*a = Given(measure.Length(figure))
	case *Answer[measure.Mass]:
		*a = Given(measure.Mass(figure))
	case *Answer[measure.Volume]:
		*a = Given(measure.Volume(figure))
	case *Answer[measure.Money]:
		*a = Given(measure.Money(figure))
	case *Answer[measure.Percentage]:
		*a = Given(measure.Percentage(figure))
	case *Answer[int]:
		*a = Given(int(figure))
	case *Answer[bool]:
		*a = Given(figure != 0)
	case *Answer[Month]:
		*a = Given(Month{measure.Month(figure)})
	case *Answer[measure.Date]:
		month := measure.Month(figure)
		*a = Given(measure.Date{Year: month.Year(), Month: month.Month()})
	case *Answer[Grip]:
		*a = Given([]Grip{ReducedGrip, FullGrip}[figure&1])
	default:
		return false
	}
	return true
}

// clone returns a copy that shares nothing that With changes.
func (p *Profile) clone() *Profile {
	c := *p
	c.Riders = slices.Clone(p.Riders)
	if rows, ok := p.Passengers.Get(); ok {
		c.Passengers = Given(slices.Clone(rows))
	}
	home, ok := p.Home.Get()
	if !ok {
		return &c
	}
	if rows, ok := home.Doorways.Get(); ok {
		home.Doorways = Given(slices.Clone(rows))
	}
	if rows, ok := home.Corners.Get(); ok {
		home.Corners = Given(slices.Clone(rows))
	}
	c.Home = Given(home)
	return &c
}
