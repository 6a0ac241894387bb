package form

import (
	"errors"
	"strings"

	"kinwain/internal/measure"
	"kinwain/internal/problem"
	"kinwain/internal/profile"
)

// Judged reads what of the form can be judged on a day: an answer that cannot
// be right is one that is not known yet, so that it takes nobody else's place
// in the list. The faults are those of the whole form, each at the name of its
// field. The profile is nil where nothing can be judged without them.
func (f Form) Judged(asOf measure.Date) (*profile.Profile, problem.List, error) {
	p, err := f.Profile(asOf)
	var faults problem.List
	if err != nil && !errors.As(err, &faults) {
		return nil, nil, err
	}
	g := f.Clone()
	for left := faults; err != nil; {
		if !g.leave(left) {
			return nil, faults, nil
		}
		p, err = g.Profile(asOf)
		left = nil
		if err != nil && !errors.As(err, &left) {
			return nil, nil, err
		}
	}
	return p, faults, nil
}

// leave makes faulty answers not known. It is false where that changes nothing.
func (f Form) leave(faults problem.List) bool {
	changed := false
	for _, fault := range faults {
		m := rowName.FindStringSubmatch(fault.Path)
		birth := ""
		if m != nil && m[1] == Passengers {
			birth = strings.TrimSuffix(fault.Path, m[3]) + "born"
		}
		switch {
		case m != nil && m[3] == "label":
			f.Set(fault.Path, f.free(m[1], names[m[1]]))
			changed = true
		case f.forget(fault.Path):
			changed = true
		case birth != "" && m[3] == "weight_kg" && f.forget(birth): // there is nothing to estimate it from
			changed = true
		}
	}
	return changed
}

// forget makes an answer not known. It is false where it was not, or where it
// has to be.
func (f Form) forget(name string) bool {
	q, _ := profile.Of(name)
	if q.IsList() || f.Get(name) == "" && (f.unknown[name] || !q.MayBeOpen()) {
		return false
	}
	f.Set(name, "")
	f.mark(name, q.MayBeOpen())
	return true
}
