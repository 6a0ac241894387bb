package wares

import (
	"fmt"
	"net/url"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"unicode/utf8"

	"kinwain/internal/catalog"
	"kinwain/internal/problem"
)

// Typed is a form as it was typed: every field by its path, word for word.
type Typed struct{ values url.Values }

// Bounds of what is kept of a form.
const (
	maxRows = 40
	maxText = 200
	maxLong = 4000
)

// FromValues keeps what was posted of a form, and drops empty choices and
// groups of needs in which nothing is chosen.
func FromValues(posted url.Values) Typed {
	t := Typed{url.Values{}}
	for name, values := range posted {
		for _, v := range values { // as many as an add-on fits frames
			t.values.Add(name, cut(v, strings.HasPrefix(name, "notes") || strings.HasSuffix(name, WasOf(""))))
		}
	}
	return t.compact()
}

func cut(s string, long bool) string {
	most := maxText
	if long {
		most = maxLong
	}
	s = strings.ReplaceAll(strings.ToValidUTF8(s, "\uFFFD"), "\r\n", "\n")
	if utf8.RuneCountInString(s) > most {
		s = string([]rune(s)[:most])
	}
	return s
}

// group matches the path of one group of needs.
var group = regexp.MustCompile(`^(.*needs)\[([0-9]{1,4})\]$`)

// compact numbers the groups of needs that name something without a gap.
func (t Typed) compact() Typed {
	groups := map[string][]int{}
	for name := range t.values {
		if m := group.FindStringSubmatch(name); m != nil {
			n, _ := strconv.Atoi(m[2]) // the form of the path says digits
			groups[m[1]] = append(groups[m[1]], n)
		}
	}
	for list, numbers := range groups {
		slices.Sort(numbers)
		kept := 0
		for _, n := range numbers {
			old := fmt.Sprintf("%s[%d]", list, n)
			members := full(t.values[old])
			t.values.Del(old)
			if len(members) > 0 && kept < maxRows {
				t.values[fmt.Sprintf("%s[%d]", list, kept)] = members
				kept++
			}
		}
	}
	return t
}

// full returns the values that are not blank.
func full(values []string) []string {
	var all []string
	for _, v := range values {
		if v = strings.TrimSpace(v); v != "" {
			all = append(all, v)
		}
	}
	return all
}

// Get returns what a field holds.
func (t Typed) Get(path string) string { return t.values.Get(path) }

// Has reports whether a field was shown, whatever is in it.
func (t Typed) Has(path string) bool { return t.values.Has(path) }

// All returns all that is chosen in a field.
func (t Typed) All(path string) []string { return full(t.values[path]) }

// Words returns all that is chosen in a field, or typed there with blanks
// between.
func (t Typed) Words(path string) []string {
	var all []string
	for _, v := range t.values[path] {
		all = append(all, strings.FieldsFunc(v, blank)...)
	}
	return all
}

// Map puts another word in the place of each that is chosen among add-ons.
func (t Typed) Map(list string, to func(word string) string) { t.each("", catalog.Of(list), to) }

func (t Typed) each(path string, fields []catalog.Field, to func(word string) string) {
	for _, f := range fields {
		at := problem.Join(path, f.Name)
		switch f.Kind {
		case catalog.AddOns:
			t.replace(at, to)
		case catalog.Needs:
			for i := range t.Rows(at) {
				t.replace(Row(at, i), to)
			}
		case catalog.Rows:
			for i := range t.Rows(at) {
				t.each(Row(at, i), f.Sub, to)
			}
		}
	}
}

func (t Typed) replace(path string, to func(word string) string) {
	for i, word := range t.values[path] {
		t.values[path][i] = to(strings.TrimSpace(word))
	}
}

// Set puts a text into a field.
func (t Typed) Set(path, text string) { t.values.Set(path, text) }

// Rows returns how many rows a list has.
func (t Typed) Rows(list string) int {
	rows := 0
	for name := range t.values {
		rest, within := strings.CutPrefix(name, list+"[")
		number, _, closed := strings.Cut(rest, "]")
		if n, err := strconv.Atoi(number); within && closed && err == nil && n >= 0 && n < maxRows {
			rows = max(rows, n+1)
		}
	}
	return rows
}

// Row is the path of a row.
func Row(list string, i int) string { return fmt.Sprintf("%s[%d]", list, i) }

// Add appends a row to a list; marked by its first field.
func (t Typed) Add(list, field string) {
	if n := t.Rows(list); n < maxRows {
		t.values.Set(Row(list, n)+"."+field, "")
	}
}

// Remove takes a row out of a list, and those behind it move up.
func (t Typed) Remove(list string, row int) {
	rows := t.Rows(list)
	if row < 0 || row >= rows {
		return
	}
	moved := url.Values{}
	for name, values := range t.values {
		rest, within := strings.CutPrefix(name, list+"[")
		number, field, _ := strings.Cut(rest, "]")
		n, err := strconv.Atoi(number)
		switch {
		case !within || err != nil || n < row:
			moved[name] = values
		case n > row:
			moved[Row(list, n-1)+field] = values
		}
	}
	clear(t.values)
	for name, values := range moved {
		t.values[name] = values
	}
}

// Choose puts several choices into a field.
func (t Typed) Choose(path string, choices []string) { t.values[path] = slices.Clone(choices) }
