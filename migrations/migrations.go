// Package migrations holds the schema of the store, from the first version to
// the newest, as SQL files in the form of goose: each says how to go up one
// version and how to come down again.
//
// Masses are in grams, lengths in millimetres, volumes in millilitres, money
// in cents, shares in ten-thousandths, and times in milliseconds since
// 1970-01-01 UTC, all of them integers. A figure of zero that the maker might
// have stated means that the maker does not state it.
package migrations

import "embed"

// Files holds every migration; the number that a name begins with is the
// version that the schema has after it.
//
//go:embed *.sql
var Files embed.FS
