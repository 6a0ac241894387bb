package form

import (
	"strconv"
	"strings"

	"kinwain/internal/measure"
)

// hearing is one phrase that is read into a form of its own.
type hearing struct {
	Form
	today  measure.Date
	words  string
	heard  []Heard
	either []string
	lacks  Lack
}

// number reads a small whole number, zero where it is none.
func number(text string) int {
	n, err := strconv.Atoi(text)
	if err != nil {
		return 0
	}
	return n
}

// phrase reads one; it is false where it does not make sense.
func (h *hearing) phrase(p phrase) bool {
	switch {
	case p.lasting && p.about == noTopic:
		p.about = aboutYears
	case p.coming && (p.about == aboutChildren || p.about == aboutTwins):
		return h.expects(p)
	case len(p.figures) == 0:
		return false
	}
	switch p.about {
	case aboutRiders, noTopic:
		return h.loose(p)
	case aboutChildren, aboutTwins:
		return h.children(p)
	case aboutPet:
		return len(p.figures) == 1 && h.mass(p.figures[0], "pet_kg")
	case aboutCargo:
		return h.cargo(p)
	case aboutLift:
		return h.lengths(p, 2, 3, "home.lift.length_cm", "home.lift.width_cm", "home.lift.height_cm")
	case aboutDoor:
		return h.row(p, Doorways, 1, "width_cm", "height_cm")
	case aboutCorner:
		if len(p.figures) == 1 {
			p.figures = append(p.figures, p.figures[0])
		}
		return h.row(p, Corners, 2, "in_cm", "out_cm")
	case aboutSpace:
		return h.lengths(p, 2, 3, "home.length_cm", "home.width_cm", "home.height_cm")
	case aboutSteps:
		return h.one(p, "home.steps", bare)
	case aboutBudget:
		return h.budget(p)
	case aboutYears:
		return h.years(p)
	case aboutHill:
		return h.one(p, "hill_percent", bare, percent)
	}
	return false
}

// set answers a field.
func (h *hearing) set(field, value string) bool {
	h.Set(field, value)
	h.know(field)
	h.heard = append(h.heard, Heard{field, value, h.words})
	return true
}

// one sets a field to the only figure, where it is of one of the kinds.
func (h *hearing) one(p phrase, field string, kinds ...amount) bool {
	if len(p.figures) != 1 {
		return false
	}
	for _, k := range kinds {
		if p.figures[0].amount == k {
			return h.set(field, strings.TrimSpace(strings.TrimRight(p.figures[0].text, "%abcdefghijklmnopqrstuvwxyz ")))
		}
	}
	return false
}

// budget reads what there is to spend. That it is firm is heard only where it is
// said.
func (h *hearing) budget(p phrase) bool {
	if p.most && (len(p.figures) != 1 || !h.spent(p.figures[0])) {
		return false
	}
	return h.one(p, "budget_cents", bare, money) && (!p.firm || h.set("budget_firm", "yes"))
}

// spent reports whether nearly everybody means money by a figure that is the most
// of something, which nobody named. Until 2030 may be how long it should last.
func (h *hearing) spent(x lexeme) bool {
	m, err := measure.ParseMoney(x.text)
	return x.amount == money || err == nil && usualBudget.has(float64(m)/100) && !(yearForm.MatchString(x.text) && number(x.text) > h.today.Year)
}

func (h *hearing) years(p phrase) bool {
	if len(p.figures) != 1 || p.figures[0].amount != age && p.figures[0].amount != bare {
		return false
	}
	text := p.figures[0].text
	digits, unit := strings.TrimRight(text, "abcdefghijklmnopqrstuvwxyz "), strings.TrimLeft(text, "0123456789 ")
	if unit != "" && ages[unit] != 12 {
		return false
	}
	return h.set("years", digits)
}

// withUnit writes the unit of the form behind a bare number.
func (h *hearing) withUnit(x lexeme, unit string) string {
	if x.amount == bare {
		return x.text + " " + unit
	}
	return x.text
}

