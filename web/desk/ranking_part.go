package desk

import (
	"cmp"
	"net/url"
	"slices"
	"strconv"

	"kinwain/internal/match"
)

// mostRanked is how many frames a page lists of those that fit, and as many of
// those that do not: a shop may have a thousand.
const mostRanked = 20

// part is the part of a ranking that an address asks for.
type part struct {
	family string // none: all
	fit    int    // how many that fit are passed over
	unfit  int    // and of the others
}

func partOf(q url.Values) part {
	return part{family: q.Get("family"), fit: passed(q.Get("fit")), unfit: passed(q.Get("unfit"))}
}

func passed(typed string) int {
	n, err := strconv.Atoi(typed)
	if err != nil {
		return 0
	}
	return max(n, 0)
}

// shown is what of a ranking a page lists.
type shown struct {
	part
	fit, unfit       []*match.Match
	allFit, allUnfit int            // rows on all pages
	notFit           int            // frames
	others           map[string]int // folded into the row of a frame, by its code
}

// of takes the part out of a ranking. More frames that do not fit than a page
// holds are folded by family: the best of each stands for it.
func (p part) of(ranked []*match.Match) shown {
	s := shown{part: p}
	var fit, unfit []*match.Match
	for _, m := range ranked {
		switch {
		case p.family != "" && familyOf(m) != p.family:
		case m.Verdict == match.DoesNotFit:
			unfit = append(unfit, m)
		default:
			fit = append(fit, m)
		}
	}
	s.notFit = len(unfit)
	if p.family == "" && len(unfit) > mostRanked {
		unfit, s.others = folded(unfit)
	}
	s.allFit, s.allUnfit = len(fit), len(unfit)
	s.fit, s.part.fit = window(fit, p.fit)
	s.unfit, s.part.unfit = window(unfit, p.unfit)
	return s
}

// window cuts a list to what a page holds from a place on, and says which
// place that is: beyond the end it is the last page.
func window(list []*match.Match, from int) ([]*match.Match, int) {
	if from >= len(list) {
		from = max(len(list)-1, 0) / mostRanked * mostRanked
	}
	return list[from:min(from+mostRanked, len(list))], from
}

// folded keeps the first of each family, and counts the others by its code.
func folded(list []*match.Match) (first []*match.Match, others map[string]int) {
	others = map[string]int{}
	best := map[string]string{}
	for _, m := range list {
		if code, met := best[familyOf(m)]; met {
			others[code]++
			continue
		}
		best[familyOf(m)] = m.Frame.Code
		first = append(first, m)
	}
	return first, others
}

// familyOf names the family of a frame; one that states none is its own.
func familyOf(m *match.Match) string { return cmp.Or(m.Frame.Family, m.Frame.Name) }

// none, fitting and listed are none of the frames of the page, those that fit,
// and all.
func (s shown) none() []*match.Match    { return nil }
func (s shown) fitting() []*match.Match { return s.fit }
func (s shown) listed() []*match.Match  { return slices.Concat(s.fit, s.unfit) }

// moreOf says what of a list is shown: n from a place on.
func moreOf(name string, from, n, all int) More {
	m := More{Name: name, First: from + 1, Last: from + n, All: all}
	if from > 0 {
		m.Previous = strconv.Itoa(max(from-mostRanked, 0))
	}
	if from+n < all {
		m.Next = strconv.Itoa(from + n)
	}
	return m
}
