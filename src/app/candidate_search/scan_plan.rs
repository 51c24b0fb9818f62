//! Which ranges of the index a search goes through, the likeliest first.

use super::blend_groups::BlendGroup;
use crate::{
    matching::{AtBest, Bounds, Range},
    store::{GAUGE_SPREADS, ScanRange},
};
use ordered_float::OrderedFloat;

/// A range of the index, of some blends, and what the yarns in it do at best.
pub(super) struct RangeScan<'g> {
    pub(super) at_best: AtBest,
    pub(super) range: ScanRange,
    pub(super) group: &'g BlendGroup,
    /// Whether those are meant whose length per mass is judged, or the others.
    pub(super) by_grist: bool,
}

/// Ranges that hold all yarns with a length per mass, or all without, the likeliest
/// first.
pub(super) fn scan_plan<'g>(
    bounds: &Bounds<'_>,
    with_grist: bool,
    groups: &'g [BlendGroup],
) -> Vec<RangeScan<'g>> {
    let scans = groups
        .iter()
        .flat_map(|group| scans_of(bounds, with_grist, group));
    let mut scans: Vec<RangeScan<'_>> = scans.collect();
    // Of those as good the narrowest first, which may leave little place to the rest.
    scans.sort_by_key(|scan| (scan.at_best.order(), OrderedFloat(scan.range.width())));
    scans
}

/// Those with a length per mass by that where it is judged, else by gauge; or all
/// without.
fn scans_of<'g>(
    bounds: &Bounds<'_>,
    with_grist: bool,
    group: &'g BlendGroup,
) -> Vec<RangeScan<'g>> {
    let scan = |at_best, range, by_grist| RangeScan {
        at_best,
        range,
        group,
        by_grist,
    };
    let by_gauge = gauge_ranges(bounds, with_grist, group.least).into_iter();
    let mut scans: Vec<_> = by_gauge
        .map(|(at_best, range)| scan(at_best, range, false))
        .collect();
    let rest = without_gauge_range(scans.is_empty(), with_grist);
    scans.push(scan(bounds.with_neither(group.least), rest, false));
    if with_grist {
        let by_grist = bounds
            .grist_ranges(group.least, group.thickness)
            .into_iter();
        scans.extend(
            by_grist
                .map(|(at_best, (from, to))| scan(at_best, ScanRange::Grist { from, to }, true)),
        );
    }
    scans
}

fn gauge_ranges(bounds: &Bounds<'_>, with_grist: bool, fibre: f64) -> Vec<(AtBest, ScanRange)> {
    let range = |spread, (from, to): Range| ScanRange::Gauge {
        spread,
        from,
        to,
        with_grist,
    };
    let spreads = (0..).zip(GAUGE_SPREADS);
    let ranges = spreads.flat_map(|(spread, widest)| {
        let ranges = bounds.gauge_ranges(widest, fibre).into_iter();
        ranges.map(move |(at_best, ends)| (at_best, range(spread, ends)))
    });
    ranges.collect()
}

/// All yarns that are in no range of gauge.
fn without_gauge_range(is_all: bool, with_grist: bool) -> ScanRange {
    match (is_all, with_grist) {
        (true, _) => ScanRange::whole(with_grist),
        (false, true) => ScanRange::NoGauge,
        (false, false) => ScanRange::Neither,
    }
}
