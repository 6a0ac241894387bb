package wares

import (
	"errors"
	"fmt"
	"strconv"
	"strings"

	"github.com/go-json-experiment/json"

	"kinwain/internal/catalog"
	"kinwain/internal/measure"
	"kinwain/internal/problem"
)

// Document reads a form as the document of one thing. Bare numbers are in
// kilograms and centimetres. The error is a problem.List with the paths of
// the fields that cannot be read.
func (t Typed) Document(list string) ([]byte, error) {
	r := &reader{Typed: t}
	thing := map[string]any{}
	for _, section := range Table[list] {
		r.fields(thing, "", section.Fields)
	}
	if err := r.faults.Err(); err != nil {
		return nil, err
	}
	return json.Marshal(thing, json.Deterministic(true))
}

type reader struct {
	Typed
	faults problem.List
}

func (r *reader) fields(into map[string]any, path string, fields []catalog.Field) {
	for _, f := range fields {
		if value := r.value(problem.Join(path, f.Name), f); value != nil {
			into[f.Name] = value
		}
	}
}

// value reads a field; nil where nothing is typed.
func (r *reader) value(path string, f catalog.Field) any {
	switch f.Kind {
	case catalog.Boxed:
		return r.box(path, f.Sub)
	case catalog.Rows:
		return r.rows(path, f.Sub)
	case catalog.PerFrame:
		return r.perFrame(path, f.Sub)
	case catalog.Needs:
		return r.needs(path)
	case catalog.Frames, catalog.AddOns:
		return r.All(path)
	case catalog.Codes:
		return r.Words(path)
	case catalog.Tick:
		return r.Get(path) != ""
	}
	typed := strings.TrimSpace(r.Get(path))
	if typed == "" {
		return nil
	}
	value, err := parse(typed, f.Kind)
	if err != nil {
		r.faults = append(r.faults, problem.Problem{Path: path, Code: problem.WrongType, Text: Sentence(err)})
		return nil
	}
	return value
}

func blank(letter rune) bool {
	return letter == ' ' || letter == ',' || letter == ';' || letter == '\n' || letter == '\t'
}

// Sentence is what is wrong with what was typed, without a code.
func Sentence(err error) string {
	var e *measure.Error
	if errors.As(err, &e) {
		return e.Text
	}
	return err.Error()
}

// Figure reads what is typed into one field as a value of its kind, nil where
// nothing is typed. Bare numbers are in kilograms and centimetres.
func Figure(typed string, kind catalog.FieldKind) (any, error) {
	switch typed = strings.TrimSpace(typed); {
	case typed == "":
		return nil, nil
	case kind == catalog.Day:
		return measure.ParseDate(typed)
	}
	return parse(typed, kind)
}

func parse(typed string, kind catalog.FieldKind) (any, error) {
	switch kind {
	case catalog.Mass:
		return measure.ParseMass(typed, measure.Metric)
	case catalog.Length:
		return measure.ParseLength(typed, measure.Metric)
	case catalog.Signed:
		return parseSigned(typed)
	case catalog.Volume:
		return measure.ParseVolume(typed)
	case catalog.Money:
		return measure.ParseMoney(typed)
	case catalog.Number:
		return parseNumber(typed)
	case catalog.Share:
		return parseShare(typed)
	case catalog.Day:
		_, err := measure.ParseDate(typed)
		return typed, err
	case catalog.Maybe:
		return typed == "yes", nil
	case catalog.Teeth:
		return parseTeeth(typed)
	}
	return typed, nil
}

func parseSigned(typed string) (measure.Length, error) {
	for _, minus := range [...]string{"-", "−"} {
		if rest, behind := strings.CutPrefix(typed, minus); behind {
			l, err := measure.ParseLength(rest, measure.Metric)
			return -l, err
		}
	}
	return measure.ParseLength(typed, measure.Metric)
}

// maxNumber bounds whole numbers, far above every figure of a catalogue.
const maxNumber = 100_000_000

func parseNumber(typed string) (int, error) {
	n, err := strconv.Atoi(typed)
	if err != nil || n > maxNumber || n < -maxNumber {
		return 0, fmt.Errorf("%q is not a whole number; write it like 12", typed)
	}
	return n, nil
}

func parseShare(typed string) (measure.Share, error) {
	text := strings.TrimSpace(strings.TrimSuffix(strings.ReplaceAll(typed, ",", "."), "%"))
	var p measure.Percentage
	if err := p.UnmarshalJSON([]byte(text)); err != nil || text == "null" {
		return 0, fmt.Errorf("%q is not a percentage; write it like 45", typed)
	}
	return measure.Share(p), nil
}

func parseTeeth(typed string) ([]int, error) {
	var all []int
	for _, word := range strings.FieldsFunc(typed, blank) {
		n, err := parseNumber(word)
		if err != nil {
			return nil, err
		}
		all = append(all, n)
	}
	return all, nil
}

// box reads fields within the thing; nil where none is typed.
func (r *reader) box(path string, fields []catalog.Field) any {
	inner := map[string]any{}
	r.fields(inner, path, fields)
	if len(inner) == 0 {
		return nil
	}
	return inner
}

func (r *reader) rows(path string, fields []catalog.Field) any {
	all := []map[string]any{}
	for i := range r.Rows(path) {
		row := map[string]any{}
		r.fields(row, Row(path, i), fields)
		all = append(all, row)
	}
	return all
}

// perFrame reads what differs on single frames.
func (r *reader) perFrame(path string, fields []catalog.Field) any {
	all := map[string]any{}
	for i := range r.Rows(path) {
		at := Row(path, i)
		frame := strings.TrimSpace(r.Get(at + ".frame"))
		row := map[string]any{}
		r.fields(row, at, fields)
		switch _, twice := all[frame]; {
		case frame == "":
			r.faults.Add(at+".frame", problem.Missing, "choose the frame")
		case twice:
			r.faults.Add(at+".frame", problem.Duplicate, "the frame %q is named twice", frame)
		}
		all[frame] = row
	}
	if len(all) == 0 {
		return nil
	}
	return all
}

func (r *reader) needs(path string) any {
	groups := [][]string{}
	for i := range r.Rows(path) {
		groups = append(groups, r.All(Row(path, i)))
	}
	return groups
}
