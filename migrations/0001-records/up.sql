-- Records of yarns, stock, swatches and patterns.
-- A text column ending in _text is what was printed or typed; the columns
-- after it are its meaning. Columns ending in _key hold the folded name that
-- decides whether two names are the same.
-- Checks say `a OR b OR c` where `IN (a, b, c)` would do, since SQLite builds a
-- table of such a list for every row that is written.

CREATE TABLE blend (
  id INTEGER PRIMARY KEY,
  parts TEXT NOT NULL UNIQUE CHECK (json_valid(parts) AND json_array_length(parts) > 0)
) STRICT;

-- What is known of a yarn. A yarn, or a yarn role of a pattern, has the id of
-- its facts. Ids are never used again.
CREATE TABLE facts (
  id INTEGER PRIMARY KEY AUTOINCREMENT,
  length_text TEXT,
  length_m REAL CHECK (length_m BETWEEN 0 AND 1e9),
  mass_text TEXT,
  mass_g REAL CHECK (mass_g BETWEEN 0 AND 1e9),
  count_text TEXT,
  count_single REAL CHECK (count_single > 0),
  count_plies INTEGER CHECK (count_plies BETWEEN 1 AND 255),
  count_system TEXT CHECK (count_system = 'tex' OR count_system = 'dtex' OR count_system = 'den' OR count_system = 'Nm' OR count_system = 'Ne' OR count_system = 'NeK' OR count_system = 'run' OR count_system = 'cut' OR count_system = 'lea' OR count_system = 'YSW'),
  class_text TEXT,
  classes INTEGER CHECK (classes BETWEEN 1 AND 255), -- bit n: class n is possible
  blend_text TEXT,
  blend INTEGER REFERENCES blend (id),
  construction_text TEXT,
  construction TEXT CHECK (construction = 'plied' OR construction = 'cabled' OR construction = 'single' OR construction = 'chainette' OR construction = 'blown' OR construction = 'brushed' OR construction = 'boucle' OR construction = 'slub' OR construction = 'tape'),
  plies INTEGER CHECK (plies BETWEEN 1 AND 255),
  gauge_text TEXT,
  gauge_stitches_low REAL CHECK (gauge_stitches_low BETWEEN 0.1 AND gauge_stitches_high),
  gauge_stitches_high REAL CHECK (gauge_stitches_high <= 1000),
  gauge_rows_low REAL CHECK (gauge_rows_low BETWEEN 0.1 AND gauge_rows_high),
  gauge_rows_high REAL CHECK (gauge_rows_high <= 1000),
  gauge_over_m REAL CHECK (gauge_over_m BETWEEN 0.0001 AND 10),
  gauge_stockinette INTEGER CHECK (gauge_stockinette IN (0, 1)),
  gauge_stitch TEXT,
  gauge_worked TEXT CHECK (gauge_worked IN ('flat', 'in the round')),
  gauge_washed INTEGER CHECK (gauge_washed IN (0, 1)),
  gauge_strands INTEGER CHECK (gauge_strands BETWEEN 1 AND 255),
  needle_text TEXT,
  needle_low_mm REAL CHECK (needle_low_mm BETWEEN 0.5 AND needle_high_mm),
  needle_high_mm REAL CHECK (needle_high_mm <= 60),
  care_text TEXT,
  care TEXT CHECK (care = 'machine wash' OR care = 'hand wash' OR care = 'dry clean'),
  price_text TEXT,
  price_amount TEXT CHECK (price_amount GLOB '[-0-9]*'),
  price_currency TEXT CHECK (price_currency GLOB '[A-Z][A-Z][A-Z]'),
  price_per TEXT CHECK (price_per = 'skein' OR price_per = 'mass' OR price_per = 'length'),
  price_per_quantity REAL CHECK (price_per_quantity BETWEEN 0 AND 1e9), -- g or m
  grist REAL CHECK (grist BETWEEN 1e-4 AND 1e4), -- m/g, from put-up or count
  CHECK ((length_text IS NULL) = (length_m IS NULL)),
  CHECK ((mass_text IS NULL) = (mass_g IS NULL)),
  CHECK ((count_text IS NULL) = (count_single IS NULL) AND (count_text IS NULL) = (count_plies IS NULL) AND (count_text IS NULL) = (count_system IS NULL)),
  CHECK ((class_text IS NULL) = (classes IS NULL)),
  CHECK ((blend_text IS NULL) = (blend IS NULL)),
  CHECK ((construction_text IS NULL) = (construction IS NULL)),
  CHECK ((gauge_text IS NULL) = (gauge_stitches_low IS NULL) AND (gauge_text IS NULL) = (gauge_stitches_high IS NULL)),
  CHECK ((gauge_rows_low IS NULL) = (gauge_rows_high IS NULL)),
  CHECK ((gauge_stockinette IS 0) = (gauge_stitch IS NOT NULL)),
  CHECK ((needle_text IS NULL) = (needle_low_mm IS NULL) AND (needle_text IS NULL) = (needle_high_mm IS NULL)),
  CHECK ((care_text IS NULL) = (care IS NULL)),
  CHECK ((price_text IS NULL) = (price_amount IS NULL) AND (price_text IS NULL) = (price_currency IS NULL) AND (price_text IS NULL) = (price_per IS NULL)),
  CHECK (coalesce(price_per IN ('mass', 'length'), 0) = (price_per_quantity IS NOT NULL))
) STRICT;

