//! What has to be met for a yarn to work: from departures to the answer.
//!
//! Each reason against a yarn is either met by a condition, which the answer
//! writes out, or by none, and then the yarn will not work held so. Length per mass
//! beyond its tolerance is met by those who like another cloth, up to the widest
//! tolerance that is published; gauge by a remedy; fibre, construction, care and
//! class always. Where length per mass lies beyond as well, only another needle
//! meets the gauge: other counts would be another project.

use super::{
    Candidate, Cap, Criterion, Doubt, Missing, Remedy, Side,
    assess::Assessment,
    criterion::{Outcome, is_judged_enough, is_within},
    grist::{may_lie_beyond, off},
    settings::is_within_widest,
};
use crate::label::measured::measured_range;

/// Something that has to be met for a yarn to work.
#[derive(Debug, Clone, PartialEq)]
pub enum Condition {
    /// So many strands are held together.
    Strands(u8),
    /// The cloth is liked lighter (above 0) or firmer (below), by this share of the
    /// length per mass that is wanted.
    Cloth(f64),
    /// One of the remedies for gauge is used.
    Gauge,
    /// A swatch meets the gauge, of which only a prediction lies too far.
    SwatchGauge,
    /// What departs on this criterion is accepted.
    Departs(Criterion),
    /// This is found out.
    Missing(Missing),
    /// What the purpose is wary of is accepted.
    Cap(Cap),
    /// What is doubtful about the label is found out.
    Doubt(Doubt),
}

/// The conditions under which everything outside its tolerance is met, in the order
/// of the criteria; none where something is not.
pub(super) fn conditions(assessed: &Assessment, for_gauge: &[Remedy]) -> Option<Vec<Condition>> {
    let mut met = Vec::new();
    for found in &assessed.departures {
        if is_within(found.departure) {
            continue;
        }
        met.push(match found.criterion {
            Criterion::Grist => Condition::Cloth(off(found).filter(|off| is_within_widest(*off))?),
            Criterion::Gauge => gauge(assessed, for_gauge)?,
            soft => Condition::Departs(soft),
        });
    }
    met.extend(to_find_out(assessed));
    Some(met)
}

fn gauge(assessed: &Assessment, for_gauge: &[Remedy]) -> Option<Condition> {
    let needle = |remedy: &Remedy| matches!(remedy, Remedy::ChangeNeedle { .. });
    let is_met = if assessed.is_beyond(Criterion::Grist) {
        for_gauge.iter().any(needle)
    } else {
        !for_gauge.is_empty()
    };
    let predicted = assessed
        .gauge
        .as_ref()
        .is_some_and(|gauge| gauge.is_predicted);
    match (is_met, predicted) {
        (true, _) => Some(Condition::Gauge),
        (false, true) => Some(Condition::SwatchGauge),
        (false, false) => None,
    }
}

/// What holds a good verdict back, whatever the departures.
pub(super) fn caps(
    offered: &Candidate,
    assessed: &Assessment,
    caps: Vec<Cap>,
) -> impl Iterator<Item = Condition> {
    let doubts = offered.doubts.iter().cloned();
    let doubts = doubts.chain(measured_too_roughly(offered, assessed));
    let doubts: Vec<Doubt> = doubts.collect();
    let caps = caps.into_iter().map(Condition::Cap);
    caps.chain(doubts.into_iter().map(Condition::Doubt))
}

/// A length per mass that was measured, and of which a part of the range is too far off.
fn measured_too_roughly(offered: &Candidate, assessed: &Assessment) -> Option<Doubt> {
    let range = measured_range(&offered.facts)?;
    let mut departures = assessed.departures.iter();
    let found = departures.find(|found| found.criterion == Criterion::Grist)?;
    may_lie_beyond(found, range).then_some(Doubt::Measured(range))
}

/// Whether a fibre that could not be compared holds a good verdict back: always where
/// it is that of the yarn, not where the pattern does not say.
pub(super) fn holds_back(fibre: &Outcome) -> bool {
    match fibre {
        Outcome::NotJudged(missing) => is_of_the_yarn(missing),
        Outcome::Judged(_) | Outcome::NotAsked => false,
    }
}

fn is_of_the_yarn(fibre: &Missing) -> bool {
    *fibre != Missing::Fibre(Side::Reference)
}

/// What is not known and would have to be for a firmer answer: length per mass and
/// gauge where too little was judged by them, and always the fibre of the yarn.
fn to_find_out(assessed: &Assessment) -> impl Iterator<Item = Condition> {
    let is_enough = is_judged_enough(&assessed.departures);
    let counts = move |missing: &&Missing| match missing.criterion() {
        Criterion::Grist | Criterion::Gauge => !is_enough,
        Criterion::Fibre => is_of_the_yarn(missing),
        Criterion::WeightClass | Criterion::Construction | Criterion::Care => false,
    };
    let missing = assessed.not_judged.iter().filter(counts);
    missing.cloned().map(Condition::Missing)
}
