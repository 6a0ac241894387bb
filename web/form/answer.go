package form

import (
	"errors"
	"strconv"
	"strings"

	"kinwain/internal/measure"
	"kinwain/internal/problem"
)

// Answer types into a field as the form itself would: the row that it is in is
// there then, and nothing that holds it is "don't know yet" any more. It is
// false where the form has no such field, or its row is not the next.
func (f Form) Answer(name, value string) bool {
	if !known(name) {
		return false
	}
	if m := rowName.FindStringSubmatch(name); m != nil {
		row, _ := strconv.Atoi(m[2]) // the pattern holds digits only
		if row == f.Rows(m[1]) {
			f.Add(m[1])
		}
		if row >= f.Rows(m[1]) {
			return false
		}
	}
	f.Set(name, cut(value))
	f.know(name)
	return true
}

// know takes "don't know yet" from a field and from all that holds it.
func (f Form) know(name string) {
	delete(f.unknown, name)
	for strings.ContainsAny(name, ".[") {
		name = name[:strings.LastIndexAny(name, ".[")]
		delete(f.unknown, name)
	}
}

// Fault is what is wrong with a field on a day, if anything is.
func (f Form) Fault(name string, today measure.Date) string {
	_, err := f.Profile(today)
	var faults problem.List
	errors.As(err, &faults)
	return faults.At(name)
}
