-- What the shop sells and lends. The rows of a table keep the order of the
-- catalogue document in their position columns, counted from 0.
--
-- Rows that are part of something go with it (ON DELETE CASCADE). A frame or
-- an add-on that something else still names cannot be deleted.

-- +goose Up

-- Marks the file as a store of this program: "Kinh" in ASCII.
PRAGMA application_id = 1265200744;

CREATE TABLE shop_state (
    id       INTEGER PRIMARY KEY CHECK (id = 1), -- the table has one row
    revision INTEGER NOT NULL CHECK (revision >= 0), -- count of changes of the catalogue
    seeded   INTEGER NOT NULL CHECK (seeded IN (0, 1)) -- 1 once the store has had a catalogue, even if it is empty by now
) STRICT;
INSERT INTO shop_state (id, revision, seeded) VALUES (1, 0, 0);

CREATE TABLE shop (
    id                    INTEGER PRIMARY KEY CHECK (id = 1), -- the table has one row, or none before the first catalogue
    name                  TEXT    NOT NULL CHECK (name <> ''), -- as customers know it
    currency              TEXT    NOT NULL CHECK (length(currency) = 3), -- ISO 4217, of every amount in the store
    labour_cents_per_hour INTEGER NOT NULL CHECK (labour_cents_per_hour >= 0), -- cents
    tax_share             INTEGER NOT NULL CHECK (tax_share BETWEEN 0 AND 10000), -- ten-thousandths of the net price
    prices_include_tax    INTEGER NOT NULL CHECK (prices_include_tax IN (0, 1)) -- 1: every price in the store is gross
) STRICT;

CREATE TABLE add_ons (
    code              TEXT    PRIMARY KEY NOT NULL CHECK (code <> ''), -- unique among add-ons
    position          INTEGER NOT NULL UNIQUE CHECK (position >= 0), -- in the document
    name              TEXT    NOT NULL, -- as staff read it
    weight_g          INTEGER NOT NULL CHECK (weight_g >= 0), -- grams
    price_cents       INTEGER NOT NULL CHECK (price_cents >= 0), -- cents, without labour
    fitting_minutes   INTEGER NOT NULL CHECK (fitting_minutes >= 0), -- minutes to fit it, or to take it off
    zone              TEXT    NOT NULL, -- zone of the frame that it sits in; empty: counts toward the gross rating only
    max_load_g        INTEGER NOT NULL CHECK (max_load_g >= 0), -- grams over all that it carries; 0: not stated
    cargo_g           INTEGER NOT NULL CHECK (cargo_g >= 0), -- grams of cargo; 0: carries none
    cargo_ml          INTEGER NOT NULL CHECK (cargo_ml >= 0), -- millilitres of cargo
    pet_g             INTEGER NOT NULL CHECK (pet_g >= 0), -- grams of a pet; 0: takes none
    up_to             INTEGER NOT NULL CHECK (up_to >= 0), -- times it may be fitted; 0 means once
    front_overhang_mm INTEGER NOT NULL CHECK (front_overhang_mm >= 0), -- millimetres ahead of the bare frame
    rear_overhang_mm  INTEGER NOT NULL CHECK (rear_overhang_mm >= 0), -- millimetres behind the bare frame
    overall_width_mm  INTEGER NOT NULL CHECK (overall_width_mm >= 0), -- millimetres of the whole bike with it; 0: no wider
    overall_height_mm INTEGER NOT NULL CHECK (overall_height_mm >= 0), -- millimetres of the whole bike with it; 0: no higher
    blocks_upright    INTEGER NOT NULL CHECK (blocks_upright IN (0, 1)), -- 1: the bike cannot stand on its tail with it
    removable_seconds INTEGER NOT NULL CHECK (removable_seconds >= 0) -- seconds to take it off by hand; 0: not stated
) STRICT;

