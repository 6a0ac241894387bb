// Package form turns the profile form, as typed in any unit, into a profile,
// and keeps what was typed. A field is named by its path in the profile
// document, so that a fault found there belongs to a field here.
package form

import (
	"encoding/json"
	"fmt"
	"net/url"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"kinwain/internal/measure"
	"kinwain/internal/problem"
	"kinwain/internal/profile"
)

// Form is the profile form as typed. The zero Form is not usable; see New.
type Form struct {
	values  map[string]string
	unknown map[string]bool // fields marked "don't know yet"
}

// The lists that grow and shrink.
const (
	Riders     = "riders"
	Passengers = "passengers"
	Doorways   = "home.doorways"
	Corners    = "home.corners"
)

// Fields that are no part of a profile.
const (
	Customer = "customer" // the customer's name, if they wish to give one
	Units    = "units"    // metric or imperial
	Language = "language" // of the papers that the customer is handed: ISO 639-1
	Line     = "line"     // what is typed as it is heard, and was not understood yet
	Hide     = "hide"     // yes: nobody is shown what a rider weighs
	Version  = "version"  // of the saved answers that the form shows
	Had      = "had"      // names of the questions whose boxes the form shows, ticked or not, with blanks between
	unknown  = "unknown"  // repeated: the names of fields marked "don't know yet"

	Imperial = "imperial"
)

const (
	maxValue = 200
	maxRows  = 20
)

// fields lists what one row of each list, and the form itself, may hold.
var fields = func() map[string][]string {
	all := map[string][]string{"": {Customer, Units, Language, Line, Hide}}
	list(all, "", "", profile.Questions)
	return all
}()

// list adds the fields of questions to those of a list.
func list(all map[string][]string, of, path string, questions []profile.Question) {
	for i := range questions {
		q := &questions[i]
		name := problem.Join(path, q.Name)
		switch {
		case q.IsList():
			list(all, name, "", q.Sub)
		default:
			list(all, of, name, q.Sub)
		}
		if name != Riders {
			all[of] = append(all[of], name)
		}
	}
}

var rowName = regexp.MustCompile(`^(riders|passengers|home\.doorways|home\.corners)\[(0|[1-9][0-9]?)\]\.([a-z_]+)$`)

// New returns the form that a consultation begins with: one rider and no
// answers.
func New() Form {
	f := Form{values: map[string]string{}, unknown: map[string]bool{}}
	f.Add(Riders)
	return f
}

// FromValues reads a posted form. Names that the form does not have are left
// out and long texts are cut.
func FromValues(posted url.Values) Form {
	f := Form{values: map[string]string{}, unknown: map[string]bool{}}
	for name, values := range posted {
		if known(name) && len(values) > 0 {
			f.values[name] = cut(values[0])
		}
	}
	for _, name := range posted[unknown] {
		if known(name) {
			f.unknown[name] = true
		}
	}
	return f
}

func known(name string) bool {
	if m := rowName.FindStringSubmatch(name); m != nil {
		i, err := strconv.Atoi(m[2])
		return err == nil && i < maxRows && slices.Contains(fields[m[1]], m[3])
	}
	return slices.Contains(fields[""], name)
}

// cut keeps a value short, and text: what is no UTF-8 could not be kept as it
// is.
func cut(s string) string {
	s = strings.ToValidUTF8(s, "\uFFFD")
	if r := []rune(s); len(r) > maxValue {
		return string(r[:maxValue])
	}
	return s
}

// Get returns what was typed in a field.
func (f Form) Get(name string) string { return f.values[name] }

// Set types something into a field.
func (f Form) Set(name, value string) { f.values[name] = value }

// Unknown reports whether a field is marked "don't know yet".
func (f Form) Unknown(name string) bool { return f.unknown[name] }

// System returns the system of units of bare numbers.
func (f Form) System() measure.System {
	if f.values[Units] == Imperial {
		return measure.Imperial
	}
	return measure.Metric
}

// HidesWeights reports whether nobody is to see what a rider weighs.
func (f Form) HidesWeights() bool { return f.values[Hide] == "yes" }

// Hides reports whether nobody is to see what a field holds.
func (f Form) Hides(name string) bool {
	return f.HidesWeights() && strings.HasPrefix(name, Riders+"[") && strings.HasSuffix(name, ".weight_kg")
}

