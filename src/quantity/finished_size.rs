//! What counts measure at a gauge, and what a size of a pattern comes to at another
//! one: what its counts come out at, and the counts that keep it.

use super::{GaugeRatio, Keep};
use crate::{
    measure::{Gauge, Length, MeasureError},
    record::{Multiple, Printed, Size},
};

/// What counts measure at a gauge; `None` where the gauge does not say.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct FinishedSize {
    /// Across the stitches.
    pub width: Option<Length>,
    /// Along the rows.
    pub height: Option<Length>,
}

/// Finished size of `stitches` and `rows`: width = stitches / (stitches per
/// length), height = rows / (rows per length). A gauge over 4 in is kept over
/// 4 in.
pub fn finished_size(
    gauge: &Gauge,
    stitches: Option<f64>,
    rows: Option<f64>,
) -> Result<FinishedSize, MeasureError> {
    Ok(FinishedSize {
        width: stitches
            .and_then(|count| gauge.width_of(count))
            .transpose()?,
        height: rows.and_then(|count| gauge.height_of(count)).transpose()?,
    })
}

/// What one size of a pattern is meant to measure.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct IntendedSize {
    /// Width and height: as stated, else of the counts at the pattern's gauge.
    pub size: FinishedSize,
    /// Its counts.
    pub counts: Counts,
}

/// Stitches across and rows along, where they are known.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Counts {
    /// Stitches across.
    pub stitches: Option<u32>,
    /// Rows along.
    pub rows: Option<u32>,
}

impl IntendedSize {
    /// What `size` is meant to measure at the gauge of its pattern.
    pub fn new(size: &Size, pattern: &Gauge) -> Result<Self, MeasureError> {
        let counts = Counts {
            stitches: size.cast_on,
            rows: size.rows,
        };
        let counted = counts.at(pattern)?;
        let stated =
            |printed: &Option<Printed<Length>>| printed.as_ref().map(|printed| printed.value);
        Ok(Self {
            size: FinishedSize {
                width: stated(&size.width).or(counted.width),
                height: stated(&size.height).or(counted.height),
            },
            counts,
        })
    }

    /// What it measures when its counts stay as written at the own gauge: counts / own
    /// gauge; where a count is not stated, wanted size / (own / pattern's gauge).
    pub fn kept(&self, own: &Gauge, ratio: GaugeRatio) -> Result<FinishedSize, MeasureError> {
        let counted = self.counts.at(own)?;
        let scaled = |length: Option<Length>, ratio: Option<f64>| {
            length
                .zip(ratio)
                .map(|(length, ratio)| Length::metres(length.as_metres() / ratio))
                .transpose()
        };
        Ok(FinishedSize {
            width: match self.counts.stitches {
                Some(_) => counted.width,
                None => scaled(self.size.width, Some(ratio.stitches))?,
            },
            height: match self.counts.rows {
                Some(_) => counted.height,
                None => scaled(self.size.height, ratio.rows)?,
            },
        })
    }

    /// What it measures where it is knitted at the own gauge to get `wanted`: all its
    /// counts stay as written, or its stitch counts alone while lengths are worked until they
    /// measure those of `wanted`.
    pub fn knitted_for(
        &self,
        wanted: &Self,
        (own, ratio): (&Gauge, GaugeRatio),
        keep: Keep,
    ) -> Result<FinishedSize, MeasureError> {
        let kept = self.kept(own, ratio)?;
        Ok(match keep {
            Keep::Counts => kept,
            Keep::Size | Keep::Stitches => FinishedSize {
                height: wanted.size.height,
                ..kept
            },
        })
    }

    /// What its need is multiplied by where it is knitted so: k of all counts, or k of
    /// the stitch counts x height of `wanted` / own height, where both are known.
    pub fn need_factor_for(&self, wanted: &Self, ratio: GaugeRatio, keep: Keep) -> f64 {
        let heights = wanted.size.height.zip(self.size.height);
        let longer = heights.map(|(wanted, own)| wanted.as_metres() / own.as_metres());
        match keep {
            Keep::Counts => Keep::Counts.need_factor(ratio),
            Keep::Size | Keep::Stitches => {
                let longer = longer.filter(|it| it.is_finite()).unwrap_or(1.0);
                Keep::Stitches.need_factor(ratio) * longer
            }
        }
    }

