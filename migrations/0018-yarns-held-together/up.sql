-- The key of the yarn before it with which a yarn of a pattern is held together, as one
-- strand; as written.

ALTER TABLE pattern_yarn ADD COLUMN held_with TEXT CHECK (held_with <> '');
