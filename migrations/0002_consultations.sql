-- What customers told the shop, and how the shop wants to be advised.

-- +goose Up

CREATE TABLE consultations (
    id       TEXT    PRIMARY KEY NOT NULL CHECK (id <> ''), -- random, not to be guessed
    customer TEXT    NOT NULL, -- how staff tell one customer from the other; free text
    answers  BLOB    NOT NULL, -- the form as typed, a document of the pages that only they read
    version  INTEGER NOT NULL CHECK (version > 0), -- count of times it was saved
    created  INTEGER NOT NULL, -- milliseconds since 1970-01-01 UTC
    updated  INTEGER NOT NULL -- milliseconds since 1970-01-01 UTC
) STRICT;
CREATE INDEX consultations_by_updated ON consultations (updated);

CREATE TABLE settings (
    key   TEXT    PRIMARY KEY NOT NULL CHECK (key <> ''), -- name of the setting
    value INTEGER NOT NULL -- in the small unit of what the setting is: grams, millimetres, cents, ten-thousandths
) STRICT, WITHOUT ROWID;

-- +goose Down

DROP TABLE settings;
DROP TABLE consultations;
