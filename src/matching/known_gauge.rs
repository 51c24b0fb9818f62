//! The gauges that are known of the two yarns and of the pattern, brought to
//! stitches over 10 cm, each with what it is and what was assumed.

use super::{Candidate, Evidence, FoundGauge, GaugeSource, Requirement};
use crate::{
    measure::{Gauge, Interval, NeedleSize},
    record::{FlatOrRound, StatedGauge, Stitch, Swatch},
};

/// One known gauge.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct KnownGauge {
    /// Stitches over 10 cm, and what it is.
    pub(super) found: FoundGauge,
    /// What was assumed.
    pub(super) evidence: Vec<Evidence>,
    /// Whether it was computed from a gauge of another number of strands.
    pub(super) is_predicted: bool,
    /// The needle it was worked on, of a swatch.
    pub(super) needle: Option<NeedleSize>,
    stitch: Option<Stitch>,
    worked: Option<FlatOrRound>,
}

impl KnownGauge {
    /// Whether both are of one stitch.
    pub(super) fn is_in_stitch_of(&self, other: &Self) -> bool {
        Stitch::is_same(self.stitch.as_ref(), other.stitch.as_ref())
    }

    /// Where one is flat and the other in the round.
    pub(super) fn round_against_flat(&self, other: &Self) -> Option<Evidence> {
        let (mine, theirs) = self.worked.zip(other.worked)?;
        let both = [(self.found.source, mine), (other.found.source, theirs)];
        (mine != theirs).then_some(Evidence::FlatAgainstRound(both))
    }

    fn new(source: GaugeSource, gauge: Gauge, stated: Option<&StatedGauge>) -> Self {
        let (per_10_cm, note) = over_10_cm(source, gauge);
        Self {
            found: FoundGauge { source, per_10_cm },
            evidence: note.into_iter().collect(),
            is_predicted: false,
            needle: None,
            stitch: stated.and_then(|stated| stated.stitch.clone()),
            worked: stated.and_then(|stated| stated.worked),
        }
    }

    fn stated(source: GaugeSource, stated: &StatedGauge) -> Self {
        Self::new(source, stated.gauge, Some(stated))
    }

    /// The gauge of `to` strands from that of `from`: stitches grow with the
    /// area of the yarn, G_n = G_1 / sqrt(n) (area rule, common practice).
    fn for_strands(mut self, from: u8, to: u8) -> Self {
        if from == to {
            return self;
        }
        let factor = (f64::from(from.max(1)) / f64::from(to.max(1))).sqrt();
        let source = self.found.source;
        self.evidence.push(Evidence::GaugeOfOtherStrands {
            source,
            from,
            to,
            factor,
        });
        self.found.per_10_cm = self.found.per_10_cm.map(|stitches| stitches * factor);
        self.is_predicted = true;
        self
    }
}

/// Stitches over 10 cm; a gauge that does not state its length counts as over
/// 10 cm, which is noted.
fn over_10_cm(source: GaugeSource, gauge: Gauge) -> (Interval<f64>, Option<Evidence>) {
    // The length of a swatch is stated of it whole, washed or not.
    let whose = match source {
        GaugeSource::WashedSwatch => GaugeSource::Swatch,
        other => other,
    };
    match gauge.stitches_per_metre() {
        Some(per_metre) => (per_metre.map(|stitches| stitches / 10.0), None),
        None => (
            gauge.stitches(),
            Some(Evidence::GaugeLengthNotStated(whose)),
        ),
    }
}

/// The pattern's gauge.
pub(super) fn of_pattern(wanted: &Requirement) -> Option<KnownGauge> {
    let stated = wanted.gauge.as_ref()?;
    Some(KnownGauge::stated(GaugeSource::Pattern, stated))
}

/// The label's gauge of the pattern's yarn, for as many strands as are wanted.
pub(super) fn of_reference_label(wanted: &Requirement) -> Option<KnownGauge> {
    let stated = &wanted.facts.gauge.as_ref()?.value;
    let gauge = KnownGauge::stated(GaugeSource::ReferenceLabel, stated);
    Some(gauge.for_strands(stated.strands.unwrap_or(1), wanted.strands))
}

/// The label's gauge of the candidate, for as many strands as are offered.
pub(super) fn of_candidate_label(offered: &Candidate) -> Option<KnownGauge> {
    let stated = &offered.facts.gauge.as_ref()?.value;
    Some(of_label_gauge(stated, offered.strands))
}

/// The same of a label with this gauge.
pub(super) fn of_label_gauge(stated: &StatedGauge, strands: u8) -> KnownGauge {
    let gauge = KnownGauge::stated(GaugeSource::CandidateLabel, stated);
    gauge.for_strands(stated.strands.unwrap_or(1), strands)
}

/// The gauge measured just now where there is one, else washed swatches of as
/// many strands as are offered.
pub(super) fn washed_swatches(offered: &Candidate) -> Vec<KnownGauge> {
    if let Some(measured) = &offered.measured {
        return vec![KnownGauge::stated(GaugeSource::Measured, measured)];
    }
    let washed = |swatch: &Swatch| {
        let mut known = KnownGauge::new(
            GaugeSource::WashedSwatch,
            swatch.after?,
            swatch.before.as_ref(),
        );
        known.needle = Some(swatch.needle);
        Some(known)
    };
    of_these_strands(offered).filter_map(washed).collect()
}

/// Swatches of as many strands as are offered, as counted before washing.
pub(super) fn unwashed_swatches(offered: &Candidate) -> Vec<KnownGauge> {
    let unwashed = |swatch: &Swatch| {
        let mut known = KnownGauge::stated(GaugeSource::Swatch, swatch.before.as_ref()?);
        known.needle = Some(swatch.needle);
        known.evidence.push(Evidence::SwatchNotWashed);
        Some(known)
    };
    of_these_strands(offered).filter_map(unwashed).collect()
}

fn of_these_strands(offered: &Candidate) -> impl Iterator<Item = &Swatch> {
    let same = move |swatch: &&Swatch| swatch.strands() == offered.strands;
    offered.swatches.iter().filter(same)
}
