-- A unit may be ordered, or in repair. SQLite changes no condition of a table,
-- so the rows move into a new one; nothing else names it.

-- +goose Up

ALTER TABLE things RENAME TO things_before;
DROP INDEX things_by_position;
DROP INDEX things_by_frame;
DROP INDEX things_by_status;
DROP INDEX things_by_rider;

CREATE TABLE things (
    id         INTEGER PRIMARY KEY, -- runs on
    list       TEXT    NOT NULL CHECK (list IN ('shop', 'frames', 'add_ons', 'units')), -- of the document
    code       TEXT    NOT NULL CHECK ((code = '') = (list = 'shop')), -- of the frame or add-on, the tag of the unit; empty for the shop
    position   INTEGER NOT NULL, -- order within the list; there may be gaps
    revision   INTEGER NOT NULL CHECK (revision >= 0), -- of the catalogue that came with its last change
    retired    INTEGER, -- milliseconds since 1970-01-01 UTC since when it is no longer offered; NULL: it is
    document   TEXT    NOT NULL CHECK (json_valid(document) AND json_type(document) = 'object'), -- JSON, as in the catalogue document
    frame_list TEXT    GENERATED ALWAYS AS (iif(list = 'units', 'frames', NULL)) VIRTUAL, -- where the frame of a unit is; NULL beside units
    frame      TEXT    CHECK (frame IS iif(list = 'units', document ->> '$.frame', NULL)), -- code of the frame of a unit; NULL beside units. Not generated: then every change of a document would be one of a reference, for which SQLite moves the row
    status     TEXT    GENERATED ALWAYS AS (document ->> '$.status') VIRTUAL CHECK (list <> 'units' OR status IS NOT NULL AND status IN ('available', 'on_test_ride', 'reserved', 'sold', 'ordered', 'in_repair')), -- where a unit is now
    rider_min  REAL    GENERATED ALWAYS AS (document ->> '$.rider_min_cm') VIRTUAL, -- centimetres, the shortest rider of a frame
    rider_max  REAL    GENERATED ALWAYS AS (document ->> '$.rider_max_cm') VIRTUAL, -- centimetres, the tallest rider of a frame
    gross      REAL    GENERATED ALWAYS AS (document ->> '$.gross_rating_kg') VIRTUAL CHECK (list <> 'frames' OR gross > 0), -- kilograms, the gross rating of a frame
    weighed_on TEXT    GENERATED ALWAYS AS (iif(list = 'units', document ->> '$.weighed_on', '')) VIRTUAL, -- day 2006-01-02 or month 2006-01 of a unit; empty: not weighed
    CONSTRAINT weighed_on_a_day_or_month CHECK (CASE length(weighed_on)
        WHEN 0 THEN TRUE
        WHEN 7 THEN weighed_on || '-01' IS strftime('%Y-%m-%d', weighed_on || '-01')
        WHEN 10 THEN weighed_on IS strftime('%Y-%m-%d', weighed_on)
        ELSE FALSE END),
    CHECK (code = coalesce(document ->> '$.code', document ->> '$.tag', '')),
    UNIQUE (list, code),
    FOREIGN KEY (frame_list, frame) REFERENCES things (list, code) DEFERRABLE INITIALLY DEFERRED
) STRICT;

INSERT INTO things (id, list, code, position, revision, retired, document, frame)
SELECT id, list, code, position, revision, retired, document, frame FROM things_before;
DROP TABLE things_before;
CREATE INDEX things_by_position ON things (list, position);
CREATE INDEX things_by_frame ON things (frame_list, frame) WHERE frame_list IS NOT NULL;
CREATE INDEX things_by_status ON things (status) WHERE list = 'units';
CREATE INDEX things_by_rider ON things (rider_min, rider_max, gross) WHERE list = 'frames';

-- +goose Down

