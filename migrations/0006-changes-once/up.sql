-- Changes that were made under a text of their own, so that the same one, asked for
-- again, is not made twice. `part` counts the files of one import from 0; `what` says
-- which change it was, `result` what it came to.
CREATE TABLE once (
    text TEXT NOT NULL CONSTRAINT once_needs_a_text CHECK (text <> ''),
    part INTEGER NOT NULL,
    what TEXT NOT NULL,
    result TEXT NOT NULL,
    PRIMARY KEY (text, part)
) STRICT;
