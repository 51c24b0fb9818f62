//! The needle sizes that are commonly sold, so that `one size up` has a meaning.
//!
//! Common practice, no source: the sizes on which six trade charts agree, and
//! 1.75 mm from memory.

use crate::measure::NeedleSize;

/// Sizes in mm, thinnest first.
pub const COMMON_NEEDLES_MM: [f64; 28] = [
    1.0, 1.25, 1.5, 1.75, 2.0, 2.25, 2.5, 2.75, 3.0, 3.25, 3.5, 3.75, 4.0, 4.5, 5.0, 5.5, 6.0, 6.5,
    7.0, 7.5, 8.0, 9.0, 10.0, 12.0, 15.0, 19.0, 20.0, 25.0,
];

/// The size `steps` above `from` (below, where negative), counted from the
/// common size nearest to it, of two equally near ones the thinner; `None`
/// beyond the ends of the list.
pub fn needle_steps_from(from: NeedleSize, steps: i8) -> Option<NeedleSize> {
    let off = |mm: f64| (mm - from.as_millimetres()).abs();
    let (nearest, _) = COMMON_NEEDLES_MM
        .iter()
        .enumerate()
        .min_by(|(_, a), (_, b)| off(**a).total_cmp(&off(**b)))?;
    let place = nearest.checked_add_signed(isize::from(steps))?;
    let mm = COMMON_NEEDLES_MM.get(place)?;
    NeedleSize::millimetres(*mm).ok()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn steps(from: f64, steps: i8) -> Option<f64> {
        let from = NeedleSize::millimetres(from).unwrap();
        needle_steps_from(from, steps).map(NeedleSize::as_millimetres)
    }

    #[test]
    fn one_size_up_from_4_mm_is_4_5_mm_and_one_down_is_3_75_mm() {
        assert_eq!(steps(4.0, 1), Some(4.5));
        assert_eq!(steps(4.0, -1), Some(3.75));
        assert_eq!(steps(4.0, 2), Some(5.0));
    }

    #[test]
    fn an_odd_size_counts_from_the_nearest_common_one() {
        assert_eq!(steps(4.2, 1), Some(4.5));
        assert_eq!(steps(4.25, 1), Some(4.5));
    }

    #[test]
    fn beyond_the_ends_there_is_no_size() {
        assert_eq!(steps(1.0, -1), None);
        assert_eq!(steps(25.0, 1), None);
    }

    #[test]
    fn sizes_stand_in_order() {
        assert!(COMMON_NEEDLES_MM.is_sorted());
    }
}