    /// Counts that keep the size: count x (own / pattern's gauge); where a count
    /// is not stated, wanted size x own gauge. Stitches go to the nearest
    /// k x n + r of `multiple`, rows to the nearest whole row.
    pub fn reworked(&self, own: &Gauge, ratio: GaugeRatio, multiple: Multiple) -> Counts {
        let stitches = self
            .counts
            .stitches
            .map(|count| f64::from(count) * ratio.stitches);
        let stitches = stitches.or_else(|| across(own, self.size.width?));
        let rows = self
            .counts
            .rows
            .zip(ratio.rows)
            .map(|(count, ratio)| f64::from(count) * ratio);
        let rows = rows.or_else(|| along(own, self.size.height?));
        Counts {
            stitches: stitches.and_then(|count| multiple.nearest(count)),
            rows: rows.and_then(|count| Multiple::ANY.nearest(count)),
        }
    }
}

impl Counts {
    /// What the counts measure at a gauge.
    pub fn at(&self, gauge: &Gauge) -> Result<FinishedSize, MeasureError> {
        let rows = gauge.rows().and(self.rows);
        finished_size(gauge, self.stitches.map(f64::from), rows.map(f64::from))
    }
}

/// Stitches for a width: width x stitches per length, middle of a range.
fn across(gauge: &Gauge, width: Length) -> Option<f64> {
    let range = gauge.stitches_per_metre()?;
    Some(width.as_metres() * range.middle())
}

/// Rows for a height: height x rows per length, middle of a range.
fn along(gauge: &Gauge, height: Length) -> Option<f64> {
    let range = gauge.rows_per_metre()?;
    Some(height.as_metres() * range.middle())
}

/// Place of the width that lies nearest to `wanted`; of equal ones the first.
/// `None` where no width is known.
pub fn nearest_width(wanted: Length, widths: &[Option<Length>]) -> Option<usize> {
    let off = |width: Length| (width.as_metres() - wanted.as_metres()).abs();
    widths
        .iter()
        .enumerate()
        .filter_map(|(place, width)| Some((place, off((*width)?))))
        .min_by(|(_, a), (_, b)| a.total_cmp(b))
        .map(|(place, _)| place)
}

#[cfg(test)]
mod tests {
    mod finished_size {
        use super::super::*;
        use crate::measure::{Interval, Over};

        fn over_four_inches(stitches: f64, rows: f64) -> Gauge {
            let over = Over::inches(4.0).unwrap();
            Gauge::new(
                Interval::one(stitches),
                Some(Interval::one(rows)),
                Some(over),
            )
            .unwrap()
        }

        /// Fact of the trade, common practice, no source: 252 stitches and 45 rounds
        /// at 18 x 24 over 4 in are 56 by 7.5 in; 118 and 75 are 26.2 by 12.5 in.
        #[test]
        fn counts_over_four_inches_give_inches() {
            for (stitches, rows, width, height) in
                [(252.0, 45.0, 56.0, 7.5), (118.0, 75.0, 26.2, 12.5)]
            {
                let size = finished_size(&over_four_inches(18.0, 24.0), Some(stitches), Some(rows))
                    .unwrap();
                assert!((size.width.unwrap().as_inches() - width).abs() < 0.05);
                assert!((size.height.unwrap().as_inches() - height).abs() < 0.05);
            }
        }

        #[test]
        fn rows_without_a_row_gauge_have_no_height() {
            let gauge = Gauge::new(Interval::one(20.0), None, Over::inches(4.0).ok()).unwrap();
            let size = finished_size(&gauge, Some(200.0), Some(84.0)).unwrap();
            assert!(size.width.is_some() && size.height.is_none());
        }
    }

    mod resized {
        use super::super::*;
        use crate::{
            measure::{Interval, Over},
            record::{Name, Printed},
        };

        fn over(stitches: f64, rows: Option<f64>, over: Over) -> Gauge {
            Gauge::new(Interval::one(stitches), rows.map(Interval::one), Some(over)).unwrap()
        }