-- Holds all that a search looks at before it reads a yarn, also of those
-- without a grist.
CREATE INDEX facts_by_grist ON facts (grist, classes, construction, blend);

CREATE TABLE yarn (
  id INTEGER PRIMARY KEY REFERENCES facts (id) ON DELETE CASCADE,
  version INTEGER NOT NULL DEFAULT 1 CHECK (version >= 1),
  maker TEXT NOT NULL CHECK (maker <> ''),
  name TEXT NOT NULL CHECK (name <> ''),
  gtin TEXT CHECK (gtin NOT GLOB '*[^0-9]*' AND (length(gtin) = 8 OR length(gtin) BETWEEN 12 AND 14)),
  discontinued INTEGER NOT NULL CHECK (discontinued IN (0, 1)),
  notes TEXT NOT NULL,
  maker_key TEXT NOT NULL CHECK (maker_key <> ''),
  name_key TEXT NOT NULL CHECK (name_key <> ''),
  UNIQUE (maker_key, name_key)
) STRICT;

-- An article number of 8, 12 or 13 digits is the same as with zeros before it.
CREATE INDEX yarn_by_gtin ON yarn (substr('000000' || gtin, -14)) WHERE gtin IS NOT NULL;

CREATE TABLE shade (
  yarn INTEGER NOT NULL REFERENCES yarn (id) ON DELETE CASCADE,
  place INTEGER NOT NULL CHECK (place >= 0),
  name TEXT NOT NULL,
  PRIMARY KEY (yarn, place)
) STRICT, WITHOUT ROWID;

CREATE TABLE stock_lot (
  id INTEGER PRIMARY KEY AUTOINCREMENT,
  version INTEGER NOT NULL DEFAULT 1 CHECK (version >= 1),
  yarn INTEGER NOT NULL REFERENCES yarn (id) ON DELETE RESTRICT,
  shade TEXT NOT NULL,
  lot TEXT,
  place TEXT NOT NULL,
  weighed_text TEXT,
  weighed_g REAL CHECK (weighed_g BETWEEN 0 AND 1e9),
  weighed_m REAL CHECK (weighed_m BETWEEN 0 AND 1e9),
  price_text TEXT,
  price_amount TEXT CHECK (price_amount GLOB '[-0-9]*'),
  price_currency TEXT CHECK (price_currency GLOB '[A-Z][A-Z][A-Z]'),
  price_per TEXT CHECK (price_per = 'skein' OR price_per = 'mass' OR price_per = 'length'),
  price_per_quantity REAL CHECK (price_per_quantity BETWEEN 0 AND 1e9),
  notes TEXT NOT NULL,
  shade_key TEXT NOT NULL,
  lot_key TEXT NOT NULL,
  place_key TEXT NOT NULL,
  UNIQUE (yarn, shade_key, lot_key, place_key),
  CHECK ((weighed_text IS NULL) = (weighed_g IS NULL)),
  CHECK ((price_text IS NULL) = (price_amount IS NULL) AND (price_text IS NULL) = (price_currency IS NULL) AND (price_text IS NULL) = (price_per IS NULL)),
  CHECK (coalesce(price_per IN ('mass', 'length'), 0) = (price_per_quantity IS NOT NULL))
) STRICT;