// Rows returns how many rows a list has.
func (f Form) Rows(list string) int {
	rows, begins := 0, list+"["
	for name := range f.values {
		if !strings.HasPrefix(name, begins) {
			continue // the pattern takes far longer to say so, and every page reads a form
		}
		if m := rowName.FindStringSubmatch(name); m != nil && m[1] == list {
			i, _ := strconv.Atoi(m[2]) // the pattern holds digits only
			rows = max(rows, i+1)
		}
	}
	return rows
}

// At returns the name of a field in a row of a list.
func At(list string, row int, field string) string { return fmt.Sprintf("%s[%d].%s", list, row, field) }

var ordinals = []string{"first", "second", "third", "fourth", "fifth", "sixth", "seventh", "eighth"}

// Add appends an empty row to a list, with a name that no other row has where
// rows have names. A list that gets a row is no longer unknown.
func (f Form) Add(list string) {
	row := f.Rows(list)
	if list == "" || row >= maxRows {
		return
	}
	delete(f.unknown, list)
	for _, field := range fields[list] {
		f.values[At(list, row, field)] = ""
	}
	if name, ok := names[list]; ok {
		f.values[At(list, row, "label")] = f.free(list, name)
	}
}

// names makes the name that the nth row of a list begins with.
var names = map[string]func(n int) string{
	Riders: func(n int) string { return string(rune('A' + n)) },
	Passengers: func(n int) string {
		if n < len(ordinals) {
			return ordinals[n] + " child"
		}
		return fmt.Sprintf("child %d", n+1)
	},
}

// free returns the first name that no row of a list has.
func (f Form) free(list string, name func(n int) string) string {
	taken := map[string]bool{}
	for row := range f.Rows(list) {
		taken[strings.TrimSpace(f.values[At(list, row, "label")])] = true
	}
	n := 0
	for taken[name(n)] {
		n++
	}
	return name(n)
}

// Remove takes a row out of a list and moves up those behind it.
func (f Form) Remove(list string, row int) {
	rows := f.Rows(list)
	if row < 0 || row >= rows {
		return
	}
	for ; row < rows; row++ {
		for _, field := range fields[list] {
			to, from := At(list, row, field), At(list, row+1, field)
			delete(f.unknown, to)
			if f.unknown[from] {
				f.unknown[to] = true
			}
			delete(f.values, to)
			if v, ok := f.values[from]; ok {
				f.values[to] = v
			}
		}
	}
}

// SwitchUnits writes the unit behind every bare number typed under another
// system, so that a figure keeps its meaning when the units change.
func (f Form) SwitchUnits(from measure.System) {
	to := f.System()
	if from == to {
		return
	}
	for name, typed := range f.values {
		switch {
		case strings.HasSuffix(name, "_kg") && depends(typed, from, to, measure.ParseMass):
			f.values[name] = strings.TrimSpace(typed) + " " + from.MassUnit()
		case strings.HasSuffix(name, "_cm") && depends(typed, from, to, measure.ParseLength):
			f.values[name] = strings.TrimSpace(typed) + " " + from.LengthUnit()
		}
	}
}

// depends reports whether what was typed means one thing in one system and
// another in the other, as a bare number does.
func depends[T comparable](typed string, from, to measure.System, parse func(string, measure.System) (T, error)) bool {
	one, err := parse(typed, from)
	other, err2 := parse(typed, to)
	return err == nil && err2 == nil && one != other
}

// document is how a form is kept.
type document struct {
	Values  map[string]string `json:"values"`
	Unknown []string          `json:"unknown"`
	Earlier []change          `json:"earlier,omitempty"` // the oldest first
}

// Encode writes the form so that Decode reads the same back.
func (f Form) Encode() ([]byte, error) { return f.encode(nil) }

func (f Form) encode(earlier []change) ([]byte, error) {
	d := document{Values: f.values, Unknown: []string{}, Earlier: earlier}
	for name := range f.unknown {
		d.Unknown = append(d.Unknown, name)
	}
	slices.Sort(d.Unknown)
	return json.Marshal(d)
}

// Decode reads what Encode wrote.
func Decode(data []byte) (Form, error) {
	var d document
	if err := json.Unmarshal(data, &d); err != nil {
		return Form{}, fmt.Errorf("read a saved form: %w", err)
	}
	return d.form(), nil
}

func (d *document) form() Form {
	posted := url.Values{unknown: d.Unknown}
	for name, value := range d.Values {
		posted.Set(name, value)
	}
	return FromValues(posted)
}
