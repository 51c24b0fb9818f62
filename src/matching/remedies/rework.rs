//! Working other stitch counts at the yarn's own gauge.

use crate::{
    matching::{Remedy, Requirement, Rework, expected_gauge::ExpectedGauge},
    record::{Multiple, Size},
};

/// Ratio of gauges, either way, beyond which another fabric would result:
/// common practice, no source.
const FURTHEST: f64 = 1.25;

/// Whether gauges of this ratio still make much the same fabric.
pub(super) fn is_one_fabric(ratio: f64) -> bool {
    (1.0 / FURTHEST - 1e-9..=FURTHEST + 1e-9).contains(&ratio)
}

/// Counts that keep the finished widths; none where the gauges lie more than a
/// quarter apart.
pub(super) fn rework_stitches(wanted: &Requirement, expected: &ExpectedGauge) -> Option<Remedy> {
    let factor = expected.ratio;
    if !is_one_fabric(factor) {
        return None;
    }
    let multiple = wanted.multiple.unwrap_or(Multiple::ANY);
    let counted = |size: &Size| {
        let from = size.cast_on?;
        Some(Rework {
            size: size.name.to_string(),
            from,
            to: multiple.nearest(f64::from(from) * factor)?,
        })
    };
    Some(Remedy::ReworkStitches {
        factor,
        counts: wanted.sizes.iter().filter_map(counted).collect(),
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::matching::{
        expected_gauge::expected_gauge,
        samples::{Build, offered, size, wanted},
    };

    fn counts(wanted: &Requirement, label: f64) -> Vec<u32> {
        let expected = expected_gauge(wanted, &offered().label_gauge(label)).unwrap();
        match rework_stitches(wanted, &expected) {
            Some(Remedy::ReworkStitches { counts, .. }) => {
                counts.into_iter().map(|count| count.to).collect()
            }
            _ => Vec::new(),
        }
    }

    #[test]
    fn up_to_a_quarter_either_way_it_is_one_fabric() {
        for ratio in [0.8, 1.0, 1.25] {
            assert!(is_one_fabric(ratio), "{ratio}");
        }
        for ratio in [0.79, 1.26] {
            assert!(!is_one_fabric(ratio), "{ratio}");
        }
    }

    /// Common practice, worked example: pattern 18, own 21, cast-on 100:
    /// 116.67, `116 or 117`.
    #[test]
    fn counts_follow_the_ratio_of_gauges() {
        let wanted = Requirement {
            sizes: vec![size("S", 55.0, 100)],
            ..wanted().label_gauge(18.0)
        };
        assert_eq!(counts(&wanted, 21.0), [117]);
    }

    #[test]
    fn counts_fit_the_patterns_multiple() {
        let wanted = Requirement {
            sizes: vec![size("S", 55.0, 98), size("M", 60.0, 110)],
            multiple: Some(Multiple {
                stitches: 12,
                plus: 2,
            }),
            ..wanted().label_gauge(18.0)
        };
        // 114.3 and 128.3 lie nearest to 9 x 12 + 2 and to 11 x 12 + 2
        assert_eq!(counts(&wanted, 21.0), [110, 134]);
    }

    #[test]
    fn a_gauge_more_than_a_quarter_away_is_another_fabric() {
        let wanted = wanted().label_gauge(20.0);
        let expected = expected_gauge(&wanted, &offered().label_gauge(26.0)).unwrap();
        assert_eq!(rework_stitches(&wanted, &expected), None);
    }
}