CREATE TABLE frames (
    code                 TEXT    PRIMARY KEY NOT NULL CHECK (code <> ''), -- unique among frames
    position             INTEGER NOT NULL UNIQUE CHECK (position >= 0), -- in the document
    name                 TEXT    NOT NULL, -- as staff read it
    family               TEXT    NOT NULL, -- name shared by the sizes of one model
    type                 TEXT    NOT NULL CHECK (type IN ('', 'compact_longtail', 'longtail', 'front_loader', 'tricycle', 'loaded_tourer', 'other')), -- empty: not stated
    material             TEXT    NOT NULL, -- free text
    size                 TEXT    NOT NULL, -- free text, as the maker names it
    gross_rating_g       INTEGER NOT NULL CHECK (gross_rating_g >= 0), -- grams: bike, add-ons, rider and load together
    bare_weight_g        INTEGER NOT NULL CHECK (bare_weight_g >= 0), -- grams, ready to ride
    rider_min_mm         INTEGER NOT NULL CHECK (rider_min_mm >= 0), -- millimetres, the shortest rider
    rider_max_mm         INTEGER NOT NULL CHECK (rider_max_mm >= 0), -- millimetres, the tallest rider
    rider_max_g          INTEGER NOT NULL CHECK (rider_max_g >= 0), -- grams, the heaviest rider; 0: not stated
    passengers_max       INTEGER NOT NULL CHECK (passengers_max >= 0), -- count
    standover_mm         INTEGER NOT NULL CHECK (standover_mm >= 0), -- millimetres; 0: not stated
    saddle_min_mm        INTEGER NOT NULL CHECK (saddle_min_mm >= 0), -- millimetres from bottom bracket to saddle top; 0: not stated
    saddle_max_mm        INTEGER NOT NULL CHECK (saddle_max_mm >= 0), -- millimetres from bottom bracket to saddle top; 0: not stated
    price_cents          INTEGER NOT NULL CHECK (price_cents >= 0), -- cents
    length_mm            INTEGER NOT NULL CHECK (length_mm >= 0), -- millimetres, flat
    width_mm             INTEGER NOT NULL CHECK (width_mm >= 0), -- millimetres, flat
    height_mm            INTEGER NOT NULL CHECK (height_mm >= 0), -- millimetres, flat
    upright_length_mm    INTEGER NOT NULL CHECK (upright_length_mm >= 0), -- millimetres, on its tail; 0: cannot stand so
    upright_width_mm     INTEGER NOT NULL CHECK (upright_width_mm >= 0), -- millimetres, on its tail; 0: cannot stand so
    upright_height_mm    INTEGER NOT NULL CHECK (upright_height_mm >= 0), -- millimetres, on its tail; 0: cannot stand so
    wheelbase_mm         INTEGER NOT NULL CHECK (wheelbase_mm >= 0), -- millimetres; 0: not stated
    rider_ahead_mm       INTEGER NOT NULL, -- millimetres ahead of the rear axle, negative behind it; 0: not stated
    bare_front_share     INTEGER NOT NULL CHECK (bare_front_share BETWEEN 0 AND 10000), -- ten-thousandths of the bare weight on the front axle; 0: not stated
    front_axle_g         INTEGER NOT NULL CHECK (front_axle_g >= 0), -- grams, rating of the axle; 0: not stated
    rear_axle_g          INTEGER NOT NULL CHECK (rear_axle_g >= 0), -- grams, rating of the axle; 0: not stated
    front_tyre           TEXT    NOT NULL, -- ISO 5775: width and bead seat in millimetres; empty: not stated
    rear_tyre            TEXT    NOT NULL, -- ISO 5775: width and bead seat in millimetres; empty: not stated
    odd_wheel            INTEGER NOT NULL CHECK (odd_wheel IN (0, 1)), -- 1: only the maker supplies this wheel
    front_brake          TEXT    NOT NULL CHECK (front_brake IN ('', 'hydraulic_disc', 'cable_disc', 'hydraulic_rim', 'cable_rim', 'drum', 'roller', 'coaster')), -- empty: not stated
    rear_brake           TEXT    NOT NULL CHECK (rear_brake IN ('', 'hydraulic_disc', 'cable_disc', 'hydraulic_rim', 'cable_rim', 'drum', 'roller', 'coaster')), -- empty: not stated
    assist_watts         INTEGER NOT NULL CHECK (assist_watts >= 0), -- watts; 0: no motor
    notes                TEXT    NOT NULL -- free text
) STRICT;

