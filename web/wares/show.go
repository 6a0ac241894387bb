package wares

import (
	"fmt"
	"maps"
	"math"
	"slices"
	"strconv"
	"strings"

	"github.com/go-json-experiment/json"

	"kinwain/internal/catalog"
	"kinwain/internal/problem"
)

// ShowFigure writes one field of a thing for typing.
func ShowFigure(f *catalog.Field, thing catalog.Thing) (string, error) {
	document, err := thing.Document()
	if err != nil {
		return "", err
	}
	var fields map[string]any
	if err := json.Unmarshal([]byte(document), &fields); err != nil {
		return "", fmt.Errorf("read the document of a thing: %w", err)
	}
	return figure(f.Kind, fields[f.Name], zeroOf(f)), nil
}

// zeroOf is how zero is written: as nothing where it is the lack of a figure.
func zeroOf(f *catalog.Field) string {
	if f.Zero {
		return "0"
	}
	return ""
}

// Show writes the document of one thing for typing. A figure that is not
// stated is empty.
func Show(list string, document []byte) (Typed, error) {
	var thing map[string]any
	if err := json.Unmarshal(document, &thing); err != nil {
		return Typed{}, fmt.Errorf("read the document of a thing: %w", err)
	}
	t := Typed{map[string][]string{}}
	for _, section := range Table[list] {
		t.show(thing, "", section.Fields)
	}
	var noted struct {
		Evidence []Source `json:"evidence"`
	}
	if err := json.Unmarshal(document, &noted); err != nil {
		return Typed{}, fmt.Errorf("read the sources of a thing: %w", err)
	}
	t.showSources(list, noted.Evidence)
	return t, nil
}

func (t Typed) show(thing map[string]any, path string, fields []catalog.Field) {
	for _, f := range fields {
		if value, stated := thing[f.Name]; stated && f.Kind != catalog.Proofs {
			t.showField(problem.Join(path, f.Name), f, value)
		}
	}
}

func (t Typed) showField(path string, f catalog.Field, value any) {
	switch v := value.(type) {
	case map[string]any:
		if f.Kind == catalog.Boxed {
			t.show(v, path, f.Sub)
			return
		}
		for i, frame := range slices.Sorted(maps.Keys(v)) {
			t.values.Set(Row(path, i)+".frame", frame)
			if pair, ok := v[frame].(map[string]any); ok {
				t.showPair(Row(path, i), pair, f.Sub)
			}
		}
	case []any:
		t.showList(path, f, v)
	default:
		t.values.Set(path, figure(f.Kind, v, zeroOf(&f)))
	}
}

// showPair shows what differs on one frame, where zero is a figure.
func (t Typed) showPair(path string, pair map[string]any, fields []catalog.Field) {
	for _, f := range fields {
		if value, stated := pair[f.Name]; stated {
			t.values.Set(problem.Join(path, f.Name), figure(f.Kind, value, "0"))
		}
	}
}

func (t Typed) showList(path string, f catalog.Field, list []any) {
	switch f.Kind {
	case catalog.Rows:
		for i, row := range list {
			if fields, ok := row.(map[string]any); ok {
				t.show(fields, Row(path, i), f.Sub)
			}
		}
	case catalog.Needs:
		for i, members := range list {
			if members, ok := members.([]any); ok {
				t.values[Row(path, i)] = texts(members)
			}
		}
	case catalog.Frames, catalog.AddOns:
		t.values[path] = texts(list)
	default:
		t.values.Set(path, strings.Join(texts(list), " "))
	}
}

func texts(list []any) []string {
	all := make([]string, len(list))
	for i, item := range list {
		all[i] = figure(catalog.Text, item, "0")
	}
	return all
}

// figure writes one value for typing; zero as it is told to.
func figure(kind catalog.FieldKind, value any, zero string) string {
	switch v := value.(type) {
	case string:
		return v
	case bool:
		switch {
		case v:
			return "yes"
		case kind == catalog.Maybe:
			return "no"
		}
		return ""
	case float64:
		switch {
		case v == 0:
			return zero
		case kind == catalog.Money:
			return strings.TrimSuffix(fmt.Sprintf("%.2f", v/100), ".00")
		case kind == catalog.Share:
			return plain(math.Round(v*10000) / 100)
		}
		return plain(v)
	}
	return ""
}

// plain writes a number of a document, which has three decimals at most, as
// it stands there.
func plain(v float64) string { return strconv.FormatFloat(v, 'f', -1, 64) }
