package wares

import (
	"cmp"
	"slices"
	"strconv"
	"strings"

	"github.com/go-json-experiment/json"

	"kinwain/internal/catalog"
	"kinwain/internal/measure"
	"kinwain/internal/problem"
)

// Where a figure comes from is chosen beside it, in a field of its own. When,
// who, and where that is to be seen is said once, of all that is chosen anew. A
// photo is either of one figure, or of all that are chosen anew and have none of
// their own.
const (
	SourceOn        = "source_on"
	SourceBy        = "source_by"
	SourceLink      = "source_link"
	SourceReference = "source_reference"
	SourcePhoto     = "source_photo"

	// Kept is the choice of the source that was noted before.
	Kept = "kept"
)

// SourceOf names the field in which the source of a figure is chosen.
func SourceOf(field string) string { return field + ".source" }

// WasOf names the field that carries the source that was noted before.
func WasOf(field string) string { return field + ".source_was" }

// PhotoOf names the field that carries the photo of a source that is chosen now:
// the file, and the name under which it is kept once it was sent.
func PhotoOf(field string) string { return field + "." + SourcePhoto }

// Source is what was noted of where a figure comes from, and how the document
// has it.
type Source struct {
	Figure    string       `json:"figure"`
	Kind      string       `json:"kind"`
	On        measure.Date `json:"on"`
	By        string       `json:"by,omitzero"`
	Link      string       `json:"link,omitzero"`
	Reference string       `json:"reference,omitzero"`
	Photo     string       `json:"photo,omitzero"`
}

// Was returns the source that was noted before of the figure of a field.
func (t Typed) Was(field string) (Source, bool) {
	var s Source
	text := t.Get(WasOf(field))
	return s, text != "" && json.Unmarshal([]byte(text), &s) == nil
}

// EachSource visits the figures of a form that may have a source, each by its
// path and by the name of its field.
func (t Typed) EachSource(list string, visit func(figure, field string)) {
	for _, section := range Table[list] {
		for _, f := range section.Fields {
			switch {
			case f.Kind == catalog.Frames && f.Sourced:
				for _, frame := range t.All(f.Name) {
					visit(f.Name+"["+frame+"]", f.Name+"["+frame+"]")
				}
			case f.Kind == catalog.PerFrame && f.Sourced:
				for i := range t.Rows(f.Name) {
					visit(problem.Join(f.Name, strings.TrimSpace(t.Get(Row(f.Name, i)+".frame"))), Row(f.Name, i))
				}
			case f.Kind == catalog.Rows:
				t.eachOfRows(f, visit)
			case f.Sourced:
				visit(f.Name, f.Name)
			}
		}
	}
}

func (t Typed) eachOfRows(f catalog.Field, visit func(figure, field string)) {
	for i := range t.Rows(f.Name) {
		name := strconv.Itoa(i) // of a place, which has none
		if code := t.Get(Row(f.Name, i) + ".code"); code != "" {
			name = strings.TrimSpace(code)
		} else if zones := t.All(Row(f.Name, i) + ".zones"); len(zones) > 0 {
			name = strings.Join(strings.FieldsFunc(strings.Join(zones, " "), blank), "+")
		}
		for _, sub := range f.Sub {
			if sub.Sourced {
				visit(f.Name+"["+name+"]."+sub.Name, problem.Join(Row(f.Name, i), sub.Name))
			}
		}
	}
}

// Anew returns the figures of which a source is chosen now.
func (t Typed) Anew(list string) []string {
	var all []string
	t.EachSource(list, func(figure, field string) {
		if kind := t.Get(SourceOf(field)); kind != "" && kind != Kept {
			all = append(all, figure)
		}
	})
	return all
}

// Unsource forgets every source: what is like another thing is not it.
func (t Typed) Unsource() {
	for name := range t.values {
		if strings.HasSuffix(name, SourceOf("")) || strings.HasSuffix(name, WasOf("")) || strings.HasSuffix(name, PhotoOf("")) {
			t.values.Del(name)
		}
	}
}

// Photographed notes the photo that was sent beside a figure. That is a reading
// of now: where no source is chosen now it is of the kind that was noted before,
// or else a rating plate.
func (t Typed) Photographed(field, photo string) {
	t.Set(PhotoOf(field), photo)
	if kind := t.Get(SourceOf(field)); kind == "" || kind == Kept {
		was, _ := t.Was(field)
		t.Set(SourceOf(field), cmp.Or(was.Kind, catalog.EvidenceKinds[0]))
	}
}

// Photo returns the name of the photo that a field carries, nothing where it has
// none. Beside it stands what a browser sends where no file was chosen: nothing,
// or the name of the file where the form is sent without files.
func (t Typed) Photo(field string) string {
	if i := slices.IndexFunc(t.values[field], catalog.APhotoName); i >= 0 {
		return t.values[field][i]
	}
	return ""
}

// showSources chooses, of every figure, the source that was noted.
func (t Typed) showSources(list string, noted []Source) {
	t.EachSource(list, func(figure, field string) {
		i := slices.IndexFunc(noted, func(s Source) bool { return s.Figure == figure })
		if i < 0 {
			return
		}
		if was, err := json.Marshal(noted[i], json.Deterministic(true)); err == nil {
			t.values.Set(SourceOf(field), Kept)
			t.values.Set(WasOf(field), string(was))
		}
	})
}

// sources reads what is chosen, in the order of documents. A source of nothing
// is told at its figure, if it is chosen now.
func (r *reader) sources(list string) []Source {
	all, asked := []Source{}, false
	on, err := measure.ParseDate(strings.TrimSpace(r.Get(SourceOn)))
	r.EachSource(list, func(figure, field string) {
		kind := r.Get(SourceOf(field))
		if kind == "" {
			return
		}
		if !r.states(figure, field) {
			if kind != Kept {
				r.faults.Add(SourceOf(field), problem.Missing, "write the figure that comes from there")
			}
			return
		}
		if was, noted := r.Was(field); kind == Kept {
			if was.Figure = figure; noted {
				all = append(all, was)
			}
			return
		}
		asked = true
		all = append(all, Source{figure, kind, on, strings.TrimSpace(r.Get(SourceBy)), strings.TrimSpace(r.Get(SourceLink)), strings.TrimSpace(r.Get(SourceReference)),
			cmp.Or(r.Photo(PhotoOf(field)), r.Photo(SourcePhoto))})
	})
	if asked && err != nil {
		r.faults = append(r.faults, problem.Problem{Path: SourceOn, Code: problem.WrongType, Text: Sentence(err)})
	}
	if !asked && r.Photo(SourcePhoto) != "" {
		r.faults.Add(SourcePhoto, problem.Missing, "choose the source of a figure that it shows")
	}
	slices.SortFunc(all, func(a, b Source) int { return strings.Compare(a.Figure, b.Figure) })
	return all
}

// states reports whether anything is typed of a figure. Zero is as good as
// nothing.
func (r *reader) states(figure, field string) bool {
	if strings.HasPrefix(figure, "fits[") || strings.HasPrefix(figure, "on_frame.") {
		return true // they are there at all
	}
	typed := strings.TrimSpace(r.Get(field))
	return typed != "" && strings.Trim(typed, "0.,") != ""
}
