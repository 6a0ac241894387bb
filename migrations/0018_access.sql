-- Who came in, how, and who tries to.

-- +goose Up

CREATE TABLE link_entries (
    id      INTEGER PRIMARY KEY, -- what the session remembers that somebody began with the printed link
    begun   INTEGER NOT NULL, -- milliseconds since 1970-01-01 UTC
    expires INTEGER NOT NULL CHECK (expires > begun), -- milliseconds since 1970-01-01 UTC; from then on the session is void
    address TEXT    NOT NULL -- of the network, where the link was opened
) STRICT;

CREATE TABLE tries (
    key_hash BLOB    PRIMARY KEY NOT NULL CHECK (length(key_hash) = 32), -- SHA-256 of what is counted by, in which somebody may have typed a secret
    wrong    INTEGER NOT NULL CHECK (wrong > 0), -- how many in a row
    last     INTEGER NOT NULL -- milliseconds since 1970-01-01 UTC; of the last of them
) STRICT, WITHOUT ROWID;
CREATE INDEX tries_by_last ON tries (last);

CREATE TABLE sign_ins (
    id      INTEGER PRIMARY KEY, -- in the order in which they were
    person  INTEGER NOT NULL REFERENCES people (id) ON DELETE CASCADE, -- as whom
    at      INTEGER NOT NULL, -- milliseconds since 1970-01-01 UTC
    address TEXT    NOT NULL, -- of the network, where it came from
    how     TEXT    NOT NULL CHECK (how <> ''), -- with what: passphrase, PIN, link
    let_in  INTEGER NOT NULL CHECK (let_in IN (0, 1)) -- 0: it was wrong
) STRICT;
CREATE INDEX sign_ins_by_person ON sign_ins (person, let_in, id);

CREATE TABLE secrets (
    name   TEXT PRIMARY KEY NOT NULL CHECK (name <> ''), -- what it signs
    secret BLOB NOT NULL CHECK (length(secret) = 32) -- random; it lets nobody in
) STRICT, WITHOUT ROWID;

-- +goose Down

DROP TABLE secrets;
DROP TABLE sign_ins;
DROP TABLE tries;
DROP TABLE link_entries;
