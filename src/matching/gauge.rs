//! The gauge to expect against the gauge that is wanted.

use super::{
    Criterion, Departure, Measured, Missing, Requirement, Tolerance,
    criterion::{Outcome, in_tolerances},
    expected_gauge::ExpectedGauge,
};
use crate::record::Fit;

/// How far gauge may lie, as a share: fitted 2.5 %, relaxed 4 %, unfitted 8 %.
/// Common practice, no source: half a stitch in 20 is 2.5 % of the width.
fn tolerance(fit: Fit) -> f64 {
    match fit {
        Fit::Fitted => 0.025,
        Fit::Relaxed => 0.04,
        Fit::Unfitted => 0.08,
    }
}

/// The least tolerance on a gauge that is only predicted, as a share: no
/// prediction is nearer (common practice, no source).
const PREDICTED: f64 = 0.10;

/// The tolerance on a gauge, at least 10 % on one that is predicted.
pub(super) fn tolerance_on(fit: Fit, is_predicted: bool) -> f64 {
    let of_fit = tolerance(fit);
    if is_predicted {
        of_fit.max(PREDICTED)
    } else {
        of_fit
    }
}

/// Departure: |gauge_c / gauge_r - 1| / tolerance.
pub(super) fn gauge(wanted: &Requirement, expected: &Result<ExpectedGauge, Missing>) -> Outcome {
    let expected = match expected {
        Ok(expected) => expected,
        Err(missing) => return Outcome::NotJudged(missing.clone()),
    };
    let fit = wanted.fit;
    let share = tolerance_on(fit, expected.is_predicted);
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

    /// At the edge of each fit, a step within and a step beyond.
    #[test]
    fn the_edge_of_each_fit_is_within() {
        for (fit, edge) in [
            (Fit::Fitted, 20.5),
            (Fit::Relaxed, 20.8),
            (Fit::Unfitted, 21.6),
        ] {
            let wanted = Requirement {
                fit,
                ..wanted().label_gauge(20.0)
            };
            for (stitches, within) in [(edge - 0.01, true), (edge, true), (edge + 0.01, false)] {
                let expected = expected_gauge(&wanted, &offered().label_gauge(stitches));
                let found = gauge(&wanted, &expected).judged();
                let is_within = super::super::criterion::is_within(found.departure);
                assert_eq!(is_within, within, "{fit:?} {stitches}");
            }
        }
    }

    #[test]
    fn a_predicted_gauge_has_a_tenth_at_least() {
        for (fit, share) in [(Fit::Fitted, 0.1), (Fit::Unfitted, 0.1)] {
            assert_eq!(tolerance_on(fit, true), share);
        }
        assert_eq!(tolerance_on(Fit::Fitted, false), 0.025);
        let wanted = Requirement {
            fit: Fit::Fitted,
            ..wanted().put_up(100.0, 100.0).label_gauge(20.0)
        };
        // sqrt(1.21) = 1.1
        let expected = expected_gauge(&wanted, &offered().put_up(121.0, 100.0));
        let found = gauge(&wanted, &expected).judged();
        assert!((found.departure - 1.0).abs() < 1e-9, "{}", found.departure);
    }
}
