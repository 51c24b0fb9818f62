-- Two indexes with all that a search looks at before it reads a yarn: in the order
-- of length per mass, and in the order of gauge for yarns whose length per mass
-- says nothing beside what is wanted.

DROP INDEX facts_by_grist;

CREATE INDEX facts_by_grist ON facts (
  grist,
  gauge_stitches_low, gauge_stitches_high, gauge_over_m, gauge_stockinette, gauge_stitch, gauge_strands,
  classes, construction, blend, care
);

-- By how wide the gauge is: one number, up to 1.1 and up to 1.25 times its lower
-- end, and any other or of several strands; then by the lower end, stitches over
-- 10 cm. So a range around what is wanted holds nearly all gauges that meet it.
CREATE INDEX facts_by_gauge ON facts (
  CASE WHEN coalesce(gauge_strands, 1) <> 1 THEN 3
       WHEN gauge_stitches_high <= gauge_stitches_low THEN 0
       WHEN gauge_stitches_high <= gauge_stitches_low * 1.1 THEN 1
       WHEN gauge_stitches_high <= gauge_stitches_low * 1.25 THEN 2
       ELSE 3 END,
  gauge_stitches_low * 0.1 / coalesce(gauge_over_m, 0.1),
  gauge_stitches_low, gauge_stitches_high, gauge_over_m, gauge_stockinette, gauge_stitch, gauge_strands,
  grist, classes, construction, blend, care
) WHERE gauge_stitches_low IS NOT NULL;

-- So that it is known at once whether any yarn has no blend.
CREATE INDEX facts_without_blend ON facts (id) WHERE blend IS NULL;
