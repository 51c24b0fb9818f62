-- Five more constructions and four more purposes: SQLite changes the check of a
-- column only by making the table anew. A ribbon that was taken for a tape becomes
-- what its label says, and socks and dishcloths are only read so from now on: the
-- word that was typed for them is not kept.

CREATE TABLE facts_then (
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
  construction TEXT CHECK (construction = 'plied' OR construction = 'cabled' OR construction = 'single' OR construction = 'chainette' OR construction = 'blown' OR construction = 'brushed' OR construction = 'boucle' OR construction = 'slub' OR construction = 'tape' OR construction = 'roving' OR construction = 'ribbon' OR construction = 'chenille' OR construction = 'velvet' OR construction = 'eyelash'),
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

INSERT INTO facts_then (id, length_text, length_m, mass_text, mass_g, count_text, count_single, count_plies, count_system, class_text, classes, blend_text, blend, construction_text, construction, plies, gauge_text, gauge_stitches_low, gauge_stitches_high, gauge_rows_low, gauge_rows_high, gauge_over_m, gauge_stockinette, gauge_stitch, gauge_worked, gauge_washed, gauge_strands, needle_text, needle_low_mm, needle_high_mm, care_text, care, price_text, price_amount, price_currency, price_per, price_per_quantity, grist)
  SELECT id, length_text, length_m, mass_text, mass_g, count_text, count_single, count_plies, count_system, class_text, classes, blend_text, blend, construction_text, CASE WHEN construction = 'tape' AND lower(construction_text) LIKE '%ribbon%' THEN 'ribbon' ELSE construction END, plies, gauge_text, gauge_stitches_low, gauge_stitches_high, gauge_rows_low, gauge_rows_high, gauge_over_m, gauge_stockinette, gauge_stitch, gauge_worked, gauge_washed, gauge_strands, needle_text, needle_low_mm, needle_high_mm, care_text, care, price_text, price_amount, price_currency, price_per, price_per_quantity, grist FROM facts ORDER BY id;

-- Ids are never used again, those of removed rows neither.
DELETE FROM sqlite_sequence WHERE name = 'facts_then';
INSERT INTO sqlite_sequence (name, seq) SELECT 'facts_then', seq FROM sqlite_sequence WHERE name = 'facts';

DROP TABLE facts;

ALTER TABLE facts_then RENAME TO facts;

CREATE INDEX facts_by_grist ON facts (
  grist,
  gauge_stitches_low, gauge_stitches_high, gauge_over_m, gauge_stockinette, gauge_stitch, gauge_strands,
  classes, construction, blend, care
);

-- By how wide the gauge is: one number, up to 1.1 and up to 1.25 times its lower
-- end, and any other or of several strands; then by the lower end, stitches over
-- 10 cm. So a range around what is wanted holds nearly all gauges that meet it.
CREATE INDEX facts_by_gauge ON facts (
  CASE WHEN coalesce(gauge_strands, 1) <> 1 THEN 3
       WHEN gauge_stitches_high <= gauge_stitches_low THEN 0
       WHEN gauge_stitches_high <= gauge_stitches_low * 1.1 THEN 1
       WHEN gauge_stitches_high <= gauge_stitches_low * 1.25 THEN 2
       ELSE 3 END,
  gauge_stitches_low * 0.1 / coalesce(gauge_over_m, 0.1),
  gauge_stitches_low, gauge_stitches_high, gauge_over_m, gauge_stockinette, gauge_stitch, gauge_strands,
  grist, classes, construction, blend, care
) WHERE gauge_stitches_low IS NOT NULL;

-- So that it is known at once whether any yarn has no blend.
CREATE INDEX facts_without_blend ON facts (id) WHERE blend IS NULL;

CREATE TABLE pattern_then (
  id INTEGER PRIMARY KEY AUTOINCREMENT,
  version INTEGER NOT NULL DEFAULT 1 CHECK (version >= 1),
  name TEXT NOT NULL CHECK (name <> ''),
  purpose TEXT NOT NULL CHECK (purpose = 'garment' OR purpose = 'accessory' OR purpose = 'home' OR purpose = 'hot pad' OR purpose = 'child''s garment' OR purpose = 'child''s nightwear' OR purpose = 'baby' OR purpose = 'socks' OR purpose = 'felted' OR purpose = 'dishcloth' OR purpose = 'toy'),
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

INSERT INTO pattern_then (id, version, name, purpose, fit, gauge_text, gauge_stitches_low, gauge_stitches_high, gauge_rows_low, gauge_rows_high, gauge_over_m, gauge_stockinette, gauge_stitch, gauge_worked, gauge_washed, gauge_strands, multiple_text, multiple_stitches, multiple_plus, care_text, care, tolerance_text, tolerance_kind, tolerance, margin_included, notes, name_key)
  SELECT id, version, name, purpose, fit, gauge_text, gauge_stitches_low, gauge_stitches_high, gauge_rows_low, gauge_rows_high, gauge_over_m, gauge_stockinette, gauge_stitch, gauge_worked, gauge_washed, gauge_strands, multiple_text, multiple_stitches, multiple_plus, care_text, care, tolerance_text, tolerance_kind, tolerance, margin_included, notes, name_key FROM pattern ORDER BY id;

-- Ids are never used again, those of removed rows neither.
DELETE FROM sqlite_sequence WHERE name = 'pattern_then';
INSERT INTO sqlite_sequence (name, seq) SELECT 'pattern_then', seq FROM sqlite_sequence WHERE name = 'pattern';

DROP TABLE pattern;

ALTER TABLE pattern_then RENAME TO pattern;
