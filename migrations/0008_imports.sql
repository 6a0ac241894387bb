-- Catalogues that somebody has uploaded and not yet confirmed.

-- +goose Up

CREATE TABLE imports (
    id       TEXT    PRIMARY KEY NOT NULL CHECK (id <> ''), -- random, not to be guessed
    name     TEXT    NOT NULL, -- the files as their owner calls them; free text
    document BLOB    NOT NULL, -- the catalogue document that the import would store
    revision INTEGER NOT NULL, -- of the catalogue that it was read against
    expires  INTEGER NOT NULL -- milliseconds since 1970-01-01 UTC; from then on the import is void
) STRICT;
CREATE INDEX imports_by_expires ON imports (expires);

-- +goose Down

DROP TABLE imports;
