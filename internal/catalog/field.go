package catalog

import (
	"reflect"
	"slices"
	"strings"

	"kinwain/internal/problem"
	"kinwain/internal/schema"
	"kinwain/internal/tongue"
)

// Field is one fact that a thing of the catalogue states. It is declared once,
// in a table: documents, spreadsheets, forms, the check, the history and the
// data dictionary all come from there.
type Field struct {
	Name   string      // key of the document, column of the spreadsheet, name in the form
	Label  string      // what staff read; empty for a list that its group names
	Said   tongue.Said // what a customer reads, where one is shown it
	Hint   string
	Kind   FieldKind
	Words  []string // of a Word
	Needed bool
	Group  *Group  // of the form; nil within a Box, Rows and PerFrame
	Sub    []Field // of a Box, of Rows and of PerFrame
	One    string  // what a row is called; of a Boxed, what its columns begin with
	Range  string  // what is plausible, for people
	// Compared facts have a row where frames stand side by side; more is better.
	Compared bool
	// Of a Sourced fact it may be said where it comes from.
	Sourced bool
	// Zero says something of the figure, which is not the lack of one.
	Zero bool

	guards bool                 // a rating, a limit or a need: without it more is allowed
	sparse bool                 // left out of documents where it says nothing
	at     func(owner any) any  // a pointer to the fact
	empty  func(owner any) bool // says nothing
	checks []check              // in the order in which faults are told
	shape  func() *schema.Schema
}

// check adds the faults of one fact of a thing.
type check func(k *checker, path string, owner any)

// FieldKind is what a field holds, and so how it is typed, written and shown.
type FieldKind int

// The kinds of fields.
const (
	Text     FieldKind = iota
	Long               // a text of several lines
	Code               // a text without blanks, such as a code or the size of a tyre
	Mass               // kilograms or pounds
	Length             // centimetres or inches
	Signed             // a length that may lie behind the axle
	Volume             // litres
	Money              // in the shop's currency
	Number             // whole
	Share              // part of one, typed in per cent
	Day                // a day, or a month
	Tick               // yes, or not
	Maybe              // yes, no, or as the add-on itself
	Word               // one of the words
	Teeth              // whole numbers with blanks between
	Codes              // codes with blanks between
	OneFrame           // the code of a frame
	Frames             // a box for each frame
	OneZone            // the code of a zone
	AddOns             // codes of add-ons, one of them maybe twice
	Needs              // groups of add-ons and tags
	Boxed              // fields within the thing
	Link               // an address on the web
	Rows               // a list of fields
	PerFrame           // fields for every frame named
	Proofs             // where figures come from
)

// Group is a part of a form under a heading.
type Group struct{ Title, Lead string }

// fact declares a field of a T.
func fact[T, V any](name string, kind FieldKind, label string, at func(*T) *V, rules ...rule[V]) Field {
	f := Field{Name: name, Kind: kind, Label: label, at: func(owner any) any { return at(owner.(*T)) },
		shape: func() *schema.Schema { return types.Of(reflect.TypeFor[V]()) }}
	for _, r := range rules {
		f = f.shaped(r.schema)
		f.Needed, f.Range, f.Words = f.Needed || r.needed, f.Range+r.says, append(f.Words, r.words...)
		f.checks = append(f.checks, func(k *checker, path string, owner any) { r.check(k, path, *at(owner.(*T))) })
	}
	return f
}

// differs declares a fact of a pair. What the pair leaves alone is checked
// where it stands.
func differs[V any](name string, kind FieldKind, label string, at func(*Pair) **V, rules ...rule[V]) Field {
	f := fact(name, kind, label, at)
	for _, r := range rules {
		f = f.shaped(r.schema)
		f.Range += r.says
		f.checks = append(f.checks, func(k *checker, path string, owner any) {
			if figure := *at(owner.(*Pair)); figure != nil {
				r.check(k, path, *figure)
			}
		})
	}
	return leftOut(f, func(p *Pair) bool { return *at(p) == nil })
}

// counted declares a number of which zero says something.
func counted[T any](name, label string, at func(*T) **int, r rule[int]) Field {
	f := fact(name, Number, label, at).shaped(r.schema)
	f.Range, f.Zero = r.says, true
	f.checks = append(f.checks, func(k *checker, path string, owner any) {
		if n := *at(owner.(*T)); n != nil {
			r.check(k, path, *n)
		}
	})
	return leftOut(f, func(owner *T) bool { return *at(owner) == nil })
}

// leftOut leaves a field out of documents where it says nothing.
func leftOut[T any](f Field, empty func(*T) bool) Field {
	f.sparse, f.empty = true, func(owner any) bool { return empty(owner.(*T)) }
	return f
}

// also checks what a fact has to do with others of its owner.
func also[T any](f Field, check func(k *checker, path string, owner *T)) Field {
	f.checks = append(f.checks, func(k *checker, path string, owner any) { check(k, path, owner.(*T)) })
	return f
}

