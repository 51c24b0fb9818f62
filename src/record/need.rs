//! How much yarn one size takes, in the forms in which patterns state it.

use crate::measure::{Grist, Interval, Length, Mass, MeasureError};

/// What a pattern states for one size of one yarn.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Need {
    /// A length, or a range of lengths.
    Length(Interval<Length>),
    /// So many skeins of a known length.
    Skeins {
        /// How many; not always whole.
        count: f64,
        /// Length of one.
        skein: Length,
    },
    /// A mass, or a range of masses.
    Mass(Interval<Mass>),
}

/// A need in metres: what it may be, and what to buy for.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct NeedRange {
    /// The least that may do.
    pub at_least: Length,
    /// What to buy for.
    pub buy_for: Length,
}

impl Need {
    /// The need in metres. A length is that length. `n` skeins of `l` lie in
    /// ((ceil(n) - 1) l, n l] and are bought for as n l: the pattern rounded up
    /// to whole skeins. A mass goes through the reference grist: m = g x grist;
    /// `None` where that is unknown.
    pub fn in_metres(&self, reference: Option<Grist>) -> Option<Result<NeedRange, MeasureError>> {
        match *self {
            Self::Length(range) => Some(Ok(NeedRange {
                at_least: range.low(),
                buy_for: range.high(),
            })),
            Self::Skeins { count, skein } => Some(skeins_in_metres(count, skein)),
            Self::Mass(range) => reference.map(|grist| {
                Ok(NeedRange {
                    at_least: range.low().length_at(grist)?,
                    buy_for: range.high().length_at(grist)?,
                })
            }),
        }
    }
}

fn skeins_in_metres(count: f64, skein: Length) -> Result<NeedRange, MeasureError> {
    let fewer = ((count - 1e-9).ceil() - 1.0).max(0.0);
    Ok(NeedRange {
        at_least: Length::metres(fewer * skein.as_metres())?,
        buy_for: Length::metres(count * skein.as_metres())?,
    })
}

/// A run of rows whose stitch count stays or changes evenly.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct RowRange {
    /// How many rows.
    pub rows: u32,
    /// Stitches in the first of them.
    pub first: f64,
    /// Stitches in the last of them.
    pub last: f64,
}

#[cfg(test)]
mod tests {
    use super::*;

    fn metres(m: f64) -> Length {
        Length::metres(m).unwrap()
    }

    #[test]
    fn a_count_of_skeins_is_an_interval() {
        let need = Need::Skeins {
            count: 9.0,
            skein: metres(200.0),
        };
        let range = need.in_metres(None).unwrap().unwrap();
        assert_eq!(
            (range.at_least, range.buy_for),
            (metres(1600.0), metres(1800.0))
        );
    }

    #[test]
    fn half_a_skein_may_be_next_to_nothing() {
        let need = Need::Skeins {
            count: 0.5,
            skein: metres(200.0),
        };
        let range = need.in_metres(None).unwrap().unwrap();
        assert_eq!(
            (range.at_least, range.buy_for),
            (metres(0.0), metres(100.0))
        );
    }

    #[test]
    fn a_mass_needs_the_reference_grist() {
        let need = Need::Mass(Interval::one(Mass::grams(300.0).unwrap()));
        assert!(need.in_metres(None).is_none());
        let range = need
            .in_metres(Some(Grist::metres_per_gram(2.0).unwrap()))
            .unwrap()
            .unwrap();
        assert_eq!(range.buy_for, metres(600.0));
    }
}
