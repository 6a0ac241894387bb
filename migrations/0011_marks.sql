-- What the shop has changed since a consultation was last looked at.

-- +goose Up

CREATE TABLE marks (
    id           INTEGER PRIMARY KEY, -- the later the mark, the greater
    consultation TEXT    NOT NULL REFERENCES consultations (id) ON DELETE CASCADE, -- whom it concerns
    frame        TEXT    NOT NULL CHECK (frame <> ''), -- code of the frame, which may be gone from the catalogue since
    text         TEXT    NOT NULL CHECK (text <> ''), -- what has changed, in words
    created      INTEGER NOT NULL -- milliseconds since 1970-01-01 UTC
) STRICT;
CREATE INDEX marks_by_consultation ON marks (consultation, id);

-- +goose Down

DROP TABLE marks;
