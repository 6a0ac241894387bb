-- A quote may be for one very bike, and promises what is on it until it is
-- handed over. Who looks which bikes are there has each scan kept.

-- +goose Up

ALTER TABLE quotes ADD COLUMN unit TEXT NOT NULL DEFAULT ''; -- tag of the bike that it is for, which may be gone since; empty: any of the frame
ALTER TABLE quotes ADD COLUMN handed_over INTEGER; -- milliseconds since 1970-01-01 UTC when all of it left the shop with the customer; NULL: it has not

CREATE TABLE stocktakes (
    id          INTEGER PRIMARY KEY, -- runs on
    begun       INTEGER NOT NULL, -- milliseconds since 1970-01-01 UTC
    begun_by    TEXT    NOT NULL, -- name of the person
    finished    INTEGER, -- milliseconds since 1970-01-01 UTC; NULL: it goes on
    finished_by TEXT    NOT NULL DEFAULT '' -- name of the person; empty: it goes on
) STRICT;
-- All tablets look together: of two stocktakes each would miss what the other saw.
CREATE UNIQUE INDEX stocktakes_going_on ON stocktakes ((finished IS NULL)) WHERE finished IS NULL;

CREATE TABLE stocktake_tags (
    stocktake INTEGER NOT NULL REFERENCES stocktakes (id) ON DELETE CASCADE, -- which
    tag       TEXT    NOT NULL CHECK (tag <> ''), -- of a unit, or what was read where no unit has it
    known     INTEGER NOT NULL CHECK (known IN (0, 1)), -- 1: a unit had the tag then
    seen      INTEGER, -- milliseconds since 1970-01-01 UTC when it was read first; NULL: it was to be there at the end and was not
    who       TEXT    NOT NULL, -- name of the person who read it first; empty where nobody did
    PRIMARY KEY (stocktake, tag)
) STRICT, WITHOUT ROWID;

-- +goose Down

DROP TABLE stocktake_tags;
DROP TABLE stocktakes;
ALTER TABLE quotes DROP COLUMN handed_over;
ALTER TABLE quotes DROP COLUMN unit;
