package desk

import (
	"errors"
	"fmt"
	"net/http"
	"net/url"
	"slices"
	"strconv"
	"strings"

	"kinwain/internal/match"
	"kinwain/internal/measure"
	"kinwain/internal/problem"
	"kinwain/internal/profile"
	"kinwain/web/kit"
	"kinwain/web/say"
	"kinwain/web/talk"
)

// The fields of a supposition.
const (
	moreField  = "more"  // cargo, in whole kilograms or pounds, less with a minus
	childField = "child" // the age of another child, in years
	tallField  = "tall"  // how tall another rider is
	heavyField = "heavy" // and how heavy
)

// moreCargo and childAges are what may be supposed with one tap.
var (
	moreCargo = map[measure.System][]int{measure.Metric: {-20, -10, -5, 5, 10, 20}, measure.Imperial: {-40, -20, -10, 10, 20, 40}}
	childAges = []int{1, 2, 3, 4, 5, 6, 8, 10}
)

// supposition is a profile with what is supposed, in words as well.
type supposition struct {
	profile.Profile
	words  []string
	faults map[string]string // by field
}

// suppose reads what an address supposes of a customer.
func suppose(c *talk.Consultation, q url.Values) *supposition {
	s := &supposition{Profile: *c.Profile, faults: map[string]string{}}
	s.cargo(q.Get(moreField), c.System())
	s.child(q.Get(childField))
	s.rider(q.Get(tallField), q.Get(heavyField), c.System())
	if len(s.words) > 0 && len(s.faults) == 0 {
		s.check()
	}
	return s
}

func (s *supposition) cargo(typed string, system measure.System) {
	n, err := strconv.Atoi(typed)
	if err != nil || !slices.Contains(moreCargo[system], n) {
		return
	}
	mass, err := measure.ParseMass(strconv.Itoa(max(n, -n)), system)
	if err != nil {
		return
	}
	more := mass.Show(system, measure.Nearest) + " more cargo"
	if n < 0 {
		mass, more = -mass, mass.Show(system, measure.Nearest)+" less cargo"
	}
	s.Cargo = profile.Given(max(s.Cargo.Or(0)+mass, 0))
	s.words = append(s.words, more)
}

func (s *supposition) child(typed string) {
	years, err := strconv.Atoi(typed)
	if err != nil || !slices.Contains(childAges, years) {
		return
	}
	born := s.AsOf
	born.Year, born.Day = born.Year-years, 0
	if years == 1 { // the last day of the month counts, and the first birthday has to be over
		born.Month--
		if born.Month == 0 {
			born.Year, born.Month = born.Year-1, 12
		}
	}
	child := profile.Passenger{Label: "another child", Born: profile.Given(born), SitsUnaided: profile.Given(true)}
	s.Passengers = profile.Given(append(slices.Clone(s.Passengers.Or(nil)), child))
	s.words = append(s.words, "another child of "+say.Counted(years, "year", "years"))
}

func (s *supposition) rider(tall, heavy string, system measure.System) {
	if tall == "" && heavy == "" {
		return
	}
	height, err := measure.ParseLength(tall, system)
	if err != nil {
		s.faults[tallField] = "write it like 178 cm or 5'10\""
	}
	weight, err := measure.ParseMass(heavy, system)
	if err != nil {
		s.faults[heavyField] = "write it like 82 kg or 180 lb"
	}
	rider := profile.Rider{Label: "X", Height: profile.Given(height), Weight: profile.Given(weight), Weighed: profile.Given(profile.Dressed)}
	s.Riders = append(slices.Clone(s.Riders), rider)
	s.words = append(s.words, fmt.Sprintf("another rider X, %s and %s dressed", height.Show(system, measure.Nearest), weight.Show(system, measure.Nearest)))
}

// check notes what cannot be right at the field that it comes from.
func (s *supposition) check() {
	var faults problem.List
	if !errors.As(s.Profile.Check(), &faults) {
		return
	}
	for _, f := range faults {
		name := moreField
		switch {
		case strings.HasSuffix(f.Path, ".height_cm"):
			name = tallField
		case strings.HasSuffix(f.Path, ".weight_kg"):
			name = heavyField
		case strings.HasPrefix(f.Path, "passengers"):
			name = childField
		}
		s.faults[name] = f.Text
	}
}