CREATE TABLE frame_zones (
    frame     TEXT    NOT NULL REFERENCES frames (code) ON DELETE CASCADE, -- whose zone it is
    position  INTEGER NOT NULL CHECK (position >= 0), -- in the document
    code      TEXT    NOT NULL CHECK (code <> ''), -- unique on the frame
    rating_g  INTEGER NOT NULL CHECK (rating_g >= 0), -- grams; 0: not stated
    ahead_mm  INTEGER NOT NULL, -- millimetres ahead of the rear axle, negative behind it
    height_mm INTEGER NOT NULL CHECK (height_mm >= 0), -- millimetres above the ground
    steered   INTEGER NOT NULL CHECK (steered IN (0, 1)), -- 1: turns with the handlebar
    side      TEXT    NOT NULL CHECK (side IN ('', 'centre', 'left', 'right')), -- empty: not stated
    cargo_g   INTEGER NOT NULL CHECK (cargo_g >= 0), -- grams of cargo without any add-on; 0: none
    cargo_ml  INTEGER NOT NULL CHECK (cargo_ml >= 0), -- millilitres of cargo without any add-on
    PRIMARY KEY (frame, position),
    UNIQUE (frame, code)
) STRICT, WITHOUT ROWID;

CREATE TABLE frame_combined (
    frame    TEXT    NOT NULL REFERENCES frames (code) ON DELETE CASCADE, -- whose rating it is
    position INTEGER NOT NULL CHECK (position >= 0), -- in the document
    rating_g INTEGER NOT NULL CHECK (rating_g >= 0), -- grams over all its zones together
    PRIMARY KEY (frame, position)
) STRICT, WITHOUT ROWID;

CREATE TABLE frame_combined_zones (
    frame    TEXT    NOT NULL, -- whose rating it is
    combined INTEGER NOT NULL, -- position of the combined rating
    position INTEGER NOT NULL CHECK (position >= 0), -- within the rating
    zone     TEXT    NOT NULL, -- code of a zone of the same frame
    PRIMARY KEY (frame, combined, position),
    FOREIGN KEY (frame, combined) REFERENCES frame_combined (frame, position) ON DELETE CASCADE,
    FOREIGN KEY (frame, zone) REFERENCES frame_zones (frame, code)
) STRICT, WITHOUT ROWID;
CREATE INDEX frame_combined_zones_by_zone ON frame_combined_zones (frame, zone);

CREATE TABLE frame_mounts (
    frame    TEXT    NOT NULL REFERENCES frames (code) ON DELETE CASCADE, -- whose mount it is
    position INTEGER NOT NULL CHECK (position >= 0), -- in the document
    code     TEXT    NOT NULL CHECK (code <> ''), -- unique on the frame
    capacity INTEGER NOT NULL CHECK (capacity >= 0), -- count of whatever the maker counts
    PRIMARY KEY (frame, position),
    UNIQUE (frame, code)
) STRICT, WITHOUT ROWID;

