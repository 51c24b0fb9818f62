//! The best yarns of a catalogue of any size, found without judging them all.
//!
//! Yarns are looked at in ranges of length per mass and of gauge, the likeliest range
//! first, at the little that stands in the index; one is judged in full only where
//! that little leaves it a place among the best. The answer is that of judging every
//! yarn.

use super::{
    super::{
        AppError,
        question::{ResolvedQuestion, Role},
    },
    CandidateSource, Nearest,
    blend_groups::{BlendGroup, blend_groups},
    kind_bounds::KindBounds,
    scan_plan::{RangeScan, scan_plan},
    shortlist::{BATCHES, Batches, Shortlist},
};
use crate::{
    matching::Bounds,
    store::{IndexEntry, Reader},
};

/// The best yarns for a role, of those with and of those without a length per
/// mass.
pub(super) fn nearest(
    source: &CandidateSource<'_>,
    asked: &ResolvedQuestion,
    role: &Role,
) -> Result<Nearest, AppError> {
    nearest_in(source, asked, role, BATCHES)
}

pub(super) fn nearest_in(
    source: &CandidateSource<'_>,
    asked: &ResolvedQuestion,
    role: &Role,
    batches: Batches,
) -> Result<Nearest, AppError> {
    let is_measured = asked.own_gauge.is_some();
    let mut search = Search {
        reader: source.reader,
        bounds: Bounds::new(&role.wanted, &asked.settings, is_measured),
        kinds: KindBounds::default(),
        shortlist: Shortlist::new(source, asked, role, batches)?,
    };
    let groups = blend_groups(source.reader, &search.bounds)?;
    search.scan_all(true, &groups)?;
    let with_grist = search.shortlist.take_in_order();
    search.scan_all(false, &groups)?;
    Ok(Nearest {
        with_grist,
        without_grist: search.shortlist.take_in_order(),
        judged: search.shortlist.judged(),
    })
}

struct Search<'a> {
    reader: &'a Reader<'a>,
    bounds: Bounds<'a>,
    kinds: KindBounds,
    shortlist: Shortlist<'a>,
}

impl Search<'_> {
    /// Judges the yarns with swatches, of which the index tells too little; then the
    /// others, the likeliest ranges first.
    fn scan_all(&mut self, with_grist: bool, groups: &[BlendGroup]) -> Result<(), AppError> {
        self.shortlist.judge_swatched(with_grist)?;
        for scan in scan_plan(&self.bounds, with_grist, groups) {
            if self.shortlist.has_no_place_for(scan.at_best) {
                break;
            }
            self.scan(&scan, with_grist)?;
        }
        Ok(())
    }

    fn scan(&mut self, scan: &RangeScan<'_>, with_grist: bool) -> Result<(), AppError> {
        let reader = self.reader;
        reader.scan_index(scan.range, &scan.group.blends, |entry| {
            self.consider(&entry, with_grist.then_some(scan.by_grist))
        })?;
        self.shortlist.judge_pending()
    }

    /// Keeps a yarn in mind where it may have a place. Of yarns with a length per
    /// mass those are meant of which that is judged, or is not, as `by_grist` says.
    fn consider(&mut self, entry: &IndexEntry, by_grist: Option<bool>) -> Result<(), AppError> {
        if self.shortlist.has_swatch(entry.yarn) {
            return Ok(());
        }
        let kind = self.kinds.of(entry.kind, &self.bounds, self.reader)?;
        if by_grist.is_some_and(|by_grist| by_grist != kind.is_comparable) {
            return Ok(());
        }
        let gauge = entry.gauge.as_ref();
        let at_best = self.bounds.at_best(&kind, entry.grist, gauge);
        if self.shortlist.has_no_place_for(at_best) {
            return Ok(());
        }
        self.shortlist.add(at_best, entry.yarn)
    }
}
