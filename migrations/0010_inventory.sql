-- What the shop keeps about its frames, add-ons and units beside their
-- document: what is retired, their photos, and who changed what.

-- +goose Up

-- Named, not referred to: the catalogue may be replaced, and history outlives
-- what it is about.
CREATE TABLE retired (
    list TEXT    NOT NULL CHECK (list IN ('frames', 'add_ons', 'units')), -- of the catalogue
    code TEXT    NOT NULL CHECK (code <> ''), -- of the frame or add-on, the tag of the unit
    at   INTEGER NOT NULL, -- milliseconds since 1970-01-01 UTC
    PRIMARY KEY (list, code)
) STRICT, WITHOUT ROWID;

CREATE TABLE photos (
    list  TEXT    NOT NULL CHECK (list IN ('frames', 'add_ons', 'units')), -- of the catalogue
    code  TEXT    NOT NULL CHECK (code <> ''), -- of the frame or add-on, the tag of the unit
    alt   TEXT    NOT NULL CHECK (alt <> ''), -- what is to be seen; free text
    large BLOB    NOT NULL CHECK (length(large) > 0), -- JPEG
    small BLOB    NOT NULL CHECK (length(small) > 0), -- JPEG for lists
    at    INTEGER NOT NULL, -- milliseconds since 1970-01-01 UTC
    PRIMARY KEY (list, code)
) STRICT;

CREATE TABLE catalogue_saves (
    id  INTEGER PRIMARY KEY, -- runs on
    who TEXT    NOT NULL, -- name of the person, or of the command; free text
    how TEXT    NOT NULL CHECK (how IN ('edit', 'import', 'undo', 'retire')), -- what was done
    at  INTEGER NOT NULL -- milliseconds since 1970-01-01 UTC
) STRICT;

CREATE TABLE catalogue_changes (
    save     INTEGER NOT NULL REFERENCES catalogue_saves (id), -- what it was a part of
    position INTEGER NOT NULL CHECK (position >= 0), -- within the save
    list     TEXT    NOT NULL CHECK (list <> ''), -- shop, frames, add_ons or units
    code     TEXT    NOT NULL, -- of the frame or add-on, the tag of the unit; empty for the shop, and for the order of a list
    field    TEXT    NOT NULL, -- the path within it; empty for the whole
    old      TEXT    NOT NULL, -- JSON; empty where there was nothing
    new      TEXT    NOT NULL, -- JSON; empty where nothing is left
    PRIMARY KEY (save, position)
) STRICT, WITHOUT ROWID;
CREATE INDEX catalogue_changes_by_code ON catalogue_changes (list, code, save);

-- +goose Down

DROP TABLE catalogue_changes;
DROP TABLE catalogue_saves;
DROP TABLE photos;
DROP TABLE retired;
