package store

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"slices"
	"strconv"
	"strings"
	"time"

	"github.com/go-json-experiment/json"

	"kinwain/internal/catalog"
)

// Stocktake is one look at which bikes are there, by all tablets together.
type Stocktake struct {
	ID         int64
	Begun      time.Time
	BegunBy    string    // name
	Finished   time.Time // zero while it goes on
	FinishedBy string
	Tags       []StocktakeTag // the last one first that was read
}

// GoesOn reports whether tags may still be read.
func (s *Stocktake) GoesOn() bool { return s.Finished.IsZero() }

// StocktakeTag is one tag of a stocktake.
type StocktakeTag struct {
	Tag   string
	Known bool      // a unit had it
	Seen  time.Time // first; zero where the bike was to be there at the end and was not
	Who   string    // read it first
}

// StocktakesList is the list of changes in the history that are stocktakes. The
// document does not have it.
const StocktakesList = "stocktakes"

// Bounds of a stocktake.
const (
	mostTags = 10_000
	longTag  = 120 // characters
)

const selectStocktake = `SELECT id, begun, begun_by, finished, finished_by FROM stocktakes`

func stocktakeFields(s *Stocktake) []any {
	return []any{&s.ID, timeColumn{&s.Begun}, &s.BegunBy, maybeTime{&s.Finished}, &s.FinishedBy}
}

// BeginStocktake begins a stocktake, or returns the one that goes on.
func (s *Store) BeginStocktake(ctx context.Context, who string, now time.Time) (Stocktake, error) {
	var begun Stocktake
	err := s.change(ctx, "begin a stocktake", func(tx *sql.Tx) error {
		err := tx.QueryRowContext(ctx, selectStocktake+` WHERE finished IS NULL`).Scan(stocktakeFields(&begun)...)
		if !errors.Is(err, sql.ErrNoRows) {
			return err
		}
		return tx.QueryRowContext(ctx, `INSERT INTO stocktakes (begun, begun_by) VALUES (?, ?) RETURNING id, begun, begun_by, finished, finished_by`, now.UnixMilli(), who).
			Scan(stocktakeFields(&begun)...)
	})
	return begun, err
}

// Stocktakes returns the newest stocktakes without their tags, the newest first.
func (s *Store) Stocktakes(ctx context.Context, most int) ([]Stocktake, error) {
	var list []Stocktake
	err := s.view(ctx, "list the stocktakes", func(tx *sql.Tx) error {
		rows, err := tx.QueryContext(ctx, selectStocktake+` ORDER BY id DESC LIMIT ?`, most)
		if err != nil {
			return err
		}
		return eachRow(rows, func(scan func(...any) error) error {
			var one Stocktake
			err := scan(stocktakeFields(&one)...)
			list = append(list, one)
			return err
		})
	})
	return list, err
}

// Stocktake returns the stocktake of an ID. The error is an *Error with the code
// NotFound where there is none.
func (s *Store) Stocktake(ctx context.Context, id int64) (Stocktake, error) {
	var one Stocktake
	err := s.view(ctx, fmt.Sprintf("read the stocktake %d", id), func(tx *sql.Tx) (err error) {
		one, err = readStocktake(ctx, tx, id)
		return err
	})
	return one, err
}

func readStocktake(ctx context.Context, tx *sql.Tx, id int64) (Stocktake, error) {
	var one Stocktake
	err := tx.QueryRowContext(ctx, selectStocktake+` WHERE id = ?`, id).Scan(stocktakeFields(&one)...)
	if errors.Is(err, sql.ErrNoRows) {
		err = &Error{Code: NotFound, Text: fmt.Sprintf("there is no stocktake %d", id)}
	}
	if err != nil {
		return one, err
	}
	rows, err := tx.QueryContext(ctx, `SELECT tag, known, seen, who FROM stocktake_tags WHERE stocktake = ? ORDER BY seen DESC, tag`, id)
	if err != nil {
		return one, err
	}
	return one, eachRow(rows, func(scan func(...any) error) error {
		var t StocktakeTag
		err := scan(&t.Tag, &t.Known, maybeTime{&t.Seen}, &t.Who)
		one.Tags = append(one.Tags, t)
		return err
	})
}

// Scan keeps what was read off a bike, and reports whether it was read before:
// then the first time stands. It returns the tag of the unit, or what was read
// where no unit has such a tag. The error is an *Error with the code NotFound
// where there is no such stocktake, and Conflict where it is finished or has
// all that it can hold.
func (s *Store) Scan(ctx context.Context, id int64, read, who string, now time.Time) (tag string, again bool, err error) {
	err = s.change(ctx, fmt.Sprintf("keep what was read in the stocktake %d", id), func(tx *sql.Tx) error {
		one, err := readStocktake(ctx, tx, id)
		if err != nil {
			return err
		}
		of, err := readCatalogue(ctx, tx, s.catalogue.Load())
		if err != nil {
			return err
		}
		var unit *catalog.Unit
		if unit, tag = of.catalogue.Scanned(read); len([]rune(tag)) > longTag {
			tag = string([]rune(tag)[:longTag])
		}
		again = slices.ContainsFunc(one.Tags, func(t StocktakeTag) bool { return t.Tag == tag })
		switch {
		case !one.GoesOn():
			return &Error{Code: Conflict, Text: "this stocktake is finished"}
		case again || tag == "":
			return nil
		case len(one.Tags) >= mostTags:
			return &Error{Code: Conflict, Text: "this stocktake is full; finish it and begin another"}
		}
		_, err = tx.ExecContext(ctx, `INSERT INTO stocktake_tags (stocktake, tag, known, seen, who) VALUES (?, ?, ?, ?, ?)`, id, tag, unit != nil, now.UnixMilli(), who)
		return err
	})
	return tag, again, err
}

