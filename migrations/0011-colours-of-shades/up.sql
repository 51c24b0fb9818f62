-- A shade of a yarn may have a colour. It stands once for all lots of the shade: red,
-- green and blue of sRGB as one number beside what was typed. Where it was taken away
-- again its row stays without one, so that a shade has the same number for good.

CREATE TABLE shade_colour (
  id INTEGER PRIMARY KEY AUTOINCREMENT,
  version INTEGER NOT NULL DEFAULT 1 CHECK (version >= 1),
  yarn INTEGER NOT NULL REFERENCES yarn (id) ON DELETE CASCADE,
  shade TEXT NOT NULL,
  shade_key TEXT NOT NULL,
  colour_text TEXT,
  colour INTEGER CHECK (colour BETWEEN 0 AND 16777215),
  UNIQUE (yarn, shade_key),
  CHECK ((colour_text IS NULL) = (colour IS NULL))
) STRICT;

-- A change of a colour is a step of its own kind: SQLite changes the check of a column
-- only by making the table anew, and a trigger looks into this one.

DROP TRIGGER stock_entry_is_never_removed;

CREATE TABLE change_step_then (
  change INTEGER NOT NULL REFERENCES change (id) ON DELETE CASCADE,
  place INTEGER NOT NULL,
  kind TEXT NOT NULL CHECK (kind = 'yarn' OR kind = 'lot' OR kind = 'shade' OR kind = 'swatch' OR kind = 'pattern'),
  action TEXT NOT NULL CHECK (action = 'added' OR action = 'changed' OR action = 'removed' OR action = 'entered'),
  record INTEGER NOT NULL,
  last INTEGER NOT NULL CHECK (last >= record),
  yarn INTEGER,
  line INTEGER,
  before TEXT CHECK (json_valid(before)),
  after TEXT CHECK (json_valid(after)),
  PRIMARY KEY (change, place),
  CHECK ((action = 'changed' OR action = 'removed') = (before IS NOT NULL)),
  CHECK ((action = 'entered') = (line IS NOT NULL))
) STRICT, WITHOUT ROWID;

INSERT INTO change_step_then (change, place, kind, action, record, last, yarn, line, before, after)
  SELECT change, place, kind, action, record, last, yarn, line, before, after FROM change_step ORDER BY change, place;

DROP TABLE change_step;

ALTER TABLE change_step_then RENAME TO change_step;

CREATE INDEX change_step_by_record ON change_step (kind, record);

CREATE INDEX change_step_by_yarn ON change_step (yarn) WHERE yarn IS NOT NULL;

CREATE TRIGGER stock_entry_is_never_removed BEFORE DELETE ON stock_entry
WHEN NOT EXISTS (
  SELECT 1 FROM change_step JOIN change ON change.id = change_step.change
  WHERE kind = 'lot' AND record = old.lot AND action = 'added'
  AND after IS NOT NULL AND undone_at IS NOT NULL)
BEGIN SELECT RAISE(ABORT, 'a line of the stock ledger is never removed; add a new one'); END;
