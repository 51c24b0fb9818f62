-- Every change of yarns, stock, swatches and patterns is written down with what was
-- there before, so that it can be taken back. One change is what was kept at one time:
-- one record, or all rows of a table that was imported. The ledger of stock is only
-- ever added to: a line that was taken back is followed by one that says so.

CREATE TABLE change (
  id INTEGER PRIMARY KEY AUTOINCREMENT,
  at TEXT,
  undone_at TEXT
) STRICT;

-- One record of a change, or the yarns from `record` to `last` that were added together.
-- `yarn` is the one that a lot or a swatch is of, `line` the line that was added to the
-- ledger of a lot. `before` is the record as it was, `after` as it was when its being
-- added was taken back; both by table and column.
CREATE TABLE change_step (
  change INTEGER NOT NULL REFERENCES change (id) ON DELETE CASCADE,
  place INTEGER NOT NULL,
  kind TEXT NOT NULL CHECK (kind = 'yarn' OR kind = 'lot' OR kind = 'swatch' OR kind = 'pattern'),
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

CREATE INDEX change_step_by_record ON change_step (kind, record);

CREATE INDEX change_step_by_yarn ON change_step (yarn) WHERE yarn IS NOT NULL;

-- A line that takes the one before it back is a kind of its own: SQLite changes the
-- check of a column only by making the table anew.

CREATE TABLE stock_entry_then (
  id INTEGER PRIMARY KEY AUTOINCREMENT,
  lot INTEGER NOT NULL REFERENCES stock_lot (id) ON DELETE RESTRICT,
  kind TEXT NOT NULL CHECK (kind = 'bought' OR kind = 'used' OR kind = 'weighed' OR kind = 'reserved' OR kind = 'released' OR kind = 'undone'),
  amount_text TEXT NOT NULL,
  milliskeins INTEGER NOT NULL CHECK (milliskeins BETWEEN 0 AND 1000000000000),
  milligrams INTEGER NOT NULL CHECK (milligrams BETWEEN 0 AND 1000000000000),
  on_day TEXT NOT NULL,
  notes TEXT NOT NULL,
  seal INTEGER,
  CONSTRAINT a_day_is_written_as_year_month_day CHECK (on_day GLOB '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]')
) STRICT;

INSERT INTO stock_entry_then (id, lot, kind, amount_text, milliskeins, milligrams, on_day, notes, seal)
  SELECT id, lot, kind, amount_text, milliskeins, milligrams, on_day, notes, seal FROM stock_entry ORDER BY id;

DROP TABLE stock_entry;

ALTER TABLE stock_entry_then RENAME TO stock_entry;

CREATE INDEX stock_entry_by_lot ON stock_entry (lot, id);

CREATE TRIGGER stock_entry_is_never_changed BEFORE UPDATE ON stock_entry
WHEN old.seal IS NOT NULL OR new.seal IS NULL
BEGIN SELECT RAISE(ABORT, 'a line of the stock ledger is never changed; add a new one'); END;

-- But for the ledger of a lot that was added and taken back: it is kept in `after`.
CREATE TRIGGER stock_entry_is_never_removed BEFORE DELETE ON stock_entry
WHEN NOT EXISTS (
  SELECT 1 FROM change_step JOIN change ON change.id = change_step.change
  WHERE kind = 'lot' AND record = old.lot AND action = 'added'
  AND after IS NOT NULL AND undone_at IS NOT NULL)
BEGIN SELECT RAISE(ABORT, 'a line of the stock ledger is never removed; add a new one'); END;
