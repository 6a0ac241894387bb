package form

import (
	"strings"
	"time"

	"kinwain/internal/measure"
)

// longestDue is in how many months somebody who is expected is born at the most.
const longestDue = 9

// expects reads who is to be born: in a month, on a day of it, or two in one.
// Which month that is follows from today, where it says no year.
func (h *hearing) expects(p phrase) bool {
	due, ok := h.due(p.figures)
	if !ok {
		h.lacks = LacksDue
		return false
	}
	many := 1
	if p.about == aboutTwins {
		many = 2
	}
	if p.count > 0 && p.count != many {
		return false
	}
	for range many {
		row := h.child()
		if row < 0 {
			return false
		}
		h.born(p, row, writtenBirth(due))
	}
	return true
}

// due reads when that is: March, 14 March, March 2027, 14.3.2027. It is not in
// the past, and in no more months than it takes.
func (h *hearing) due(figures []lexeme) (measure.Date, bool) {
	day := 0
	if len(figures) == 2 && figures[1].amount == month && isDay(figures[0], figures[1]) {
		day, figures = number(figures[0].text), figures[1:]
		if day < 1 || day > 31 {
			return measure.Date{}, false
		}
	}
	if len(figures) != 1 {
		return measure.Date{}, false
	}
	var d measure.Date
	switch figures[0].amount {
	case month:
		d = measure.Date{Year: h.today.Year, Month: time.Month(monthNamed(figures[0].text)), Day: day}
		if d.Month < h.today.Month {
			d.Year++
		}
	case born:
		var err error
		if d, err = Born(strings.TrimSpace(figures[0].text), h.today); err != nil {
			return measure.Date{}, false
		}
	default:
		return measure.Date{}, false
	}
	return d, !d.Latest().Before(h.today) && d.InMonth()-h.today.InMonth() <= longestDue
}

// isDay reports whether a figure stands right before the name of a month.
func isDay(x, next lexeme) bool {
	named := next.amount == month || next.amount == born && strings.Trim(next.text[:1], "0123456789") != ""
	return x.amount == bare && named && next.from-x.to <= len(". ")
}
