-- How often a fit summary was opened: a bare number, and nothing of who looked.

-- +goose Up

ALTER TABLE fit_summaries ADD COLUMN opened INTEGER NOT NULL DEFAULT 0 CHECK (opened >= 0); -- count of looks by its link, but for those of staff

-- +goose Down

ALTER TABLE fit_summaries DROP COLUMN opened;
