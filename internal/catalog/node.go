package catalog

import (
	"strconv"
	"strings"

	"github.com/go-json-experiment/json/jsontext"
)

// node is a value of a document with its text.
type node struct {
	kind    jsontext.Kind
	text    string
	names   []string // of the entries of an object
	entries []node   // of an object or a list
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

// member returns the text of a member of an object.
func (n node) member(name string) (string, bool) {
	for i, other := range n.names {
		if other == name {
			return n.entries[i].text, true
		}
	}
	return "", false
}

// keys tells the entries of two lists of objects apart by the first of these
// members that does, or else by their position.
func keys(a, b node) (ofA, ofB []string) {
	for _, name := range [...]string{"code", "mount", "zones"} {
		ofA, unique := a.keys(name)
		ofB, uniqueToo := b.keys(name)
		if unique && uniqueToo {
			return ofA, ofB
		}
	}
	for i := range a.entries {
		ofA = append(ofA, strconv.Itoa(i))
	}
	for i := range b.entries {
		ofB = append(ofB, strconv.Itoa(i))
	}
	return ofA, ofB
}

// keys returns the texts of a member, and whether every entry has it and it is
// another in each.
func (n node) keys(name string) (all []string, unique bool) {
	codes := seen{}
	for _, entry := range n.entries {
		text, found := entry.member(name)
		if !found || codes.again(text) {
			return nil, false
		}
		all = append(all, text)
	}
	return all, true
}
