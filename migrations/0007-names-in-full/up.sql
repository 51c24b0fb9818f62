-- Names that differ in accents or signs are different names. A key is the folded
-- name as before and, where the name has more to it than case and spaces, the
-- character 31 and the name itself in lower case. So names that were different stay
-- so, and their order and what is found by folded text stay as they were. The program
-- writes the keys after this step; what was remembered of names is known no longer.

UPDATE tally SET renamed = random();