CREATE TABLE frame_places (
    frame          TEXT    NOT NULL REFERENCES frames (code) ON DELETE CASCADE, -- whose place it is
    position       INTEGER NOT NULL CHECK (position >= 0), -- in the document
    zone           TEXT    NOT NULL, -- code of a zone of the same frame
    kind           TEXT    NOT NULL CHECK (kind IN ('harnessed', 'belted', 'bench')), -- how the passenger is held
    min_months     INTEGER NOT NULL CHECK (min_months >= 0), -- months of age; 0: not stated
    max_months     INTEGER NOT NULL CHECK (max_months >= 0), -- months of age; 0: not stated
    min_g          INTEGER NOT NULL CHECK (min_g >= 0), -- grams of passenger; 0: not stated
    max_g          INTEGER NOT NULL CHECK (max_g >= 0), -- grams of passenger; 0: not stated
    max_stature_mm INTEGER NOT NULL CHECK (max_stature_mm >= 0), -- millimetres; 0: not stated
    ahead_mm       INTEGER NOT NULL, -- millimetres ahead of the rear axle, negative behind it; 0: where the zone is
    height_mm      INTEGER NOT NULL CHECK (height_mm >= 0), -- millimetres above the ground; 0: where the zone is
    PRIMARY KEY (frame, position),
    FOREIGN KEY (frame, zone) REFERENCES frame_zones (frame, code)
) STRICT, WITHOUT ROWID;
CREATE INDEX frame_places_by_zone ON frame_places (frame, zone);

CREATE TABLE frame_place_needs (
    frame    TEXT    NOT NULL, -- whose place it is
    place    INTEGER NOT NULL, -- position of the place
    group_no INTEGER NOT NULL CHECK (group_no >= 0), -- one member of every group must be met
    position INTEGER NOT NULL CHECK (position >= 0), -- within the group
    member   TEXT    NOT NULL CHECK (member <> ''), -- code of an add-on, or else a tag
    PRIMARY KEY (frame, place, group_no, position),
    FOREIGN KEY (frame, place) REFERENCES frame_places (frame, position) ON DELETE CASCADE
) STRICT, WITHOUT ROWID;

CREATE TABLE frame_provides (
    frame    TEXT    NOT NULL REFERENCES frames (code) ON DELETE CASCADE, -- what provides it
    position INTEGER NOT NULL CHECK (position >= 0), -- in the document
    tag      TEXT    NOT NULL CHECK (tag <> ''), -- a word that needs may name
    PRIMARY KEY (frame, position)
) STRICT, WITHOUT ROWID;

CREATE TABLE frame_comes_with (
    frame    TEXT    NOT NULL REFERENCES frames (code) ON DELETE CASCADE, -- what it is delivered on
    position INTEGER NOT NULL CHECK (position >= 0), -- in the document
    add_on   TEXT    NOT NULL REFERENCES add_ons (code), -- fitted by the maker; twice where two are
    PRIMARY KEY (frame, position)
) STRICT, WITHOUT ROWID;
CREATE INDEX frame_comes_with_by_add_on ON frame_comes_with (add_on);

CREATE TABLE frame_teeth (
    frame    TEXT    NOT NULL REFERENCES frames (code) ON DELETE CASCADE, -- whose drive it is
    wheel    TEXT    NOT NULL CHECK (wheel IN ('chainring', 'sprocket')), -- at the cranks or at the hub
    position INTEGER NOT NULL CHECK (position >= 0), -- in the document
    teeth    INTEGER NOT NULL CHECK (teeth > 0), -- count
    PRIMARY KEY (frame, wheel, position)
) STRICT, WITHOUT ROWID;

CREATE TABLE add_on_fits (
    add_on   TEXT    NOT NULL REFERENCES add_ons (code) ON DELETE CASCADE, -- what fits
    position INTEGER NOT NULL CHECK (position >= 0), -- in the document
    frame    TEXT    NOT NULL REFERENCES frames (code), -- what it fits on
    PRIMARY KEY (add_on, position),
    UNIQUE (add_on, frame)
) STRICT, WITHOUT ROWID;
CREATE INDEX add_on_fits_by_frame ON add_on_fits (frame);

CREATE TABLE add_on_uses (
    add_on   TEXT    NOT NULL REFERENCES add_ons (code) ON DELETE CASCADE, -- what takes it
    position INTEGER NOT NULL CHECK (position >= 0), -- in the document
    mount    TEXT    NOT NULL CHECK (mount <> ''), -- code of a mount
    amount   INTEGER NOT NULL CHECK (amount > 0), -- count of what the capacity of the mount counts
    PRIMARY KEY (add_on, position),
    UNIQUE (add_on, mount)
) STRICT, WITHOUT ROWID;

