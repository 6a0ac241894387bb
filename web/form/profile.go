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

// Profile reads the form as seen on a day. The error is a problem.List of
// every fault, each at the name of its field; the profile is nil then.
func (f Form) Profile(asOf measure.Date) (*profile.Profile, error) {
	r, p := f.read(asOf)
	if err := r.check(p); err != nil {
		return nil, err
	}
	return p, nil
}

// Told reads what of the form can be read, whether it can be judged or not.
// What cannot be read is not known.
func (f Form) Told(asOf measure.Date) *profile.Profile {
	_, p := f.read(asOf)
	return p
}

func (f Form) read(asOf measure.Date) (*reader, *profile.Profile) {
	r := &reader{Form: f, asOf: asOf}
	p := &profile.Profile{Version: 1, AsOf: asOf}
	r.answers("", profile.Questions, p)
	return r, p
}

// reader turns fields into answers and collects the faults.
type reader struct {
	Form
	asOf   measure.Date
	faults problem.List
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

// answers reads what was answered about somebody or something.
func (r *reader) answers(path string, questions []profile.Question, owner any) {
	for i := range questions {
		r.question(problem.Join(path, questions[i].Name), &questions[i], owner)
	}
}

func (r *reader) question(name string, q *profile.Question, owner any) {
	rows := r.Rows(name)
	people := rows > 0 && q.Sub[0].Name == "label" // who is named comes along, whatever is ticked
	switch {
	case r.Unknown(name) && q.MayBeOpen() && !people:
		q.Open(owner)
	case q.IsList() && rows == 0:
	case q.IsList():
		for i, row := range q.Rows(owner, rows) {
			r.answers(problem.Index(name, i), q.Sub, row)
		}
	case q.Sub != nil:
		q.Fill(owner, func(part any) { r.answers(name, q.Sub, part) })
	default:
		r.read(name, q.At(owner))
		if q.Must && q.IsZero(owner) {
			q.Open(owner)
		}
	}
}

// read reads one field into an answer.
func (r *reader) read(name string, into any) {
	switch into := into.(type) {
	case *string:
		*into = strings.TrimSpace(r.Get(name))
	case *profile.Objective:
		*into = profile.Objective(r.Get(name))
	case *profile.Answer[measure.Mass]:
		answer(r, name, into, func(s string) (measure.Mass, error) { return measure.ParseMass(s, r.System()) })
	case *profile.Answer[measure.Length]:
		answer(r, name, into, func(s string) (measure.Length, error) { return parseLength(name, s, r.System()) })
	case *profile.Answer[measure.Volume]:
		answer(r, name, into, measure.ParseVolume)
	case *profile.Answer[measure.Money]:
		answer(r, name, into, measure.ParseMoney)
	case *profile.Answer[measure.Percentage]:
		answer(r, name, into, parsePercentage)
	case *profile.Answer[int]:
		answer(r, name, into, parseNumber)
	case *profile.Answer[bool]:
		answer(r, name, into, parseYes)
	case *profile.Answer[profile.Month]:
		answer(r, name, into, func(s string) (profile.Month, error) {
			d, err := parseBirth(s)
			return profile.Month{Month: d.InMonth()}, err
		})
	case *profile.Answer[measure.Date]:
		// A birth month that cannot be read is no "don't know yet": nothing
		// else has to stand in for it.
		if !answer(r, name, into, func(s string) (measure.Date, error) { return Born(s, r.asOf) }) {
			*into = profile.Given(measure.Date{})
		}
	case *profile.Answer[profile.Weighed]:
		answer(r, name, into, word[profile.Weighed])
	case *profile.Answer[profile.Grip]:
		answer(r, name, into, word[profile.Grip])
	case *profile.Answer[profile.Sex]:
		answer(r, name, into, word[profile.Sex])
	}
}

// answer reads one field: nothing typed does not apply, and what cannot be
// read is a fault at the field and not known, for which it returns false.
func answer[T any](r *reader, name string, into *profile.Answer[T], read func(string) (T, error)) bool {
	typed := strings.TrimSpace(r.Get(name))
	if typed == "" {
		return true
	}
	value, err := read(typed)
	if err != nil {
		r.faults.Add(name, problem.WrongType, "%v", err)
		*into = profile.Unknown[T]()
		return false
	}
	*into = profile.Given(value)
	return true
}

func word[T ~string](s string) (T, error) { return T(s), nil }

func parseNumber(s string) (int, error) {
	n, err := strconv.Atoi(s)
	if err != nil {
		return 0, fmt.Errorf("%q is not a whole number", s)
	}
	return n, nil
}

func parseYes(s string) (bool, error) {
	if s != "yes" && s != "no" {
		return false, fmt.Errorf("%q is neither yes nor no", s)
	}
	return s == "yes", nil
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
	typed := s
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
		if bareAge.MatchString(typed) {
			return d, fmt.Errorf("%q may be months or years; write it like 14 months or 4 years", typed)
		}
		return d, fmt.Errorf("%q is neither a month nor an age; write it like 5.2023, May 2023, 14 months or 4 years", typed)
	}
	return d, nil
}

var bareAge = regexp.MustCompile(`^[0-9]{1,2}$`)

func parsePercentage(s string) (measure.Percentage, error) {
	var p measure.Percentage
	text := strings.TrimSpace(strings.TrimSuffix(strings.ReplaceAll(s, ",", "."), "%"))
	if err := p.UnmarshalJSON([]byte(text)); err != nil || text == "null" {
		return 0, fmt.Errorf("%q is not a percentage; write it like 7 or 7.5", s)
	}
	return p, nil
}
