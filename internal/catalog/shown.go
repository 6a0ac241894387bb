package catalog

import (
	"encoding/json"
	"fmt"
	"maps"
	"slices"
	"strconv"
	"strings"

	"kinwain/internal/measure"
)

// mostShown is how long a figure may be in words; more is cut.
const mostShown = 160

// Shown writes one side of a change for people: with its unit, money in a
// currency.
func (c Change) Shown(text, currency string) string {
	if text == "" {
		return "nothing"
	}
	words := Words(text)
	if c.Kind() != Moved {
		words = fieldWordsIn(Of(c.List), c.About(), text, currency)
	}
	if r := []rune(words); len(r) > mostShown {
		words = string(r[:mostShown]) + "…"
	}
	return words
}

// About returns the field that a change is about, which is none of a whole
// thing, nor of one that is not known any more.
func (c Change) About() *Field {
	f, _ := c.field()
	return f
}

// fieldWordsIn writes a figure of a field, or what is known of a whole thing.
func fieldWordsIn(whole []Field, f *Field, text, currency string) string {
	var entry map[string]json.RawMessage
	if json.Unmarshal([]byte(text), &entry) == nil {
		if f != nil {
			whole = f.Sub
		}
		if f != nil && f.Kind == PerFrame && find(f.Sub, anyKey(entry), 0) < 0 {
			return perFrame(f, entry, currency)
		}
		return entryIn(whole, entry, currency)
	}
	if f == nil {
		return Words(text)
	}
	return f.Shown(text, currency)
}

// anyKey is one of the names in an entry.
func anyKey(entry map[string]json.RawMessage) string {
	for name := range entry {
		return name
	}
	return ""
}

// perFrame writes what is stated for each of several frames.
func perFrame(f *Field, frames map[string]json.RawMessage, currency string) string {
	var words []string
	for _, frame := range slices.Sorted(maps.Keys(frames)) {
		words = append(words, "on "+frame+": "+fieldWordsIn(nil, &Field{Sub: f.Sub}, string(frames[frame]), currency))
	}
	return strings.Join(words, "; ")
}

// entryIn writes what an entry states, with what it is called first.
func entryIn(fields []Field, entry map[string]json.RawMessage, currency string) string {
	var words []string
	for i := range fields {
		f := &fields[i]
		value := strings.TrimSpace(string(entry[f.Name]))
		if value == "" || value == "0" || value == `""` || value == "[]" || value == "{}" || value == "false" || len(f.Sub) > 0 {
			continue
		}
		words = append(words, strings.ToLower(f.Label)+" "+f.Shown(value, currency))
	}
	return strings.Join(words, ", ")
}

// Shown writes a figure with the unit of its field.
func (f *Field) Shown(text, currency string) string {
	n, err := strconv.ParseInt(text, 10, 64)
	switch f.Kind {
	case Money:
		if err == nil {
			return measure.Money(n).Show(currency)
		}
	case Share:
		if strings.HasSuffix(f.Name, "_percent") {
			return text + "\u00a0%"
		}
		var share measure.Share
		if share.UnmarshalJSON([]byte(text)) == nil {
			return measure.Percentage(share).String()
		}
	}
	if text == "0" && !f.Needed {
		return "not stated"
	}
	return strings.TrimSpace(Words(text) + " " + unitOf(f))
}

// unitOf is the unit in which documents write a field.
func unitOf(f *Field) string {
	switch f.Kind {
	case Mass:
		return "kg"
	case Length, Signed:
		return "cm"
	case Volume:
		return "litres"
	case Number:
		for _, unit := range [...]string{"months", "minutes", "seconds", "watts"} {
			if strings.HasSuffix(f.Name, unit) {
				return unit
			}
		}
	}
	return ""
}

// Words writes a figure of a document for people: texts without
// quotation marks, yes and no, and lists as the tables have them.
func Words(text string) string {
	var value any
	if text == "" || json.Unmarshal([]byte(text), &value) != nil {
		return "not stated"
	}
	switch v := value.(type) {
	case string:
		if v == "" {
			return "empty"
		}
		return v
	case bool:
		if v {
			return "yes"
		}
		return "no"
	case []any:
		if len(v) == 0 {
			return "none"
		}
		return listWords(v, " ")
	}
	return strings.NewReplacer(`"`, "", "{", "", "}", "").Replace(text)
}

func listWords(list []any, between string) string {
	words := make([]string, len(list))
	for i, item := range list {
		if group, ok := item.([]any); ok {
			words[i] = listWords(group, "|")
		} else {
			words[i] = fmt.Sprint(item)
		}
	}
	return strings.Join(words, between)
}
