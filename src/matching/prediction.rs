//! Gauge predicted from thickness, for want of anything better.
//!
//! Derived: a stitch worked as tightly shrinks with the yarn's diameter, and a
//! yarn's diameter goes with 1 / sqrt(length per mass x density) at equal
//! packing. Against common retail tensions (common practice, no source) it is
//! good to some 10 % within a factor of two in length per mass.

use super::{
    Candidate, Evidence, NoPrediction, Requirement,
    grist::{are_comparable, effective},
};
use crate::record::{Blend, YarnFacts};

/// How many times finer or thicker a yarn may be for its gauge to be predicted.
const FURTHEST: f64 = 2.0;

/// Least share of a blend that must have a value for its mean to be used.
pub(super) const ENOUGH: f64 = 0.75;

/// What is predicted.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Prediction {
    /// gauge_c / gauge_r.
    pub(super) ratio: f64,
    /// What was assumed.
    pub(super) evidence: Vec<Evidence>,
}

/// gauge_c / gauge_r = sqrt((g_c rho_c) / (g_r rho_r)): g grist with strands
/// held together, rho density of the blend, both in the same units; packing and
/// tightness taken as equal.
pub(super) fn gauge_ratio(grists: (f64, f64), densities: (f64, f64)) -> f64 {
    let ((g_c, g_r), (rho_c, rho_r)) = (grists, densities);
    ((g_c * rho_c) / (g_r * rho_r)).sqrt()
}

/// Whether two length per mass are near enough for a prediction.
pub(super) fn is_predictable(grists: (f64, f64)) -> bool {
    let finer = grists.0 / grists.1;
    (1.0 / FURTHEST - 1e-9..=FURTHEST + 1e-9).contains(&finer)
}

/// The gauge ratio from thickness, or why there is none.
pub(super) fn predict(
    wanted: &Requirement,
    offered: &Candidate,
) -> Result<Prediction, NoPrediction> {
    let candidate = effective(&offered.facts, offered.strands);
    let reference = effective(&wanted.facts, wanted.strands);
    let (candidate, reference) = candidate
        .zip(reference)
        .ok_or(NoPrediction::GristNotKnown)?;
    if !are_comparable(&wanted.facts, &offered.facts) {
        return Err(NoPrediction::NotComparable);
    }
    let grists = (
        candidate.as_metres_per_gram(),
        reference.as_metres_per_gram(),
    );
    if !is_predictable(grists) {
        return Err(NoPrediction::TooFar);
    }
    let mut evidence = vec![Evidence::PredictedFromThickness];
    let densities = densities(&wanted.facts, &offered.facts);
    evidence.extend(densities.is_none().then_some(Evidence::EqualDensity));
    let ratio = gauge_ratio(grists, densities.unwrap_or((1.0, 1.0)));
    Ok(Prediction { ratio, evidence })
}

/// Densities of candidate and reference, where both are known.
pub(super) fn densities(wanted: &YarnFacts, offered: &YarnFacts) -> Option<(f64, f64)> {
    let of = |facts: &YarnFacts| facts.blend.as_ref().and_then(|b| density(&b.value));
    of(offered).zip(of(wanted))
}

/// Density of a blend in g/cm3: specific volumes add by mass share,
/// 1 / rho = sum(p / rho_i). `None` where over a quarter has no value.
pub(super) fn density(blend: &Blend) -> Option<f64> {
    let (volume, share) = blend.mean(|fibre| Some(1.0 / fibre.density.value));
    volume
        .filter(|_| share >= ENOUGH - 1e-9)
        .map(|volume| 1.0 / volume)
}

#[cfg(test)]
mod tests {
    use super::super::samples::{Build, blend, offered, wanted};
    use super::*;

    #[test]
    fn a_prediction_reaches_a_factor_of_two_and_no_further() {
        let wanted = wanted().put_up(200.0, 100.0);
        for (metres, told) in [(400.0, true), (100.0, true), (401.0, false), (99.0, false)] {
            let found = predict(&wanted, &offered().put_up(metres, 100.0));
            assert_eq!(found.is_ok(), told, "{metres} m");
        }
    }

    #[test]
    fn a_density_needs_three_quarters_that_are_known() {
        let known = |wool: f64| density(&blend(&[("wool", wool), ("moss", 100.0 - wool)]));
        assert!(known(75.0).is_some() && known(74.0).is_none());
    }

    /// Common practice, no source: DK 22 stitches over 10 cm at 225 m/100 g;
    /// aran 18 at 165, 4 ply 28 at 400, chunky 14 at 110, super chunky 10 at 70.
    /// Computed from DK: 18.8, 29.3, 15.4, 12.3.
    #[test]
    fn gauges_of_the_trade_follow_from_thickness_to_some_ten_percent_nearby() {
        for (grist, trade, computed, near) in [
            (165.0, 18.0, 18.8, true),
            (400.0, 28.0, 29.3, true),
            (110.0, 14.0, 15.4, false),
            (70.0, 10.0, 12.3, false),
        ] {
            let gauge: f64 = 22.0 * gauge_ratio((grist, 225.0), (1.0, 1.0));
            assert!((gauge - computed).abs() <= 0.05, "{grist}: {gauge}");
            if near {
                assert!((gauge / trade - 1.0).abs() < 0.1);
            }
        }
    }

    #[test]
    fn nothing_is_predicted_beyond_a_factor_of_two() {
        let wanted = wanted().put_up(225.0, 100.0);
        assert!(predict(&wanted, &offered().put_up(165.0, 100.0)).is_ok());
        assert!(predict(&wanted, &offered().put_up(110.0, 100.0)).is_err());
        assert!(predict(&wanted, &offered().put_up(451.0, 100.0)).is_err());
        assert!(predict(&wanted, &offered().put_up(450.0, 100.0)).is_ok());
    }

    /// Densities: Morton & Hearle 2008, table 5.1: wool 1.31, cotton 1.52.
    #[test]
    fn denser_fibre_of_the_same_grist_is_thinner_and_gives_more_stitches() {
        let wanted = wanted().put_up(200.0, 100.0).of(&[("wool", 100.0)]);
        let cotton = offered().put_up(200.0, 100.0).of(&[("cotton", 100.0)]);
        let ratio = predict(&wanted, &cotton).unwrap().ratio;
        assert!((ratio - (1.52_f64 / 1.31).sqrt()).abs() < 1e-12);
    }

    #[test]
    fn specific_volumes_add_by_mass() {
        let half = blend(&[("wool", 50.0), ("nylon", 50.0)]);
        let expected = 1.0 / (0.5 / 1.31 + 0.5 / 1.14);
        assert!((density(&half).unwrap() - expected).abs() < 1e-12);
        assert_eq!(density(&blend(&[("wool", 60.0), ("moss", 40.0)])), None);
    }

    #[test]
    fn unknown_fibres_are_taken_as_equally_dense_and_that_is_noted() {
        let wanted = wanted().put_up(200.0, 100.0);
        let prediction = predict(&wanted, &offered().put_up(200.0, 100.0)).unwrap();
        assert_eq!(prediction.ratio, 1.0);
        assert!(prediction.evidence.contains(&Evidence::EqualDensity));
    }
}
