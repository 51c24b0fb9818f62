-- A yarn may have further article numbers, as one that was entered twice and merged; they
-- stand behind each other with a line between. And how few balls of a shade are low may be
-- said of each yarn.

ALTER TABLE yarn ADD COLUMN more_gtins TEXT CHECK (more_gtins <> '');

ALTER TABLE yarn ADD COLUMN low INTEGER CHECK (low BETWEEN 1 AND 1000);

-- Few yarns have any, so that they are looked through.
CREATE INDEX yarn_with_more_gtins ON yarn (id) WHERE more_gtins IS NOT NULL;

-- A count of the shelves that is under way, of one place or of all: each line is what was
-- scanned or typed. When the differences are booked, or it is given up, it goes.

CREATE TABLE stock_count (
  id INTEGER PRIMARY KEY AUTOINCREMENT,
  begun_on TEXT NOT NULL CONSTRAINT a_day_is_written_as_year_month_day CHECK (begun_on GLOB '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]'),
  place TEXT NOT NULL
) STRICT;

CREATE TABLE stock_count_line (
  id INTEGER PRIMARY KEY AUTOINCREMENT,
  stock_count INTEGER NOT NULL REFERENCES stock_count (id) ON DELETE CASCADE,
  lot INTEGER NOT NULL REFERENCES stock_lot (id) ON DELETE CASCADE,
  milliskeins INTEGER NOT NULL CHECK (milliskeins BETWEEN 0 AND 1000000000000),
  milligrams INTEGER NOT NULL CHECK (milligrams BETWEEN 0 AND 1000000000000)
) STRICT;

CREATE INDEX stock_count_line_by_count ON stock_count_line (stock_count, id);

CREATE INDEX stock_count_line_by_lot ON stock_count_line (lot);
