package form

import (
	"errors"
	"fmt"
	"regexp"
	"strconv"
	"strings"
	"time"

	"kinwain/internal/measure"
	"kinwain/internal/problem"
	"kinwain/internal/profile"
)

// reader turns fields into answers and collects the faults.
type reader struct {
	Form
	faults problem.List
}

// answer reads one field: nothing typed does not apply, "don't know yet" is
// unknown, and what cannot be read is a fault at the field.
func answer[T any](r *reader, name string, read func(string) (T, error)) profile.Answer[T] {
	typed := strings.TrimSpace(r.Get(name))
	switch {
	case r.Unknown(name):
		return profile.Unknown[T]()
	case typed == "":
		return profile.Answer[T]{}
	}
	value, err := read(typed)
	if err != nil {
		r.faults.Add(name, problem.WrongType, "%v", err)
		return profile.Unknown[T]()
	}
	return profile.Given(value)
}

// orUnknown makes an open question of an answer that has to come.
func orUnknown[T any](a profile.Answer[T]) profile.Answer[T] {
	if a.IsZero() {
		return profile.Unknown[T]()
	}
	return a
}

func (r *reader) mass(name string) profile.Answer[measure.Mass] {
	return answer(r, name, func(s string) (measure.Mass, error) { return measure.ParseMass(s, r.System()) })
}

func (r *reader) length(name string) profile.Answer[measure.Length] {
	return answer(r, name, func(s string) (measure.Length, error) { return measure.ParseLength(s, r.System()) })
}

func (r *reader) number(name string) profile.Answer[int] {
	return answer(r, name, func(s string) (int, error) {
		n, err := strconv.Atoi(s)
		if err != nil {
			return 0, fmt.Errorf("%q is not a whole number", s)
		}
		return n, nil
	})
}

func (r *reader) yes(name string) profile.Answer[bool] {
	return answer(r, name, func(s string) (bool, error) {
		if s != "yes" && s != "no" {
			return false, fmt.Errorf("%q is neither yes nor no", s)
		}
		return s == "yes", nil
	})
}

func word[T ~string](r *reader, name string) profile.Answer[T] {
	return answer(r, name, func(s string) (T, error) { return T(s), nil })
}

// Profile reads the form as seen on a day. The error is a problem.List of
// every fault, each at the name of its field; the profile is nil then.
func (f Form) Profile(asOf measure.Date) (*profile.Profile, error) {
	r := &reader{Form: f}
	p := &profile.Profile{
		Version: 1, AsOf: asOf, Objective: profile.Objective(f.Get("objective")),
		Pet: r.mass("pet_kg"), Cargo: r.mass("cargo_kg"), CargoSize: answer(r, "cargo_litres", measure.ParseVolume),
		Home:   r.home(),
		Budget: answer(r, "budget_cents", measure.ParseMoney), BudgetFirm: r.yes("budget_firm"),
		Years: r.number("years"), Hill: answer(r, "hill_percent", parsePercentage),
	}
	for i := range f.Rows(Riders) {
		p.Riders = append(p.Riders, r.rider(i))
	}
	p.Passengers = r.passengers()
	if err := r.check(p); err != nil {
		return nil, err
	}
	return p, nil
}

// check adds what is wrong in meaning to what could not be read, once at each
// field.
func (r *reader) check(p *profile.Profile) error {
	err := p.Check()
	var faults problem.List
	if err != nil && !errors.As(err, &faults) {
		return err
	}
	for _, fault := range faults {
		if r.faults.At(fault.Path) == "" {
			r.faults = append(r.faults, fault)
		}
	}
	return r.faults.Err()
}

func (r *reader) rider(i int) profile.Rider {
	at := func(field string) string { return At(Riders, i, field) }
	return profile.Rider{
		Label:   strings.TrimSpace(r.Get(at("label"))),
		Height:  orUnknown(r.length(at("height_cm"))),
		Weight:  orUnknown(r.mass(at("weight_kg"))),
		Inseam:  r.length(at("inseam_cm")),
		Weighed: word[profile.Weighed](r, at("weighed")),
		Grip:    word[profile.Grip](r, at("grip")),
	}
}

func (r *reader) passengers() profile.Answer[[]profile.Passenger] {
	rows := r.Rows(Passengers)
	if rows == 0 {
		if r.Unknown(Passengers) {
			return profile.Unknown[[]profile.Passenger]()
		}
		return profile.Answer[[]profile.Passenger]{}
	}
	var list []profile.Passenger
	for i := range rows {
		at := func(field string) string { return At(Passengers, i, field) }
		list = append(list, profile.Passenger{
			Label:       strings.TrimSpace(r.Get(at("label"))),
			Born:        r.born(at("born")),
			Sex:         word[profile.Sex](r, at("sex")),
			Weight:      r.mass(at("weight_kg")),
			Stature:     r.length(at("stature_cm")),
			SitsUnaided: r.yes(at("sits_unaided")),
			Joins: answer(r, at("joins"), func(s string) (profile.Month, error) {
				d, err := parseBirth(s)
				return profile.Month{Month: d.InMonth()}, err
			}),
			LeavesAtYears: r.number(at("leaves_at_years")),
		})
	}
	return profile.Given(list)
}

