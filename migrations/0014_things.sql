-- The catalogue as one row for each thing: its document, as it is exported, and
-- beside it what is no part of that. What the database is asked for is read
-- out of the document. Everything else about a thing is known by its document
-- alone, so that a new fact needs no migration.

-- +goose Up

CREATE TABLE things (
    id         INTEGER PRIMARY KEY, -- runs on
    list       TEXT    NOT NULL CHECK (list IN ('shop', 'frames', 'add_ons', 'units')), -- of the document
    code       TEXT    NOT NULL CHECK ((code = '') = (list = 'shop')), -- of the frame or add-on, the tag of the unit; empty for the shop
    position   INTEGER NOT NULL, -- order within the list; there may be gaps
    revision   INTEGER NOT NULL CHECK (revision >= 0), -- of the catalogue that came with its last change
    retired    INTEGER, -- milliseconds since 1970-01-01 UTC since when it is no longer offered; NULL: it is
    document   TEXT    NOT NULL CHECK (json_valid(document) AND json_type(document) = 'object'), -- JSON, as in the catalogue document
    frame_list TEXT    GENERATED ALWAYS AS (iif(list = 'units', 'frames', NULL)) VIRTUAL, -- where the frame of a unit is; NULL beside units
    frame      TEXT    CHECK (frame IS iif(list = 'units', document ->> '$.frame', NULL)), -- code of the frame of a unit; NULL beside units. Not generated: then every change of a document would be one of a reference, for which SQLite moves the row
    status     TEXT    GENERATED ALWAYS AS (document ->> '$.status') VIRTUAL CHECK (list <> 'units' OR status IS NOT NULL AND status IN ('available', 'on_test_ride', 'reserved', 'sold')), -- where a unit is now
    rider_min  REAL    GENERATED ALWAYS AS (document ->> '$.rider_min_cm') VIRTUAL, -- centimetres, the shortest rider of a frame
    rider_max  REAL    GENERATED ALWAYS AS (document ->> '$.rider_max_cm') VIRTUAL, -- centimetres, the tallest rider of a frame
    gross      REAL    GENERATED ALWAYS AS (document ->> '$.gross_rating_kg') VIRTUAL CHECK (list <> 'frames' OR gross > 0), -- kilograms, the gross rating of a frame
    weighed_on TEXT    GENERATED ALWAYS AS (iif(list = 'units', document ->> '$.weighed_on', '')) VIRTUAL, -- day 2006-01-02 or month 2006-01 of a unit; empty: not weighed
    CONSTRAINT weighed_on_a_day_or_month CHECK (CASE length(weighed_on)
        WHEN 0 THEN TRUE
        WHEN 7 THEN weighed_on || '-01' IS strftime('%Y-%m-%d', weighed_on || '-01')
        WHEN 10 THEN weighed_on IS strftime('%Y-%m-%d', weighed_on)
        ELSE FALSE END),
    CHECK (code = coalesce(document ->> '$.code', document ->> '$.tag', '')),
    UNIQUE (list, code),
    FOREIGN KEY (frame_list, frame) REFERENCES things (list, code) DEFERRABLE INITIALLY DEFERRED
) STRICT;
CREATE INDEX things_by_position ON things (list, position);
CREATE INDEX things_by_frame ON things (frame_list, frame) WHERE frame_list IS NOT NULL;
CREATE INDEX things_by_status ON things (status) WHERE list = 'units';
CREATE INDEX things_by_rider ON things (rider_min, rider_max, gross) WHERE list = 'frames';

INSERT INTO things (list, code, position, revision, retired, document)
SELECT 'shop', '', 0, revision, NULL, json_object(
        'name', name,
        'currency', currency,
        'labour_cents_per_hour', labour_cents_per_hour,
        'tax_percent', json(printf('%d.%02d', tax_share / 100, tax_share % 100)),
        'prices_include_tax', json(iif(prices_include_tax, 'true', 'false')))
    FROM shop, shop_state;

