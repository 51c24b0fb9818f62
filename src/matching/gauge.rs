//! The gauge to expect against the gauge that is wanted.

use super::{
    Criterion, Departure, Measured, Missing, Requirement, Tolerance,
    expected_gauge::ExpectedGauge,
    terms::{Outcome, in_tolerances},
};
use crate::record::Fit;

/// How far gauge may lie, as a share: fitted 2.5 %, relaxed 4 %, unfitted 8 %.
/// Common practice, no source: half a stitch in 20 is 2.5 % of the width.
pub(super) fn tolerance(fit: Fit) -> f64 {
    match fit {
        Fit::Fitted => 0.025,
        Fit::Relaxed => 0.04,
        Fit::Unfitted => 0.08,
    }
}

/// Departure: |gauge_c / gauge_r - 1| / tolerance.
pub(super) fn gauge(wanted: &Requirement, expected: &Result<ExpectedGauge, Missing>) -> Outcome {
    let expected = match expected {
        Ok(expected) => expected,
        Err(missing) => return Outcome::NotJudged(missing.clone()),
    };
    let (fit, share) = (wanted.fit, tolerance(wanted.fit));
    Outcome::Judged(Departure {
        criterion: Criterion::Gauge,
        departure: in_tolerances(expected.ratio - 1.0, share),
        wanted: Measured::Gauge {
            per_10_cm: expected.wanted_range,
            compared: expected.wanted,
            is_predicted: false,
        },
        offered: Measured::Gauge {
            per_10_cm: expected.offered_range,
            compared: expected.offered,
            is_predicted: expected.is_predicted,
        },
        tolerance: Tolerance::Gauge { fit, share },
        evidence: expected.evidence.clone(),
    })
}

#[cfg(test)]
mod tests {
    use super::super::{
        expected_gauge::expected_gauge,
        samples::{Build, offered, wanted},
    };
    use super::*;

    #[test]
    fn the_closer_the_fit_the_less_gauge_may_differ() {
        for (fit, departure) in [
            (Fit::Fitted, 2.0),
            (Fit::Relaxed, 1.25),
            (Fit::Unfitted, 0.625),
        ] {
            let wanted = Requirement {
                fit,
                ..wanted().label_gauge(20.0)
            };
            let expected = expected_gauge(&wanted, &offered().label_gauge(21.0));
            let found = gauge(&wanted, &expected).judged();
            assert!((found.departure - departure).abs() < 1e-9, "{fit:?}");
            let compared = |measured| match measured {
                Measured::Gauge { compared, .. } => compared,
                other => panic!("{other:?}"),
            };
            assert_eq!(
                (compared(found.wanted), compared(found.offered)),
                (20.0, 21.0)
            );
            // One stitch lies as far off as the departure says.
            let Tolerance::Gauge { share, .. } = found.tolerance else {
                panic!("{:?}", found.tolerance)
            };
            assert!((share * 20.0 * departure - 1.0).abs() < 1e-9, "{fit:?}");
        }
    }
}
