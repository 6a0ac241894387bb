package fitting_test

import (
	"slices"

	"kinwain/internal/catalog"
	"kinwain/internal/measure"
	"kinwain/internal/parking"
)

// house forbids every outline that does not get home. An outline follows from
// the greatest of every size that the add-ons bring about, so each of those
// gets variables, and each combination is held against the home beforehand.
// Nothing is taken for granted about a larger bike fitting less.
func (e *encoding) house() {
	home, ok := e.profile.Home.Get()
	if !ok {
		return
	}
	directions := [...]steps{
		e.stepsOf(func(k *kind) measure.Length { return k.FrontOverhang }),
		e.stepsOf(func(k *kind) measure.Length { return k.RearOverhang }),
		e.stepsOf(func(k *kind) measure.Length { return k.OverallWidth }),
		e.stepsOf(func(k *kind) measure.Length { return k.OverallHeight }),
		e.stepsOf(func(k *kind) measure.Length { return measure.Length(b2i(k.BlocksUpright)) }),
	}
	there := plain(home)
	var sizes [len(directions)]measure.Length
	var combine func(from int, unless []int)
	combine = func(from int, unless []int) {
		if from == len(directions) {
			if !parking.Check(grown(e.frame, sizes[0], sizes[1], sizes[2], sizes[3], sizes[4] > 0), there).Fits {
				e.either(unless...)
			}
			return
		}
		for i, size := range directions[from].sizes {
			sizes[from] = size
			combine(from+1, slices.Concat(unless, directions[from].unless(i)))
		}
	}
	combine(0, nil)
}

func grown(f *catalog.Frame, front, rear, width, height measure.Length, blocked bool) parking.Bike {
	b := parking.Bike{Flat: parking.Box{Length: f.Length + front + rear, Width: max(f.Width, width), Height: max(f.Height, height)}}
	if f.Upright != (catalog.Box{}) && !blocked {
		b.Upright = parking.Box{Length: f.Upright.Length + max(height-f.Height, 0), Width: max(f.Upright.Width, width), Height: f.Upright.Height + front + rear}
	}
	return b
}

// steps are the sizes that add-ons may bring about in one direction.
type steps struct {
	sizes     []measure.Length // ascending, from nothing on
	variables []int            // per size: something on the bike is at least so large; 0 for nothing
}

func (e *encoding) stepsOf(size func(k *kind) measure.Length) steps {
	s := steps{sizes: []measure.Length{0}, variables: []int{0}}
	for i := range e.kinds {
		s.sizes = append(s.sizes, size(&e.kinds[i]))
	}
	slices.Sort(s.sizes)
	s.sizes = slices.Compact(s.sizes)
	for _, least := range s.sizes[1:] {
		v := e.variable()
		clause := []int{-v}
		for i := range e.kinds {
			if size(&e.kinds[i]) >= least {
				e.either(-e.fitted[i][0], v)
				clause = append(clause, e.fitted[i][0])
			}
		}
		e.either(clause...)
		s.variables = append(s.variables, v)
	}
	return s
}

// unless returns the literals of which one is true unless the greatest size is
// the one of an index.
func (s *steps) unless(i int) []int {
	var literals []int
	if i > 0 {
		literals = append(literals, -s.variables[i])
	}
	if i+1 < len(s.sizes) {
		literals = append(literals, s.variables[i+1])
	}
	return literals
}
