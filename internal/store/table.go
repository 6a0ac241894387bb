package store

import (
	"context"
	"database/sql"
	"fmt"
	"strings"
)

// table is one table of the catalogue: its columns in the order in which rows
// are written and read, of which the first keys columns give the order of the
// rows.
type table struct {
	name    string
	keys    int
	columns string
}

func (t table) insert() string {
	more := strings.Count(t.columns, ",")
	return "INSERT INTO " + t.name + " (" + t.columns + ") VALUES (?" + strings.Repeat(", ?", more) + ")"
}

func (t table) query() string {
	order := "1"
	for i := 2; i <= t.keys; i++ {
		order += fmt.Sprintf(", %d", i)
	}
	return "SELECT " + t.columns + " FROM " + t.name + " ORDER BY " + order
}

// inserter writes rows within one transaction, with one prepared statement
// for each table.
type inserter struct {
	tx       *sql.Tx
	prepared map[string]*sql.Stmt // by the name of the table
}

// insert writes one row. The fields may be pointers to the values.
func (w inserter) insert(ctx context.Context, t table, fields []any) error {
	statement := w.prepared[t.name]
	if statement == nil {
		var err error
		if statement, err = w.tx.PrepareContext(ctx, t.insert()); err != nil {
			return fmt.Errorf("prepare to write %s: %w", t.name, err)
		}
		w.prepared[t.name] = statement
	}
	if _, err := statement.ExecContext(ctx, fields...); err != nil {
		return fmt.Errorf("write %s: %w", t.name, err)
	}
	return nil
}

// kind is one kind of thing that a catalogue lists: the table that holds one
// row for each, in the order of a position column, and the tables that hold
// its parts. fields names the fields behind the columns after the position.
type kind[T any] struct {
	table
	key    func(*T) *string
	fields func(*T) []any
	parts  []part[T]
}

// insert writes the rows of the things, without their parts.
func (k kind[T]) insert(ctx context.Context, w inserter, things []T) error {
	for i := range things {
		if err := w.insert(ctx, k.table, append([]any{i}, k.fields(&things[i])...)); err != nil {
			return fmt.Errorf("%q: %w", *k.key(&things[i]), err)
		}
	}
	return nil
}

// insertParts writes the parts of the things.
func (k kind[T]) insertParts(ctx context.Context, w inserter, things []T) error {
	for i := range things {
		for _, p := range k.parts {
			if err := p.insert(ctx, w, *k.key(&things[i]), &things[i]); err != nil {
				return fmt.Errorf("%q: %w", *k.key(&things[i]), err)
			}
		}
	}
	return nil
}

// read returns the things with their parts.
func (k kind[T]) read(ctx context.Context, tx *sql.Tx) ([]T, error) {
	var things []T
	err := each(ctx, tx, k.query(), func(scan func(...any) error) error {
		var thing T
		var position int
		err := scan(append([]any{&position}, k.fields(&thing)...)...)
		things = append(things, thing)
		return err
	})
	if err != nil {
		return nil, fmt.Errorf("read %s: %w", k.name, err)
	}
	byKey := make(map[string]*T, len(things))
	for i := range things {
		byKey[*k.key(&things[i])] = &things[i]
	}
	for _, p := range k.parts {
		if err := p.read(ctx, tx, byKey); err != nil {
			return nil, err
		}
	}
	return things, nil
}

// empty deletes every row of the table; those of its parts must be gone.
func (t table) empty(ctx context.Context, tx *sql.Tx) error {
	if _, err := tx.ExecContext(ctx, "DELETE FROM "+t.name); err != nil {
		return fmt.Errorf("empty %s: %w", t.name, err)
	}
	return nil
}

// emptyParts deletes every row of the tables of the parts, the parts of parts
// before what they are part of.
func (k kind[T]) emptyParts(ctx context.Context, tx *sql.Tx) error {
	for i := len(k.parts) - 1; i >= 0; i-- {
		if err := k.parts[i].empty(ctx, tx); err != nil {
			return err
		}
	}
	return nil
}

// part is a table whose rows are parts of a T. Parts of parts come after what
// they are part of.
type part[T any] interface {
	insert(ctx context.Context, w inserter, key string, owner *T) error
	read(ctx context.Context, tx *sql.Tx, owners map[string]*T) error
	empty(ctx context.Context, tx *sql.Tx) error
}

// rows is a part of which an R is one row: take lists the rows of an owner,
// put gives a row back to its owner, in the order of take, and fields names
// the fields behind the columns after the owner's key.
type rows[T, R any] struct {
	table
	take   func(*T) []R
	put    func(*T, R)
	fields func(*R) []any
}

func (p rows[T, R]) insert(ctx context.Context, w inserter, key string, owner *T) error {
	for _, row := range p.take(owner) {
		if err := w.insert(ctx, p.table, append([]any{key}, p.fields(&row)...)); err != nil {
			return err
		}
	}
	return nil
}

func (p rows[T, R]) read(ctx context.Context, tx *sql.Tx, owners map[string]*T) error {
	err := each(ctx, tx, p.query(), func(scan func(...any) error) error {
		var key string
		var row R
		if err := scan(append([]any{&key}, p.fields(&row)...)...); err != nil {
			return err
		}
		owner := owners[key]
		if owner == nil {
			return &Error{Code: Corrupt, Text: fmt.Sprintf("a row belongs to %q, which is not there", key)}
		}
		p.put(owner, row)
		return nil
	})
	if err != nil {
		return fmt.Errorf("read %s: %w", p.name, err)
	}
	return nil
}

// listed is one item of a list with its position in it.
type listed[C any] struct {
	position int
	item     C
}

// list is the part that is a list of the owner. Its table has the key of the
// owner, the position, and the columns whose fields are named.
func list[T, C any](t table, of func(*T) *[]C, fields func(*C) []any) rows[T, listed[C]] {
	t.keys = 2
	return rows[T, listed[C]]{
		table: t,
		take: func(owner *T) []listed[C] {
			var items []listed[C]
			for i, item := range *of(owner) {
				items = append(items, listed[C]{i, item})
			}
			return items
		},
		put:    func(owner *T, l listed[C]) { *of(owner) = append(*of(owner), l.item) },
		fields: func(l *listed[C]) []any { return append([]any{&l.position}, fields(&l.item)...) },
	}
}

// words is the list of single words or numbers.
func words[T, C any](t table, of func(*T) *[]C) rows[T, listed[C]] {
	return list(t, of, func(word *C) []any { return []any{word} })
}

// member is one member of one group of needs, of one of several places.
type member struct {
	place, group, position int
	name                   string
}

// members lists the members of the groups of one place.
func members(place int, groups [][]string) []member {
	var all []member
	for g, group := range groups {
		for i, name := range group {
			all = append(all, member{place, g, i, name})
		}
	}
	return all
}

// join gives a member back to its groups.
func (m member) join(groups *[][]string) {
	if m.position == 0 {
		*groups = append(*groups, nil)
	}
	last := &(*groups)[len(*groups)-1]
	*last = append(*last, m.name)
}