-- The ledger of a lot: lines are added in the order in which things happened.
CREATE TABLE stock_entry (
  id INTEGER PRIMARY KEY AUTOINCREMENT,
  lot INTEGER NOT NULL REFERENCES stock_lot (id) ON DELETE RESTRICT,
  kind TEXT NOT NULL CHECK (kind = 'bought' OR kind = 'used' OR kind = 'weighed' OR kind = 'reserved' OR kind = 'released'),
  amount_text TEXT NOT NULL,
  milliskeins INTEGER NOT NULL CHECK (milliskeins BETWEEN 0 AND 1000000000000),
  milligrams INTEGER NOT NULL CHECK (milligrams BETWEEN 0 AND 1000000000000),
  on_day TEXT NOT NULL,
  notes TEXT NOT NULL,
  CONSTRAINT a_day_is_written_as_year_month_day CHECK (on_day GLOB '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]')
) STRICT;

CREATE INDEX stock_entry_by_lot ON stock_entry (lot, id);

CREATE TRIGGER stock_entry_is_never_changed BEFORE UPDATE ON stock_entry
BEGIN SELECT RAISE(ABORT, 'a line of the stock ledger is never changed; add a new one'); END;

CREATE TRIGGER stock_entry_is_never_removed BEFORE DELETE ON stock_entry
BEGIN SELECT RAISE(ABORT, 'a line of the stock ledger is never removed; add a new one'); END;

CREATE TABLE swatch (
  id INTEGER PRIMARY KEY AUTOINCREMENT,
  version INTEGER NOT NULL DEFAULT 1 CHECK (version >= 1),
  yarn INTEGER NOT NULL REFERENCES yarn (id) ON DELETE RESTRICT,
  needle_mm REAL NOT NULL CHECK (needle_mm BETWEEN 0.5 AND 60),
  before_stitches_low REAL CHECK (before_stitches_low BETWEEN 0.1 AND before_stitches_high),
  before_stitches_high REAL CHECK (before_stitches_high <= 1000),
  before_rows_low REAL CHECK (before_rows_low BETWEEN 0.1 AND before_rows_high),
  before_rows_high REAL CHECK (before_rows_high <= 1000),
  before_over_m REAL CHECK (before_over_m BETWEEN 0.0001 AND 10),
  before_stockinette INTEGER CHECK (before_stockinette IN (0, 1)),
  before_stitch TEXT,
  before_worked TEXT CHECK (before_worked IN ('flat', 'in the round')),
  before_washed INTEGER CHECK (before_washed IN (0, 1)),
  before_strands INTEGER CHECK (before_strands BETWEEN 1 AND 255),
  after_stitches_low REAL CHECK (after_stitches_low BETWEEN 0.1 AND after_stitches_high),
  after_stitches_high REAL CHECK (after_stitches_high <= 1000),
  after_rows_low REAL CHECK (after_rows_low BETWEEN 0.1 AND after_rows_high),
  after_rows_high REAL CHECK (after_rows_high <= 1000),
  after_over_m REAL CHECK (after_over_m BETWEEN 0.0001 AND 10),
  measured_on TEXT NOT NULL,
  notes TEXT NOT NULL,
  CHECK ((before_stitches_low IS NULL) = (before_stitches_high IS NULL)),
  CHECK ((before_rows_low IS NULL) = (before_rows_high IS NULL)),
  CHECK ((before_stockinette IS 0) = (before_stitch IS NOT NULL)),
  CHECK ((after_stitches_low IS NULL) = (after_stitches_high IS NULL)),
  CHECK ((after_rows_low IS NULL) = (after_rows_high IS NULL)),
  CONSTRAINT a_day_is_written_as_year_month_day CHECK (measured_on = '' OR measured_on GLOB '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]')
) STRICT;

CREATE INDEX swatch_by_yarn ON swatch (yarn, id);

