//! Working the counts of another size.

use super::rework::is_one_fabric;
use crate::{
    matching::{
        Remedy, Requirement,
        criterion::{in_tolerances, is_within},
        expected_gauge::ExpectedGauge,
        gauge::tolerance_on,
    },
    record::Size,
};

/// The other size whose counts, at the yarn's own gauge, come nearest to the
/// width of the wanted one: width x gauge_r / gauge_c. Only for a chosen size, and
/// only within the fit's tolerance of its width and while the fabric stays one.
pub(super) fn another_size(wanted: &Requirement, expected: &ExpectedGauge) -> Option<Remedy> {
    let chosen = wanted.size?;
    let target = wanted.sizes.get(chosen)?;
    let wanted_m = width_m(target, wanted)?;
    if !is_one_fabric(expected.ratio) {
        return None;
    }
    let factor = 1.0 / expected.ratio;
    let off = |width: f64| (width / wanted_m - 1.0).abs();
    let (index, size, width_m) = wanted
        .sizes
        .iter()
        .enumerate()
        .filter(|(index, _)| *index != chosen)
        .filter_map(|(index, size)| Some((index, size, width_m(size, wanted)? * factor)))
        .min_by(|(_, _, a), (_, _, b)| off(*a).total_cmp(&off(*b)))?;
    let tolerance = tolerance_on(wanted.fit, false);
    is_within(in_tolerances(off(width_m), tolerance)).then(|| Remedy::AnotherSize {
        knit: size.name.to_string(),
        instead_of: target.name.to_string(),
        index,
        width_m,
        wanted_m,
        factor,
    })
}

/// Finished width in m, as stated, else of the cast-on at the pattern's gauge.
fn width_m(size: &Size, wanted: &Requirement) -> Option<f64> {
    let stated = size.width.as_ref().map(|width| width.value);
    let width = stated.or_else(|| {
        let gauge = wanted.gauge.as_ref()?.gauge;
        gauge.width_of(f64::from(size.cast_on?))?.ok()
    })?;
    Some(width.as_metres()).filter(|metres| *metres > 0.0)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::matching::{
        expected_gauge::expected_gauge,
        samples::{Build, offered, size, wanted},
    };

    fn remedy(label: f64, chosen: Option<usize>) -> Option<Remedy> {
        let wanted = Requirement {
            sizes: vec![
                size("S", 90.0, 180),
                size("M", 100.0, 200),
                size("L", 110.0, 220),
            ],
            size: chosen,
            ..wanted().label_gauge(20.0)
        };
        let expected = expected_gauge(&wanted, &offered().label_gauge(label)).unwrap();
        another_size(&wanted, &expected)
    }

    #[test]
    fn tighter_knitting_takes_the_counts_of_a_larger_size() {
        let Some(Remedy::AnotherSize {
            knit,
            instead_of,
            index,
            width_m,
            factor,
            ..
        }) = remedy(22.0, Some(1))
        else {
            panic!("no size")
        };
        assert_eq!((knit.as_str(), instead_of.as_str(), index), ("L", "M", 2));
        assert!((width_m - 1.0).abs() < 1e-9);
        assert!((factor - 20.0 / 22.0).abs() < 1e-12);
    }

    #[test]
    fn no_size_is_proposed_where_none_comes_near_or_none_was_chosen() {
        assert_eq!(remedy(21.0, Some(1)), None);
        assert_eq!(remedy(22.0, None), None);
        assert_eq!(remedy(22.0, Some(9)), None);
    }
}
