-- The last line of each ledger with its seal. The next line follows this seal, whatever
-- is there, so that an end that was cut off shows, also after further lines.

CREATE TABLE ledger_end (
  lot INTEGER PRIMARY KEY REFERENCES stock_lot (id) ON DELETE CASCADE,
  line INTEGER NOT NULL,
  seal INTEGER NOT NULL
) STRICT;

-- SQLite takes the seal from the row of the greatest number.
INSERT INTO ledger_end (lot, line, seal)
  SELECT lot, max(id), seal FROM stock_entry WHERE seal IS NOT NULL GROUP BY lot;
