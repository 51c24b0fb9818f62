//! The gauges that are known of the two yarns and of the pattern, brought to
//! stitches over 10 cm, each with what it is and what was assumed.

use super::{Candidate, Requirement};
use crate::{
    measure::{Gauge, Interval, NeedleSize},
    record::{StatedGauge, Stitch, Swatch, Worked, YarnFacts},
    words::number,
};

/// One known gauge.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct KnownGauge {
    /// Stitches over 10 cm.
    pub(super) per_10_cm: Interval<f64>,
    /// What it is, in words.
    pub(super) source: &'static str,
    /// What was assumed.
    pub(super) notes: Vec<String>,
    /// Whether it was reckoned from a gauge of another number of strands.
    pub(super) is_reckoned: bool,
    /// The needle it was worked on, of a swatch.
    pub(super) needle: Option<NeedleSize>,
    stitch: Option<Stitch>,
    worked: Option<Worked>,
}

impl KnownGauge {
    /// Whether both are of one stitch.
    pub(super) fn is_in_stitch_of(&self, other: &Self) -> bool {
        Stitch::is_same(self.stitch.as_ref(), other.stitch.as_ref())
    }

    /// A sentence where one is flat and the other in the round.
    pub(super) fn round_against_flat(&self, other: &Self) -> Option<String> {
        let (mine, theirs) = self.worked.zip(other.worked)?;
        (mine != theirs).then(|| {
            format!(
                "{} was worked {}, {} {}: gauge can differ between the two",
                self.source,
                mine.name(),
                other.source,
                theirs.name()
            )
        })
    }

    /// `22 sts per 10 cm`.
    pub(super) fn told(&self) -> String {
        stitches_told(self.per_10_cm)
    }

    fn stated(source: &'static str, stated: &StatedGauge) -> Self {
        let (per_10_cm, note) = over_10_cm(source, stated.gauge);
        Self {
            per_10_cm,
            source,
            notes: note.into_iter().collect(),
            is_reckoned: false,
            needle: None,
            stitch: stated.stitch.clone(),
            worked: stated.worked,
        }
    }

    /// The gauge of `to` strands from that of `from`: stitches grow with the
    /// area of the yarn, G_n = G_1 / sqrt(n) (area rule, common practice).
    fn of_strands(mut self, from: u8, to: u8) -> Self {
        if from == to {
            return self;
        }
        let factor = (f64::from(from.max(1)) / f64::from(to.max(1))).sqrt();
        self.notes.push(format!(
            "{} is for {}: for {} it is reckoned as {} of it (area rule, common practice, no source), which is a prediction",
            self.source,
            strands(from),
            strands(to),
            number(factor, 2),
        ));
        self.per_10_cm = self.per_10_cm.map(|stitches| stitches * factor);
        self.is_reckoned = true;
        self
    }
}

fn strands(count: u8) -> String {
    crate::words::count_of(f64::from(count), "strand")
}

/// `22 sts per 10 cm`, `20 to 22 sts per 10 cm`.
pub(super) fn stitches_told(range: Interval<f64>) -> String {
    let (low, high) = (number(range.low(), 1), number(range.high(), 1));
    match low == high {
        true => format!("{low} sts per 10 cm"),
        false => format!("{low} to {high} sts per 10 cm"),
    }
}

/// Stitches over 10 cm; a gauge that does not state its length counts as over
/// 10 cm, with a sentence that says so.
fn over_10_cm(source: &str, gauge: Gauge) -> (Interval<f64>, Option<String>) {
    match gauge.stitches_per_metre() {
        Some(per_metre) => (per_metre.map(|stitches| stitches / 10.0), None),
        None => {
            let note = format!(
                "{source} does not say over which length it was counted: 10 cm is taken; over 4 in it would be 1.6 % less"
            );
            (gauge.stitches(), Some(note))
        }
    }
}

/// The pattern's gauge.
pub(super) fn of_pattern(wanted: &Requirement) -> Option<KnownGauge> {
    let stated = wanted.gauge.as_ref()?;
    Some(KnownGauge::stated("the pattern's gauge", stated))
}

/// The label's gauge of the pattern's yarn, for as many strands as are wanted.
pub(super) fn of_reference_label(wanted: &Requirement) -> Option<KnownGauge> {
    let source = "the label gauge of the pattern's yarn";
    of_label(source, &wanted.facts, wanted.strands)
}

/// The label's gauge of the candidate, for as many strands as are offered.
pub(super) fn of_candidate_label(offered: &Candidate) -> Option<KnownGauge> {
    of_label(
        "the label gauge of this yarn",
        &offered.facts,
        offered.strands,
    )
}

fn of_label(source: &'static str, facts: &YarnFacts, strands: u8) -> Option<KnownGauge> {
    let stated = &facts.gauge.as_ref()?.value;
    let gauge = KnownGauge::stated(source, stated);
    Some(gauge.of_strands(stated.strands.unwrap_or(1), strands))
}

/// The gauge measured just now where there is one, else washed swatches of as
/// many strands as are offered.
pub(super) fn washed_swatches(offered: &Candidate) -> Vec<KnownGauge> {
    if let Some(measured) = &offered.measured {
        return vec![KnownGauge::stated("the gauge you measured", measured)];
    }
    let washed = |swatch: &Swatch| {
        let after = swatch.after?;
        let (per_10_cm, note) = over_10_cm("your swatch", after);
        let before = swatch.before.as_ref();
        Some(KnownGauge {
            per_10_cm,
            source: "your washed swatch",
            notes: note.into_iter().collect(),
            is_reckoned: false,
            needle: Some(swatch.needle),
            stitch: before.and_then(|stated| stated.stitch.clone()),
            worked: before.and_then(|stated| stated.worked),
        })
    };
    of_these_strands(offered).filter_map(washed).collect()
}

/// Swatches of as many strands as are offered, as counted before washing.
pub(super) fn unwashed_swatches(offered: &Candidate) -> Vec<KnownGauge> {
    let unwashed = |swatch: &Swatch| {
        let mut known = KnownGauge::stated("your swatch", swatch.before.as_ref()?);
        known.needle = Some(swatch.needle);
        let note = "your swatch was counted before washing: wash it, dry it and count again";
        known.notes.push(note.to_owned());
        Some(known)
    };
    of_these_strands(offered).filter_map(unwashed).collect()
}

fn of_these_strands(offered: &Candidate) -> impl Iterator<Item = &Swatch> {
    let strands = |swatch: &Swatch| swatch.before.as_ref().and_then(|stated| stated.strands);
    let same = move |swatch: &&Swatch| strands(swatch).unwrap_or(1) == offered.strands;
    offered.swatches.iter().filter(same)
}
