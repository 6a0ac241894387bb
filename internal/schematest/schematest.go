// Package schematest is for tests only: it holds a schema against the reader of
// the same document, by a validator from other hands.
package schematest

import (
	"bytes"
	"encoding/json"
	"fmt"
	"maps"
	"regexp"
	"slices"
	"strings"
	"testing"

	written "github.com/go-json-experiment/json"
	"github.com/santhosh-tekuri/jsonschema/v6"
	"pgregory.net/rapid"

	"kinwain/internal/problem"
	"kinwain/internal/schema"
)

// Schema is a schema that can be asked.
type Schema struct {
	*jsonschema.Schema
	root any // the document that it is in
	name string
}

// Compile compiles one of some schemas, which may refer to each other.
func Compile(t *testing.T, all schema.Properties, name string) *Schema {
	t.Helper()
	text, err := written.Marshal(map[string]any{"components": map[string]any{"schemas": all}})
	if err != nil {
		t.Fatal(err)
	}
	root, err := jsonschema.UnmarshalJSON(bytes.NewReader(text))
	if err != nil {
		t.Fatal(err)
	}
	c := jsonschema.NewCompiler()
	c.DefaultDraft(jsonschema.Draft2020)
	if err := c.AddResource("all.json", root); err != nil {
		t.Fatal(err)
	}
	s, err := c.Compile("all.json#/components/schemas/" + name)
	if err != nil {
		t.Fatal(err)
	}
	return &Schema{s, root, name}
}

// Takes says why a document is not of the schema.
func (s *Schema) Takes(document []byte) error {
	value, err := jsonschema.UnmarshalJSON(bytes.NewReader(document))
	if err != nil {
		return err
	}
	return s.Validate(value)
}

// Mutant is a document with one thing changed.
type Mutant struct {
	What     string
	Document []byte
}

// Mutants changes every part of a document, one at a time: another type, a key
// too many or too few, a figure and a word far off.
func Mutants(t *testing.T, document []byte) []Mutant {
	t.Helper()
	var root any
	if err := json.Unmarshal(document, &root); err != nil {
		t.Fatal(err)
	}
	var all []Mutant
	add := func(what string) {
		text, err := json.Marshal(root)
		if err != nil {
			t.Fatal(err)
		}
		all = append(all, Mutant{what, text})
	}
	each(root, "", func(path string, value any, set func(any)) {
		for _, other := range []any{true, "no such thing", 1e9, -1e9, 0.5, []any{}, []any{map[string]any{}}, map[string]any{}, strings.Repeat("x", 3000)} {
			set(other)
			add(fmt.Sprintf("%s is %.20v", path, other))
		}
		set(value)
		if object, is := value.(map[string]any); is {
			object["no_such_key"] = 1
			add(path + " has a key too many")
			delete(object, "no_such_key")
			for _, key := range slices.Sorted(maps.Keys(object)) {
				was := object[key]
				delete(object, key)
				add(path + " without " + key)
				object[key] = was
			}
		}
	})
	return all
}

// each visits every value within another; of a list the first entries.
func each(value any, path string, visit func(path string, value any, set func(any))) {
	switch of := value.(type) {
	case map[string]any:
		for _, key := range slices.Sorted(maps.Keys(of)) {
			visit(path+"."+key, of[key], func(v any) { of[key] = v })
			each(of[key], path+"."+key, visit)
		}
	case []any:
		for i := range of[:min(len(of), 2)] {
			visit(fmt.Sprintf("%s[%d]", path, i), of[i], func(v any) { of[i] = v })
			each(of[i], fmt.Sprintf("%s[%d]", path, i), visit)
		}
	}
}

// Structural are the codes of the faults that a schema finds as well.
var Structural = []string{problem.UnknownKey, problem.WrongType, problem.OutOfRange, problem.NotOneOf, problem.Missing, problem.Syntax}