INSERT INTO things (list, code, position, revision, retired, document)
SELECT 'add_ons', code, position, revision, (SELECT at FROM retired WHERE list = 'add_ons' AND code = add_ons.code), json_object(
        'code', code,
        'name', name,
        'weight_kg', json(printf('%d.%03d', weight_g / 1000, weight_g % 1000)),
        'price_cents', price_cents,
        'fitting_minutes', fitting_minutes,
        'fits', json((SELECT json_group_array(frame ORDER BY position) FROM add_on_fits WHERE add_on = add_ons.code)),
        'uses', json((SELECT json_group_array(json_object('mount', p.mount, 'count', p.amount) ORDER BY p.position) FROM add_on_uses AS p WHERE p.add_on = add_ons.code)),
        'needs', json((SELECT json_group_array(json(members) ORDER BY group_no) FROM (
            SELECT group_no, json_group_array(member ORDER BY position) AS members FROM add_on_needs WHERE add_on = add_ons.code GROUP BY group_no))),
        'excludes', json((SELECT json_group_array(excluded ORDER BY position) FROM add_on_excludes WHERE add_on = add_ons.code)),
        'provides', json((SELECT json_group_array(tag ORDER BY position) FROM add_on_provides WHERE add_on = add_ons.code)),
        'zone', zone,
        'max_load_kg', json(printf('%d.%03d', max_load_g / 1000, max_load_g % 1000)),
        'cargo_kg', json(printf('%d.%03d', cargo_g / 1000, cargo_g % 1000)),
        'cargo_litres', json(printf('%d.%03d', cargo_ml / 1000, cargo_ml % 1000)),
        'pet_kg', json(printf('%d.%03d', pet_g / 1000, pet_g % 1000)),
        'up_to', up_to,
        'places', json((SELECT json_group_array(json_object('kind', p.kind, 'min_months', p.min_months, 'max_months', p.max_months, 'min_kg', json(printf('%d.%03d', p.min_g / 1000, p.min_g % 1000)), 'max_kg', json(printf('%d.%03d', p.max_g / 1000, p.max_g % 1000)), 'max_stature_cm', json(printf('%d.%d', p.max_stature_mm / 10, p.max_stature_mm % 10)), 'needs', json((SELECT json_group_array(json(members) ORDER BY group_no) FROM (
            SELECT group_no, json_group_array(member ORDER BY position) AS members FROM add_on_place_needs WHERE add_on = p.add_on AND place = p.position GROUP BY group_no))), 'ahead_of_rear_axle_cm', json(printf('%s%d.%d', iif(p.ahead_mm < 0, '-', ''), abs(p.ahead_mm) / 10, abs(p.ahead_mm) % 10)), 'height_cm', json(printf('%d.%d', p.height_mm / 10, p.height_mm % 10))) ORDER BY p.position) FROM add_on_places AS p WHERE p.add_on = add_ons.code)),
        'front_overhang_cm', json(printf('%d.%d', front_overhang_mm / 10, front_overhang_mm % 10)),
        'rear_overhang_cm', json(printf('%d.%d', rear_overhang_mm / 10, rear_overhang_mm % 10)),
        'overall_width_cm', json(printf('%d.%d', overall_width_mm / 10, overall_width_mm % 10)),
        'overall_height_cm', json(printf('%d.%d', overall_height_mm / 10, overall_height_mm % 10)),
        'blocks_upright', json(iif(blocks_upright, 'true', 'false')),
        'removable_seconds', removable_seconds,
        'on_frame', json((SELECT json_group_object(frame, json_object('fitting_minutes', fitting_minutes, 'max_load_kg', json(iif(max_load_g IS NULL, 'null', printf('%d.%03d', max_load_g / 1000, max_load_g % 1000))), 'front_overhang_cm', json(iif(front_overhang_mm IS NULL, 'null', printf('%d.%d', front_overhang_mm / 10, front_overhang_mm % 10))), 'rear_overhang_cm', json(iif(rear_overhang_mm IS NULL, 'null', printf('%d.%d', rear_overhang_mm / 10, rear_overhang_mm % 10))), 'overall_width_cm', json(iif(overall_width_mm IS NULL, 'null', printf('%d.%d', overall_width_mm / 10, overall_width_mm % 10))), 'overall_height_cm', json(iif(overall_height_mm IS NULL, 'null', printf('%d.%d', overall_height_mm / 10, overall_height_mm % 10))), 'blocks_upright', json(iif(blocks_upright IS NULL, 'null', iif(blocks_upright, 'true', 'false'))), 'note', note)) FROM add_on_pairs WHERE add_on = add_ons.code)))
    FROM add_ons, shop_state;