// rows declares a list of things that have fields of their own.
func rows[T, R any](name, one string, of func(*T) *[]R, fields []Field) Field {
	f := fact(name, Rows, "", of)
	f.One, f.Sub = one, fields
	f.checks = append(f.checks, func(k *checker, path string, owner any) {
		list := *of(owner.(*T))
		k.names = seen{}
		for i := range list {
			before := len(k.List)
			k.fields(fields, &list[i])
			k.under(before, func() string { return problem.Index(path, i) })
		}
	})
	return f
}

// box declares fields within a thing, of which all are stated or none.
func box[T any, B comparable](name, label string, of func(*T) *B, fields []Field) Field {
	var none B
	f := leftOut(fact(name, Boxed, label, of), func(owner *T) bool { return *of(owner) == none })
	f.Sub = fields
	f.checks = append(f.checks, func(k *checker, path string, owner any) {
		if !f.empty(owner) {
			before := len(k.List)
			k.fields(fields, of(owner.(*T)))
			k.under(before, func() string { return path })
		}
	})
	return f
}

// spoken declares a text in other languages: name_de is the column of
// names.de.
func spoken[T any](name, column, label string, of func(*T) *Spoken, fields []Field) Field {
	f := box(name, label, of, fields)
	f.One = column
	return f
}

// spokenFields are a text of one kind in every other language.
func spokenFields(kind FieldKind, label string, most int) []Field {
	in := func(code, language string, at func(*Spoken) *string) Field {
		return leftOut(fact(code, kind, label+" in "+language, at, upTo(most)), func(s *Spoken) bool { return *at(s) == "" })
	}
	return []Field{
		in("fr", "French", func(s *Spoken) *string { return &s.French }),
		in("de", "German", func(s *Spoken) *string { return &s.German }),
		in("nl", "Dutch", func(s *Spoken) *string { return &s.Dutch }),
	}
}

var nameFields, notesFields = spokenFields(Text, "Name", 80), spokenFields(Long, "Notes", 2000)

// Column returns the name that a field within a Boxed has in a spreadsheet.
func (f *Field) Column(sub *Field) string {
	if f.One != "" {
		return f.One + "_" + sub.Name
	}
	return f.Name + "." + sub.Name
}

// Header returns the name of a field's own column in a spreadsheet, where
// money is written in the currency: price for price_cents.
func (f *Field) Header() string {
	if f.Kind == Money {
		return strings.Replace(f.Name, "_cents", "", 1)
	}
	return f.Name
}

// table puts the parts of a table together.
func table(parts ...[]Field) []Field { return slices.Concat(parts...) }

// shown says what a customer reads for the label, too.
func (f Field) shown(french, german, dutch string) Field {
	f.Said = tongue.In(f.Label, french, german, dutch)
	return f
}

func (f Field) hint(text string) Field { f.Hint = text; return f }
func (f Field) says(text string) Field { f.Range = text; return f }
func (f Field) need() Field            { f.Needed = true; return f }
func (f Field) compared() Field        { f.Compared = true; return f }
func (f Field) guard() Field           { f.guards = true; return f }

// asking leaves fields of the rows of a list out of its form.
func (f Field) asking(fields []Field) Field { f.Sub = fields; return f }

// in puts fields into a group of the form.
func in(g *Group, fields ...Field) []Field {
	for i := range fields {
		fields[i].Group = g
	}
	return fields
}

// fields checks everything that a table says of a thing. The paths of the
// faults begin within the thing: most things have none, and need no path.
func (k *checker) fields(fields []Field, owner any) {
	for i := range fields {
		for _, check := range fields[i].checks {
			check(k, fields[i].Name, owner)
		}
	}
}

// under puts the faults found since there were so many under a path.
func (k *checker) under(before int, path func() string) {
	for i := before; i < len(k.List); i++ {
		if within := k.List[i].Path; within == "" {
			k.List[i].Path = path()
		} else {
			k.List[i].Path = problem.Join(path(), within)
		}
	}
}

// At returns a pointer to the fact of a thing, which is of the type that the
// table of the field is for.
func (f *Field) At(thing any) any { return f.at(thing) }

// Empty reports whether a field that may be left out of documents says
// nothing.
func (f *Field) Empty(thing any) bool { return f.sparse && f.empty(thing) }

// Of returns the fields of the things of a list of the document, or of a list
// within them, nil for any other name.
func Of(list string) []Field { return tables[list] }

var tables = map[string][]Field{
	"shop": shopFields, "frames": frameFields, "add_ons": addOnFields, "units": unitFields,
	"zones": zoneFields, "combined": combinedFields, "places": placeFields, "on_frame": pairFields,
	evidenceKey: evidenceFields,
}

// Groups returns the groups of a table in the order in which a form asks.
func Groups(list string) []*Group {
	return map[string][]*Group{"frames": frameGroups, "add_ons": addOnGroups, "units": unitGroups}[list]
}