CREATE TABLE pattern (
  id INTEGER PRIMARY KEY AUTOINCREMENT,
  version INTEGER NOT NULL DEFAULT 1 CHECK (version >= 1),
  name TEXT NOT NULL CHECK (name <> ''),
  purpose TEXT NOT NULL CHECK (purpose = 'garment' OR purpose = 'accessory' OR purpose = 'home' OR purpose = 'hot pad' OR purpose = 'child''s garment' OR purpose = 'child''s nightwear' OR purpose = 'baby'),
  fit TEXT NOT NULL CHECK (fit = 'fitted' OR fit = 'relaxed' OR fit = 'unfitted'),
  gauge_text TEXT,
  gauge_stitches_low REAL CHECK (gauge_stitches_low BETWEEN 0.1 AND gauge_stitches_high),
  gauge_stitches_high REAL CHECK (gauge_stitches_high <= 1000),
  gauge_rows_low REAL CHECK (gauge_rows_low BETWEEN 0.1 AND gauge_rows_high),
  gauge_rows_high REAL CHECK (gauge_rows_high <= 1000),
  gauge_over_m REAL CHECK (gauge_over_m BETWEEN 0.0001 AND 10),
  gauge_stockinette INTEGER CHECK (gauge_stockinette IN (0, 1)),
  gauge_stitch TEXT,
  gauge_worked TEXT CHECK (gauge_worked IN ('flat', 'in the round')),
  gauge_washed INTEGER CHECK (gauge_washed IN (0, 1)),
  gauge_strands INTEGER CHECK (gauge_strands BETWEEN 1 AND 255),
  multiple_text TEXT,
  multiple_stitches INTEGER CHECK (multiple_stitches >= 1),
  multiple_plus INTEGER CHECK (multiple_plus >= 0),
  care_text TEXT,
  care TEXT CHECK (care = 'machine wash' OR care = 'hand wash' OR care = 'dry clean'),
  tolerance_text TEXT,
  tolerance_kind TEXT CHECK (tolerance_kind IN ('share', 'grist')),
  tolerance REAL CHECK (tolerance >= 0), -- a fraction of the grist, or m/g
  margin_included INTEGER CHECK (margin_included IN (0, 1)),
  notes TEXT NOT NULL,
  name_key TEXT NOT NULL UNIQUE CHECK (name_key <> ''),
  CHECK ((gauge_text IS NULL) = (gauge_stitches_low IS NULL) AND (gauge_text IS NULL) = (gauge_stitches_high IS NULL)),
  CHECK ((gauge_rows_low IS NULL) = (gauge_rows_high IS NULL)),
  CHECK ((gauge_stockinette IS 0) = (gauge_stitch IS NOT NULL)),
  CHECK ((multiple_text IS NULL) = (multiple_stitches IS NULL) AND (multiple_text IS NULL) = (multiple_plus IS NULL)),
  CHECK ((care_text IS NULL) = (care IS NULL)),
  CHECK ((tolerance_text IS NULL) = (tolerance_kind IS NULL) AND (tolerance_text IS NULL) = (tolerance IS NULL))
) STRICT;

CREATE TABLE pattern_size (
  pattern INTEGER NOT NULL REFERENCES pattern (id) ON DELETE CASCADE,
  place INTEGER NOT NULL CHECK (place >= 0),
  name TEXT NOT NULL CHECK (name <> ''),
  width_text TEXT,
  width_m REAL CHECK (width_m BETWEEN 0 AND 1e9),
  height_text TEXT,
  height_m REAL CHECK (height_m BETWEEN 0 AND 1e9),
  cast_on INTEGER CHECK (cast_on BETWEEN 0 AND 4294967295),
  row_count INTEGER CHECK (row_count BETWEEN 0 AND 4294967295),
  PRIMARY KEY (pattern, place),
  CHECK ((width_text IS NULL) = (width_m IS NULL)),
  CHECK ((height_text IS NULL) = (height_m IS NULL))
) STRICT, WITHOUT ROWID;

CREATE TABLE pattern_yarn (
  id INTEGER PRIMARY KEY REFERENCES facts (id) ON DELETE CASCADE,
  pattern INTEGER NOT NULL REFERENCES pattern (id) ON DELETE CASCADE,
  place INTEGER NOT NULL CHECK (place >= 0),
  key TEXT NOT NULL CHECK (key <> ''),
  called TEXT,
  strands INTEGER NOT NULL CHECK (strands BETWEEN 1 AND 255),
  UNIQUE (pattern, place)
) STRICT;

CREATE TABLE pattern_need (
  pattern_yarn INTEGER NOT NULL REFERENCES pattern_yarn (id) ON DELETE CASCADE,
  place INTEGER NOT NULL CHECK (place >= 0), -- of the size
  text TEXT NOT NULL,
  kind TEXT NOT NULL CHECK (kind = 'length' OR kind = 'skeins' OR kind = 'mass'),
  low REAL NOT NULL CHECK (low >= 0), -- m, skeins or g
  high REAL NOT NULL CHECK (high >= low),
  skein_m REAL CHECK (skein_m BETWEEN 0 AND 1e9),
  PRIMARY KEY (pattern_yarn, place),
  CHECK ((kind = 'skeins') = (skein_m IS NOT NULL))
) STRICT, WITHOUT ROWID;
