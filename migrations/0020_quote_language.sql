-- A quote is written in the language of its customer, and says what the bike
-- that was proposed has to spare.

-- +goose Up

ALTER TABLE quotes ADD COLUMN language TEXT NOT NULL DEFAULT 'en' CHECK (language <> ''); -- ISO 639-1, of its names, notes and warnings too
ALTER TABLE quotes ADD COLUMN spare TEXT NOT NULL DEFAULT ''; -- a sentence: what is to spare, and where least; empty where it was not said

-- +goose Down

ALTER TABLE quotes DROP COLUMN spare;
ALTER TABLE quotes DROP COLUMN language;
