-- Who is signed in. Of every secret only its SHA-256 hash is kept, so that
-- nobody can sign in with what a copy of the store says.

-- +goose Up

CREATE TABLE sessions (
    token_hash BLOB    PRIMARY KEY NOT NULL CHECK (length(token_hash) = 32), -- SHA-256 of the token in the cookie
    data       BLOB    NOT NULL, -- what the pages remember; only they read it
    expires    INTEGER NOT NULL -- milliseconds since 1970-01-01 UTC; from then on the session is void
) STRICT, WITHOUT ROWID;
CREATE INDEX sessions_by_expires ON sessions (expires);

CREATE TABLE sign_in_links (
    token_hash BLOB    PRIMARY KEY NOT NULL CHECK (length(token_hash) = 32), -- SHA-256 of the token in the link
    expires    INTEGER NOT NULL -- milliseconds since 1970-01-01 UTC; from then on the link is void
) STRICT, WITHOUT ROWID;

-- +goose Down

DROP TABLE sign_in_links;
DROP TABLE sessions;
