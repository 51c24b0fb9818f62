//! The gauge that a candidate is expected to give, from the most trusted source
//! there is.

use super::{
    Candidate, Evidence, Missing, Requirement,
    known_gauge::{
        KnownGauge, of_candidate_label, of_pattern, of_reference_label, unwashed_swatches,
        washed_swatches,
    },
    prediction::predict,
};
use crate::measure::{Interval, NeedleSize};

/// What gauge to expect, against what is wanted.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct ExpectedGauge {
    /// gauge_c / gauge_r.
    pub(super) ratio: f64,
    /// Stitches over 10 cm that are wanted; of a range the end nearer to
    /// what is offered.
    pub(super) wanted: f64,
    /// Stitches over 10 cm to expect.
    pub(super) offered: f64,
    /// The whole range that is wanted.
    pub(super) wanted_range: Interval<f64>,
    /// The whole range to expect.
    pub(super) offered_range: Interval<f64>,
    /// Whether it is a prediction.
    pub(super) is_predicted: bool,
    /// Where the numbers come from.
    pub(super) evidence: Vec<Evidence>,
    /// The needle of the swatch that it rests on.
    pub(super) needle: Option<NeedleSize>,
}

/// The gauge to expect, in this order of trust: the user's own washed swatch in
/// the pattern's stitch; the same unwashed; own swatch against the label gauge
/// of the pattern's yarn; label against label; label against the pattern's gauge
/// in one stitch; else predicted from thickness.
pub(super) fn expected_gauge(
    wanted: &Requirement,
    offered: &Candidate,
) -> Result<ExpectedGauge, Missing> {
    let pattern = of_pattern(wanted);
    let label = of_reference_label(wanted);
    let Some(shown) = pattern.as_ref().or(label.as_ref()) else {
        return Err(Missing::PatternGauge);
    };
    match most_trusted(offered, pattern.as_ref(), label.as_ref()) {
        Some((candidate, reference)) => Ok(compared(&candidate, reference, shown)),
        None => from_thickness(wanted, offered, shown),
    }
}

/// The first pair in the order of trust whose stitches are the same.
fn most_trusted<'a>(
    offered: &Candidate,
    pattern: Option<&'a KnownGauge>,
    label: Option<&'a KnownGauge>,
) -> Option<(KnownGauge, &'a KnownGauge)> {
    let (washed, unwashed) = (washed_swatches(offered), unwashed_swatches(offered));
    let swatch = nearest_of(&washed, pattern)
        .or_else(|| nearest_of(&unwashed, pattern))
        .or_else(|| nearest_of(&washed, label))
        .or_else(|| nearest_of(&unwashed, label));
    swatch.or_else(|| {
        let own = of_candidate_label(offered)?;
        let reference = label_reference(&own, pattern, label)?;
        Some((own, reference))
    })
}

/// Of several swatches in the reference's stitch the one nearest to it: the
/// needle is the knitter's to choose.
fn nearest_of<'a>(
    swatches: &[KnownGauge],
    reference: Option<&'a KnownGauge>,
) -> Option<(KnownGauge, &'a KnownGauge)> {
    let reference = reference?;
    let off = |swatch: &KnownGauge| {
        let (c, r) = nearer_ends(swatch.found.per_10_cm, reference.found.per_10_cm);
        (c / r - 1.0).abs()
    };
    let same = swatches.iter().filter(|s| s.is_in_stitch_of(reference));
    let nearest = same.min_by(|a, b| off(a).total_cmp(&off(b)))?;
    Some((nearest.clone(), reference))
}

/// The gauge of the same stitch with which that of a candidate's label is compared.
pub(super) fn label_reference<'a>(
    own: &KnownGauge,
    pattern: Option<&'a KnownGauge>,
    label: Option<&'a KnownGauge>,
) -> Option<&'a KnownGauge> {
    let pairs = [label, pattern].into_iter().flatten();
    let same = pairs.filter(|reference| own.is_in_stitch_of(reference));
    // a gauge as printed is trusted before one computed for other strands
    same.min_by_key(|reference| reference.is_predicted)
}