INSERT INTO things (list, code, position, revision, retired, document)
SELECT 'frames', code, position, revision, (SELECT at FROM retired WHERE list = 'frames' AND code = frames.code), json_object(
        'code', code,
        'name', name,
        'family', family,
        'type', type,
        'material', material,
        'size', size,
        'gross_rating_kg', json(printf('%d.%03d', gross_rating_g / 1000, gross_rating_g % 1000)),
        'bare_weight_kg', json(printf('%d.%03d', bare_weight_g / 1000, bare_weight_g % 1000)),
        'rider_min_cm', json(printf('%d.%d', rider_min_mm / 10, rider_min_mm % 10)),
        'rider_max_cm', json(printf('%d.%d', rider_max_mm / 10, rider_max_mm % 10)),
        'rider_max_kg', json(printf('%d.%03d', rider_max_g / 1000, rider_max_g % 1000)),
        'passengers_max', passengers_max,
        'standover_cm', json(printf('%d.%d', standover_mm / 10, standover_mm % 10)),
        'saddle_min_cm', json(printf('%d.%d', saddle_min_mm / 10, saddle_min_mm % 10)),
        'saddle_max_cm', json(printf('%d.%d', saddle_max_mm / 10, saddle_max_mm % 10)),
        'price_cents', price_cents,
        'length_cm', json(printf('%d.%d', length_mm / 10, length_mm % 10)),
        'width_cm', json(printf('%d.%d', width_mm / 10, width_mm % 10)),
        'height_cm', json(printf('%d.%d', height_mm / 10, height_mm % 10)),
        'upright', json_object('length_cm', json(printf('%d.%d', upright_length_mm / 10, upright_length_mm % 10)), 'width_cm', json(printf('%d.%d', upright_width_mm / 10, upright_width_mm % 10)), 'height_cm', json(printf('%d.%d', upright_height_mm / 10, upright_height_mm % 10))),
        'wheelbase_cm', json(printf('%d.%d', wheelbase_mm / 10, wheelbase_mm % 10)),
        'rider_ahead_of_rear_axle_cm', json(printf('%s%d.%d', iif(rider_ahead_mm < 0, '-', ''), abs(rider_ahead_mm) / 10, abs(rider_ahead_mm) % 10)),
        'bare_front_share', json(printf('%d.%04d', bare_front_share / 10000, bare_front_share % 10000)),
        'front_axle_max_kg', json(printf('%d.%03d', front_axle_g / 1000, front_axle_g % 1000)),
        'rear_axle_max_kg', json(printf('%d.%03d', rear_axle_g / 1000, rear_axle_g % 1000)),
        'front_tyre', front_tyre,
        'rear_tyre', rear_tyre,
        'odd_wheel', json(iif(odd_wheel, 'true', 'false')),
        'front_brake', front_brake,
        'rear_brake', rear_brake,
        'chainring', json((SELECT json_group_array(teeth ORDER BY position) FROM frame_teeth WHERE frame = frames.code AND wheel = 'chainring')),
        'sprockets', json((SELECT json_group_array(teeth ORDER BY position) FROM frame_teeth WHERE frame = frames.code AND wheel = 'sprocket')),
        'assist_watts', assist_watts,
        'zones', json((SELECT json_group_array(json_object('code', p.code, 'rating_kg', json(printf('%d.%03d', p.rating_g / 1000, p.rating_g % 1000)), 'ahead_of_rear_axle_cm', json(printf('%s%d.%d', iif(p.ahead_mm < 0, '-', ''), abs(p.ahead_mm) / 10, abs(p.ahead_mm) % 10)), 'height_cm', json(printf('%d.%d', p.height_mm / 10, p.height_mm % 10)), 'steered', json(iif(p.steered, 'true', 'false')), 'side', p.side, 'cargo_kg', json(printf('%d.%03d', p.cargo_g / 1000, p.cargo_g % 1000)), 'cargo_litres', json(printf('%d.%03d', p.cargo_ml / 1000, p.cargo_ml % 1000))) ORDER BY p.position) FROM frame_zones AS p WHERE p.frame = frames.code)),
        'combined', json((SELECT json_group_array(json_object('zones', json((SELECT json_group_array(zone ORDER BY position) FROM frame_combined_zones WHERE frame = p.frame AND combined = p.position)), 'rating_kg', json(printf('%d.%03d', p.rating_g / 1000, p.rating_g % 1000))) ORDER BY p.position) FROM frame_combined AS p WHERE p.frame = frames.code)),
        'mounts', json((SELECT json_group_array(json_object('code', p.code, 'capacity', p.capacity) ORDER BY p.position) FROM frame_mounts AS p WHERE p.frame = frames.code)),
        'places', json((SELECT json_group_array(json_object('zone', p.zone, 'kind', p.kind, 'min_months', p.min_months, 'max_months', p.max_months, 'min_kg', json(printf('%d.%03d', p.min_g / 1000, p.min_g % 1000)), 'max_kg', json(printf('%d.%03d', p.max_g / 1000, p.max_g % 1000)), 'max_stature_cm', json(printf('%d.%d', p.max_stature_mm / 10, p.max_stature_mm % 10)), 'needs', json((SELECT json_group_array(json(members) ORDER BY group_no) FROM (
            SELECT group_no, json_group_array(member ORDER BY position) AS members FROM frame_place_needs WHERE frame = p.frame AND place = p.position GROUP BY group_no))), 'ahead_of_rear_axle_cm', json(printf('%s%d.%d', iif(p.ahead_mm < 0, '-', ''), abs(p.ahead_mm) / 10, abs(p.ahead_mm) % 10)), 'height_cm', json(printf('%d.%d', p.height_mm / 10, p.height_mm % 10))) ORDER BY p.position) FROM frame_places AS p WHERE p.frame = frames.code)),
        'provides', json((SELECT json_group_array(tag ORDER BY position) FROM frame_provides WHERE frame = frames.code)),
        'comes_with', json((SELECT json_group_array(add_on ORDER BY position) FROM frame_comes_with WHERE frame = frames.code)),
        'notes', notes)
    FROM frames, shop_state;

INSERT INTO things (list, frame, code, position, revision, retired, document)
SELECT 'units', frame, tag, position, revision, (SELECT at FROM retired WHERE list = 'units' AND code = units.tag), json_object(
        'tag', tag,
        'frame', frame,
        'kind', kind,
        'colour', colour,
        'fitted', json((SELECT json_group_array(add_on ORDER BY position) FROM unit_fitted WHERE unit = units.tag)),
        'status', status,
        'weighed_kg', json(printf('%d.%03d', weighed_g / 1000, weighed_g % 1000)),
        'weighed_on', weighed_on,
        'odometer_km', odometer_km)
    FROM units, shop_state;

DROP TABLE retired;
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

-- +goose Down

-- The tables of before, empty: what they held is in the documents alone, and an
-- export brings it over.
DROP TABLE things;

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

CREATE TABLE retired (
    list TEXT    NOT NULL CHECK (list IN ('frames', 'add_ons', 'units')), -- of the catalogue
    code TEXT    NOT NULL CHECK (code <> ''), -- of the frame or add-on, the tag of the unit
    at   INTEGER NOT NULL, -- milliseconds since 1970-01-01 UTC
    PRIMARY KEY (list, code)
) STRICT, WITHOUT ROWID;
