-- A swatch of several yarns held together: `swatch.yarn` is the first of them, these are
-- the further ones. A yarn comes once for each of its strands.

CREATE TABLE swatch_held_with (
  swatch INTEGER NOT NULL REFERENCES swatch (id) ON DELETE CASCADE,
  place INTEGER NOT NULL CHECK (place >= 0),
  yarn INTEGER NOT NULL REFERENCES yarn (id) ON DELETE RESTRICT,
  PRIMARY KEY (swatch, place)
) STRICT, WITHOUT ROWID;

CREATE INDEX swatch_held_with_by_yarn ON swatch_held_with (yarn);

-- Further yarns that a step of the journal has to do with, before it or after it: it cannot
-- be taken back without them, nor can their being added be taken back before it.

CREATE TABLE change_step_yarn (
  change INTEGER NOT NULL REFERENCES change (id) ON DELETE CASCADE,
  place INTEGER NOT NULL,
  yarn INTEGER NOT NULL,
  PRIMARY KEY (change, place, yarn)
) STRICT, WITHOUT ROWID;

CREATE INDEX change_step_yarn_by_yarn ON change_step_yarn (yarn);