/// The nearest two values of two ranges; where they overlap, the middle of what
/// they share, twice.
pub(super) fn nearer_ends(candidate: Interval<f64>, reference: Interval<f64>) -> (f64, f64) {
    if candidate.low() > reference.high() {
        (candidate.low(), reference.high())
    } else if candidate.high() < reference.low() {
        (candidate.high(), reference.low())
    } else {
        let low = candidate.low().max(reference.low());
        let high = candidate.high().min(reference.high());
        let middle = f64::midpoint(low, high);
        (middle, middle)
    }
}

/// The ratio of two gauges of one stitch, in terms of `shown`, which is the
/// pattern's gauge where that is known.
fn compared(candidate: &KnownGauge, reference: &KnownGauge, shown: &KnownGauge) -> ExpectedGauge {
    let (c, r) = nearer_ends(candidate.found.per_10_cm, reference.found.per_10_cm);
    let ratio = c / r;
    let direct = shown == reference;
    let wanted = if direct {
        r
    } else {
        middle(shown.found.per_10_cm)
    };
    let mut evidence = vec![Evidence::GaugesCompared {
        candidate: candidate.found,
        reference: reference.found,
        needle: candidate.needle,
        carried_to: (!direct).then_some(shown.found),
    }];
    evidence.extend(
        candidate
            .evidence
            .iter()
            .chain(&reference.evidence)
            .cloned(),
    );
    evidence.extend(candidate.round_against_flat(reference));
    ExpectedGauge {
        ratio,
        wanted,
        offered: wanted * ratio,
        wanted_range: shown.found.per_10_cm,
        offered_range: if direct {
            candidate.found.per_10_cm
        } else {
            Interval::one(wanted * ratio)
        },
        is_predicted: candidate.is_predicted || reference.is_predicted,
        evidence,
        needle: candidate.needle,
    }
}

fn from_thickness(
    wanted: &Requirement,
    offered: &Candidate,
    shown: &KnownGauge,
) -> Result<ExpectedGauge, Missing> {
    let prediction = predict(wanted, offered).map_err(Missing::Gauge)?;
    let middle = middle(shown.found.per_10_cm);
    let mut evidence = prediction.evidence;
    evidence.extend(shown.evidence.iter().cloned());
    Ok(ExpectedGauge {
        ratio: prediction.ratio,
        wanted: middle,
        offered: middle * prediction.ratio,
        wanted_range: shown.found.per_10_cm,
        offered_range: Interval::one(middle * prediction.ratio),
        is_predicted: true,
        evidence,
        needle: None,
    })
}

fn middle(range: Interval<f64>) -> f64 {
    f64::midpoint(range.low(), range.high())
}

#[cfg(test)]
mod tests {
    use super::super::samples::{Build, offered, swatch, ten_cm, wanted};
    use super::*;
    use crate::{
        matching::GaugeSource,
        measure::{Gauge, Over},
        record::{FlatOrRound, Printed, StatedGauge, Stitch},
    };

    fn in_stitch(name: &str, stitches: f64) -> Option<StatedGauge> {
        Some(StatedGauge {
            stitch: Some(Stitch::named(name)),
            ..ten_cm(stitches)
        })
    }

    fn source(expected: &ExpectedGauge) -> Option<GaugeSource> {
        expected
            .evidence
            .iter()
            .find_map(|evidence| match evidence {
                Evidence::GaugesCompared { candidate, .. } => Some(candidate.source),
                _ => None,
            })
    }

    fn ratio(wanted: &Requirement, offered: &Candidate) -> f64 {
        expected_gauge(wanted, offered).unwrap().ratio
    }

    #[test]
    fn a_washed_swatch_in_the_patterns_stitch_is_trusted_first() {
        let wanted = Requirement {
            gauge: in_stitch("garter", 20.0),
            ..wanted().label_gauge(22.0)
        };
        let mut offered = offered().label_gauge(22.0);
        offered.swatches = vec![
            swatch("garter", Some(21.0), None),
            swatch("garter", Some(20.0), Some(19.0)),
            swatch("stockinette", Some(22.0), Some(22.0)),
        ];
        let expected = expected_gauge(&wanted, &offered).unwrap();
        assert!((expected.ratio - 0.95).abs() < 1e-12);
        assert_eq!(source(&expected), Some(GaugeSource::WashedSwatch));
        assert_eq!(expected.needle.unwrap().as_millimetres(), 4.0);
    }

