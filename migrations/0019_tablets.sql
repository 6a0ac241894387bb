-- A tablet is enrolled by a code that it scans from the manager's screen.

-- +goose Up

CREATE TABLE device_links (
    token_hash  BLOB    PRIMARY KEY NOT NULL CHECK (length(token_hash) = 32), -- SHA-256 of the token in the link
    label       TEXT    NOT NULL CHECK (label <> ''), -- what the device will be called
    enrolled_by TEXT    NOT NULL, -- name of who made the link, as it was then
    expires     INTEGER NOT NULL -- milliseconds since 1970-01-01 UTC; from then on the link is void
) STRICT, WITHOUT ROWID;
CREATE INDEX device_links_by_expires ON device_links (expires);

-- +goose Down

DROP TABLE device_links;
