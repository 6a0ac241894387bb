package store

import (
	"context"
	"database/sql"
	"fmt"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	sqlite3 "modernc.org/sqlite/lib"

	"kinwain/migrations"
)

// schema returns every object of the database, as its SQL.
func schema(t *testing.T, db *sql.DB) map[string]string {
	t.Helper()
	rows, err := db.QueryContext(t.Context(), `SELECT type || ' ' || name, coalesce(sql, '') FROM sqlite_schema
		WHERE name NOT LIKE 'sqlite_%' AND tbl_name NOT LIKE 'goose%'`)
	if err != nil {
		t.Fatal(err)
	}
	objects := map[string]string{}
	err = eachRow(rows, func(scan func(...any) error) error {
		var name, text string
		err := scan(&name, &text)
		objects[name] = text
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return objects
}

func TestMigrationsUpDownUp(t *testing.T) {
	t.Parallel()
	dir := t.TempDir()
	openClose(t, dir, func(s *Store) {
		ctx := t.Context()
		if err := s.ReplaceCatalogue(ctx, rich(t)); err != nil {
			t.Fatal(err)
		}
		up := schema(t, s.writer)
		p, err := migrator(s.writer)
		if err != nil {
			t.Fatal(err)
		}
		steps := len(p.ListSources())
		for range steps { // with data in the tables
			if _, err := p.Down(ctx); err != nil {
				t.Fatal(err)
			}
		}
		if left := schema(t, s.writer); len(left) != 0 {
			t.Errorf("all the way down leaves %v", left)
		}
		for range steps {
			if _, err := p.UpByOne(ctx); err != nil {
				t.Fatal(err)
			}
		}
		if diff := cmp.Diff(up, schema(t, s.writer)); diff != "" {
			t.Errorf("down and up again makes another schema:\n%s", diff)
		}
		if _, err := p.DownTo(ctx, 0); err != nil {
			t.Fatal(err)
		}
	})
	s := opened(t, dir) // migrated all the way down, and so up again
	if loaded, err := s.Seed(t.Context(), rich(t)); err != nil || !loaded {
		t.Errorf("Seed = %v, %v", loaded, err)
	}
}

func TestOpenNewer(t *testing.T) {
	t.Parallel()
	dir := t.TempDir()
	newest, err := Schema()
	if err != nil {
		t.Fatal(err)
	}
	openClose(t, dir, func(s *Store) {
		_, err := s.writer.Exec(`INSERT INTO goose_db_version (version_id, is_applied) VALUES (?, 1)`, newest+4)
		if err != nil {
			t.Fatal(err)
		}
	})
	_, err = Open(t.Context(), dir)
	wantCode(t, err, NewerVersion)
	want := fmt.Sprintf("this store was written by a newer version of Kinwain (schema %d, this program knows %d); start that version, or restore what was kept before the upgrade", newest+4, newest)
	if err.Error() != want {
		t.Errorf("the error is %q, want %q", err, want)
	}
	if got := files(t, dir); len(got) != 1 {
		t.Errorf("the folder holds %v", got)
	}
}

// Every column says in the migrations what it holds, in which unit.
func TestEveryColumnIsCommented(t *testing.T) {
	t.Parallel()
	entries, err := migrations.Files.ReadDir(".")
	if err != nil {
		t.Fatal(err)
	}
	for _, e := range entries {
		text, err := migrations.Files.ReadFile(e.Name())
		if err != nil {
			t.Fatal(err)
		}
		for i, line := range strings.Split(string(text), "\n") {
			words := strings.Fields(line)
			if len(words) < 2 || !slices.Contains([]string{"INTEGER", "TEXT", "BLOB", "REAL"}, words[1]) {
				continue
			}
			statement, _, _ := strings.Cut(strings.Join(strings.Split(string(text), "\n")[i:], "\n"), ",\n")
			if !strings.Contains(statement, "-- ") {
				t.Errorf("%s:%d: the column %s is not commented", e.Name(), i+1, words[0])
			}
		}
	}
}

func TestEveryTableIsStrict(t *testing.T) {
	t.Parallel()
	s := opened(t, t.TempDir())
	var lax string
	err := s.readers.QueryRowContext(t.Context(), `SELECT coalesce(group_concat(name), '') FROM pragma_table_list
		WHERE schema = 'main' AND NOT strict AND name NOT LIKE 'sqlite_%' AND name <> 'goose_db_version'`).Scan(&lax)
	if err != nil || lax != "" {
		t.Errorf("tables that are not STRICT: %q, %v", lax, err)
	}
}

// A reference without an index makes every deletion of what it names read the
// whole table.
func TestEveryReferenceHasAnIndex(t *testing.T) {
	t.Parallel()
	s := opened(t, t.TempDir())
	rows, err := s.readers.QueryContext(t.Context(), `
		WITH reference AS (
			SELECT t.name AS tab, k.id, group_concat(k."from" ORDER BY k.seq) AS columns
			FROM pragma_table_list AS t, pragma_foreign_key_list(t.name) AS k WHERE t.schema = 'main' GROUP BY 1, 2),
		ordered AS (
			SELECT t.name AS tab, i.name, group_concat(c.name ORDER BY c.seqno) AS columns
			FROM pragma_table_list AS t, pragma_index_list(t.name) AS i, pragma_index_info(i.name) AS c
			WHERE t.schema = 'main' GROUP BY 1, 2)
		SELECT tab, columns, EXISTS (SELECT 1 FROM ordered WHERE ordered.tab = reference.tab
			AND ordered.columns || ',' LIKE reference.columns || ',%') FROM reference`)
	if err != nil {
		t.Fatal(err)
	}
	references := 0
	err = eachRow(rows, func(scan func(...any) error) error {
		var tab, columns string
		var indexed bool
		err := scan(&tab, &columns, &indexed)
		if references++; !indexed {
			t.Errorf("%s (%s) has no index", tab, columns)
		}
		return err
	})
	if err != nil || references < 10 {
		t.Errorf("%d references seen, %v", references, err)
	}
}

func TestConstraints(t *testing.T) {
	t.Parallel()
	s := opened(t, t.TempDir())
	if err := s.ReplaceCatalogue(t.Context(), rich(t)); err != nil {
		t.Fatal(err)
	}
	const (
		check      = sqlite3.SQLITE_CONSTRAINT_CHECK
		foreignKey = sqlite3.SQLITE_CONSTRAINT_FOREIGNKEY
		notNull    = sqlite3.SQLITE_CONSTRAINT_NOTNULL
		unique     = sqlite3.SQLITE_CONSTRAINT_UNIQUE
		dataType   = sqlite3.SQLITE_CONSTRAINT_DATATYPE
	)
	if _, err := s.writer.ExecContext(t.Context(), `UPDATE things SET document = '{' WHERE list = 'frames'`); err == nil {
		t.Error("what is no JSON is a document")
	}
	for _, test := range []struct {
		statement string
		code      int
	}{
		{`UPDATE things SET document = '[]' WHERE list = 'frames'`, check},
		{`UPDATE things SET document = x'00' WHERE list = 'frames'`, dataType},
		{`UPDATE things SET document = NULL`, notNull},
		{`UPDATE things SET document = json_set(document, '$.code', 'other') WHERE list = 'frames'`, check},
		{`UPDATE things SET document = json_set(document, '$.gross_rating_kg', 0) WHERE list = 'frames'`, check},
		{`UPDATE things SET document = json_set(document, '$.gross_rating_kg', 'heavy') WHERE list = 'frames'`, dataType},
		{`UPDATE things SET document = json_set(document, '$.rider_min_cm', 'small') WHERE list = 'frames'`, dataType},
		{`UPDATE things SET list = 'bikes' WHERE list = 'frames'`, check},
		{`UPDATE things SET code = '' WHERE list = 'frames'`, check},
		{`UPDATE things SET retired = 'yes'`, dataType},
		{`UPDATE things SET revision = -1`, check},
		{`UPDATE things SET code = 'other', document = json_set(document, '$.code', 'other') WHERE code = 'osier'`, foreignKey},
		{`DELETE FROM things WHERE code = 'osier'`, foreignKey},
		{`INSERT INTO things (list, code, position, revision, document) SELECT list, code, 9, 0, document FROM things WHERE code = 'osier'`, unique},
		{`INSERT INTO things (list, code, position, revision, document) SELECT list, 'b', 9, 0, document FROM things WHERE list = 'shop'`, check},
		{`UPDATE things SET document = json_set(document, '$.status', 'lost') WHERE list = 'units'`, check},
		{`UPDATE things SET document = json_remove(document, '$.status') WHERE list = 'units'`, check},
		{`UPDATE things SET document = json_set(document, '$.weighed_on', '2026-02-30') WHERE list = 'units'`, check},
		{`UPDATE things SET document = json_set(document, '$.weighed_on', '2026-13') WHERE list = 'units'`, check},
		{`UPDATE things SET document = json_set(document, '$.weighed_on', 'now') WHERE list = 'units'`, check},
		{`UPDATE things SET document = json_set(document, '$.weighed_on', '10000-01-01') WHERE list = 'units'`, check},
		{`UPDATE things SET document = json_set(document, '$.frame', 'nothing') WHERE list = 'units'`, check},
		{`UPDATE things SET frame = 'nothing', document = json_set(document, '$.frame', 'nothing') WHERE list = 'units'`, foreignKey},
		{`INSERT INTO shop_state VALUES (2, 0, 0, 0)`, check},
		{`INSERT INTO sessions VALUES (x'00', x'', 0)`, check},
		{`INSERT INTO sessions VALUES (zeroblob(32), 'text', 0)`, dataType},
		{`INSERT INTO sign_in_links VALUES ('secret', 0)`, dataType},
		{`INSERT INTO link_entries VALUES (1, 1, 1, '')`, check},
		{`INSERT INTO tries VALUES (x'00', 1, 0)`, check},
		{`INSERT INTO tries VALUES (zeroblob(32), 0, 0)`, check},
		{`INSERT INTO sign_ins VALUES (1, 7, 0, '', 'PIN', 1)`, foreignKey},
		{`INSERT INTO sign_ins VALUES (1, 7, 0, '', 'PIN', 2)`, check},
		{`INSERT INTO secrets VALUES ('a', x'00')`, check},
		{`INSERT INTO device_links VALUES (zeroblob(32), '', '', 0)`, check},
		{`INSERT INTO consultations (id, customer, answers, version, created, updated) VALUES ('a', '', x'', 0, 0, 0)`, check},
		{`INSERT INTO settings VALUES ('', 0)`, check},
		{`INSERT INTO fit_summaries VALUES (1, x'00', 'a', 'sedge', x'', 0, 1, NULL, NULL, 0)`, check},
		{`INSERT INTO fit_summaries VALUES (1, zeroblob(32), 'nobody', 'sedge', x'', 0, 1, NULL, NULL, 0)`, foreignKey},
		{`INSERT INTO fit_summaries VALUES (1, zeroblob(32), 'a', 'sedge', x'', 1, 1, NULL, NULL, 0)`, check},
		{`INSERT INTO fit_summaries VALUES (1, zeroblob(32), 'a', 'sedge', x'', 0, 1, NULL, NULL, -1)`, check},
		{`INSERT INTO fit_summaries VALUES (1, 'secret', 'a', 'sedge', x'', 0, 1, NULL, NULL, 0)`, dataType},
		{`INSERT INTO proven_backup VALUES (2, 0, 'a')`, check},
		{`INSERT INTO proven_backup VALUES (1, 0, '')`, check},
		{`INSERT INTO shop_texts VALUES ('', '')`, check},
		{`INSERT INTO marks VALUES (1, 'nobody', 'sedge', 'cheaper', 0, NULL, 0)`, foreignKey},
		{`INSERT INTO marks VALUES (1, 'a', '', 'cheaper', 0, NULL, 0)`, check},
		{`INSERT INTO marks VALUES (1, 'a', 'sedge', '', 0, NULL, 0)`, check},
		{`INSERT INTO people (name, folded, role, created) VALUES ('A', 'a', 'owner', 0)`, check},
		{`INSERT INTO people (name, folded, role, created) VALUES ('', 'a', 'manager', 0)`, check},
		{`INSERT INTO people (name, folded, role, passphrase, created) VALUES ('A', 'a', 'manager', '', 0)`, check},
		{`INSERT INTO person_links VALUES (7, zeroblob(32), 0, 0)`, foreignKey},
		{`INSERT INTO person_links VALUES (7, x'00', 0, 0)`, check},
		{`INSERT INTO devices VALUES (1, x'00', 'counter', '', 0, NULL)`, check},
		{`INSERT INTO api_tokens VALUES (1, zeroblob(32), 'x', 'matches', '', 1, NULL, 1, NULL)`, check},
	} {
		_, err := s.writer.ExecContext(t.Context(), test.statement)
		if resultCode(err) != test.code {
			t.Errorf("%s: %v, want code %d", test.statement, err, test.code)
		}
		wantCode(t, fault(s.dir, "change", err), Conflict)
	}
}

// rowCounts returns the number of rows of every table.
func rowCounts(t *testing.T, s *Store) map[string]int {
	t.Helper()
	counts := map[string]int{}
	for object := range schema(t, s.readers) {
		name, isTable := strings.CutPrefix(object, "table ")
		if !isTable {
			continue
		}
		var n int
		if err := s.readers.QueryRowContext(t.Context(), `SELECT count(*) FROM `+name).Scan(&n); err != nil {
			t.Fatal(err)
		}
		counts[name] = n
	}
	return counts
}

// The first migration may be cut short after goose has made its own table.
func TestOpenAfterAFirstStartCutShort(t *testing.T) {
	t.Parallel()
	dir := t.TempDir()
	db, err := sql.Open("sqlite", filepath.Join(dir, FileName))
	if err != nil {
		t.Fatal(err)
	}
	p, err := migrator(db)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := p.HasPending(context.Background()); err != nil {
		t.Fatal(err)
	}
	if err := db.Close(); err != nil {
		t.Fatal(err)
	}
	s := opened(t, dir)
	if loaded, err := s.Seed(t.Context(), rich(t)); err != nil || !loaded {
		t.Errorf("Seed = %v, %v", loaded, err)
	}
}
