package desk

import (
	"fmt"
	"math/big"
	"net/http"
	"slices"
	"strings"

	"kinwain/internal/figures"
	"kinwain/internal/match"
	"kinwain/web/talk"
)

// sinceField carries the version of the answers of which somebody may have read
// what had moved: whoever answers fast reads once what all of it has moved.
const sinceField = "since"

// moves says in one line what an answer has moved in the ranking, and why, with
// those before it that nobody had the time to read about. It is empty where
// nothing was answered, or nothing could be ranked before.
func (room *Room) moves(r *http.Request, k *kept) (string, error) {
	before, _, err := k.read.Judged(room.Today())
	if err != nil || before == nil || k.Profile == nil || k.before.Equal(k.Form) {
		return "", err
	}
	was, err := k.Shop.Rank(r.Context(), before, match.Options{})
	if err != nil {
		return "", err
	}
	now, err := k.Shop.Rank(r.Context(), k.Profile, match.Options{})
	if err != nil {
		return "", err
	}
	return movesView(k.Consultation, was, now), nil
}

// movesView says what differs most: who is out, else who is in again, else
// whose verdict is another, else who went up most.
func movesView(c *talk.Consultation, was, now []*match.Match) string {
	before := map[string]*match.Match{}
	for _, m := range was {
		before[m.Frame.Code] = m
	}
	var out, in, better, worse []*match.Match
	for _, m := range now {
		old := before[m.Frame.Code]
		switch {
		case old == nil || old.Verdict == m.Verdict:
		case m.Verdict == match.DoesNotFit:
			out = append(out, m)
		case old.Verdict == match.DoesNotFit:
			in = append(in, m)
		case m.Verdict == match.Fits:
			better = append(better, m)
		case old.Verdict == match.Fits:
			worse = append(worse, m)
		}
	}
	switch {
	case len(out) > 0 && len(in) > 0:
		return framesWords(c, out, "out") + why(c, out, match.Stop) + " " + framesWords(c, in, "in again") + "."
	case len(out) > 0:
		return framesWords(c, out, "out") + why(c, out, match.Stop)
	case len(in) > 0:
		return framesWords(c, in, "in again") + "." + until(c, in, before, match.Stop)
	case len(worse) > 0:
		return framesWords(c, worse, "to be taken with care") + why(c, worse, match.Care)
	case len(better) > 0:
		return framesWords(c, better, "without a care now") + "." + until(c, better, before, match.Care)
	}
	return climber(c, before, was, now)
}

// framesWords says what frames are now.
func framesWords(c *talk.Consultation, list []*match.Match, are string) string {
	verb := " are "
	if len(list) == 1 {
		verb = " is "
	}
	return c.Speaker.List(names(list)) + verb + are
}

// names names two frames at most, and counts the others.
func names(list []*match.Match) []string {
	const named = 2
	var names []string
	for _, m := range list[:min(len(list), named)] {
		names = append(names, m.Frame.Called())
	}
	if more := len(list) - named; more > 0 {
		names = append(names, fmt.Sprintf("%d more", more))
	}
	return names
}

// why is the first reason of a weight that the first frame has, named where
// there are several.
func why(c *talk.Consultation, list []*match.Match, weight match.Weight) string {
	m := list[0]
	reason := cause(c, m, weight)
	switch {
	case reason == "" && weight == match.Care && len(m.Open) > 0:
		return ": an answer is open."
	case reason == "":
		return "."
	case len(list) > 1:
		return ". " + m.Frame.Called() + ": " + reason
	}
	return ". " + reason
}

// until says what was in the way of the first frame before, named where there
// are several.
func until(c *talk.Consultation, list []*match.Match, before map[string]*match.Match, weight match.Weight) string {
	m := before[list[0].Frame.Code]
	reason := cause(c, m, weight)
	if reason == "" && len(m.Open) > 0 {
		reason = "an answer was open."
	}
	switch {
	case reason == "":
		return ""
	case len(list) > 1:
		return " Before, " + m.Frame.Called() + ": " + reason
	}
	return " Before: " + reason
}

// cause is the first reason of a weight that a page may name.
func cause(c *talk.Consultation, m *match.Match, weight match.Weight) string {
	for _, r := range c.Named(m) {
		if r.Weight == weight {
			return c.Speaker.Message(r.Message)
		}
	}
	return ""
}

// climber says which frame went up most among those that fit, and by what.
func climber(c *talk.Consultation, before map[string]*match.Match, was, now []*match.Match) string {
	place := func(list []*match.Match, code string) int {
		return slices.IndexFunc(list, func(m *match.Match) bool { return m.Frame.Code == code })
	}
	most, up := 0, (*match.Match)(nil)
	for i, m := range now {
		if m.Score == nil {
			continue
		}
		if rise := place(was, m.Frame.Code) - i; rise > most {
			most, up = rise, m
		}
	}
	if up == nil {
		return "No frame moved."
	}
	from, to := place(was, up.Frame.Code), place(now, up.Frame.Code)
	var passed []*match.Match // as they are now, the highest first
	for _, m := range was[:from] {
		if at := place(now, m.Frame.Code); at > to {
			passed = append(passed, now[at])
		}
	}
	text := fmt.Sprintf("%s goes up from %d to %d, past %s", up.Frame.Called(), from+1, to+1, c.Speaker.List(names(passed)))
	return text + gained(before[up.Frame.Code], up, before[passed[0].Frame.Code], passed[0]) + "."
}

// gained says in which criterion a frame gained most points on another.
func gained(was, now, otherWas, otherNow *match.Match) string {
	var best match.Criterion
	most := new(big.Rat)
	counts := func(m *match.Match, code string) bool {
		return slices.ContainsFunc(m.Criteria, func(c match.Criterion) bool { return c.Code == code })
	}
	points := func(m *match.Match, code string) *big.Rat {
		at := slices.IndexFunc(m.Criteria, func(c match.Criterion) bool { return c.Code == code })
		if at < 0 {
			return new(big.Rat)
		}
		return m.Criteria[at].Points(match.Weights(m.Criteria))
	}
	for _, c := range slices.Concat(now.Criteria, was.Criteria) {
		own := new(big.Rat).Sub(points(now, c.Code), points(was, c.Code))
		others := new(big.Rat).Sub(points(otherNow, c.Code), points(otherWas, c.Code))
		if gain := own.Sub(own, others); gain.Cmp(most) > 0 {
			best, most = c, gain
		}
	}
	if best.Code == "" {
		return ""
	}
	name := figures.CriterionNames[best.Code]
	name = strings.ToLower(name[:1]) + name[1:]
	switch {
	case !counts(was, best.Code):
		return ", most because " + name + " counts now"
	case !counts(now, best.Code):
		return ", most because " + name + " no longer counts"
	}
	return ", most by " + name
}
