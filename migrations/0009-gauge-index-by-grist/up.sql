-- Yarns without a length per mass, mostly few, stand apart from those with one, so that
-- to look for either passes over none of the others; and gauges are told apart finer by
-- how wide they are: one number, up to 1.1, 1.25 and 1.5 times the lower end, and any
-- other or of several strands.
DROP INDEX facts_by_gauge;

CREATE INDEX facts_by_gauge ON facts (
  grist IS NOT NULL,
  CASE WHEN coalesce(gauge_strands, 1) <> 1 THEN 4
       WHEN gauge_stitches_high <= gauge_stitches_low THEN 0
       WHEN gauge_stitches_high <= gauge_stitches_low * 1.1 THEN 1
       WHEN gauge_stitches_high <= gauge_stitches_low * 1.25 THEN 2
       WHEN gauge_stitches_high <= gauge_stitches_low * 1.5 THEN 3
       ELSE 4 END,
  gauge_stitches_low * 0.1 / coalesce(gauge_over_m, 0.1),
  gauge_stitches_low, gauge_stitches_high, gauge_over_m, gauge_stockinette, gauge_stitch, gauge_strands,
  grist, classes, construction, blend, care
) WHERE gauge_stitches_low IS NOT NULL;