func (h *hearing) mass(x lexeme, field string) bool {
	return (x.amount == bare || x.amount == mass) && h.set(field, h.withUnit(x, h.System().MassUnit()))
}

func (h *hearing) length(x lexeme, field string) bool {
	return (x.amount == bare || x.amount == length) && h.set(field, h.withUnit(x, h.System().LengthUnit()))
}

// lengths sets fields to the figures in order, of which there are least at
// least and most at most.
func (h *hearing) lengths(p phrase, least, most int, fields ...string) bool {
	if len(p.figures) < least || len(p.figures) > most {
		return false
	}
	for i, x := range p.figures {
		if !h.length(x, fields[i]) {
			return false
		}
	}
	return true
}

// row sets fields of a new row of a list.
func (h *hearing) row(p phrase, list string, least int, fields ...string) bool {
	row := h.Rows(list)
	h.Add(list)
	if h.Rows(list) == row {
		return false
	}
	for i := range fields {
		fields[i] = At(list, row, fields[i])
	}
	return h.lengths(p, least, len(fields), fields...)
}

// cargo is told by its units: a bare number may be kilograms or litres.
func (h *hearing) cargo(p phrase) bool {
	for _, x := range p.figures {
		switch x.amount {
		case mass:
			h.set("cargo_kg", x.text)
		case volume:
			h.set("cargo_litres", x.text)
		default:
			h.either = []string{"cargo_kg", "cargo_litres"}
			return false
		}
	}
	return true
}

type span struct{ least, most float64 }

// What nearly everybody means by a bare number (common practice, no published
// source). Within one system of units they do not overlap.
var (
	usualHeight = map[measure.System]span{measure.Metric: {140, 210}, measure.Imperial: {55, 82}}
	usualWeight = map[measure.System]span{measure.Metric: {40, 125}, measure.Imperial: {90, 280}}
	usualMetres = span{1.4, 2.1}
	usualBudget = span{1000, 20000}
)

func (s span) has(figure float64) bool { return figure >= s.least && figure <= s.most }

// loose reads figures about riders, or about nothing in particular: heights,
// weights, a budget, a hill.
func (h *hearing) loose(p phrase) bool {
	last := -1
	for _, x := range p.figures {
		field := h.meaning(x, p.about)
		switch field {
		case "height_cm":
			last = h.rider("height_cm", -1)
			value := h.withUnit(x, h.System().LengthUnit())
			if n, err := strconv.ParseFloat(strings.Replace(x.text, ",", ".", 1), 64); err == nil && usualMetres.has(n) {
				value = x.text + " m"
			}
			if last < 0 || !h.set(At(Riders, last, field), value) {
				return false
			}
		case "weight_kg":
			if row := h.rider("weight_kg", last); row < 0 || !h.set(At(Riders, row, field), h.withUnit(x, h.System().MassUnit())) {
				return false
			}
		case "":
			return false
		default:
			if !h.one(phrase{figures: []lexeme{x}}, field, bare, money, percent) {
				return false
			}
		}
	}
	return true
}

// meaning returns the field that a figure is the answer to, if it is that of
// one only.
func (h *hearing) meaning(x lexeme, about topic) string {
	switch x.amount {
	case length:
		l, err := measure.ParseLength(x.text, h.System())
		if err == nil && usualHeight[measure.Metric].has(float64(l)/float64(measure.Centimetre)) {
			return "height_cm"
		}
	case mass:
		m, err := measure.ParseMass(x.text, h.System())
		if err == nil && usualWeight[measure.Metric].has(float64(m)/float64(measure.Kilogram)) {
			return "weight_kg"
		}
		h.either = []string{"weight_kg", "cargo_kg", "pet_kg"}
	case money:
		return "budget_cents"
	case percent:
		return "hill_percent"
	case age:
		if _, unit, _ := strings.Cut(x.text, " "); ages[unit] == 12 { // nothing is bought for months
			h.either = []string{"born", Lasting}
		}
	case bare:
		return h.bareMeaning(x, about)
	}
	return ""
}