// Unscan takes back what was read by mistake. That it is not there is no error.
func (s *Store) Unscan(ctx context.Context, id int64, tag string) error {
	return s.change(ctx, fmt.Sprintf("take back what was read in the stocktake %d", id), func(tx *sql.Tx) error {
		_, err := tx.ExecContext(ctx, `DELETE FROM stocktake_tags WHERE stocktake = ?1 AND tag = ?2
			AND EXISTS (SELECT 1 FROM stocktakes WHERE id = ?1 AND finished IS NULL)`, id, tag)
		return err
	})
}

// FinishStocktake ends a stocktake, keeps which bikes were to be there and were
// not read, and puts both counts into the history. A second time it does
// nothing.
func (s *Store) FinishStocktake(ctx context.Context, id int64, by Author) error {
	return s.change(ctx, fmt.Sprintf("finish the stocktake %d", id), func(tx *sql.Tx) error {
		one, err := readStocktake(ctx, tx, id)
		if err != nil || !one.GoesOn() {
			return err
		}
		told, err := s.toldNow(ctx, tx)
		if err != nil {
			return err
		}
		missing := one.Missing(told.Catalogue, told.Retired)
		for _, tag := range missing {
			if _, err := tx.ExecContext(ctx, `INSERT INTO stocktake_tags (stocktake, tag, known, who) VALUES (?, ?, 1, '')`, id, tag); err != nil {
				return err
			}
		}
		if _, err := tx.ExecContext(ctx, `UPDATE stocktakes SET finished = ?, finished_by = ? WHERE id = ?`, by.At.UnixMilli(), by.Who, id); err != nil {
			return err
		}
		words, err := json.Marshal(one.inWords(missing))
		if err != nil {
			return err
		}
		return record(ctx, tx, by, []catalog.Change{{List: StocktakesList, Code: strconv.FormatInt(id, 10), New: string(words)}})
	})
}

// selectUnseen are the bikes of some tags (?) that the last stocktake which
// looked for them has not seen, unless somebody has ridden them since.
const selectUnseen = `SELECT t.tag, s.finished FROM json_each(?) AS one JOIN stocktake_tags AS t ON t.tag = one.value JOIN stocktakes AS s ON s.id = t.stocktake
	WHERE t.seen IS NULL AND NOT EXISTS (SELECT 1 FROM stocktake_tags AS later WHERE later.tag = t.tag AND later.stocktake > t.stocktake)
	AND NOT EXISTS (SELECT 1 FROM rides AS r WHERE r.unit = t.tag AND r.status IN ('out', 'back') AND r.starts >= s.finished)`

// Unseen says of bikes which of them the last stocktake that looked for them has
// not seen, and when that was finished, by tag.
func (s *Store) Unseen(ctx context.Context, tags []string) (map[string]time.Time, error) {
	unseen := map[string]time.Time{}
	list, err := json.Marshal(append([]string{}, tags...))
	if err != nil {
		return nil, err
	}
	return unseen, s.list(ctx, "see which bikes a stocktake has not seen", selectUnseen, func(scan func(...any) error) error {
		var tag string
		var finished time.Time
		err := scan(&tag, timeColumn{&finished})
		unseen[tag] = finished
		return err
	}, string(list))
}

// Missing lists the tags of the units that are to be in the shop and were not
// read, in the order of the catalogue.
func (s *Stocktake) Missing(c *catalog.Catalogue, retired map[Thing]bool) []string {
	read := map[string]bool{}
	for _, t := range s.Tags {
		read[t.Tag] = true
	}
	var missing []string
	for i := range c.Units {
		if u := &c.Units[i]; u.Here() && !read[u.Tag] && !retired[Thing{"units", u.Tag}] {
			missing = append(missing, u.Tag)
		}
	}
	return missing
}

// mostNamed is how many bikes the history names of those that were not seen.
const mostNamed = 20

// inWords says what came of it.
func (s *Stocktake) inWords(missing []string) string {
	known := 0
	for _, t := range s.Tags {
		if t.Known {
			known++
		}
	}
	words := fmt.Sprintf("seen: %d; tags of no bike: %d; not seen: %d", known, len(s.Tags)-known, len(missing))
	if len(missing) > 0 {
		words += ", " + strings.Join(missing[:min(len(missing), mostNamed)], ", ")
	}
	if more := len(missing) - mostNamed; more > 0 {
		words += fmt.Sprintf(" and %d more", more)
	}
	return words
}
