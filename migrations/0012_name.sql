-- The program has a new name, and its stores a new mark: "Kinw" in ASCII.

-- +goose Up
PRAGMA application_id = 1265200759;

-- +goose Down
PRAGMA application_id = 1265200744;
