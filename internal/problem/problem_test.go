package problem_test

import (
	"errors"
	"fmt"
	"strings"
	"testing"

	"github.com/go-json-experiment/json/jsontext"
	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"kinwain/internal/problem"
)

// crate is a document with every shape that the shop's documents have.
type crate struct {
	Label  string         `json:"label"`
	Count  int            `json:"count"`
	Heavy  bool           `json:"heavy"`
	Weight float64        `json:"weight_kg"`
	Parts  []part         `json:"parts"`
	Size   *part          `json:"size"`
	Notes  map[string]int `json:"notes"`
	Colour colour         `json:"colour"`
}

type colour string

// UnmarshalText refuses what is no colour, with a sentence of its own.
func (c *colour) UnmarshalText(text []byte) error {
	if string(text) != "slate" {
		return errors.New("the only colour is slate")
	}
	*c = colour(text)
	return nil
}

type part struct {
	Code  string   `json:"code"`
	Ends  []int    `json:"ends"`
	Words []string `json:"words"`
}

func TestRead(t *testing.T) {
	t.Parallel()
	var c crate
	err := problem.Read([]byte(` {"label": "A", "count": -3, "heavy": true, "weight_kg": 1.5, "parts": [{"code": "lid", "ends": [1, 2]}],
		"size": null, "notes": {"x": 1}, "colour": "slate"} `), &c)
	want := crate{Label: "A", Count: -3, Heavy: true, Weight: 1.5, Parts: []part{{Code: "lid", Ends: []int{1, 2}}}, Notes: map[string]int{"x": 1}, Colour: "slate"}
	if diff := cmp.Diff(want, c); err != nil || diff != "" {
		t.Errorf("%v\n%s", err, diff)
	}
}

func TestReadRefuses(t *testing.T) {
	t.Parallel()
	for _, c := range []struct{ document, path, code, says string }{
		{``, "", problem.Syntax, "unexpected EOF"},
		{` `, "", problem.Syntax, "unexpected EOF"},
		{`{`, "", problem.Syntax, "unexpected EOF"},
		{`{"label": "A"`, "", problem.Syntax, "unexpected EOF"},
		{`{"label": "A",}`, "", problem.Syntax, "byte 13"},
		{`{'label': 1}`, "", problem.Syntax, "byte 1"},
		{`crate`, "", problem.Syntax, "'c'"},
		{`{} {}`, "", problem.Syntax, "after top-level value"},
		{`{"count": 1} x`, "", problem.Syntax, "'x'"},
		{`{"parts": [{"code": "a"}, {"code": }]}`, "parts[1].code", problem.Syntax, "'}'"},
		{`{"weight_kg": NaN}`, "weight_kg", problem.Syntax, "'N'"},
		{`{"weight_kg": Infinity}`, "weight_kg", problem.Syntax, "'I'"},
		{`{"weight_kg": -Infinity}`, "weight_kg", problem.Syntax, "'I'"},
		{`{"count": 01}`, "", problem.Syntax, "'1'"},
		{`{"count": +1}`, "count", problem.Syntax, "'+'"},
		{"{\"label\": \"\xff\"}", "label", problem.Syntax, "UTF-8"},
		{`{"label": "\ud800"}`, "label", problem.Syntax, "surrogate"},

		{`{"lable": "A"}`, "lable", problem.UnknownKey, "spelling"},
		{`{"Label": "A"}`, "Label", problem.UnknownKey, "spelling"},
		{`{"": 1}`, "", problem.UnknownKey, "spelling"},
		{`{"a/b~c": 1}`, "a/b~c", problem.UnknownKey, "spelling"},
		{`{"parts": [{}, {"kode": 1}]}`, "parts[1].kode", problem.UnknownKey, "spelling"},
		{`{"size": {"width": 1}}`, "size.width", problem.UnknownKey, "spelling"},

		{`{"label": "A", "label": "B"}`, "label", problem.Duplicate, "twice"},
		{`{"parts": [{"code": "a", "ends": [], "code": "a"}]}`, "parts[0].code", problem.Duplicate, "twice"},
		{`{"notes": {"x": 1, "y": 2, "x": 3}}`, "notes.x", problem.Duplicate, "twice"},
		{`{"label": "A", "l\u0061bel": "B"}`, "label", problem.Duplicate, "twice"},

		{`[]`, "", problem.WrongType, "a list"},
		{`"A"`, "", problem.WrongType, "a text"},
		{`{"label": 3}`, "label", problem.WrongType, "a number"},
		{`{"label": {}}`, "label", problem.WrongType, "an object"},
		{`{"count": "3"}`, "count", problem.WrongType, "a text"},
		{`{"count": true}`, "count", problem.WrongType, "true"},
		{`{"count": 1.5}`, "count", problem.WrongType, "whole number"},
		{`{"count": 99999999999999999999}`, "count", problem.WrongType, "too large"},
		{`{"weight_kg": 1e999}`, "weight_kg", problem.WrongType, "too large"},
		{`{"heavy": 1}`, "heavy", problem.WrongType, "a number"},
		{`{"heavy": "yes"}`, "heavy", problem.WrongType, "a text"},
		{`{"weight_kg": "NaN"}`, "weight_kg", problem.WrongType, "a text"},
		{`{"colour": "moss"}`, "colour", problem.WrongType, "the only colour is slate"},
		{`{"colour": 1}`, "colour", problem.WrongType, "string"},
		{`{"parts": {}}`, "parts", problem.WrongType, "an object"},
		{`{"parts": [[]]}`, "parts[0]", problem.WrongType, "a list"},
		{`{"parts": [{"ends": [1, "2"]}]}`, "parts[0].ends[1]", problem.WrongType, "a text"},
		{`{"parts": [{"words": [false]}]}`, "parts[0].words[0]", problem.WrongType, "false"},
		{`{"notes": {"x": "1"}}`, "notes.x", problem.WrongType, "a text"},
	} {
		var target crate
		err := problem.Read([]byte(c.document), &target)
		list, ok := err.(problem.List)
		if !ok || len(list) != 1 {
			t.Errorf("%.80q: %#v is no list of one", c.document, err)
			continue
		}
		got := list[0]
		if got.Path != c.path || got.Code != c.code || !strings.Contains(got.Text, c.says) || got.Text == "" || strings.Contains(got.Text, "\n") {
			t.Errorf("%.80q: %+v\nwant %s at %q saying %q", c.document, got, c.code, c.path, c.says)
		}
	}
}