// born reads a birth month. One that cannot be read is no "don't know yet":
// nothing else has to stand in for it.
func (r *reader) born(name string) profile.Answer[measure.Date] {
	born := orUnknown(answer(r, name, parseBirth))
	if r.faults.At(name) != "" {
		return profile.Given(measure.Date{})
	}
	return born
}

// home reads the home; where nothing at all was said about it, it does not
// apply.
func (r *reader) home() profile.Answer[profile.Home] {
	if r.Unknown("home") {
		return profile.Unknown[profile.Home]()
	}
	h := profile.Home{
		Length: r.length("home.length_cm"), Width: r.length("home.width_cm"), Height: r.length("home.height_cm"),
		Clearance: r.length("home.clearance_cm"), MustStandUpright: r.yes("home.must_stand_upright"),
		Doorways: rows(r, Doorways, func(at func(string) string) profile.Doorway {
			return profile.Doorway{Width: r.length(at("width_cm")), Height: r.length(at("height_cm"))}
		}),
		Corners: rows(r, Corners, func(at func(string) string) profile.Corner {
			return profile.Corner{In: r.length(at("in_cm")), Out: r.length(at("out_cm"))}
		}),
		Lift: r.lift(), Steps: r.number("home.steps"),
	}
	if h.Length.IsZero() && h.Width.IsZero() && h.Height.IsZero() && h.Clearance.IsZero() && h.MustStandUpright.IsZero() &&
		h.Doorways.IsZero() && h.Corners.IsZero() && h.Lift.IsZero() && h.Steps.IsZero() {
		return profile.Answer[profile.Home]{}
	}
	return profile.Given(h)
}

func rows[T any](r *reader, list string, read func(at func(string) string) T) profile.Answer[[]T] {
	if r.Unknown(list) {
		return profile.Unknown[[]T]()
	}
	var all []T
	for i := range r.Rows(list) {
		all = append(all, read(func(field string) string { return At(list, i, field) }))
	}
	if all == nil {
		return profile.Answer[[]T]{}
	}
	return profile.Given(all)
}

func (r *reader) lift() profile.Answer[profile.Lift] {
	if r.Unknown("home.lift") {
		return profile.Unknown[profile.Lift]()
	}
	l := profile.Lift{Length: r.length("home.lift.length_cm"), Width: r.length("home.lift.width_cm"),
		Height: r.length("home.lift.height_cm"), Door: r.length("home.lift.door_cm")}
	if l == (profile.Lift{}) {
		return profile.Answer[profile.Lift]{}
	}
	return profile.Given(l)
}

var (
	monthYear = regexp.MustCompile(`^([0-9]{1,2})\s*[./ -]\s*([0-9]{4})$`)
	yearMonth = regexp.MustCompile(`^([0-9]{4})\s*[./ -]\s*([0-9]{1,2})$`)
	dayMonth  = regexp.MustCompile(`^([0-9]{1,2})\s*[. ]\s*([0-9]{1,2})\s*[. ]\s*([0-9]{4})$`)
)

// parseBirth reads a month or a day as people write it: 2023-05, 5.2023,
// 5/2023, May 2023, 2023-05-14, 14.5.2023, 14 May 2023. A day written with
// slashes is not read, because two readings of it are in use.
func parseBirth(s string) (measure.Date, error) {
	if m := monthYear.FindStringSubmatch(s); m != nil {
		s = fmt.Sprintf("%s-%02s", m[2], m[1])
	} else if m := yearMonth.FindStringSubmatch(s); m != nil {
		s = fmt.Sprintf("%s-%02s", m[1], m[2])
	} else if m := dayMonth.FindStringSubmatch(s); m != nil {
		s = fmt.Sprintf("%s-%02s-%02s", m[3], m[2], m[1])
	}
	for _, layout := range [...]string{"January 2006", "Jan 2006"} {
		if t, err := time.Parse(layout, s); err == nil {
			return measure.Date{Year: t.Year(), Month: t.Month()}, nil
		}
	}
	for _, layout := range [...]string{"2 January 2006", "2 Jan 2006"} {
		if t, err := time.Parse(layout, s); err == nil {
			return measure.DateOf(t), nil
		}
	}
	d, err := measure.ParseDate(s)
	if err != nil {
		return d, fmt.Errorf("%q is not a month; write it like 5.2023, 2023-05 or May 2023", s)
	}
	return d, nil
}

func parsePercentage(s string) (measure.Percentage, error) {
	var p measure.Percentage
	text := strings.TrimSpace(strings.TrimSuffix(strings.ReplaceAll(s, ",", "."), "%"))
	if err := p.UnmarshalJSON([]byte(text)); err != nil || text == "null" {
		return 0, fmt.Errorf("%q is not a percentage; write it like 7 or 7.5", s)
	}
	return p, nil
}
