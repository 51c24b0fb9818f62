-- The rule that no two yarns have one name becomes an index of its own, which an
-- import of many yarns takes away and builds again: written in the order of a
-- list it costs more than all the rest. Foreign keys are off meanwhile, and
-- looked over afterwards. How many yarns there are is kept, since counting a
-- million takes longer than finding the best of them.

CREATE TABLE yarn_then (
  id INTEGER PRIMARY KEY REFERENCES facts (id) ON DELETE CASCADE,
  version INTEGER NOT NULL DEFAULT 1 CHECK (version >= 1),
  maker TEXT NOT NULL CHECK (maker <> ''),
  name TEXT NOT NULL CHECK (name <> ''),
  gtin TEXT CHECK (gtin NOT GLOB '*[^0-9]*' AND (length(gtin) = 8 OR length(gtin) BETWEEN 12 AND 14)),
  discontinued INTEGER NOT NULL CHECK (discontinued = 0 OR discontinued = 1),
  notes TEXT NOT NULL,
  maker_key TEXT NOT NULL CHECK (maker_key <> ''),
  name_key TEXT NOT NULL CHECK (name_key <> '')
) STRICT;

INSERT INTO yarn_then (id, version, maker, name, gtin, discontinued, notes, maker_key, name_key)
  SELECT id, version, maker, name, gtin, discontinued, notes, maker_key, name_key FROM yarn ORDER BY id;

DROP TABLE yarn;

ALTER TABLE yarn_then RENAME TO yarn;

CREATE UNIQUE INDEX yarn_by_name ON yarn (maker_key, name_key);

-- An article number of 8, 12 or 13 digits is the same as with zeros before it.
CREATE INDEX yarn_by_gtin ON yarn (substr('000000' || gtin, -14)) WHERE gtin IS NOT NULL;

CREATE TABLE tally (
  id INTEGER PRIMARY KEY CHECK (id = 1),
  yarns INTEGER NOT NULL CHECK (yarns >= 0)
) STRICT;

INSERT INTO tally (id, yarns) SELECT 1, count(*) FROM yarn;

CREATE TRIGGER yarn_is_counted AFTER INSERT ON yarn
BEGIN UPDATE tally SET yarns = yarns + 1; END;

CREATE TRIGGER yarn_is_counted_no_more AFTER DELETE ON yarn
BEGIN UPDATE tally SET yarns = yarns - 1; END;