    #[test]
    fn a_swatch_that_was_not_washed_serves_where_none_was() {
        let wanted = Requirement {
            gauge: in_stitch("garter", 20.0),
            ..wanted()
        };
        let mut unwashed = offered();
        unwashed.swatches = vec![swatch("garter", Some(21.0), None)];
        let expected = expected_gauge(&wanted, &unwashed).unwrap();
        assert!((expected.ratio - 1.05).abs() < 1e-12);
        assert!(expected.evidence.contains(&Evidence::SwatchNotWashed));
    }

    #[test]
    fn a_gauge_of_one_strand_is_computed_for_two_and_that_is_noted() {
        let wanted = wanted().label_gauge(20.0);
        let double = Candidate {
            strands: 2,
            ..offered().label_gauge(28.0)
        };
        let expected = expected_gauge(&wanted, &double).unwrap();
        assert!((expected.ratio - 28.0 / 2.0_f64.sqrt() / 20.0).abs() < 1e-12);
        assert!(expected.evidence.contains(&Evidence::GaugeOfOtherStrands {
            source: GaugeSource::CandidateLabel,
            from: 1,
            to: 2,
            factor: 0.5_f64.sqrt(),
        }));
    }

    #[test]
    fn flat_against_in_the_round_is_noted() {
        let worked = |worked: FlatOrRound| {
            let mut stated = ten_cm(20.0);
            stated.worked = Some(worked);
            stated
        };
        let asked = |stated: StatedGauge| Requirement {
            gauge: Some(stated),
            ..wanted()
        };
        let mut offered = offered();
        let mut own = swatch("stockinette", None, Some(20.0));
        own.before = Some(worked(FlatOrRound::Flat));
        offered.swatches = vec![own];
        let differs = |wanted: &Requirement| {
            let evidence = expected_gauge(wanted, &offered).unwrap().evidence;
            evidence
                .iter()
                .any(|e| matches!(e, Evidence::FlatAgainstRound(_)))
        };
        assert!(differs(&asked(worked(FlatOrRound::InTheRound))));
        assert!(!differs(&asked(worked(FlatOrRound::Flat))));
        assert!(!differs(&asked(ten_cm(20.0))));
    }

    #[test]
    fn of_several_swatches_the_nearest_either_way_is_taken() {
        let wanted = Requirement {
            gauge: in_stitch("garter", 20.0),
            ..wanted()
        };
        for (swatches, nearest) in [
            ([18.0, 21.0], 21.0),
            ([19.5, 21.0], 19.5),
            ([16.0, 25.0], 16.0),
            ([15.0, 24.5], 24.5),
        ] {
            let mut offered = offered();
            offered.swatches = swatches
                .map(|stitches| swatch("garter", Some(stitches), Some(stitches)))
                .to_vec();
            assert!((ratio(&wanted, &offered) - nearest / 20.0).abs() < 1e-12);
        }
    }

    #[test]
    fn ranges_count_from_their_nearer_ends_and_agree_where_they_overlap() {
        let range = |low, high| Interval::between(low, high).unwrap();
        assert_eq!(
            nearer_ends(range(24.0, 26.0), range(20.0, 22.0)),
            (24.0, 22.0)
        );
        assert_eq!(
            nearer_ends(range(18.0, 19.0), range(20.0, 22.0)),
            (19.0, 20.0)
        );
        assert_eq!(
            nearer_ends(range(21.0, 26.0), range(20.0, 22.0)),
            (21.5, 21.5)
        );
    }

    #[test]
    fn labels_are_compared_with_labels_and_carried_over_to_the_patterns_stitch() {
        let wanted = Requirement {
            gauge: in_stitch("cables", 26.0),
            ..wanted().label_gauge(22.0)
        };
        let expected = expected_gauge(&wanted, &offered().label_gauge(21.0)).unwrap();
        assert!((expected.ratio - 21.0 / 22.0).abs() < 1e-12);
        assert!((expected.offered - 26.0 * 21.0 / 22.0).abs() < 1e-9);
        assert_eq!(expected.wanted_range, Interval::one(26.0));
    }

