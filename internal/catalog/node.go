package catalog

import (
	"bytes"
	"slices"
	"strconv"
	"strings"

	"github.com/go-json-experiment/json"
	"github.com/go-json-experiment/json/jsontext"
)

// node is a value of a document with its text.
type node struct {
	kind    jsontext.Kind
	text    string
	names   []string // of the entries of an object
	entries []node   // of an object or a list
}

// noEntries is an empty list.
var noEntries = node{kind: jsontext.KindBeginArray, text: "[]"}

// written returns the document text of a part of a catalogue, on one line.
func written(part any) (string, error) {
	text, err := json.Marshal(part, json.Deterministic(true), jsontext.SpaceAfterColon(true), jsontext.SpaceAfterComma(true))
	return string(text), err
}

// node reads the document of a thing.
func (t Thing) node() (node, error) {
	text, err := written(t.Of)
	if err != nil {
		return node{}, err
	}
	return parseNode(text)
}

// facts reads some facts of the document of a thing.
func (t Thing) facts(fields []Field) (node, error) {
	var text bytes.Buffer
	e := jsontext.NewEncoder(&text, json.Deterministic(true), jsontext.SpaceAfterColon(true), jsontext.SpaceAfterComma(true))
	if err := write(e, fields, t.Of); err != nil {
		return node{}, err
	}
	return parseNode(strings.TrimSuffix(text.String(), "\n"))
}

// parseNode reads a value. Its text is written by this package, so that an
// error is a fault of the program.
func parseNode(text string) (node, error) {
	return readNode(jsontext.NewDecoder(strings.NewReader(text)), text)
}

// readNode reads the next value of the decoder of the text.
func readNode(d *jsontext.Decoder, text string) (node, error) {
	n := node{kind: d.PeekKind()}
	if n.kind != jsontext.KindBeginObject && n.kind != jsontext.KindBeginArray {
		value, err := d.ReadValue()
		n.text = string(value)
		return n, err
	}
	if _, err := d.ReadToken(); err != nil {
		return n, err
	}
	begin := d.InputOffset() - 1
	for d.PeekKind() != jsontext.KindEndObject && d.PeekKind() != jsontext.KindEndArray {
		if n.kind == jsontext.KindBeginObject {
			name, err := d.ReadToken()
			if err != nil {
				return n, err
			}
			n.names = append(n.names, name.String())
		}
		entry, err := readNode(d, text)
		if err != nil {
			return n, err
		}
		n.entries = append(n.entries, entry)
	}
	_, err := d.ReadToken()
	n.text = text[begin:d.InputOffset()]
	return n, err
}

// list reports whether the node is a list of objects only. Any other list is
// one value: sprockets and codes are read as a whole.
func (n node) list() bool {
	for _, entry := range n.entries {
		if entry.kind != jsontext.KindBeginObject {
			return false
		}
	}
	return n.kind == jsontext.KindBeginArray
}

// keys tells the entries of two lists apart by their names, or else by their
// positions.
func keys(a, b node) (ofA, ofB []string) {
	ofA, ofB = a.called(), b.called()
	if unique(ofA) && unique(ofB) {
		return ofA, ofB
	}
	at := func(n node) []string {
		all := make([]string, len(n.entries))
		for i := range n.entries {
			all[i] = position(i)
		}
		return all
	}
	return at(a), at(b)
}

// position is how a path counts an entry without a name.
func position(i int) string { return "#" + strconv.Itoa(i) }

// called returns what every entry of a list is called, empty for those without
// a name.
func (n node) called() []string {
	all := make([]string, len(n.entries))
	for i, entry := range n.entries {
		for _, name := range [...]string{"code", "mount", "zones"} {
			if j := slices.Index(entry.names, name); j >= 0 {
				all[i] = strings.NewReplacer(`"`, "", "[", "", "]", "", ", ", "+").Replace(entry.entries[j].text)
				break
			}
		}
		if entry.isProof() {
			all[i] = stepOf(strings.Trim(entry.entries[0].text, `"`))
		}
	}
	return all
}

// isProof reports whether the node is where a figure comes from. That is one
// fact: a day of one source beside the kind of another would be none.
func (n node) isProof() bool { return len(n.names) > 0 && n.names[0] == evidenceFields[0].Name }

func unique(names []string) bool {
	there := seen{}
	return !slices.ContainsFunc(names, func(name string) bool { return name == "" || there.again(name) })
}

// find returns the position of a member or an entry, or -1.
func (n node) find(step string) int {
	if !strings.HasPrefix(step, "[") {
		return slices.Index(n.names, step)
	}
	name := step[1 : len(step)-1]
	if number, counted := strings.CutPrefix(name, "#"); counted {
		i, err := strconv.Atoi(number)
		if err != nil || i >= len(n.entries) {
			return -1
		}
		return i
	}
	return slices.Index(n.called(), name)
}

// at returns the text at a path, empty where there is nothing.
func (n node) at(path string) string {
	for _, step := range pathSteps(path) {
		i := n.find(step)
		if i < 0 {
			return ""
		}
		n = n.entries[i]
	}
	return n.String()
}

func (n *node) remove(i int) {
	if i < 0 {
		return
	}
	n.entries = slices.Delete(n.entries, i, i+1)
	if n.kind == jsontext.KindBeginObject {
		n.names = slices.Delete(n.names, i, i+1)
	}
}

// String writes the node as written does.
func (n node) String() string {
	if n.kind != jsontext.KindBeginObject && n.kind != jsontext.KindBeginArray {
		return n.text
	}
	parts := make([]string, len(n.entries))
	for i, entry := range n.entries {
		parts[i] = entry.String()
		if n.kind == jsontext.KindBeginObject {
			parts[i] = strconv.Quote(n.names[i]) + ": " + parts[i]
		}
	}
	if n.kind == jsontext.KindBeginObject {
		return "{" + strings.Join(parts, ", ") + "}"
	}
	return "[" + strings.Join(parts, ", ") + "]"
}
