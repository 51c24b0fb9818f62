-- Which names a file holds, so that names kept in memory can be told from others:
-- `renamed` is another number, at random, after each change of a name and each
-- removal. A new yarn changes nothing: its number is greater than all before.

ALTER TABLE tally ADD COLUMN renamed INTEGER NOT NULL DEFAULT 0;

DROP TRIGGER yarn_is_counted_no_more;

CREATE TRIGGER yarn_is_counted_no_more AFTER DELETE ON yarn
BEGIN UPDATE tally SET yarns = yarns - 1, renamed = random(); END;

CREATE TRIGGER yarn_is_renamed AFTER UPDATE OF maker_key, name_key ON yarn
WHEN old.maker_key <> new.maker_key OR old.name_key <> new.name_key
BEGIN UPDATE tally SET renamed = random(); END;
