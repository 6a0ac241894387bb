package form

import (
	"strings"

	"kinwain/internal/measure"
)

// Usual is what many families bring along, told by one tap. The figures are
// common practice, without a published source: of a full trolley, of a crate of
// a dozen bottles of glass, and of a dog as high as a table.
type Usual struct {
	Code, Label string
	Mass        measure.Mass
	Bulk        measure.Volume // none: it is a pet
}

// Usuals lists them all.
var Usuals = []Usual{
	{"groceries", "A week’s groceries", 20 * measure.Kilogram, 60 * measure.Litre},
	{"crate", "A crate of drinks", 17 * measure.Kilogram, 30 * measure.Litre},
	{"dog", "A large dog", 35 * measure.Kilogram, 0},
}

// Bring adds what is usual to the cargo, or answers for the pet. It changes
// nothing where what was typed cannot be read.
func (f Form) Bring(code string, today measure.Date) {
	told := f.Told(today)
	for _, u := range Usuals {
		switch {
		case u.Code != code:
		case u.Bulk == 0:
			f.Answer("pet_kg", u.Mass.Show(measure.Metric, measure.Nearest))
		case f.open("cargo_kg", told.Cargo.IsGiven()) && f.open("cargo_litres", told.CargoSize.IsGiven()):
			f.Answer("cargo_kg", (told.Cargo.Or(0)+u.Mass).Show(f.System(), measure.Nearest))
			f.Answer("cargo_litres", (told.CargoSize.Or(0) + u.Bulk).Show(measure.Nearest))
		}
	}
}

// open reports whether a field can be added to: it was read, or nothing was
// typed in it.
func (f Form) open(name string, read bool) bool {
	return read || strings.TrimSpace(f.Get(name)) == ""
}

// Again appends a row to a list that is like another. People keep their own
// name, weight and height: a twin shares the birth.
func (f Form) Again(list string, row int) {
	at := f.Rows(list)
	if row < 0 || row >= at {
		return
	}
	f.Add(list)
	if f.Rows(list) == at {
		return
	}
	for _, field := range fields[list] {
		if own[field] {
			continue
		}
		f.Set(At(list, at, field), f.Get(At(list, row, field)))
		f.mark(At(list, at, field), f.unknown[At(list, row, field)])
	}
}

// own are what nobody shares with a twin.
var own = map[string]bool{"label": true, "weight_kg": true, "stature_cm": true}