        fn inches(stitches: f64, over_inches: f64) -> Gauge {
            over(stitches, None, Over::inches(over_inches).unwrap())
        }

        fn size(width_m: Option<f64>, cast_on: Option<u32>) -> Size {
            Size {
                name: Name::new("size", "M").unwrap(),
                width: width_m.map(|m| Printed::new("w", Length::metres(m).unwrap())),
                height: None,
                cast_on,
                rows: None,
            }
        }

        const INCH: f64 = 0.0254;

        /// Stitches that a width takes: worked examples of common practice, no source;
        /// recomputed (cases C45, C53 and C55).
        #[test]
        fn a_width_takes_its_stitches() {
            let rows = [
                (inches(4.0, 1.0), 36.0 * INCH, 144),
                (inches(4.0, 1.0), 20.0 * INCH, 80),
                (
                    over(22.0, None, Over::centimetres(10.0).unwrap()),
                    0.48,
                    106,
                ),
            ];
            for (gauge, width, stitches) in rows {
                let ratio = GaugeRatio::between(&gauge, &gauge).unwrap();
                let wanted = IntendedSize::new(&size(Some(width), None), &gauge).unwrap();
                let counts = wanted.reworked(&gauge, ratio, Multiple::ANY);
                assert_eq!(counts.stitches, Some(stitches));
            }
        }

        /// Stitches over another gauge: worked examples of common practice, no source;
        /// recomputed (cases C49, `about 72`, and C51, `116 or 117`).
        #[test]
        fn counts_are_reworked_by_the_ratio() {
            for (own, pattern, cast_on, expected) in [(19.0, 30.0, 114, 72), (21.0, 18.0, 100, 117)]
            {
                let (own, pattern) = (inches(own, 4.0), inches(pattern, 4.0));
                let ratio = GaugeRatio::between(&own, &pattern).unwrap();
                let wanted = IntendedSize::new(&size(None, Some(cast_on)), &pattern).unwrap();
                let counts = wanted.reworked(&own, ratio, Multiple::ANY);
                assert_eq!(counts.stitches, Some(expected));
            }
        }

        /// FlatOrRound example of common practice, no source; recomputed (case C47): own 12
        /// rows in an inch against 15 make 8 rows of 10; by hand 25 cm at 12 rows in an
        /// inch are 118.1 rows.
        #[test]
        fn rows_are_reworked_by_their_own_ratio() {
            let inch = |sts, rows| over(sts, Some(rows), Over::inches(1.0).unwrap());
            let (own, pattern) = (inch(9.0, 12.0), inch(8.0, 15.0));
            let ratio = GaugeRatio::between(&own, &pattern).unwrap();
            let counted = Size {
                rows: Some(10),
                ..size(None, Some(24))
            };
            let counts =
                IntendedSize::new(&counted, &pattern)
                    .unwrap()
                    .reworked(&own, ratio, Multiple::ANY);
            assert_eq!((counts.stitches, counts.rows), (Some(27), Some(8)));
            let measured = Size {
                height: Some(Printed::new("h", Length::metres(0.25).unwrap())),
                ..size(None, None)
            };
            let wanted = IntendedSize::new(&measured, &pattern).unwrap();
            assert_eq!(wanted.reworked(&own, ratio, Multiple::ANY).rows, Some(118));
            // 25 cm of the pattern's rows measure 25 / 0.8 = 31.25 cm in the own ones.
            let height = wanted.kept(&own, ratio).unwrap().height.unwrap();
            assert!((height.as_metres() - 0.3125).abs() < 1e-9);
            // Worked until it measures, it measures what it should.
            let to_length = wanted.knitted_for(&wanted, (&own, ratio), Keep::Stitches);
            assert_eq!(to_length.unwrap().height, wanted.size.height);
        }

        /// FlatOrRound example of common practice, no source; recomputed (case C57): 20
        /// stitches that measure 3 5/8 in are 5.5172 in an inch.
        #[test]
        fn stitches_in_an_inch_follow_from_any_length() {
            let own = inches(20.0, 3.625);
            assert!((across(&own, Length::metres(INCH).unwrap()).unwrap() - 5.5172).abs() < 5e-5);
        }

