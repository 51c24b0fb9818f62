-- What a person said about a table of others, so that the next one of the same layout
-- is taken without asking: which column is what, currency, units, the maker.

CREATE TABLE table_layout (
  name TEXT NOT NULL CHECK (name <> ''),
  place INTEGER NOT NULL,
  answer TEXT NOT NULL CHECK (answer IN ('column', 'currency', 'lengths', 'weights', 'amounts', 'maker')),
  text TEXT NOT NULL,
  PRIMARY KEY (name, place)
) STRICT, WITHOUT ROWID;