// Draw draws a document that the schema takes.
func (s *Schema) Draw(t *rapid.T) []byte {
	schemas, _ := s.root.(map[string]any)["components"].(map[string]any)["schemas"].(map[string]any)
	d := drawing{t, schemas}
	text, err := json.Marshal(d.draw(schemas[s.name].(map[string]any), s.name))
	if err != nil {
		t.Fatal(err)
	}
	return text
}

type drawing struct {
	*rapid.T
	schemas map[string]any
}

// number reads a bound of a schema.
func number(of any, otherwise float64) float64 {
	if n, is := of.(json.Number); is {
		f, err := n.Float64()
		if err == nil {
			return f
		}
	}
	return otherwise
}

func (d drawing) draw(s map[string]any, path string) any {
	if to, is := s["$ref"].(string); is {
		return d.draw(d.schemas[strings.TrimPrefix(to, "#/components/schemas/")].(map[string]any), path)
	}
	if one, is := s["const"]; is {
		return one
	}
	if words, is := s["enum"].([]any); is {
		return rapid.SampledFrom(words).Draw(d.T, path)
	}
	if ways, is := s["anyOf"].([]any); is {
		chosen := maps.Clone(s)
		delete(chosen, "anyOf")
		maps.Copy(chosen, rapid.SampledFrom(ways).Draw(d.T, path).(map[string]any))
		return d.draw(chosen, path)
	}
	kind := s["type"]
	if kinds, is := kind.([]any); is {
		kind = rapid.SampledFrom(kinds).Draw(d.T, path)
	}
	switch kind {
	case "null":
		return nil
	case "boolean":
		return rapid.Bool().Draw(d.T, path)
	case "integer":
		return rapid.IntRange(int(number(s["minimum"], -1000)), int(number(s["maximum"], 1000))).Draw(d.T, path)
	case "number":
		least, most := number(s["minimum"], -1000), number(s["maximum"], 1000)
		return json.RawMessage(fmt.Sprintf("%.3f", rapid.Float64Range(least, most).Draw(d.T, path)))
	case "string":
		return d.text(s, path)
	case "array":
		most := min(int(number(s["maxItems"], 3)), 3)
		list := make([]any, rapid.IntRange(int(number(s["minItems"], 0)), most).Draw(d.T, path))
		for i := range list {
			list[i] = d.draw(s["items"].(map[string]any), path)
		}
		return list
	}
	return d.object(s, path)
}

func (d drawing) text(s map[string]any, path string) string {
	least, most := int(number(s["minLength"], 0)), int(number(s["maxLength"], 20))
	if pattern, is := s["pattern"].(string); is { // of which \S means every blank elsewhere
		return rapid.StringMatching(pattern).Filter(func(s string) bool {
			return least <= len([]rune(s)) && len([]rune(s)) <= most && !perhapsNoDay.MatchString(s) && (s == "" || strings.TrimSpace(s) != "")
		}).Draw(d.T, path)
	}
	return rapid.StringN(least, most, -1).Draw(d.T, path)
}

// perhapsNoDay are days that some months have not, and the year that never was,
// which a pattern cannot know.
var perhapsNoDay = regexp.MustCompile(`^0000-|^[0-9]{4}-[0-9]{2}-(29|3[01])$`)

func (d drawing) object(s map[string]any, path string) any {
	required, _ := s["required"].([]any)
	object := map[string]any{}
	properties, _ := s["properties"].(map[string]any)
	for _, key := range slices.Sorted(maps.Keys(properties)) {
		if slices.Contains(required, any(key)) || rapid.Bool().Draw(d.T, path+"."+key+"?") {
			object[key] = d.draw(properties[key].(map[string]any), path+"."+key)
		}
	}
	if others, is := s["additionalProperties"].(map[string]any); is && rapid.Bool().Draw(d.T, path+" others") {
		object["sedge"] = d.draw(others, path+".*")
	}
	return object
}
