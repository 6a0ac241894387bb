-- What the years ahead may ask for stood in a quote below what the bike has to
-- spare. What left the shop with a quote is noted, so that it can be taken back.

-- +goose Up

ALTER TABLE quotes ADD COLUMN outlook TEXT NOT NULL DEFAULT ''; -- what the years ahead may ask for, a line each; nothing of it is promised
UPDATE quotes SET outlook = substr(spare, instr(spare, char(10)) + 1), spare = substr(spare, 1, instr(spare, char(10)) - 1)
WHERE instr(spare, char(10)) > 0;

CREATE TABLE handed_over (
    quote TEXT    NOT NULL REFERENCES quotes (id) ON DELETE CASCADE, -- with which it left the shop
    list  TEXT    NOT NULL CHECK (list IN ('units', 'add_ons')), -- of the document
    code  TEXT    NOT NULL CHECK (code <> ''), -- tag of the unit, code of the add-on
    count INTEGER NOT NULL CHECK (count > 0), -- 1 of a unit; of an add-on as many as were taken off the store room
    was   TEXT    NOT NULL CHECK ((was = '') = (list = 'add_ons')), -- status of the unit before it was sold; empty of an add-on
    until TEXT    CHECK (until IS strftime('%Y-%m-%d', until)), -- last day on which the unit was held for the quote; NULL: it was not
    PRIMARY KEY (quote, list, code)
) STRICT, WITHOUT ROWID;

-- Whether the last one that looked for a bike has seen it.
CREATE INDEX stocktake_tags_by_tag ON stocktake_tags (tag, stocktake);

-- Of what was handed over before, the history tells.
INSERT INTO handed_over (quote, list, code, count, was)
SELECT q.id, c.list, c.code, iif(c.list = 'units', 1, c.old - c.new), iif(c.list = 'units', c.old ->> '$', '')
FROM quotes AS q JOIN catalogue_saves AS s ON s.at = q.handed_over JOIN catalogue_changes AS c ON c.save = s.id
WHERE c.list = 'units' AND c.field = 'status' AND c.new = '"sold"'
   OR c.list = 'add_ons' AND c.field = 'stock' AND c.old - c.new > 0
      AND EXISTS (SELECT 1 FROM quote_lines AS l WHERE l.quote = q.id AND l.code = c.code AND l.kind = 'add_on');

-- +goose Down

DROP INDEX stocktake_tags_by_tag;
DROP TABLE handed_over;
UPDATE quotes SET spare = spare || char(10) || outlook WHERE outlook <> '';
ALTER TABLE quotes DROP COLUMN outlook;
