-- Whole catalogues share few lengths per mass and few gauges. With the number right behind
-- what is searched by, two rows are told apart there, and not in the columns behind it that
-- are only carried along: the indexes of an import are sorted in a tenth to a quarter less
-- of processor time.
DROP INDEX facts_by_grist;

CREATE INDEX facts_by_grist ON facts (
  grist, id,
  gauge_stitches_low, gauge_stitches_high, gauge_over_m, gauge_stockinette, gauge_stitch, gauge_strands,
  classes, construction, blend, care
);

DROP INDEX facts_by_gauge;

CREATE INDEX facts_by_gauge ON facts (
  grist IS NOT NULL,
  CASE WHEN coalesce(gauge_strands, 1) <> 1 THEN 4
       WHEN gauge_stitches_high <= gauge_stitches_low THEN 0
       WHEN gauge_stitches_high <= gauge_stitches_low * 1.1 THEN 1
       WHEN gauge_stitches_high <= gauge_stitches_low * 1.25 THEN 2
       WHEN gauge_stitches_high <= gauge_stitches_low * 1.5 THEN 3
       ELSE 4 END,
  gauge_stitches_low * 0.1 / coalesce(gauge_over_m, 0.1), id,
  gauge_stitches_low, gauge_stitches_high, gauge_over_m, gauge_stockinette, gauge_stitch, gauge_strands,
  grist, classes, construction, blend, care
) WHERE gauge_stitches_low IS NOT NULL;
