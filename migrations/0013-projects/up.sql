-- Projects: a pattern in a size that someone means to make, in the order in which they
-- matter. A pattern that is removed leaves its projects, which keep its name; so do
-- yarns and pins. What is wanted of the yarn stays as typed. A rank lies between those
-- of its neighbours, so that to move one project changes no other.

CREATE TABLE project (
  id INTEGER PRIMARY KEY AUTOINCREMENT,
  version INTEGER NOT NULL DEFAULT 1 CHECK (version >= 1),
  name TEXT NOT NULL CHECK (name <> ''),
  pattern INTEGER NOT NULL,
  pattern_name TEXT NOT NULL CHECK (pattern_name <> ''),
  size TEXT NOT NULL,
  rank REAL NOT NULL,
  without_fibres TEXT NOT NULL,
  only_fibres TEXT NOT NULL,
  care TEXT NOT NULL,
  name_key TEXT NOT NULL UNIQUE CHECK (name_key <> '')
) STRICT;

-- The yarn that a role of a project takes; any shade where none is named.
CREATE TABLE project_pin (
  project INTEGER NOT NULL REFERENCES project (id) ON DELETE CASCADE,
  role TEXT NOT NULL CHECK (role <> ''),
  yarn INTEGER NOT NULL,
  yarn_name TEXT NOT NULL CHECK (yarn_name <> ''),
  shade TEXT,
  PRIMARY KEY (project, role)
) STRICT, WITHOUT ROWID;

-- A change of a project is a step of its own kind: SQLite changes the check of a column
-- only by making the table anew, and a trigger looks into this one.

DROP TRIGGER stock_entry_is_never_removed;

CREATE TABLE change_step_then (
  change INTEGER NOT NULL REFERENCES change (id) ON DELETE CASCADE,
  place INTEGER NOT NULL,
  kind TEXT NOT NULL CHECK (kind = 'yarn' OR kind = 'lot' OR kind = 'shade' OR kind = 'swatch' OR kind = 'pattern' OR kind = 'project'),
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
