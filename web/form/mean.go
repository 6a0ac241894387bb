package form

import (
	"strings"

	"kinwain/internal/measure"
)

// What a figure may be, besides the answer to a field of the form: a bare number
// about children an age in months or in years, and an age how long a bike should
// last.
const (
	InMonths = "months"
	InYears  = "years"
	Lasting  = "lasting"
)

// Readings are what a doubt may be about: names of fields, those of a row
// without the row; or ages in months or in years.
func (d Doubt) Readings() []string {
	if len(d.Either) == 1 && d.Either[0] == "born" {
		return []string{InMonths, InYears}
	}
	return d.Either
}

// Mean reads words of a line in one of the ways in which they may be meant. It
// is false, and changes nothing, where they cannot be.
func (f Form) Mean(reading, words string, today measure.Date) (Heard, bool) {
	list := phrases(written.Replace(cut(words)))
	if len(list) != 1 || !list[0].ok || len(list[0].figures) == 0 {
		return Heard{}, false
	}
	h := &hearing{Form: f.Clone(), today: today, words: list[0].words}
	if !h.meant(reading, list[0]) || !h.holds() {
		return Heard{}, false
	}
	h.into(f)
	return h.heard[0], true
}

// meant reads a phrase in one way.
func (h *hearing) meant(reading string, p phrase) bool {
	x := p.figures[0]
	if reading == InMonths || reading == InYears {
		for i := range p.figures {
			if p.figures[i].amount == bare {
				p.figures[i] = lexeme{text: p.figures[i].text + " " + reading, amount: age}
			}
		}
		return h.children(p)
	}
	if len(p.figures) != 1 {
		return false
	}
	switch reading {
	case Lasting:
		return h.years(p)
	case "born":
		return h.children(p)
	case "height_cm":
		row := h.rider(reading, -1)
		return row >= 0 && h.length(x, At(Riders, row, reading))
	case "weight_kg":
		row := h.rider(reading, -1)
		return row >= 0 && h.mass(x, At(Riders, row, reading))
	case "cargo_kg", "pet_kg":
		return h.mass(x, reading)
	case "cargo_litres":
		return (x.amount == bare || x.amount == volume) && h.set(reading, x.text)
	}
	return false
}

// ForgetWords takes words that were understood out of the line.
func (f Form) ForgetWords(words string) {
	before, after, _ := strings.Cut(f.Get(Line), words)
	var stays []string
	for _, part := range []string{before, after} {
		if part = strings.Trim(part, " ,;"); part != "" {
			stays = append(stays, part)
		}
	}
	f.Set(Line, strings.Join(stays, ", "))
}
