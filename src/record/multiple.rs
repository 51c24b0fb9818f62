//! The multiple of a stitch pattern.

/// A stitch pattern that repeats over `stitches`, with `plus` more at the edge.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub struct Multiple {
    /// Stitches of one repeat, at least 1.
    pub stitches: u32,
    /// Stitches beyond the repeats.
    pub plus: u32,
}

impl Multiple {
    /// Where any count will do.
    pub const ANY: Self = Self {
        stitches: 1,
        plus: 0,
    };

    /// The count nearest to `stitches` of the form n x repeat + plus, n at least
    /// 1; of two equally near ones the larger, also where the last bits of a
    /// quotient hide the tie (1e-9 of a repeat). `None` beyond what can be counted.
    pub fn nearest(self, stitches: f64) -> Option<u32> {
        let repeat = self.stitches.max(1);
        let repeats = ((stitches - f64::from(self.plus)) / f64::from(repeat) + 0.5 + 1e-9).floor();
        whole(repeats.max(1.0))?
            .checked_mul(repeat)?
            .checked_add(self.plus)
    }

    /// Whether `stitches` is n x repeat + plus, n at least 1.
    pub fn fits(self, stitches: u32) -> bool {
        let repeat = self.stitches.max(1);
        stitches
            .checked_sub(self.plus)
            .is_some_and(|rest| rest >= repeat && rest.is_multiple_of(repeat))
    }
}

#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "the range is checked just before"
)]
fn whole(value: f64) -> Option<u32> {
    (0.0..=f64::from(u32::MAX))
        .contains(&value)
        .then_some(value as u32)
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    /// FlatOrRound example of common practice, no source; recomputed (case C61): 324
    /// stitches in repeats of 20 are 16 repeats and 4 over.
    #[test]
    fn a_count_that_is_no_multiple_goes_to_the_nearest() {
        let repeat = Multiple {
            stitches: 20,
            plus: 0,
        };
        assert!(!repeat.fits(324));
        assert_eq!(repeat.nearest(324.0), Some(320));
    }

    #[test]
    fn one_repeat_is_the_least() {
        let lace = Multiple {
            stitches: 6,
            plus: 3,
        };
        assert_eq!(lace.nearest(0.0), Some(9));
        assert!(!lace.fits(3) && lace.fits(9));
        assert_eq!(lace.nearest(f64::NAN), Some(9));
        assert_eq!(lace.nearest(1e12), None);
    }

    /// 45 x (21 / 18) and 75 x (23 / 30) are 52.5 and 57.5; computed, the quotient
    /// of counts may end a bit below.
    #[test]
    fn an_exact_tie_goes_to_the_larger() {
        for (count, own, pattern, larger) in [(45.0, 21.0, 18.0, 53), (75.0, 23.0, 30.0, 58)] {
            assert_eq!(Multiple::ANY.nearest(count * (own / pattern)), Some(larger));
            let per_metre: f64 = (own / 0.1) / (pattern / 0.1);
            assert_eq!(Multiple::ANY.nearest(count * per_metre), Some(larger));
        }
        assert_eq!(Multiple::ANY.nearest(115.5 - 1e-13), Some(116));
    }

    proptest! {
        #[test]
        fn prop_the_nearest_count_fits_and_none_that_fits_is_nearer(repeat in 1u32..60, plus in 0u32..40, wanted in 1u32..2000) {
            let multiple = Multiple { stitches: repeat, plus };
            let found = multiple.nearest(f64::from(wanted)).unwrap();
            prop_assert!(multiple.fits(found));
            let off = |count: u32| count.abs_diff(wanted);
            let nearer = (1..3000).filter(|count| multiple.fits(*count)).map(off).min();
            prop_assert_eq!(Some(off(found)), nearer);
        }
    }
}
