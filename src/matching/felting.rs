//! Which fibre felts.

use crate::{
    record::Blend,
    trade::{Family, Fibre},
};

/// Share of felting fibre from which a cloth felts in the machine: common practice,
/// no source.
pub(super) const FELTS_FROM: f64 = 0.25;

/// Share of a blend, 0 to 1, that felts unless it was treated: hair, not silk.
pub(super) fn felting_share(blend: &Blend) -> f64 {
    blend.share_where(felts)
}

fn felts(fibre: &Fibre) -> bool {
    fibre.family == Family::Animal && fibre.name != "silk"
}

#[cfg(test)]
mod tests {
    use super::{super::samples::blend, *};

    #[test]
    fn hair_felts_and_silk_and_plants_do_not() {
        let half = blend(&[
            ("wool", 30.0),
            ("alpaca", 20.0),
            ("silk", 30.0),
            ("cotton", 20.0),
        ]);
        assert!((felting_share(&half) - 0.5).abs() < 1e-12);
    }
}
