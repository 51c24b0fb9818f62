-- What someone will have of the yarn of a project, beside fibres and care: the most to
-- spend on it, only what the stash has enough of, one dye lot for each yarn, words of a
-- shade and of a place. Texts stay as typed, as the others do; an empty one wishes for
-- nothing.

ALTER TABLE project ADD COLUMN max_cost TEXT NOT NULL DEFAULT '';
ALTER TABLE project ADD COLUMN enough INTEGER NOT NULL DEFAULT 0 CHECK (enough BETWEEN 0 AND 1);
ALTER TABLE project ADD COLUMN one_lot INTEGER NOT NULL DEFAULT 0 CHECK (one_lot BETWEEN 0 AND 1);
ALTER TABLE project ADD COLUMN shade_words TEXT NOT NULL DEFAULT '';
ALTER TABLE project ADD COLUMN place_words TEXT NOT NULL DEFAULT '';
