// Package schema writes JSON Schema 2020-12: what a document may hold, made
// from the Go type that it is read into or written from. Rules that a type does
// not show are added where they are declared.
package schema

import (
	"slices"

	"github.com/go-json-experiment/json"
	"github.com/go-json-experiment/json/jsontext"
)

// Schema is one schema. The zero Schema allows everything.
type Schema struct {
	Ref         string           `json:"$ref,omitzero"`
	Description string           `json:"description,omitzero"`
	Type        Types            `json:"type,omitzero"`
	Const       jsontext.Value   `json:"const,omitzero"`
	Enum        []jsontext.Value `json:"enum,omitzero"`
	AnyOf       []*Schema        `json:"anyOf,omitzero"`
	Minimum     jsontext.Value   `json:"minimum,omitzero"`
	Maximum     jsontext.Value   `json:"maximum,omitzero"`
	MinLength   int              `json:"minLength,omitzero"`
	MaxLength   int              `json:"maxLength,omitzero"`
	Pattern     string           `json:"pattern,omitzero"`
	MinItems    int              `json:"minItems,omitzero"`
	MaxItems    int              `json:"maxItems,omitzero"`
	Items       *Schema          `json:"items,omitzero"`
	Properties  Properties       `json:"properties,omitzero"`
	Required    []string         `json:"required,omitzero"`
	Others      *Others          `json:"additionalProperties,omitzero"`
}

// Types are the types that a value may have.
type Types []string

// The types of values.
const (
	Object  = "object"
	Array   = "array"
	Text    = "string"
	Number  = "number"
	Integer = "integer"
	Boolean = "boolean"
	Null    = "null"
)

// MarshalJSONTo writes one type as a text and several as a list.
func (t Types) MarshalJSONTo(e *jsontext.Encoder) error {
	if len(t) == 1 {
		return e.WriteToken(jsontext.String(t[0]))
	}
	return json.MarshalEncode(e, []string(t))
}

// Property is a key of an object with what it may hold.
type Property struct {
	Name string
	Of   *Schema
}

// Properties are the keys of an object, in the order of the document.
type Properties []Property

// MarshalJSONTo writes them as an object.
func (p Properties) MarshalJSONTo(e *jsontext.Encoder) error {
	if err := e.WriteToken(jsontext.BeginObject); err != nil {
		return err
	}
	for _, one := range p {
		if err := e.WriteToken(jsontext.String(one.Name)); err != nil {
			return err
		}
		if err := json.MarshalEncode(e, one.Of); err != nil {
			return err
		}
	}
	return e.WriteToken(jsontext.EndObject)
}

// Others is what keys without a property may hold: nothing where Of is nil.
type Others struct{ Of *Schema }

// MarshalJSONTo writes the schema, or false.
func (o *Others) MarshalJSONTo(e *jsontext.Encoder) error {
	if o.Of == nil {
		return e.WriteToken(jsontext.False)
	}
	return json.MarshalEncode(e, o.Of)
}

// Closed returns an object without keys yet, which takes no others.
func Closed() *Schema { return &Schema{Type: Types{Object}, Others: &Others{}} }

// Add adds a key to an object.
func (s *Schema) Add(name string, of *Schema, required bool) {
	s.Properties = append(s.Properties, Property{name, of})
	if required {
		s.Required = append(s.Required, name)
	}
}

// OrNull returns a schema that takes null as well.
func (s *Schema) OrNull() *Schema {
	with := *s
	if s.Ref != "" || len(s.AnyOf) > 0 {
		return &Schema{AnyOf: []*Schema{s, {Type: Types{Null}}}}
	}
	with.Type = append(slices.Clone(s.Type), Null)
	if len(s.Enum) > 0 {
		with.Enum = append(slices.Clone(s.Enum), jsontext.Value("null"))
	}
	return &with
}

// To refers to a schema of the components of an OpenAPI document.
func To(name string) *Schema { return &Schema{Ref: "#/components/schemas/" + name} }

// Value writes a figure or a word as documents have it.
func Value(v any) jsontext.Value {
	written, err := json.Marshal(v)
	if err != nil {
		panic("schema: " + err.Error()) // of a constant of this program
	}
	return written
}

// Words makes a schema of a list of words.
func Words[T ~string](words ...T) *Schema {
	s := &Schema{Type: Types{Text}}
	for _, word := range words {
		s.Enum = append(s.Enum, Value(string(word)))
	}
	return s
}

// Between bounds a figure.
func (s *Schema) Between(least, most any) { s.Minimum, s.Maximum = Value(least), Value(most) }

// Stated bounds a figure that may be zero instead, meaning that nobody states
// it.
func (s *Schema) Stated(least, most any) {
	given := &Schema{}
	given.Between(least, most)
	s.AnyOf = []*Schema{{Const: Value(0)}, given}
}
