-- What the shop promised: quotes, the bikes held for them, and test rides.
-- Frames, add-ons and units are named, not referred to: the catalogue may be
-- replaced, and a promise outlives it.

-- +goose Up

CREATE TABLE quotes (
    id                    TEXT    PRIMARY KEY NOT NULL CHECK (id <> ''), -- random, not to be guessed
    year                  INTEGER NOT NULL CHECK (year > 0), -- of the shop's calendar, when it was made
    number                INTEGER NOT NULL CHECK (number > 0), -- runs from 1 in every year
    consultation          TEXT    NOT NULL REFERENCES consultations (id), -- what it came from
    customer              TEXT    NOT NULL, -- whom it is for; free text
    shop                  TEXT    NOT NULL, -- name of the shop
    currency              TEXT    NOT NULL, -- ISO 4217
    frame                 TEXT    NOT NULL CHECK (frame <> ''), -- code of the frame
    frame_name            TEXT    NOT NULL, -- name of the frame
    frame_kind            TEXT    NOT NULL, -- what it is, in words
    passengers            INTEGER NOT NULL CHECK (passengers IN (0, 1)), -- 1: somebody rides along
    created               INTEGER NOT NULL, -- milliseconds since 1970-01-01 UTC
    valid_until           TEXT    NOT NULL CHECK (valid_until IS strftime('%Y-%m-%d', valid_until)), -- last day on which it stands
    labour_cents_per_hour INTEGER NOT NULL CHECK (labour_cents_per_hour >= 0), -- cents
    subtotal_cents        INTEGER NOT NULL CHECK (subtotal_cents >= 0), -- cents, of the lines
    tax_included          INTEGER NOT NULL CHECK (tax_included IN (0, 1)), -- 1: the prices of the lines hold the tax
    tax_share             INTEGER NOT NULL CHECK (tax_share BETWEEN 0 AND 10000), -- ten-thousandths
    net_cents             INTEGER NOT NULL CHECK (net_cents >= 0), -- cents without tax
    tax_cents             INTEGER NOT NULL CHECK (tax_cents >= 0), -- cents of tax
    total_cents           INTEGER NOT NULL CHECK (total_cents = net_cents + tax_cents), -- cents to pay
    deposit_share         INTEGER NOT NULL CHECK (deposit_share BETWEEN 0 AND 10000), -- ten-thousandths of the total
    deposit_cents         INTEGER NOT NULL CHECK (deposit_cents BETWEEN 0 AND total_cents), -- cents to pay on signing
    UNIQUE (year, number),
    CONSTRAINT total_follows_from_the_lines CHECK (subtotal_cents = CASE tax_included WHEN 1 THEN total_cents ELSE net_cents END)
) STRICT;
CREATE INDEX quotes_by_consultation ON quotes (consultation);

CREATE TABLE quote_lines (
    quote        TEXT    NOT NULL REFERENCES quotes (id) ON DELETE CASCADE, -- whose line it is
    position     INTEGER NOT NULL CHECK (position >= 0), -- on the quote
    kind         TEXT    NOT NULL CHECK (kind IN ('frame', 'add_on', 'fitting', 'extra', 'taking_off')), -- what it is for
    code         TEXT    NOT NULL, -- of the frame or add-on
    name         TEXT    NOT NULL, -- of the frame or add-on
    note         TEXT    NOT NULL, -- free text
    quantity     INTEGER NOT NULL CHECK (quantity > 0), -- count
    minutes      INTEGER NOT NULL, -- minutes of labour for one; negative where work is saved
    each_cents   INTEGER NOT NULL, -- cents for one
    amount_cents INTEGER NOT NULL CHECK (amount_cents = quantity * each_cents), -- cents
    PRIMARY KEY (quote, position)
) STRICT, WITHOUT ROWID;

CREATE TABLE quote_warnings (
    quote    TEXT    NOT NULL REFERENCES quotes (id) ON DELETE CASCADE, -- whose warning it is
    position INTEGER NOT NULL CHECK (position >= 0), -- on the quote
    text     TEXT    NOT NULL, -- what ruled the bike out when the quote was made
    PRIMARY KEY (quote, position)
) STRICT, WITHOUT ROWID;

-- At most one for a unit: a later one replaces one whose last day is over.
CREATE TABLE reservations (
    unit    TEXT    PRIMARY KEY NOT NULL CHECK (unit <> ''), -- tag of the unit
    quote   TEXT    NOT NULL REFERENCES quotes (id) ON DELETE CASCADE, -- whom it is held for
    until   TEXT    NOT NULL CHECK (until IS strftime('%Y-%m-%d', until)), -- last day
    created INTEGER NOT NULL -- milliseconds since 1970-01-01 UTC
) STRICT;
CREATE INDEX reservations_by_quote ON reservations (quote);

CREATE TABLE rides (
    id           TEXT    PRIMARY KEY NOT NULL CHECK (id <> ''), -- random, not to be guessed
    consultation TEXT    NOT NULL REFERENCES consultations (id), -- whose ride it is
    frame        TEXT    NOT NULL CHECK (frame <> ''), -- code of the frame
    frame_name   TEXT    NOT NULL, -- name of the frame
    unit         TEXT    NOT NULL CHECK (unit <> ''), -- tag of the unit
    passengers   INTEGER NOT NULL CHECK (passengers IN (0, 1)), -- 1: somebody may ride along
    starts       INTEGER NOT NULL, -- milliseconds since 1970-01-01 UTC
    ends         INTEGER NOT NULL CHECK (ends > starts), -- milliseconds since 1970-01-01 UTC
    status       TEXT    NOT NULL CHECK (status IN ('booked', 'out', 'back', 'cancelled')), -- how far it has come
    rider        TEXT    NOT NULL, -- who rode; free text
    feel         TEXT    NOT NULL CHECK (feel IN ('', 'good', 'unsure', 'not_for_us')), -- empty: not said
    felt         TEXT    NOT NULL, -- how it felt; free text
    notes        TEXT    NOT NULL, -- free text
    version      INTEGER NOT NULL CHECK (version > 0), -- count of times it was saved
    created      INTEGER NOT NULL, -- milliseconds since 1970-01-01 UTC
    updated      INTEGER NOT NULL -- milliseconds since 1970-01-01 UTC
) STRICT;
CREATE INDEX rides_by_consultation ON rides (consultation);
CREATE INDEX rides_by_unit ON rides (unit, starts);
CREATE INDEX rides_by_status ON rides (status, starts);

CREATE TABLE ride_checks (
    ride TEXT NOT NULL REFERENCES rides (id) ON DELETE CASCADE, -- whose check it is
    item TEXT NOT NULL CHECK (item <> ''), -- what was ticked
    PRIMARY KEY (ride, item)
) STRICT, WITHOUT ROWID;

-- +goose Down

DROP TABLE ride_checks;
DROP TABLE rides;
DROP TABLE reservations;
DROP TABLE quote_warnings;
DROP TABLE quote_lines;
DROP TABLE quotes;
