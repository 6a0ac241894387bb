package catalog

import (
	"github.com/go-json-experiment/json"
	"github.com/go-json-experiment/json/jsontext"

	"kinwain/internal/problem"
)

// Parse reads a catalogue document and checks it. The error is a
// problem.List: the one fault of form that stops the reading, or else every
// fault of meaning.
func Parse(data []byte) (*Catalogue, error) { return ParseAfter(nil, data) }

// ParseAfter is Parse of a document that takes the place of a catalogue, with
// the evidence that still holds; see Carry.
func ParseAfter(before *Catalogue, data []byte) (*Catalogue, error) {
	c := &Catalogue{}
	if err := problem.Read(data, c); err != nil {
		return nil, err
	}
	if before != nil {
		c = Carry(before, c)
	}
	if err := c.Check(); err != nil {
		return nil, err
	}
	return c, nil
}

// Document writes the catalogue so that Parse reads the same back, and the
// same catalogue is always the same bytes.
func (c *Catalogue) Document() ([]byte, error) {
	return json.Marshal(c, json.Deterministic(true), jsontext.WithIndent("  "))
}

// The things of a catalogue are written and read by their tables.

func (s *Shop) MarshalJSONTo(e *jsontext.Encoder) error     { return write(e, shopFields, s) }
func (f *Frame) MarshalJSONTo(e *jsontext.Encoder) error    { return write(e, frameFields, f) }
func (b *Box) MarshalJSONTo(e *jsontext.Encoder) error      { return write(e, uprightFields, b) }
func (z *Zone) MarshalJSONTo(e *jsontext.Encoder) error     { return write(e, zoneFields, z) }
func (c *Combined) MarshalJSONTo(e *jsontext.Encoder) error { return write(e, combinedFields, c) }
func (m *Mount) MarshalJSONTo(e *jsontext.Encoder) error    { return write(e, mountFields, m) }
func (p *Place) MarshalJSONTo(e *jsontext.Encoder) error    { return write(e, placeFields, p) }
func (a *AddOn) MarshalJSONTo(e *jsontext.Encoder) error    { return write(e, addOnFields, a) }
func (u *Use) MarshalJSONTo(e *jsontext.Encoder) error      { return write(e, useFields, u) }
func (p *Pair) MarshalJSONTo(e *jsontext.Encoder) error     { return write(e, pairFields, p) }
func (s *Spoken) MarshalJSONTo(e *jsontext.Encoder) error   { return write(e, nameFields, s) }
func (u *Unit) MarshalJSONTo(e *jsontext.Encoder) error     { return write(e, unitFields, u) }
func (v *Evidence) MarshalJSONTo(e *jsontext.Encoder) error { return write(e, evidenceFields, v) }

func (s *Shop) UnmarshalJSONFrom(d *jsontext.Decoder) error     { return read(d, shopFields, s) }
func (f *Frame) UnmarshalJSONFrom(d *jsontext.Decoder) error    { return read(d, frameFields, f) }
func (b *Box) UnmarshalJSONFrom(d *jsontext.Decoder) error      { return read(d, uprightFields, b) }
func (z *Zone) UnmarshalJSONFrom(d *jsontext.Decoder) error     { return read(d, zoneFields, z) }
func (c *Combined) UnmarshalJSONFrom(d *jsontext.Decoder) error { return read(d, combinedFields, c) }
func (m *Mount) UnmarshalJSONFrom(d *jsontext.Decoder) error    { return read(d, mountFields, m) }
func (p *Place) UnmarshalJSONFrom(d *jsontext.Decoder) error    { return read(d, placeFields, p) }
func (a *AddOn) UnmarshalJSONFrom(d *jsontext.Decoder) error    { return read(d, addOnFields, a) }
func (u *Use) UnmarshalJSONFrom(d *jsontext.Decoder) error      { return read(d, useFields, u) }
func (p *Pair) UnmarshalJSONFrom(d *jsontext.Decoder) error     { return read(d, pairFields, p) }
func (s *Spoken) UnmarshalJSONFrom(d *jsontext.Decoder) error   { return read(d, nameFields, s) }
func (u *Unit) UnmarshalJSONFrom(d *jsontext.Decoder) error     { return read(d, unitFields, u) }
func (v *Evidence) UnmarshalJSONFrom(d *jsontext.Decoder) error { return read(d, evidenceFields, v) }

// write writes a thing as its table says.
func write(e *jsontext.Encoder, fields []Field, thing any) error {
	if err := e.WriteToken(jsontext.BeginObject); err != nil {
		return err
	}
	for i := range fields {
		f := &fields[i]
		if f.Empty(thing) {
			continue
		}
		if err := e.WriteToken(jsontext.String(f.Name)); err != nil {
			return err
		}
		if err := json.MarshalEncode(e, f.at(thing)); err != nil {
			return err
		}
	}
	return e.WriteToken(jsontext.EndObject)
}

// read reads what write writes, in any order. A key that the table does not
// have is an error; null is a thing that says nothing.
func read[T any](d *jsontext.Decoder, fields []Field, thing *T) error {
	if kind := d.PeekKind(); kind != jsontext.KindBeginObject {
		if _, err := d.ReadValue(); err != nil {
			return err
		}
		if kind == jsontext.KindNull {
			*thing = *new(T)
			return nil
		}
		return &json.SemanticError{JSONPointer: d.StackPointer(), JSONKind: kind}
	}
	if _, err := d.ReadToken(); err != nil {
		return err
	}
	for next := 0; d.PeekKind() != jsontext.KindEndObject; next++ {
		name, err := d.ReadToken()
		if err != nil {
			return err
		}
		if next = find(fields, name.String(), next); next < 0 {
			return &json.SemanticError{JSONPointer: d.StackPointer(), Err: json.ErrUnknownName}
		}
		if err := json.UnmarshalDecode(d, fields[next].at(thing)); err != nil {
			return err
		}
	}
	_, err := d.ReadToken()
	return err
}

// find returns the position of the field of a name, or -1. It stands where it
// is looked for in documents that this program writes.
func find(fields []Field, name string, from int) int {
	for i := range fields {
		if at := (from + i) % len(fields); fields[at].Name == name {
			return at
		}
	}
	return -1
}
