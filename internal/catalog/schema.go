package catalog

import (
	"reflect"

	"kinwain/internal/schema"
)

// types writes the schemas of facts. What has fields of its own is written by
// their table.
var types = func() schema.Writer {
	w := schema.Writer{reflect.TypeFor[map[string]Pair](): {Type: schema.Types{schema.Object}}}
	for _, t := range []reflect.Type{reflect.TypeFor[Box](), reflect.TypeFor[Spoken](), reflect.TypeFor[Zone](), reflect.TypeFor[Combined](),
		reflect.TypeFor[Mount](), reflect.TypeFor[Place](), reflect.TypeFor[Use](), reflect.TypeFor[Evidence]()} {
		w[t] = schema.Schema{}
	}
	return w
}()

// shaped adds to the schema of a field.
func (f Field) shaped(add func(*schema.Schema)) Field {
	if shape := f.shape; add != nil {
		f.shape = func() *schema.Schema {
			s := shape()
			add(s)
			return s
		}
	}
	return f
}

// least bounds the entries of a list.
func least(entries int) func(*schema.Schema) {
	return func(s *schema.Schema) { s.MinItems = entries }
}

// schemaOf writes the schema of a thing.
func schemaOf(fields []Field) *schema.Schema {
	thing := schema.Closed()
	for i := range fields {
		f := &fields[i]
		s := f.shape()
		switch f.Kind {
		case Rows, Proofs:
			s.Items = schemaOf(f.Sub)
		case Boxed:
			s = schemaOf(f.Sub)
		case PerFrame:
			s.Others = &schema.Others{Of: schemaOf(f.Sub)}
		}
		s.Description = f.told()
		thing.Add(f.Name, s, f.Needed || s.MinItems > 0)
	}
	return thing
}

// told says what a field holds.
func (f *Field) told() string {
	told := f.Label
	if told == "" && f.Group != nil {
		told = f.Group.Title
	}
	if f.Hint != "" {
		told += ". " + f.Hint
	}
	return told
}

// Schemas are those of a catalogue document and its parts, by what they are
// called: what the tables of fields say, without what one fact has to do with
// another.
func Schemas() schema.Properties {
	whole := schema.Closed()
	whole.Description = "All that a shop offers. A figure of 0 and an absent one mean that nobody states it."
	whole.Add("catalogue", &schema.Schema{Const: schema.Value(1), Description: "the version of the format"}, true)
	whole.Add("shop", schema.To("Shop"), true)
	all := schema.Properties{{Name: "Catalogue", Of: whole}, {Name: "Shop", Of: schemaOf(shopFields)}}
	for _, of := range []struct {
		list, name string
		fields     []Field
	}{{"frames", "Frame", frameFields}, {"add_ons", "AddOn", addOnFields}, {"units", "Unit", unitFields}} {
		whole.Add(of.list, &schema.Schema{Type: schema.Types{schema.Array}, Items: schema.To(of.name)}, false)
		all = append(all, schema.Property{Name: of.name, Of: schemaOf(of.fields)})
	}
	return all
}
