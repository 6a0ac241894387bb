package inventory

import (
	"cmp"
	"encoding/json"
	"maps"
	"slices"
	"strconv"
	"strings"

	"kinwain/internal/catalog"
	"kinwain/internal/figures"
	"kinwain/internal/measure"
	"kinwain/internal/store"
)

// mostFigure is how long a figure may be in words; more is cut.
const mostFigure = 160

// figureIn writes one side of a change for people: with its unit, money in the
// currency of the shop.
func figureIn(c catalog.Change, text, currency string) string {
	if c.List == store.SettingsList {
		return settingWords(c.Field, text)
	}
	if text == "" {
		return "nothing"
	}
	words := figureWords(text)
	switch {
	case c.Evidence() != "":
		words = sourceIn(text)
	case c.Kind() != catalog.Moved:
		words = fieldWordsIn(catalog.Of(c.List), fieldAt(c.List, c.Field), text, currency)
	}
	if r := []rune(words); len(r) > mostFigure {
		words = string(r[:mostFigure]) + "…"
	}
	return words
}

// settingWords writes a figure of the settings, which is its default where
// nothing is kept, or a text as it is.
func settingWords(name, text string) string {
	f := figures.Named(name)
	figure, err := strconv.ParseInt(text, 10, 64)
	switch {
	case f != nil && text == "":
		return cmp.Or(f.Show(figures.Defaults()[name]), "nothing") + " (default)"
	case f != nil && err == nil:
		return cmp.Or(f.Show(figure), "nothing")
	case text == "":
		return "nothing"
	}
	return figureWords(text)
}

// fieldAt finds the field of a path: that of a whole thing is none, and so is
// one that is not known any more.
func fieldAt(list, path string) *catalog.Field {
	if path == "" {
		return nil
	}
	entry, inner, inside := strings.Cut(path, "]")
	name, box, _ := strings.Cut(path, ".")
	if inside {
		name, _, _ = strings.Cut(entry, "[")
	}
	f := fieldNamed(catalog.Of(list), name)
	switch {
	case f == nil || len(f.Sub) == 0:
		return f
	case inside && inner != "":
		return fieldAtIn(f.Sub, strings.TrimPrefix(inner, "."))
	case f.Kind == catalog.PerFrame && strings.Contains(box, "."):
		_, field, _ := strings.Cut(box, ".")
		return fieldAtIn(f.Sub, field)
	case f.Kind == catalog.Boxed && box != "":
		return fieldAtIn(f.Sub, box)
	}
	return f
}

// fieldAtIn finds a field within an entry, whatever stands below it.
func fieldAtIn(fields []catalog.Field, path string) *catalog.Field {
	name, _, _ := strings.Cut(path, "[")
	return fieldNamed(fields, name)
}

// fieldWordsIn writes a figure of a field, or what is known of a whole thing.
func fieldWordsIn(whole []catalog.Field, f *catalog.Field, text, currency string) string {
	var entry map[string]json.RawMessage
	if json.Unmarshal([]byte(text), &entry) == nil {
		if f != nil {
			whole = f.Sub
		}
		if f != nil && f.Kind == catalog.PerFrame && fieldNamed(f.Sub, anyKey(entry)) == nil {
			return perFrame(f, entry, currency)
		}
		return entryIn(whole, entry, currency)
	}
	if f == nil {
		return figureWords(text)
	}
	return inUnit(f, text, currency)
}

// anyKey is one of the names in an entry.
func anyKey(entry map[string]json.RawMessage) string {
	for name := range entry {
		return name
	}
	return ""
}

// perFrame writes what is stated for each of several frames.
func perFrame(f *catalog.Field, frames map[string]json.RawMessage, currency string) string {
	var words []string
	for _, frame := range slices.Sorted(maps.Keys(frames)) {
		words = append(words, "on "+frame+": "+fieldWordsIn(nil, &catalog.Field{Sub: f.Sub}, string(frames[frame]), currency))
	}
	return strings.Join(words, "; ")
}

// entryIn writes what an entry states, with what it is called first.
func entryIn(fields []catalog.Field, entry map[string]json.RawMessage, currency string) string {
	var words []string
	for i := range fields {
		f := &fields[i]
		value := strings.TrimSpace(string(entry[f.Name]))
		if value == "" || value == "0" || value == `""` || value == "[]" || value == "{}" || value == "false" || len(f.Sub) > 0 {
			continue
		}
		words = append(words, strings.ToLower(f.Label)+" "+inUnit(f, value, currency))
	}
	return strings.Join(words, ", ")
}

// inUnit writes a figure with the unit of its field.
func inUnit(f *catalog.Field, text, currency string) string {
	n, err := strconv.ParseInt(text, 10, 64)
	switch f.Kind {
	case catalog.Money:
		if err == nil {
			return measure.Money(n).Show(currency)
		}
	case catalog.Share:
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
	return strings.TrimSpace(figureWords(text) + " " + unitOf(f))
}

// unitOf is the unit in which documents write a field.
func unitOf(f *catalog.Field) string {
	switch f.Kind {
	case catalog.Mass:
		return "kg"
	case catalog.Length, catalog.Signed:
		return "cm"
	case catalog.Volume:
		return "litres"
	case catalog.Number:
		for _, unit := range [...]string{"months", "minutes", "seconds", "watts"} {
			if strings.HasSuffix(f.Name, unit) {
				return unit
			}
		}
	}
	return ""
}