    #[test]
    fn a_label_is_not_compared_with_a_gauge_in_another_stitch() {
        let wanted = Requirement {
            gauge: in_stitch("cables", 26.0),
            ..wanted()
        };
        assert!(expected_gauge(&wanted, &offered().label_gauge(22.0)).is_err());
        let stockinette = Requirement {
            gauge: in_stitch("stocking stitch", 20.0),
            ..wanted
        };
        assert!((ratio(&stockinette, &offered().label_gauge(22.0)) - 1.1).abs() < 1e-12);
    }

    #[test]
    fn a_range_counts_from_its_nearer_end() {
        let range = Interval::between(20.0, 22.0).unwrap();
        let gauge = Gauge::new(range, None, Over::centimetres(10.0).ok()).unwrap();
        let wanted = Requirement {
            gauge: Some(StatedGauge::bare(gauge)),
            ..wanted()
        };
        assert!((ratio(&wanted, &offered().label_gauge(23.1)) - 1.05).abs() < 1e-12);
        assert!((ratio(&wanted, &offered().label_gauge(19.0)) - 0.95).abs() < 1e-12);
        assert_eq!(ratio(&wanted, &offered().label_gauge(21.0)), 1.0);
    }

    #[test]
    fn four_inches_are_told_from_ten_centimetres() {
        let over = Over::inches(4.0).ok();
        let gauge = Gauge::new(Interval::one(22.0), None, over).unwrap();
        let wanted = Requirement {
            gauge: Some(StatedGauge::bare(gauge)),
            ..wanted()
        };
        let found = ratio(&wanted, &offered().label_gauge(22.0));
        assert!((found - 1.016).abs() < 1e-9, "{found}");
    }

    #[test]
    fn a_gauge_without_a_length_counts_as_over_ten_centimetres_and_that_is_noted() {
        let gauge = Gauge::new(Interval::one(22.0), None, None).unwrap();
        let mut offered = offered();
        offered.facts.gauge = Some(Printed::new("22 sts", StatedGauge::bare(gauge)));
        let expected = expected_gauge(&wanted().label_gauge(22.0), &offered).unwrap();
        assert_eq!(expected.ratio, 1.0);
        let assumed = Evidence::GaugeLengthNotStated(GaugeSource::CandidateLabel);
        assert!(expected.evidence.contains(&assumed));
    }

    /// Area rule, common practice, no source: 22 stitches over 10 cm held double
    /// are 22 / sqrt(2) = 15.56.
    #[test]
    fn the_label_of_one_strand_does_not_hold_for_two() {
        let wanted = Requirement {
            gauge: Some(ten_cm(16.0)),
            ..wanted()
        };
        let double = Candidate {
            strands: 2,
            ..offered().label_gauge(22.0)
        };
        let expected = expected_gauge(&wanted, &double).unwrap();
        assert!((expected.offered - 15.56).abs() < 0.005);
        assert!(expected.is_predicted);
    }

    #[test]
    fn a_swatch_of_one_strand_says_nothing_of_two() {
        let wanted = Requirement {
            gauge: Some(ten_cm(16.0)),
            ..wanted()
        };
        let mut double = offered();
        double.strands = 2;
        double.swatches = vec![swatch("stockinette", Some(22.0), Some(22.0))];
        assert!(expected_gauge(&wanted, &double).is_err());
    }

    #[test]
    fn thickness_is_the_last_resort_and_is_marked() {
        let wanted = Requirement {
            gauge: in_stitch("cables", 22.0),
            ..wanted().put_up(225.0, 100.0)
        };
        let expected = expected_gauge(&wanted, &offered().put_up(165.0, 100.0)).unwrap();
        assert!((expected.offered - 18.8).abs() < 0.05);
        assert!(expected.is_predicted);
        assert!(
            expected
                .evidence
                .contains(&Evidence::PredictedFromThickness)
        );
    }
}
