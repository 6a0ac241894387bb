-- Photos of where figures come from, such as a rating plate. Sources in the
-- catalogue and in its history name them, from within documents; what nothing
-- names any more is deleted in time.

-- +goose Up

CREATE TABLE source_photos (
    name  TEXT    NOT NULL PRIMARY KEY CHECK (length(name) = 32), -- of its pictures: the first half of the SHA-256 of the large one, in hexadecimal
    large BLOB    NOT NULL CHECK (length(large) > 0), -- JPEG
    small BLOB    NOT NULL CHECK (length(small) > 0), -- JPEG for forms
    at    INTEGER NOT NULL -- milliseconds since 1970-01-01 UTC when it was sent last
) STRICT;

-- +goose Down

DROP TABLE source_photos;
-- A program of before would refuse documents that name a photo.
UPDATE things SET document = json_set(document, '$.evidence', json((
    SELECT json_group_array(json(json_remove(value, '$.photo'))) FROM (SELECT value FROM json_each(document, '$.evidence') ORDER BY key))))
    WHERE json_type(document, '$.evidence') = 'array' AND instr(document, '"photo"') > 0;
DELETE FROM imports; -- which wait for an hour at most, and may name some too