        /// FlatOrRound examples of common practice, no source; recomputed (cases C41, C43
        /// and C45): counts that stay as written change the size.
        #[test]
        fn kept_counts_come_out_at_another_size() {
            let rows = [
                (160, 4.0, 5.0, 32.0),
                (160, 4.0, 3.0, 53.33),
                (312, 6.5, 6.0, 52.0),
                (144, 4.0, 4.5, 32.0),
            ];
            for (cast_on, pattern, own, expected) in rows {
                let (pattern, own) = (inches(pattern, 1.0), inches(own, 1.0));
                let ratio = GaugeRatio::between(&own, &pattern).unwrap();
                let counted = IntendedSize::new(&size(None, Some(cast_on)), &pattern).unwrap();
                let stated = IntendedSize::new(
                    &size(counted.size.width.map(Length::as_metres), None),
                    &pattern,
                );
                for wanted in [counted, stated.unwrap()] {
                    let width = wanted.kept(&own, ratio).unwrap().width.unwrap();
                    assert!((width.as_inches() - expected).abs() < 0.005);
                }
            }
        }

        /// Recomputed: S of 50 cm knitted for M of 60 cm at 20 x 27 against 22 x 30 takes
        /// sqrt(0.9 / 0.9091) x 60 / 50 of what S takes, with counted rows 1.1055.
        #[test]
        fn another_size_is_worked_to_the_lengths_of_the_one_that_is_wanted() {
            let ten = Over::centimetres(10.0).unwrap();
            let (own, pattern) = (over(20.0, Some(27.0), ten), over(22.0, Some(30.0), ten));
            let ratio = GaugeRatio::between(&own, &pattern).unwrap();
            let high = |height: f64, width: f64| {
                let height = Some(Printed::new("h", Length::metres(height).unwrap()));
                let size = Size {
                    height,
                    ..size(Some(width), None)
                };
                IntendedSize::new(&size, &pattern).unwrap()
            };
            let (small, wanted) = (high(0.5, 0.9), high(0.6, 1.0));
            let k = |keep| small.need_factor_for(&wanted, ratio, keep);
            assert!((k(Keep::Stitches) - (0.9_f64 * 1.1).sqrt() * 1.2).abs() < 1e-12);
            assert!((k(Keep::Counts) - 1.1055).abs() < 5e-5);
            let made = |keep| small.knitted_for(&wanted, (&own, ratio), keep).unwrap();
            assert_eq!(made(Keep::Stitches).height, wanted.size.height);
            assert!((made(Keep::Counts).height.unwrap().as_metres() - 0.5 / 0.9).abs() < 1e-9);
            assert!((made(Keep::Stitches).width.unwrap().as_metres() - 0.99).abs() < 1e-9);
            let unknown = IntendedSize::new(&size(None, None), &pattern).unwrap();
            let k = unknown.need_factor_for(&wanted, ratio, Keep::Stitches);
            assert_eq!(k, Keep::Stitches.need_factor(ratio));
        }

        #[test]
        fn what_is_not_known_stays_unknown() {
            let pattern = inches(5.0, 1.0);
            let ratio = GaugeRatio::between(&pattern, &pattern).unwrap();
            let bare = IntendedSize::new(&size(None, None), &pattern).unwrap();
            let counts = bare.reworked(&pattern, ratio, Multiple::ANY);
            assert_eq!((counts.stitches, counts.rows), (None, None));
            assert_eq!(bare.kept(&pattern, ratio).unwrap().width, None);
        }

        #[test]
        fn the_nearest_width_is_found_among_those_that_are_known() {
            let metres = |m: f64| Length::metres(m).unwrap();
            let widths = [
                Some(metres(0.9)),
                None,
                Some(metres(1.0)),
                Some(metres(1.1)),
            ];
            assert_eq!(nearest_width(metres(1.02), &widths), Some(2));
            assert_eq!(nearest_width(metres(1.05), &widths), Some(2));
            assert_eq!(nearest_width(metres(1.0), &[None]), None);
        }
    }
}
