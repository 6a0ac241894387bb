package profile

import (
	"reflect"

	"kinwain/internal/schema"
)

// types writes the schemas of answers. What has answers of its own is written
// by its table.
var types = schema.Writer{
	reflect.TypeFor[Month]():       schema.OfMonth(),
	reflect.TypeFor[[]Passenger](): things, reflect.TypeFor[[]Doorway](): things, reflect.TypeFor[[]Corner](): things,
	reflect.TypeFor[Home](): {}, reflect.TypeFor[Lift](): {},
}

// things is a list of things that a table says.
var things = schema.Schema{Type: schema.Types{schema.Array}}

// schemaOf writes the schema of somebody or something. What may be answered by
// "don't know yet" may be null.
func schemaOf(questions []Question) *schema.Schema {
	thing := schema.Closed()
	addTo(thing, questions)
	return thing
}

func addTo(thing *schema.Schema, questions []Question) {
	for i := range questions {
		q := &questions[i]
		s := q.shape()
		if q.MayBeOpen() {
			s = s.OrNull()
		}
		s.Description = q.told()
		thing.Add(q.Name, s, q.Must || q.Kind == Text || s.MinItems > 0)
	}
}

// told says what is asked.
func (q *Question) told() string {
	switch {
	case q.Label == "":
		return q.Named.English
	case q.Hint == "":
		return q.Label
	}
	return q.Label + ". " + q.Hint
}

// Schema is that of a profile document: what the tables of questions say,
// without what one answer has to do with another.
func Schema() *schema.Schema {
	whole := schema.Closed()
	whole.Description = "One customer's answers on one day. An absent key means that the question does not apply, null that the answer is not known yet."
	whole.Add("profile", &schema.Schema{Const: schema.Value(1), Description: "the version of the format"}, true)
	whole.Add("as_of", &schema.Schema{Type: schema.Types{schema.Text}, Pattern: `^2[01][0-9]{2}-(0[1-9]|1[0-2])-(0[1-9]|[12][0-9]|3[01])$`,
		Description: "the day that all of it is judged from"}, true)
	addTo(whole, Questions)
	return whole
}
