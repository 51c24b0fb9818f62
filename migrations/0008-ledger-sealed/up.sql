-- Each line of the ledger has a seal: a sum of the line and of the seal of the line
-- of that lot before it, so that a line that was altered, or is missing between
-- others, shows. The program seals the lines that are there after this step.

DROP TRIGGER stock_entry_is_never_changed;

ALTER TABLE stock_entry ADD COLUMN seal INTEGER;

CREATE TRIGGER stock_entry_is_never_changed BEFORE UPDATE ON stock_entry
WHEN old.seal IS NOT NULL OR new.seal IS NULL
BEGIN SELECT RAISE(ABORT, 'a line of the stock ledger is never changed; add a new one'); END;