func TestListAsError(t *testing.T) {
	t.Parallel()
	var l problem.List
	if l.Err() != nil {
		t.Errorf("an empty list is the error %v", l.Err())
	}
	l.Add("", problem.Syntax, "this is not JSON")
	l.Add("frames[0].code", problem.Duplicate, "%q is used twice", "sedge")
	l.Add("frames[0].code", problem.OutOfRange, "too long")
	want := problem.List{
		{Path: "", Code: "syntax", Text: "this is not JSON"},
		{Path: "frames[0].code", Code: "duplicate", Text: `"sedge" is used twice`},
		{Path: "frames[0].code", Code: "out_of_range", Text: "too long"},
	}
	if diff := cmp.Diff(want, l); diff != "" {
		t.Error(diff)
	}
	var found problem.List
	if err := fmt.Errorf("import: %w", l.Err()); !errors.As(err, &found) || len(found) != 3 {
		t.Errorf("the list is lost in %v", err)
	}
	if got, want := l.Error(), "this is not JSON\nframes[0].code: \"sedge\" is used twice\nframes[0].code: too long"; got != want {
		t.Errorf("%q, want %q", got, want)
	}
	for path, want := range map[string]string{"": "this is not JSON", "frames[0].code": `"sedge" is used twice`, "frames[0]": "", "units": ""} {
		if got := l.At(path); got != want {
			t.Errorf("at %q: %q, want %q", path, got, want)
		}
	}
}

func TestPath(t *testing.T) {
	t.Parallel()
	for pointer, want := range map[jsontext.Pointer]string{
		"": "", "/zones": "zones", "/zones/0/rating_kg": "zones[0].rating_kg", "/0": "[0]", "/needs/10/2": "needs[10][2]",
		"/a~1b/c~0d": "a/b.c~d", "/frames/2/zones/0/code": "frames[2].zones[0].code", "/s1": "s1", "/1s": "1s",
	} {
		if got := problem.Path(pointer); got != want {
			t.Errorf("%s: %q, want %q", pointer, got, want)
		}
	}
}

// TestPathIsJoinAndIndex holds that reading and checking name a field alike.
func TestPathIsJoinAndIndex(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		var pointer jsontext.Pointer
		path := ""
		for range rapid.IntRange(0, 6).Draw(t, "steps") {
			if rapid.Bool().Draw(t, "list") {
				i := rapid.IntRange(0, 200).Draw(t, "position")
				pointer, path = pointer.AppendToken(fmt.Sprint(i)), problem.Index(path, i)
				continue
			}
			key := rapid.StringMatching(`[a-z_~/][a-z0-9_~/ -]{0,8}`).Draw(t, "key")
			pointer, path = pointer.AppendToken(key), problem.Join(path, key)
		}
		if got := problem.Path(pointer); got != path {
			t.Errorf("%s: %q, want %q", pointer, got, path)
		}
	})
}

// TestFaultsAreCapped adds more than anybody mends.
func TestFaultsAreCapped(t *testing.T) {
	t.Parallel()
	var l problem.List
	for range problem.MaxFaults + 500 {
		l.Add("a", problem.OutOfRange, "too %s", "long")
	}
	if last := l[len(l)-1]; len(l) != problem.MaxFaults+1 || last.Code != problem.TooMany || l[problem.MaxFaults-1].Code != problem.OutOfRange {
		t.Errorf("%d faults, the last %+v", len(l), last)
	}
}

// TestCrowdedDocuments reads as many objects as a document may hold, and one
// more.
func TestCrowdedDocuments(t *testing.T) {
	t.Parallel()
	for objects, refused := range map[int]bool{50_000: false, 50_001: true} {
		var target []struct{}
		err := problem.Read([]byte("[{}"+strings.Repeat(",{}", objects-1)+"]"), &target)
		list, _ := err.(problem.List)
		if refused != (len(list) == 1 && list[0].Code == problem.TooMany) || !refused && err != nil {
			t.Errorf("%d objects: %v", objects, err)
		}
	}
}