CREATE TABLE add_on_needs (
    add_on   TEXT    NOT NULL REFERENCES add_ons (code) ON DELETE CASCADE, -- what needs it
    group_no INTEGER NOT NULL CHECK (group_no >= 0), -- one member of every group must be met
    position INTEGER NOT NULL CHECK (position >= 0), -- within the group
    member   TEXT    NOT NULL CHECK (member <> ''), -- code of an add-on, or else a tag
    PRIMARY KEY (add_on, group_no, position)
) STRICT, WITHOUT ROWID;

CREATE TABLE add_on_excludes (
    add_on   TEXT    NOT NULL REFERENCES add_ons (code) ON DELETE CASCADE, -- what excludes
    position INTEGER NOT NULL CHECK (position >= 0), -- in the document
    excluded TEXT    NOT NULL REFERENCES add_ons (code), -- what is never fitted beside it
    PRIMARY KEY (add_on, position)
) STRICT, WITHOUT ROWID;
CREATE INDEX add_on_excludes_by_excluded ON add_on_excludes (excluded);

CREATE TABLE add_on_provides (
    add_on   TEXT    NOT NULL REFERENCES add_ons (code) ON DELETE CASCADE, -- what provides it
    position INTEGER NOT NULL CHECK (position >= 0), -- in the document
    tag      TEXT    NOT NULL CHECK (tag <> ''), -- a word that needs may name
    PRIMARY KEY (add_on, position)
) STRICT, WITHOUT ROWID;

CREATE TABLE add_on_places (
    add_on         TEXT    NOT NULL REFERENCES add_ons (code) ON DELETE CASCADE, -- whose place it is
    position       INTEGER NOT NULL CHECK (position >= 0), -- in the document
    kind           TEXT    NOT NULL CHECK (kind IN ('harnessed', 'belted', 'bench')), -- how the passenger is held
    min_months     INTEGER NOT NULL CHECK (min_months >= 0), -- months of age; 0: not stated
    max_months     INTEGER NOT NULL CHECK (max_months >= 0), -- months of age; 0: not stated
    min_g          INTEGER NOT NULL CHECK (min_g >= 0), -- grams of passenger; 0: not stated
    max_g          INTEGER NOT NULL CHECK (max_g >= 0), -- grams of passenger; 0: not stated
    max_stature_mm INTEGER NOT NULL CHECK (max_stature_mm >= 0), -- millimetres; 0: not stated
    ahead_mm       INTEGER NOT NULL, -- millimetres ahead of the rear axle, negative behind it; 0: where the zone is
    height_mm      INTEGER NOT NULL CHECK (height_mm >= 0), -- millimetres above the ground; 0: where the zone is
    PRIMARY KEY (add_on, position)
) STRICT, WITHOUT ROWID;

CREATE TABLE add_on_place_needs (
    add_on   TEXT    NOT NULL, -- whose place it is
    place    INTEGER NOT NULL, -- position of the place
    group_no INTEGER NOT NULL CHECK (group_no >= 0), -- one member of every group must be met
    position INTEGER NOT NULL CHECK (position >= 0), -- within the group
    member   TEXT    NOT NULL CHECK (member <> ''), -- code of an add-on, or else a tag
    PRIMARY KEY (add_on, place, group_no, position),
    FOREIGN KEY (add_on, place) REFERENCES add_on_places (add_on, position) ON DELETE CASCADE
) STRICT, WITHOUT ROWID;

