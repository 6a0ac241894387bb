-- Who works here, on which tablets, and which programs may ask. Of every
-- secret only a hash is kept: Argon2id where people choose it, SHA-256 where
-- it is random.

-- +goose Up

CREATE TABLE people (
    id           INTEGER PRIMARY KEY, -- what a session remembers
    name         TEXT    NOT NULL CHECK (name <> ''), -- as it was typed
    folded       TEXT    NOT NULL UNIQUE CHECK (folded <> ''), -- the name by which people are told apart: spaces and case do not count
    role         TEXT    NOT NULL CHECK (role IN ('manager', 'salesperson')), -- what they may do
    passphrase   TEXT    CHECK (passphrase <> ''), -- PHC string of its Argon2id hash; NULL until they have chosen one
    pin          TEXT    CHECK (pin <> ''), -- PHC string of its Argon2id hash; NULL where they want none
    pin_failures INTEGER NOT NULL DEFAULT 0 CHECK (pin_failures >= 0), -- wrong PINs since the last right PIN or passphrase
    disabled     INTEGER NOT NULL DEFAULT 0 CHECK (disabled IN (0, 1)), -- 1: cannot sign in, and is out at once
    created      INTEGER NOT NULL, -- milliseconds since 1970-01-01 UTC
    epoch        INTEGER NOT NULL DEFAULT 0 -- sessions that remember another number are void
) STRICT;

CREATE TABLE person_links (
    person     INTEGER PRIMARY KEY NOT NULL REFERENCES people (id) ON DELETE CASCADE, -- who chooses a passphrase with it; a newer link replaces the older
    token_hash BLOB    NOT NULL UNIQUE CHECK (length(token_hash) = 32), -- SHA-256 of the token in the link
    epoch      INTEGER NOT NULL, -- of the person's sessions when it was issued; void once that is another
    expires    INTEGER NOT NULL -- milliseconds since 1970-01-01 UTC; from then on the link is void
) STRICT, WITHOUT ROWID;

CREATE TABLE devices (
    id          INTEGER PRIMARY KEY, -- by which managers revoke it
    token_hash  BLOB    NOT NULL UNIQUE CHECK (length(token_hash) = 32), -- SHA-256 of the token in the cookie
    label       TEXT    NOT NULL CHECK (label <> ''), -- what people call it
    enrolled_by TEXT    NOT NULL, -- name of who enrolled it, as it was then
    created     INTEGER NOT NULL, -- milliseconds since 1970-01-01 UTC
    revoked     INTEGER -- milliseconds since 1970-01-01 UTC; NULL while PINs work on it
) STRICT;

CREATE TABLE api_tokens (
    id         INTEGER PRIMARY KEY, -- by which managers revoke it
    token_hash BLOB    NOT NULL UNIQUE CHECK (length(token_hash) = 32), -- SHA-256 of the token
    label      TEXT    NOT NULL CHECK (label <> ''), -- what it is for
    scope      TEXT    NOT NULL CHECK (scope <> ''), -- what it may ask for: matches
    made_by    TEXT    NOT NULL, -- name of who made it, as it was then
    created    INTEGER NOT NULL, -- milliseconds since 1970-01-01 UTC
    last_used  INTEGER, -- milliseconds since 1970-01-01 UTC, to a minute; NULL where it never was
    expires    INTEGER NOT NULL CHECK (expires > created), -- milliseconds since 1970-01-01 UTC; from then on it is void
    revoked    INTEGER -- milliseconds since 1970-01-01 UTC; NULL where nobody revoked it
) STRICT;

-- +goose Down

DROP TABLE api_tokens;
DROP TABLE devices;
DROP TABLE person_links;
DROP TABLE people;
