//! Whole skeins.

/// The least whole number not below `x`, where `x` may lie 1e-9 above a whole
/// number by rounding alone: ceil(x - 1e-9), so that an exact fit needs no extra
/// skein. `None` when `x` is negative, not finite, or too many to count.
pub(super) fn whole_up(x: f64) -> Option<u32> {
    let up = (x - 1e-9).ceil().max(0.0);
    (x >= 0.0 && up <= f64::from(u32::MAX)).then(|| truncate(up))
}

#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "a whole number within u32"
)]
fn truncate(whole: f64) -> u32 {
    whole as u32
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn an_exact_fit_needs_no_extra_skein_and_a_hair_more_does() {
        assert_eq!(whole_up(0.1 + 0.2 - 0.3 + 6.0), Some(6));
        assert_eq!(whole_up(6.000_001), Some(7));
        assert_eq!(whole_up(0.0), Some(0));
    }

    #[test]
    fn what_cannot_be_counted_is_not_counted() {
        assert_eq!(whole_up(-0.5), None);
        assert_eq!(whole_up(f64::NAN), None);
        assert_eq!(whole_up(1e12), None);
    }
}
