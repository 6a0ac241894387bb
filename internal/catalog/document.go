package catalog

import (
	"github.com/go-json-experiment/json"
	"github.com/go-json-experiment/json/jsontext"

	"kinwain/internal/problem"
)

// Parse reads a catalogue document and checks it. The error is a
// problem.List: the one fault of form that stops the reading, or else every
// fault of meaning.
func Parse(data []byte) (*Catalogue, error) {
	var c Catalogue
	if err := problem.Read(data, &c); err != nil {
		return nil, err
	}
	if err := c.Check(); err != nil {
		return nil, err
	}
	return &c, nil
}

// Document writes the catalogue so that Parse reads the same back, and the
// same catalogue is always the same bytes.
func (c *Catalogue) Document() ([]byte, error) {
	return json.Marshal(c, json.Deterministic(true), jsontext.WithIndent("  "))
}
