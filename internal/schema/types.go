package schema

import (
	"reflect"
	"strings"

	"kinwain/internal/measure"
)

// known are types that write themselves.
var known = map[reflect.Type]Schema{
	reflect.TypeFor[measure.Mass]():       {Type: Types{Number}},
	reflect.TypeFor[measure.Length]():     {Type: Types{Number}},
	reflect.TypeFor[measure.Volume]():     {Type: Types{Number}},
	reflect.TypeFor[measure.Money]():      {Type: Types{Integer}},
	reflect.TypeFor[measure.Share]():      {Type: Types{Number}},
	reflect.TypeFor[measure.Percentage](): {Type: Types{Number}},
	reflect.TypeFor[measure.Date]():       {Type: Types{Text}, Pattern: "^(" + year + "-" + month + "(-" + day + ")?)?$"},
}

// How days and months are written. That a month has so many days, and that no
// year is 0, is beyond a
// pattern.
const (
	year  = "[0-9]{4}"
	month = "(0[1-9]|1[0-2])"
	day   = "(0[1-9]|[12][0-9]|3[01])"
)

// OfMonth is a month, or an empty text for none.
func OfMonth() Schema { return Schema{Type: Types{Text}, Pattern: "^(" + year + "-" + month + ")?$"} }

// Writer writes schemas of types, some of which are known.
type Writer map[reflect.Type]Schema

// Of returns the schema of a type.
func (w Writer) Of(t reflect.Type) *Schema {
	if s, is := w[t]; is {
		return &s
	}
	if s, is := known[t]; is {
		return &s
	}
	switch t.Kind() {
	case reflect.Pointer:
		return w.Of(t.Elem())
	case reflect.String:
		return &Schema{Type: Types{Text}}
	case reflect.Bool:
		return &Schema{Type: Types{Boolean}}
	case reflect.Int, reflect.Int64:
		return &Schema{Type: Types{Integer}}
	case reflect.Slice:
		return &Schema{Type: Types{Array}, Items: w.Of(t.Elem())}
	case reflect.Struct:
		s := Closed()
		w.add(s, t)
		return s
	}
	panic("schema: nothing is known of " + t.String()) // a type of this program
}

// add adds the fields of a struct as they are written: a pointer may be null,
// and what is left out where it is zero is not required.
func (w Writer) add(s *Schema, t reflect.Type) {
	for i := range t.NumField() {
		f := t.Field(i)
		tag, tagged := f.Tag.Lookup("json")
		name, options, _ := strings.Cut(tag, ",")
		switch {
		case f.Anonymous && !tagged:
			of := f.Type
			if of.Kind() == reflect.Pointer {
				of = of.Elem()
			}
			w.add(s, of)
			continue
		case name == "-" || name == "" || !f.IsExported():
			continue
		}
		of, sparse := w.Of(f.Type), strings.Contains(options, "omitzero")
		if f.Type.Kind() == reflect.Pointer && !sparse {
			of = of.OrNull()
		}
		of.Description = f.Tag.Get("says")
		s.Add(name, of, !sparse)
	}
}
