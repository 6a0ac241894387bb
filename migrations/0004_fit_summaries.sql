-- What customers take home, and what the shop says about itself.

-- +goose Up

-- Of the secret in a link only its SHA-256 hash is kept, so that nobody can
-- open a summary with what a copy of the store says.
CREATE TABLE fit_summaries (
    id           INTEGER PRIMARY KEY, -- by which staff revoke it; never in a link
    token_hash   BLOB    NOT NULL UNIQUE CHECK (length(token_hash) = 32), -- SHA-256 of the token in the link
    consultation TEXT    NOT NULL REFERENCES consultations (id) ON DELETE CASCADE, -- whose it is
    frame        TEXT    NOT NULL CHECK (frame <> ''), -- code of the frame, which may be gone from the catalogue since
    document     BLOB    NOT NULL, -- all that the page is drawn from; only the pages read it
    created      INTEGER NOT NULL, -- milliseconds since 1970-01-01 UTC
    expires      INTEGER NOT NULL CHECK (expires > created), -- milliseconds since 1970-01-01 UTC; from then on the link is void
    revoked      INTEGER -- milliseconds since 1970-01-01 UTC; from then on the link is void; NULL where nobody revoked it
) STRICT;
CREATE INDEX fit_summaries_by_consultation ON fit_summaries (consultation, frame);
CREATE INDEX fit_summaries_by_expires ON fit_summaries (expires);

CREATE TABLE shop_texts (
    key   TEXT PRIMARY KEY NOT NULL CHECK (key <> ''), -- name of the setting
    value TEXT NOT NULL -- as the shop typed it, in its own words
) STRICT, WITHOUT ROWID;

-- +goose Down

DROP TABLE shop_texts;
DROP TABLE fit_summaries;
