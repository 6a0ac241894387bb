// Package problem says what is wrong with a document or a form: where, as a
// code for the machine and as a sentence for the person, all faults at once.
// It also reads JSON documents strictly, so that a misspelt key is never
// silently ignored.
package problem

import (
	"bytes"
	"errors"
	"fmt"
	"strconv"
	"strings"

	"github.com/go-json-experiment/json"
	"github.com/go-json-experiment/json/jsontext"
)

// Codes of the faults that any document can have.
const (
	Syntax     = "syntax"      // not JSON at all
	UnknownKey = "unknown_key" // a key that the document does not have
	WrongType  = "wrong_type"  // a text where a figure belongs, and the like
	Missing    = "missing"     // a required figure is absent
	OutOfRange = "out_of_range"
	NotOneOf   = "not_one_of" // a word outside the list of words
	Duplicate  = "duplicate"
	NotFound   = "not_found" // names something that is not there
	Conflict   = "conflict"  // contradicts another figure
	TooMany    = "too_many"  // more than anybody has, or mends at once
)

// Problem is one fault at one place of a document.
type Problem struct {
	Path string `json:"path"` // such as frames[2].zones[0].rating_kg
	Code string `json:"code"`
	Text string `json:"text"` // one sentence: what is wrong and what would be right
}

// String writes the path and the sentence on one line.
func (p Problem) String() string {
	if p.Path == "" {
		return p.Text
	}
	return p.Path + ": " + p.Text
}

// List is every fault found in one document. As an error it is one fault a
// line.
type List []Problem

// MaxFaults bounds the faults of a list: whoever has more mends these first.
const MaxFaults = 1000

// Add appends a fault, or that there are more than anybody mends at once.
func (l *List) Add(path, code, format string, args ...any) {
	if len(*l) >= MaxFaults {
		if len(*l) == MaxFaults {
			*l = append(*l, Problem{Code: TooMany, Text: "there are more faults; mend these first"})
		}
		return
	}
	*l = append(*l, Problem{Path: path, Code: code, Text: fmt.Sprintf(format, args...)})
}

// Err returns the list as an error, or nil where it is empty.
func (l List) Err() error {
	if len(l) == 0 {
		return nil
	}
	return l
}

func (l List) Error() string {
	lines := make([]string, len(l))
	for i, p := range l {
		lines[i] = p.String()
	}
	return strings.Join(lines, "\n")
}

// At returns the sentence of the first fault at the path, or nothing.
func (l List) At(path string) string {
	for _, p := range l {
		if p.Path == path {
			return p.Text
		}
	}
	return ""
}

// Read decodes a JSON document into the value that target points to. Unknown
// and repeated keys are faults. The error is a List.
func Read(data []byte, target any) error {
	if crowded(data) {
		return List{{Code: TooMany, Text: fmt.Sprintf("this document holds more than %d things or %d values; no catalogue does", maxObjects, maxValues)}}
	}
	err := json.Unmarshal(data, target, json.RejectUnknownMembers(true))
	if err == nil {
		return nil
	}
	var semantic *json.SemanticError
	if errors.As(err, &semantic) {
		return List{fromSemantic(semantic)}
	}
	var syntax *jsontext.SyntacticError
	if errors.As(err, &syntax) {
		if errors.Is(err, jsontext.ErrDuplicateName) {
			return List{{Path: Path(syntax.JSONPointer), Code: Duplicate, Text: "this key stands twice in one object; keep the right one"}}
		}
		return List{{Path: Path(syntax.JSONPointer), Code: Syntax,
			Text: fmt.Sprintf("this is not valid JSON: %v (at byte %d)", syntax.Err, syntax.ByteOffset)}}
	}
	return List{{Code: Syntax, Text: err.Error()}}
}

// What a document may hold, whatever its bytes: a few of them may stand for an
// object that takes thousands when it is read.
const (
	maxObjects = 50_000
	maxValues  = 2_000_000
)

// crowded reports whether a document holds more than that. It stops where the
// document is none. An object takes three bytes at the least, and a value two.
func crowded(data []byte) bool {
	if len(data) <= 3*maxObjects && len(data) <= 2*maxValues {
		return false
	}
	d := jsontext.NewDecoder(bytes.NewBuffer(data), jsontext.AllowDuplicateNames(true), jsontext.AllowInvalidUTF8(true))
	for objects, values := 0, 0; objects <= maxObjects && values <= maxValues; values++ {
		token, err := d.ReadToken()
		if err != nil {
			return false
		}
		if token.Kind() == jsontext.KindBeginObject {
			objects++
		}
	}
	return true
}

func fromSemantic(e *json.SemanticError) Problem {
	p := Problem{Path: Path(e.JSONPointer), Code: WrongType}
	switch {
	case errors.Is(e.Err, json.ErrUnknownName):
		p.Code, p.Text = UnknownKey, "this key is not known here; check its spelling"
	case errors.Is(e.Err, strconv.ErrSyntax):
		p.Text = "a whole number belongs here"
	case errors.Is(e.Err, strconv.ErrRange):
		p.Text = "this figure is far too large"
	case e.Err != nil:
		p.Text = e.Err.Error()
	default:
		p.Text = kinds[e.JSONKind] + " does not belong here"
	}
	return p
}

// kinds names what may stand in a document by the kind of its first token.
var kinds = map[jsontext.Kind]string{
	'n': "null", 't': "true", 'f': "false", '"': "a text", '0': "a number", '{': "an object", '[': "a list",
}

// Path writes a JSON pointer the way people name a field: /zones/0/rating_kg
// becomes zones[0].rating_kg.
func Path(pointer jsontext.Pointer) string {
	var path string
	for token := range pointer.Tokens() {
		if token != "" && strings.Trim(token, "0123456789") == "" {
			path += "[" + token + "]"
			continue
		}
		path = Join(path, token)
	}
	return path
}

// Join appends a key to a path.
func Join(path, key string) string {
	if path == "" {
		return key
	}
	return path + "." + key
}

// Index appends a position of a list to a path.
func Index(path string, i int) string { return path + "[" + strconv.Itoa(i) + "]" }