// whatIf draws what the address supposes, and judges the same choice with it.
func (room *Room) whatIf(r *http.Request, c *talk.Consultation, chosen *talk.Choice) (WhatIf, error) {
	q := r.URL.Query()
	s := suppose(c, q)
	view := WhatIf{Action: c.Address("/frames/" + chosen.Match.Frame.Code), Hidden: chosen.Hidden(), Fields: whatIfFields(c.System(), q, s.faults),
		Head: "What if: more to carry, another child, another rider", Asked: len(s.words) > 0 && len(s.faults) == 0}
	for _, f := range view.Fields {
		if f.Error != "" {
			view.Faults = append(view.Faults, f.Label+": "+f.Error)
		}
	}
	if !view.Asked {
		return view, nil
	}
	supposed := *c
	supposed.Profile = &s.Profile
	then, err := room.Chosen(r, &supposed, match.Options{})
	if err != nil {
		return view, err
	}
	v := talk.View(&supposed, then.Match)
	view.Result = WhatIfResult{With: "With " + c.Speaker.List(s.words), Verdict: talk.VerdictView(then.Match.Verdict), Line: talk.Line(&supposed, then.Match, nil)}
	view.Head = "What if: " + strings.ToLower(view.Result.With[:1]) + view.Result.With[1:]
	if then.Match.Verdict != match.NotJudged {
		view.Result.Limits = moved(v, chosen.Match, then.Match)
	}
	if then.Match.Fits() {
		view.Result.Total = v.Money(then.Match.Total) + " all in, " + v.Money(chosen.Match.Total) + " without it"
	}
	return view, nil
}

// whatIfFields are the fields of a supposition as they are filled in.
func whatIfFields(system measure.System, q url.Values, faults map[string]string) []kit.Field {
	cargo := kit.Field{Name: moreField, Label: "Cargo", Options: []kit.Option{{Label: "As it is"}}}
	for _, n := range moreCargo[system] {
		unit := "kg"
		if system == measure.Imperial {
			unit = "lb"
		}
		label := fmt.Sprintf("%d\u00a0%s more", n, unit)
		if n < 0 {
			label = fmt.Sprintf("%d\u00a0%s less", -n, unit)
		}
		cargo.Options = append(cargo.Options, kit.Option{Value: strconv.Itoa(n), Label: label})
	}
	child := kit.Field{Name: childField, Label: "Another child", Options: []kit.Option{{Label: "None"}}}
	for _, years := range childAges {
		child.Options = append(child.Options, kit.Option{Value: strconv.Itoa(years), Label: say.Counted(years, "year", "years")})
	}
	fields := []kit.Field{cargo, child, {Name: tallField, Label: "Another rider’s height"}, {Name: heavyField, Label: "and weight, dressed"}}
	for i := range fields {
		fields[i].Value, fields[i].Error = q.Get(fields[i].Name), faults[fields[i].Name]
	}
	return fields
}

// moved puts the first limit of now, that of then and the gross rating beside
// each other, each with its load now and then.
func moved(v *talk.Viewer, now, then *match.Match) []Moved {
	var ratings []string
	for _, m := range [...]*match.Match{then, now} {
		if first, ok := m.First(); ok {
			ratings = append(ratings, first.Rating)
		}
	}
	ratings = append(ratings, "gross")
	var list []Moved
	for i, rating := range ratings {
		before, after := limitOf(now, rating), limitOf(then, rating)
		if slices.Index(ratings, rating) < i || before.Most == 0 || after.Most == 0 {
			continue
		}
		list = append(list, movedLimit(v, before, after))
	}
	return list
}

// movedLimit draws a rating with its load before and after. Where nobody is to
// see what a rider weighs, it speaks of what is spare alone.
func movedLimit(v *talk.Viewer, before, after match.Limit) Moved {
	name, s := v.Speaker.Message(after.Name), v.System()
	view := Moved{Name: say.Capital(name)}
	if v.Hides(after) {
		view.Figures = fmt.Sprintf("%s, %s without it", spareWords(after.Spare, s), spareWords(before.Spare, s))
		return view
	}
	bar := v.MovedBar(before.Mass, after.Mass, after.Most, name)
	view.Bar = &bar
	view.Figures = fmt.Sprintf("%s of %s, %s without it", after.Mass.Show(s, measure.Up), after.Most.Show(s, measure.Down), before.Mass.Show(s, measure.Up))
	return view
}

func spareWords(spare measure.Mass, s measure.System) string {
	if spare < 0 {
		return (-spare).Show(s, measure.Up) + " too much"
	}
	return spare.Show(s, measure.Down) + " to spare"
}

func limitOf(m *match.Match, rating string) match.Limit {
	if i := slices.IndexFunc(m.Limits, func(l match.Limit) bool { return l.Rating == rating }); i >= 0 {
		return m.Limits[i]
	}
	return match.Limit{}
}
