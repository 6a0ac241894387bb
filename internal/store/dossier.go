package store

import (
	"context"
	"database/sql"
	"encoding/json"
	"fmt"
	"time"
)

// dossier lists what a document about one consultation holds: the consultation
// itself first, then what hangs on it. Secrets are left out.
var dossier = []struct{ name, query string }{
	{"consultation", `SELECT id, customer, answers, version, created, updated FROM consultations WHERE id = ? AND erased IS NULL`},
	{"fit_summaries", `SELECT frame, created, expires, revoked, opened, document, answer FROM fit_summaries WHERE consultation = ? ORDER BY id`},
	{"quotes", `SELECT * FROM quotes WHERE consultation = ? ORDER BY year, number`},
	{"quote_lines", `SELECT l.* FROM quote_lines AS l JOIN quotes AS q ON q.id = l.quote WHERE q.consultation = ? ORDER BY q.year, q.number, l.position`},
	{"quote_warnings", `SELECT w.* FROM quote_warnings AS w JOIN quotes AS q ON q.id = w.quote WHERE q.consultation = ? ORDER BY q.year, q.number, w.position`},
	{"handed_over", `SELECT h.* FROM handed_over AS h JOIN quotes AS q ON q.id = h.quote WHERE q.consultation = ? ORDER BY q.year, q.number, h.list, h.code`},
	{"reservations", `SELECT r.* FROM reservations AS r JOIN quotes AS q ON q.id = r.quote WHERE q.consultation = ? ORDER BY r.unit`},
	{"rides", `SELECT * FROM rides WHERE consultation = ? ORDER BY starts`},
	{"ride_checks", `SELECT c.* FROM ride_checks AS c JOIN rides AS r ON r.id = c.ride WHERE r.consultation = ? ORDER BY r.starts, c.item`},
	{"marks", `SELECT frame, text, worse, created FROM marks WHERE consultation = ? ORDER BY id`},
	{"judgings", `SELECT summary, quote, ride, base, since, round FROM judgings WHERE consultation = ? ORDER BY id`},
}

// Dossier returns all that is kept about one consultation as one JSON document:
// a list for each kind, each row under the names of its columns, times as in
// RFC 3339. The error is an *Error with the code NotFound where there is no
// such consultation.
func (s *Store) Dossier(ctx context.Context, id string) ([]byte, error) {
	document := map[string]any{}
	err := s.view(ctx, fmt.Sprintf("export the consultation %q", id), func(tx *sql.Tx) error {
		for i, part := range dossier {
			rows, err := tx.QueryContext(ctx, part.query, id)
			if err != nil {
				return err
			}
			list, err := described(rows)
			if err != nil {
				return err
			}
			switch {
			case i > 0:
				document[part.name] = list
			case len(list) == 0:
				return notFound(id, sql.ErrNoRows)
			default:
				document[part.name] = list[0]
			}
		}
		return nil
	})
	if err != nil {
		return nil, err
	}
	return json.MarshalIndent(document, "", "  ")
}

// timeColumns are the columns that hold milliseconds, in every table.
var timeColumns = map[string]bool{"created": true, "updated": true, "expires": true, "revoked": true, "accepted": true, "handed_over": true, "starts": true, "ends": true}

// described returns rows by the names of their columns.
func described(rows *sql.Rows) ([]map[string]any, error) {
	columns, err := rows.Columns()
	if err != nil {
		return nil, err
	}
	list := []map[string]any{}
	err = eachRow(rows, func(scan func(...any) error) error {
		values := make([]any, len(columns))
		into := make([]any, len(columns))
		for i := range values {
			into[i] = &values[i]
		}
		if err := scan(into...); err != nil {
			return err
		}
		row := map[string]any{}
		for i, column := range columns {
			row[column] = plain(column, values[i])
		}
		list = append(list, row)
		return nil
	})
	return list, err
}

// plain is a value as people read it.
func plain(column string, value any) any {
	switch v := value.(type) {
	case int64:
		if timeColumns[column] {
			return time.UnixMilli(v).UTC().Format(time.RFC3339)
		}
	case []byte:
		if json.Valid(v) {
			return json.RawMessage(v)
		}
		return string(v)
	}
	return value
}