func (h *hearing) bareMeaning(x lexeme, about topic) string {
	n, err := strconv.ParseFloat(strings.Replace(x.text, ",", ".", 1), 64)
	if err != nil {
		return ""
	}
	var may []string
	if usualHeight[h.System()].has(n) || usualMetres.has(n) && strings.ContainsAny(x.text, ".,") {
		may = append(may, "height_cm")
	}
	if usualWeight[h.System()].has(n) {
		may = append(may, "weight_kg")
	}
	if about == noTopic && usualBudget.has(n) {
		may = append(may, "budget_cents")
	}
	if len(may) == 1 {
		return may[0]
	}
	h.either = []string{"height_cm", "weight_kg"}
	return ""
}

// rider returns the row of the rider whose answer comes next: the one that was
// just spoken of, or the first who has none yet, or a new one. It is -1 where
// there is no room.
func (h *hearing) rider(field string, last int) int {
	if last >= 0 && h.Get(At(Riders, last, field)) == "" {
		return last
	}
	for row := range h.Rows(Riders) {
		if h.Get(At(Riders, row, field)) == "" {
			return row
		}
	}
	row := h.Rows(Riders)
	h.Add(Riders)
	if h.Rows(Riders) == row {
		return -1
	}
	return row
}

// children reads ages, births, weights and heights. A weight or height is of
// the child before it.
func (h *hearing) children(p phrase) bool {
	if p.about == aboutTwins {
		if len(p.figures) != 1 {
			return false
		}
		p.figures, p.count = append(p.figures, p.figures[0]), 2
	}
	rows := 0
	row := -1
	for i, x := range p.figures {
		switch x.amount {
		case age, born, bare:
			birth, ok := h.birth(p, i)
			if row = h.child(); !ok || row < 0 {
				return false
			}
			h.born(p, row, birth)
			rows++
		case month:
			h.lacks = LacksYear
			return false
		case mass:
			if row < 0 || !h.set(At(Passengers, row, "weight_kg"), x.text) {
				return false
			}
		case length:
			if row < 0 || !h.set(At(Passengers, row, "stature_cm"), x.text) {
				return false
			}
		default:
			return false
		}
	}
	return p.count == 0 || p.count == rows
}

// birth reads the birth of a child. A bare number is an age in years, unless a
// later one is in months: 14 and 20 months may be either. A number of four
// digits is a year, one right before a month an age or a day.
func (h *hearing) birth(p phrase, i int) (string, bool) {
	text := p.figures[i].text
	if i+1 < len(p.figures) && isDay(p.figures[i], p.figures[i+1]) {
		return "", false
	}
	if p.figures[i].amount == bare && !yearForm.MatchString(text) {
		n := number(text)
		for _, later := range p.figures[i+1:] {
			if later.amount == age && ages[strings.TrimLeft(later.text, "0123456789 ")] == 1 {
				h.either = []string{"born"}
				return "", false
			}
		}
		if n < 1 || n > 17 {
			return "", false
		}
		text += " years"
	}
	d, err := Born(text, h.today)
	if err != nil {
		return "", false
	}
	return writtenBirth(d), true
}

// born answers when a child was born, or is to be, and its sex where that was said.
func (h *hearing) born(p phrase, row int, birth string) {
	h.set(At(Passengers, row, "born"), birth)
	switch {
	case p.boys && !p.girls:
		h.set(At(Passengers, row, "sex"), "boy")
	case p.girls && !p.boys:
		h.set(At(Passengers, row, "sex"), "girl")
	}
}

// child returns the row of the first child without a birth, or a new one; -1
// where there is no room.
func (h *hearing) child() int {
	for row := range h.Rows(Passengers) {
		if h.Get(At(Passengers, row, "born")) == "" && h.Get(At(Passengers, row, "weight_kg")) == "" {
			return row
		}
	}
	row := h.Rows(Passengers)
	h.Add(Passengers)
	if h.Rows(Passengers) == row {
		return -1
	}
	return row
}
