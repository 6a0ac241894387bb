-- What a customer was told is kept beside what it was worked out from.

-- +goose Up

ALTER TABLE fit_summaries ADD COLUMN answer BLOB; -- the match as it was told, with a version of its own; only the pages read it; NULL where it was not kept yet

-- +goose Down

ALTER TABLE fit_summaries DROP COLUMN answer;
