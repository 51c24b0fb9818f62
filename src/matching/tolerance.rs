//! The tolerances on length per mass: the default, and the widest that is published,
//! how far a yarn may lie for those who like another cloth.

/// Tolerance where none is stated, %. A rule of common practice allows 5.6 to 8.5 %
/// either way on a worsted yarn (no source).
pub const DEFAULT_TOLERANCE: u8 = 8;

/// As a share of what is wanted (common practice, no source: 20 %, of bulky yarn
/// 15 %).
const WIDEST: f64 = 0.20;

/// Whether a difference, as a share of what is wanted, lies within it.
pub(super) fn is_within_widest(off: f64) -> bool {
    off.abs() <= WIDEST * (1.0 + 1e-9)
}

/// The same around a length per mass, m/g.
pub(super) fn widest_around(wanted: f64) -> f64 {
    WIDEST * wanted
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_fifth_either_way_is_within_and_a_step_more_is_not() {
        for (off, within) in [(0.2, true), (-0.2, true), (0.2001, false), (-0.2001, false)] {
            assert_eq!(is_within_widest(off), within, "{off}");
        }
        assert_eq!(widest_around(2.0), 0.4);
    }
}
