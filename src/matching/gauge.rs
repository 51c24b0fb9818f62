//! The gauge to expect against the gauge that is wanted.

use super::{
    Criterion, Departure, Requirement, Scale,
    expected_gauge::{ExpectedGauge, NoGauge},
    terms::{Outcome, in_tolerances},
};
use crate::{record::Fit, words::number};

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
pub(super) fn gauge(wanted: &Requirement, expected: &Result<ExpectedGauge, NoGauge>) -> Outcome {
    match expected {
        Ok(expected) => Outcome::Judged(departure(wanted.fit, expected)),
        Err(none) => Outcome::missing(Criterion::Gauge, none.why.clone(), none.measure),
    }
}

fn departure(fit: Fit, expected: &ExpectedGauge) -> Departure {
    let tolerance = tolerance(fit);
    Departure {
        criterion: Criterion::Gauge,
        departure: in_tolerances(expected.ratio - 1.0, tolerance),
        wanted: expected.wanted_told.clone(),
        offered: expected.offered_told.clone(),
        tolerance: format!("{} % ({} fit)", number(tolerance * 100.0, 1), fit.name()),
        scale: Some(Scale {
            wanted: expected.wanted,
            offered: expected.offered,
            tolerance: tolerance * expected.wanted,
            unit: "sts per 10 cm",
        }),
        notes: expected.notes.clone(),
    }
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
            let Outcome::Judged(found) = gauge(&wanted, &expected) else {
                panic!("{fit:?} is not judged")
            };
            assert!((found.departure - departure).abs() < 1e-9, "{fit:?}");
            let scale = found.scale.unwrap();
            assert_eq!((scale.wanted, scale.offered), (20.0, 21.0));
            // The rail's edge, 1, lies as far off as the tolerance: one stitch here.
            assert!((scale.tolerance * departure - 1.0).abs() < 1e-9, "{fit:?}");
        }
    }
}