-- What is ordered or in repair can be neither ridden nor taken home: reserved
-- says the same. The facts that came with these statuses are no part of the
-- documents of before.
ALTER TABLE things RENAME TO things_before;
DROP INDEX things_by_position;
DROP INDEX things_by_frame;
DROP INDEX things_by_status;
DROP INDEX things_by_rider;

CREATE TABLE things (
    id         INTEGER PRIMARY KEY, -- runs on
    list       TEXT    NOT NULL CHECK (list IN ('shop', 'frames', 'add_ons', 'units')), -- of the document
    code       TEXT    NOT NULL CHECK ((code = '') = (list = 'shop')), -- of the frame or add-on, the tag of the unit; empty for the shop
    position   INTEGER NOT NULL, -- order within the list; there may be gaps
    revision   INTEGER NOT NULL CHECK (revision >= 0), -- of the catalogue that came with its last change
    retired    INTEGER, -- milliseconds since 1970-01-01 UTC since when it is no longer offered; NULL: it is
    document   TEXT    NOT NULL CHECK (json_valid(document) AND json_type(document) = 'object'), -- JSON, as in the catalogue document
    frame_list TEXT    GENERATED ALWAYS AS (iif(list = 'units', 'frames', NULL)) VIRTUAL, -- where the frame of a unit is; NULL beside units
    frame      TEXT    CHECK (frame IS iif(list = 'units', document ->> '$.frame', NULL)), -- code of the frame of a unit; NULL beside units. Not generated: then every change of a document would be one of a reference, for which SQLite moves the row
    status     TEXT    GENERATED ALWAYS AS (document ->> '$.status') VIRTUAL CHECK (list <> 'units' OR status IS NOT NULL AND status IN ('available', 'on_test_ride', 'reserved', 'sold')), -- where a unit is now
    rider_min  REAL    GENERATED ALWAYS AS (document ->> '$.rider_min_cm') VIRTUAL, -- centimetres, the shortest rider of a frame
    rider_max  REAL    GENERATED ALWAYS AS (document ->> '$.rider_max_cm') VIRTUAL, -- centimetres, the tallest rider of a frame
    gross      REAL    GENERATED ALWAYS AS (document ->> '$.gross_rating_kg') VIRTUAL CHECK (list <> 'frames' OR gross > 0), -- kilograms, the gross rating of a frame
    weighed_on TEXT    GENERATED ALWAYS AS (iif(list = 'units', document ->> '$.weighed_on', '')) VIRTUAL, -- day 2006-01-02 or month 2006-01 of a unit; empty: not weighed
    CONSTRAINT weighed_on_a_day_or_month CHECK (CASE length(weighed_on)
        WHEN 0 THEN TRUE
        WHEN 7 THEN weighed_on || '-01' IS strftime('%Y-%m-%d', weighed_on || '-01')
        WHEN 10 THEN weighed_on IS strftime('%Y-%m-%d', weighed_on)
        ELSE FALSE END),
    CHECK (code = coalesce(document ->> '$.code', document ->> '$.tag', '')),
    UNIQUE (list, code),
    FOREIGN KEY (frame_list, frame) REFERENCES things (list, code) DEFERRABLE INITIALLY DEFERRED
) STRICT;

INSERT INTO things (id, list, code, position, revision, retired, document, frame)
SELECT id, list, code, position, revision, retired, CASE list
    WHEN 'units' THEN json_set(json_remove(document, '$.serial', '$.arrival', '$.price_cents'),
        '$.status', iif(status IN ('ordered', 'in_repair'), 'reserved', status))
    WHEN 'add_ons' THEN json_remove(document, '$.supplier', '$.article', '$.stock')
    ELSE document END, frame FROM things_before;
DROP TABLE things_before;
CREATE INDEX things_by_position ON things (list, position);
CREATE INDEX things_by_frame ON things (frame_list, frame) WHERE frame_list IS NOT NULL;
CREATE INDEX things_by_status ON things (status) WHERE list = 'units';
CREATE INDEX things_by_rider ON things (rider_min, rider_max, gross) WHERE list = 'frames';
