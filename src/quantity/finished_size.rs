//! Finished size from counts and gauge.

use crate::measure::{Gauge, Length, MeasureError};

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

#[cfg(test)]
mod tests {
    use super::*;
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
        for (stitches, rows, width, height) in [(252.0, 45.0, 56.0, 7.5), (118.0, 75.0, 26.2, 12.5)]
        {
            let size =
                finished_size(&over_four_inches(18.0, 24.0), Some(stitches), Some(rows)).unwrap();
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
