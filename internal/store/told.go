package store

import (
	"bytes"
	"compress/gzip"
	"context"
	"database/sql"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"slices"

	"kinwain/internal/catalog"
)

// Told is what the shop says by: its catalogue, what of it is retired, and what
// it has set.
type Told struct {
	Catalogue *catalog.Catalogue
	Retired   map[Thing]bool
	Settings  map[string]int64
	Texts     map[string]string
}

// Offered returns the catalogue without what is retired.
func (t *Told) Offered() *catalog.Catalogue {
	if len(t.Retired) == 0 {
		return t.Catalogue
	}
	return t.Catalogue.Without(func(list, code string) bool { return t.Retired[Thing{list, code}] })
}

// Touched returns what may be another answer by another catalogue, or with
// other things retired.
func (t *Told) Touched(by *Told) (catalog.Touch, error) {
	return catalog.Touched(t.Offered(), by.Offered())
}

// Of leaves of what is touched what was offered, and so told.
func (t *Told) Of(touch catalog.Touch) catalog.Touch {
	c := t.Offered()
	gone := func(tag string) bool { return c.Unit(tag) == nil }
	return catalog.Touch{
		Frames: slices.DeleteFunc(slices.Clone(touch.Frames), func(code string) bool { return c.Frame(code) == nil }),
		Units:  slices.DeleteFunc(slices.Clone(touch.Units), gone),
		Ridden: slices.DeleteFunc(slices.Clone(touch.Ridden), gone),
	}
}

// Everything touches all frames that are offered.
func (t *Told) Everything() catalog.Touch {
	var touch catalog.Touch
	for _, f := range t.Offered().Frames {
		touch.Frames = append(touch.Frames, f.Code)
	}
	return touch
}

// toldNow reads what the shop says by at this point of a transaction.
func (s *Store) toldNow(ctx context.Context, tx *sql.Tx) (*Told, error) {
	now, err := readCatalogue(ctx, tx, s.catalogue.Load())
	if err != nil {
		return nil, err
	}
	return toldBy(ctx, tx, now)
}

// toldBy reads the rest of it beside a catalogue.
func toldBy(ctx context.Context, tx *sql.Tx, now *snapshot) (*Told, error) {
	t := &Told{Catalogue: now.catalogue}
	var err error
	if t.Retired, err = readRetired(ctx, tx); err != nil {
		return nil, err
	}
	if t.Settings, err = readSettings(ctx, tx); err != nil {
		return nil, err
	}
	t.Texts, err = readTexts(ctx, tx)
	return t, err
}

// keep writes down what was told under an ID.
func (t *Told) keep(ctx context.Context, tx *sql.Tx, id int64) error {
	things, err := pack(t.Catalogue)
	if err != nil {
		return err
	}
	retired := []Thing{}
	for thing := range t.Retired {
		retired = append(retired, thing)
	}
	columns := []any{things}
	for _, part := range [...]any{retired, t.Settings, t.Texts} {
		text, err := json.Marshal(part)
		if err != nil {
			return err
		}
		columns = append(columns, string(text))
	}
	_, err = tx.ExecContext(ctx, `UPDATE told SET things = ?, retired = ?, settings = ?, texts = ? WHERE id = ?`, append(columns, id)...)
	return err
}

// Told returns what the shop said by until a change. The error is an *Error
// with the code NotFound where nobody is judged by that any more.
func (s *Store) Told(ctx context.Context, id int64) (*Told, error) {
	var things []byte
	var retired, settings, texts string
	err := s.readers.QueryRowContext(ctx, `SELECT things, retired, settings, texts FROM told WHERE id = ?`, id).Scan(&things, &retired, &settings, &texts)
	if errors.Is(err, sql.ErrNoRows) {
		err = &Error{Code: NotFound, Text: fmt.Sprintf("there is no %d of what was told", id)}
	}
	if err != nil {
		return nil, fault(s.dir, "read what was told", err)
	}
	t := &Told{Retired: map[Thing]bool{}}
	if t.Catalogue, err = unpack(things); err != nil {
		return nil, fmt.Errorf("read what was told: %w", err)
	}
	var list []Thing
	err = errors.Join(json.Unmarshal([]byte(retired), &list), json.Unmarshal([]byte(settings), &t.Settings), json.Unmarshal([]byte(texts), &t.Texts))
	for _, thing := range list {
		t.Retired[thing] = true
	}
	return t, err
}

// pack writes a catalogue as small as it gets. What is stored may have faults
// of before, so it is written thing by thing, as it is stored.
func pack(c *catalog.Catalogue) ([]byte, error) {
	all := map[string][]json.RawMessage{}
	for _, list := range catalog.Lists {
		for _, thing := range c.Things(list) {
			document, err := thing.Document()
			if err != nil {
				return nil, err
			}
			all[list] = append(all[list], json.RawMessage(document))
		}
	}
	text, err := json.Marshal(all)
	if err != nil {
		return nil, err
	}
	var small bytes.Buffer
	w := gzip.NewWriter(&small)
	_, err = w.Write(text)
	err = errors.Join(err, w.Close())
	return small.Bytes(), err
}

// unpack reads what pack has written.
func unpack(small []byte) (*catalog.Catalogue, error) {
	r, err := gzip.NewReader(bytes.NewReader(small))
	if err != nil {
		return nil, err
	}
	text, err := io.ReadAll(r)
	if err != nil {
		return nil, err
	}
	var all map[string][]json.RawMessage
	if err := json.Unmarshal(text, &all); err != nil {
		return nil, err
	}
	c := &catalog.Catalogue{Version: 1}
	for list, documents := range all {
		var things []catalog.Thing
		for _, document := range documents {
			thing, err := catalog.ParseThing(list, string(document))
			if err != nil {
				return nil, err
			}
			things = append(things, thing)
		}
		c.Put(list, things)
	}
	return c, nil
}
