-- Figures of the catalogue may say where they come from. The documents of
-- things hold that, in tables that stay as they are; but a program of before
-- would refuse such a document as damaged, and so it has to refuse the store.

-- +goose Up

-- +goose Down

UPDATE things SET document = json_remove(document, '$.evidence') WHERE json_type(document, '$.evidence') IS NOT NULL;
DELETE FROM imports; -- which wait for an hour at most, and may hold some too
