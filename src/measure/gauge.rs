//! Stitches and rows over a stated length.

use super::{Interval, Length, MeasureError, quantity::quantity, units};

quantity!(
    /// The length a gauge was counted over, in metres. Four inches stay four
    /// inches (0.1016 m) and are not taken for ten centimetres.
    Over, "gauge length", "m", metres, as_metres, 0.0001, 10.0
);

impl Over {
    /// Over so many centimetres.
    pub fn centimetres(value: f64) -> Result<Self, MeasureError> {
        Self::of(value, 0.01)
    }

    /// Over so many inches.
    pub fn inches(value: f64) -> Result<Self, MeasureError> {
        Self::of(value, units::INCH_M)
    }

    /// Over `value` times a unit of `unit` m: L = value * unit, rounded to 1 nm, so
    /// that one length is the same in whatever unit it is written.
    pub fn of(value: f64, unit: f64) -> Result<Self, MeasureError> {
        Self::metres((value * unit * 1e9).round() / 1e9)
    }
}

/// The stitch and row counts a label, pattern or swatch states, over one length.
/// `over` is `None` where the text does not say; 10 cm and 4 in differ by 1.6 %.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Gauge {
    stitches: Interval<f64>,
    rows: Option<Interval<f64>>,
    over: Option<Over>,
}

/// The most stitches or rows that a gauge may state over its length.
const MOST: f64 = 1000.0;

impl Gauge {
    /// A gauge of `stitches` (and `rows`) over `over`.
    pub fn new(
        stitches: Interval<f64>,
        rows: Option<Interval<f64>>,
        over: Option<Over>,
    ) -> Result<Self, MeasureError> {
        counted("stitches", stitches)?;
        rows.map_or(Ok(()), |rows| counted("rows", rows))?;
        Ok(Self {
            stitches,
            rows,
            over,
        })
    }

    /// Stitches over the stated length.
    pub fn stitches(&self) -> Interval<f64> {
        self.stitches
    }

    /// Rows (or rounds) over the stated length, where given.
    pub fn rows(&self) -> Option<Interval<f64>> {
        self.rows
    }

    /// The stated length, where given.
    pub fn over(&self) -> Option<Over> {
        self.over
    }

    /// The same counts, over `over` where the text did not say.
    pub fn or_over(self, over: Over) -> Self {
        Self {
            over: self.over.or(Some(over)),
            ..self
        }
    }

    /// Stitches per metre; `None` where the length is not stated.
    pub fn stitches_per_metre(&self) -> Option<Interval<f64>> {
        let over = self.over?.as_metres();
        Some(self.stitches.map(|s| s / over))
    }

    /// Rows per metre; `None` where rows or length are not stated.
    pub fn rows_per_metre(&self) -> Option<Interval<f64>> {
        let over = self.over?.as_metres();
        Some(self.rows?.map(|r| r / over))
    }

    /// Width of `stitches` at this gauge, m: stitches / (stitches per length).
    /// Of a range of gauges the middle counts.
    pub fn width_of(&self, stitches: f64) -> Option<Result<Length, MeasureError>> {
        Some(Length::metres(
            stitches / self.stitches_per_metre()?.middle(),
        ))
    }

    /// Height of `rows` at this gauge, m: rows / (rows per length).
    pub fn height_of(&self, rows: f64) -> Option<Result<Length, MeasureError>> {
        Some(Length::metres(rows / self.rows_per_metre()?.middle()))
    }
}

fn counted(what: &'static str, range: Interval<f64>) -> Result<(), MeasureError> {
    let refused = |given| MeasureError::OutOfRange {
        what,
        given,
        low: 0.1,
        high: MOST,
        unit: "over the gauge length",
    };
    match [range.low(), range.high()]
        .into_iter()
        .find(|v| !(0.1..=MOST).contains(v))
    {
        Some(given) => Err(refused(given)),
        None => Ok(()),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn gauge(over: Over) -> Gauge {
        Gauge::new(Interval::one(20.0), Some(Interval::one(28.0)), Some(over)).unwrap()
    }

    /// By definition: 200 stitches at 20 over 4 in are exactly 40 in.
    #[test]
    fn four_inches_are_not_ten_centimetres() {
        let inches = gauge(Over::inches(4.0).unwrap())
            .width_of(200.0)
            .unwrap()
            .unwrap();
        let metric = gauge(Over::centimetres(10.0).unwrap())
            .width_of(200.0)
            .unwrap()
            .unwrap();
        assert!((inches.as_metres() - 1.016).abs() < 1e-12);
        assert!((metric.as_metres() - 1.0).abs() < 1e-12);
    }

    #[test]
    fn an_unstated_length_gives_no_size() {
        let gauge = Gauge::new(Interval::one(20.0), None, None).unwrap();
        assert_eq!(gauge.width_of(200.0), None);
        assert!(
            gauge
                .or_over(Over::inches(4.0).unwrap())
                .width_of(200.0)
                .is_some()
        );
    }

    #[test]
    fn zero_and_not_a_number_are_no_gauge() {
        assert!(Gauge::new(Interval::one(0.0), None, None).is_err());
        assert!(Gauge::new(Interval::one(f64::NAN), None, None).is_err());
    }
}