-- What differs when an add-on is fitted to one certain frame. NULL leaves the
-- add-on's own figure.
CREATE TABLE add_on_pairs (
    add_on            TEXT    NOT NULL REFERENCES add_ons (code) ON DELETE CASCADE, -- what is fitted
    frame             TEXT    NOT NULL REFERENCES frames (code), -- what it is fitted to
    fitting_minutes   INTEGER CHECK (fitting_minutes >= 0), -- minutes to fit it, or to take it off
    max_load_g        INTEGER CHECK (max_load_g >= 0), -- grams over all that it carries; 0: not stated
    front_overhang_mm INTEGER CHECK (front_overhang_mm >= 0), -- millimetres ahead of the bare frame
    rear_overhang_mm  INTEGER CHECK (rear_overhang_mm >= 0), -- millimetres behind the bare frame
    overall_width_mm  INTEGER CHECK (overall_width_mm >= 0), -- millimetres of the whole bike with it; 0: no wider
    overall_height_mm INTEGER CHECK (overall_height_mm >= 0), -- millimetres of the whole bike with it; 0: no higher
    blocks_upright    INTEGER CHECK (blocks_upright IN (0, 1)), -- 1: the bike cannot stand on its tail with it
    note              TEXT    NOT NULL, -- free text
    PRIMARY KEY (add_on, frame)
) STRICT, WITHOUT ROWID;
CREATE INDEX add_on_pairs_by_frame ON add_on_pairs (frame);

CREATE TABLE units (
    tag         TEXT    PRIMARY KEY NOT NULL CHECK (tag <> ''), -- unique in the shop, on the bike itself
    position    INTEGER NOT NULL UNIQUE CHECK (position >= 0), -- in the document
    frame       TEXT    NOT NULL REFERENCES frames (code), -- which model it is
    kind        TEXT    NOT NULL CHECK (kind IN ('demo', 'stock')), -- to ride, or to take home
    colour      TEXT    NOT NULL, -- free text
    status      TEXT    NOT NULL CHECK (status IN ('available', 'on_test_ride', 'reserved', 'sold')), -- where it is now
    weighed_g   INTEGER NOT NULL CHECK (weighed_g >= 0), -- grams on the shop's scale as it stands; 0: not weighed
    weighed_on  TEXT    NOT NULL, -- day 2006-01-02 or month 2006-01; empty: not weighed
    odometer_km INTEGER NOT NULL CHECK (odometer_km >= 0), -- kilometres
    CONSTRAINT weighed_on_a_day_or_month CHECK (CASE length(weighed_on)
        WHEN 0 THEN TRUE
        WHEN 7 THEN weighed_on || '-01' IS strftime('%Y-%m-%d', weighed_on || '-01')
        WHEN 10 THEN weighed_on IS strftime('%Y-%m-%d', weighed_on)
        ELSE FALSE END)
) STRICT;
CREATE INDEX units_by_frame ON units (frame);

CREATE TABLE unit_fitted (
    unit     TEXT    NOT NULL REFERENCES units (tag) ON DELETE CASCADE, -- what it is fitted to
    position INTEGER NOT NULL CHECK (position >= 0), -- in the document
    add_on   TEXT    NOT NULL REFERENCES add_ons (code), -- what is fitted; twice where two are
    PRIMARY KEY (unit, position)
) STRICT, WITHOUT ROWID;
CREATE INDEX unit_fitted_by_add_on ON unit_fitted (add_on);

-- +goose Down

DROP TABLE unit_fitted;
DROP TABLE units;
DROP TABLE add_on_pairs;
DROP TABLE add_on_place_needs;
DROP TABLE add_on_places;
DROP TABLE add_on_provides;
DROP TABLE add_on_excludes;
DROP TABLE add_on_needs;
DROP TABLE add_on_uses;
DROP TABLE add_on_fits;
DROP TABLE frame_teeth;
DROP TABLE frame_comes_with;
DROP TABLE frame_provides;
DROP TABLE frame_place_needs;
DROP TABLE frame_places;
DROP TABLE frame_mounts;
DROP TABLE frame_combined_zones;
DROP TABLE frame_combined;
DROP TABLE frame_zones;
DROP TABLE frames;
DROP TABLE add_ons;
DROP TABLE shop;
DROP TABLE shop_state;
