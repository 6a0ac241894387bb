-- What is kept for how long: when a quote was accepted, what is left of a
-- consultation that was erased, and when a backup was last found whole.

-- +goose Up

ALTER TABLE quotes ADD COLUMN accepted INTEGER; -- milliseconds since 1970-01-01 UTC; NULL while the customer has not accepted it

ALTER TABLE consultations ADD COLUMN erased INTEGER; -- milliseconds since 1970-01-01 UTC since when nothing is left but accepted quotes; NULL: it is whole

CREATE TABLE proven_backup (
    id   INTEGER PRIMARY KEY CHECK (id = 1), -- the table has one row, or none before the first backup
    at   INTEGER NOT NULL, -- milliseconds since 1970-01-01 UTC when it was opened and found whole
    file TEXT    NOT NULL CHECK (file <> '') -- path of the backup on the shop's computer
) STRICT;

-- +goose Down

DROP TABLE proven_backup;
ALTER TABLE consultations DROP COLUMN erased;
ALTER TABLE quotes DROP COLUMN accepted;
