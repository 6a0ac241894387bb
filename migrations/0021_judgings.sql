-- Who has to be judged again since the shop has changed what it says, and by
-- what they were told before.

-- +goose Up

-- What the shop said by until a change. Judgings share it; it goes with the
-- last of them.
CREATE TABLE told (
    id       INTEGER PRIMARY KEY, -- the later the change, the greater
    things   BLOB    NOT NULL, -- the catalogue: the document of every thing by its list, JSON, gzipped
    retired  TEXT    NOT NULL CHECK (json_valid(retired)), -- of these, list and code of what was not offered
    settings TEXT    NOT NULL CHECK (json_valid(settings)), -- figures that the shop had set, by name, in the small unit of each
    texts    TEXT    NOT NULL CHECK (json_valid(texts)) -- what the shop said in its own words, by name
) STRICT;

-- One consultation, or one fit summary, quote or ride of it, from the first
-- change that nobody has seen yet.
CREATE TABLE judgings (
    id           INTEGER PRIMARY KEY, -- the later it was queued, the greater
    consultation TEXT    NOT NULL REFERENCES consultations (id) ON DELETE CASCADE, -- whose
    summary      INTEGER UNIQUE REFERENCES fit_summaries (id) ON DELETE CASCADE, -- what is judged; NULL: something else
    quote        TEXT    UNIQUE REFERENCES quotes (id) ON DELETE CASCADE, -- what is judged; NULL: something else
    ride         TEXT    UNIQUE REFERENCES rides (id) ON DELETE CASCADE, -- what is judged; NULL: something else
    base         INTEGER NOT NULL REFERENCES told (id), -- by what it was told, as far as somebody has seen
    since        INTEGER REFERENCES told (id), -- what was said when it was last judged; NULL while nothing has changed since
    round        INTEGER NOT NULL CHECK (round > 0), -- another with every change, so that a judgement of before does not count
    CONSTRAINT one_of_them CHECK ((summary IS NOT NULL) + (quote IS NOT NULL) + (ride IS NOT NULL) <= 1)
) STRICT;
CREATE UNIQUE INDEX judgings_of_answers ON judgings (consultation) WHERE summary IS NULL AND quote IS NULL AND ride IS NULL;
CREATE INDEX judgings_by_consultation ON judgings (consultation);
CREATE INDEX judgings_by_base ON judgings (base);
CREATE INDEX judgings_by_since ON judgings (since);

ALTER TABLE marks ADD COLUMN judging INTEGER REFERENCES judgings (id) ON DELETE CASCADE; -- what it came of; NULL where a program before has written it
ALTER TABLE marks ADD COLUMN worse INTEGER NOT NULL DEFAULT 0 CHECK (worse IN (0, 1)); -- 1: for the customer
CREATE INDEX marks_by_judging ON marks (judging);

ALTER TABLE shop_state ADD COLUMN judged INTEGER NOT NULL DEFAULT 0 CHECK (judged >= 0); -- count of judgings that are done since there were last none to do

-- +goose Down

CREATE TEMP TABLE marks_before AS SELECT id, consultation, frame, text, created FROM marks;
DROP TABLE marks;
CREATE TABLE marks (
    id           INTEGER PRIMARY KEY, -- the later the mark, the greater
    consultation TEXT    NOT NULL REFERENCES consultations (id) ON DELETE CASCADE, -- whom it concerns
    frame        TEXT    NOT NULL CHECK (frame <> ''), -- code of the frame, which may be gone from the catalogue since
    text         TEXT    NOT NULL CHECK (text <> ''), -- what has changed, in words
    created      INTEGER NOT NULL -- milliseconds since 1970-01-01 UTC
) STRICT;
CREATE INDEX marks_by_consultation ON marks (consultation, id);
INSERT INTO marks SELECT id, consultation, frame, text, created FROM marks_before;
DROP TABLE marks_before;
DROP TABLE judgings;
DROP TABLE told;
ALTER TABLE shop_state DROP COLUMN judged;
