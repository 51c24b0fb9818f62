//! What judging a candidate gives: numbers and kinds, which `report` puts into
//! words.

use super::{
    Bar, Condition, Criterion, Doubt, Evidence, HeldGrist, Missing, Remedy, Weights,
    criterion::{is_judged_enough, is_within},
};
use crate::{
    measure::{GristTolerance, Interval},
    record::{Blend, Care, Classes, Fit},
    trade::{Construction, Hazard, WeightClass},
};

/// How far a candidate lies from what is wanted on one criterion.
#[derive(Debug, Clone, PartialEq)]
pub struct Departure {
    /// On what.
    pub criterion: Criterion,
    /// In tolerances: 0 the same, 1 at the edge.
    pub departure: f64,
    /// What is wanted.
    pub wanted: Measured,
    /// What is offered.
    pub offered: Measured,
    /// The tolerance used.
    pub tolerance: Tolerance,
    /// Where the values come from, what was assumed.
    pub evidence: Vec<Evidence>,
}

/// The value that one criterion looks at.
#[derive(Debug, Clone, PartialEq)]
pub enum Measured {
    /// Length per mass.
    Grist(HeldGrist),
    /// Gauge.
    Gauge {
        /// Stitches over 10 cm, as known or expected.
        per_10_cm: Interval<f64>,
        /// Of a range, the stitches that were compared.
        compared: f64,
        /// Whether it is a prediction.
        is_predicted: bool,
    },
    /// Weight class.
    WeightClass {
        /// Those that the printed name may mean.
        classes: Classes,
        /// The one that was compared.
        compared: WeightClass,
    },
    /// Fibres.
    Fibre(Blend),
    /// How it is built.
    Construction(Construction),
    /// Washing, where it is stated.
    Care(Option<Care>),
}

/// The tolerance of a departure.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Tolerance {
    /// On length per mass.
    Grist {
        /// As stated.
        stated: GristTolerance,
        /// The same either way of what is wanted, m/g.
        metres_per_gram: f64,
    },
    /// On gauge.
    Gauge {
        /// The fit that sets it.
        fit: Fit,
        /// Share of the stitches that are wanted.
        share: f64,
    },
    /// 1: a step, or a departure that is its own measure.
    One,
}

/// What the answer is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Verdict {
    /// Every judged criterion within its tolerance.
    ShouldWork,
    /// Something lies outside, and there is something to do about it.
    CouldWork,
    /// Neither grist nor gauge is known, or a hazard cannot be ruled out.
    CannotSay,
    /// Outside, and nothing computed mends it, or a hazard forbids it.
    WillNotWork,
}

/// A caution, shown apart from the departures and never hidden by a verdict.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Caution {
    /// What to take care of.
    pub hazard: Hazard,
    /// What it does to the verdict, whatever the departures.
    pub severity: Severity,
}

/// What a caution does to the verdict, the strongest last.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Severity {
    /// Nothing: it stands beside it.
    Beside,
    /// No good verdict is given until what is not known is known.
    Withholds,
    /// This use of this yarn is forbidden.
    Forbids,
}

/// The whole judgement of one candidate.
#[derive(Debug, Clone, PartialEq)]
pub struct Judgement {
    /// The answer.
    pub verdict: Verdict,
    /// Weighted root mean square of the departures; `None` where none is judged.
    pub overall: Option<f64>,
    /// What orders candidates: [`Self::overall`] with what could not be judged; never
    /// shown.
    pub for_ranking: f64,
    /// In the order of [`Criterion::ALL`].
    pub departures: Vec<Departure>,
    /// In the order of [`Criterion::ALL`].
    pub not_judged: Vec<Missing>,
    /// The rule of the purpose by which it will not work.
    pub bar: Option<Bar>,
    /// What has to be met for it to work; never empty where it could.
    pub conditions: Vec<Condition>,
    /// What would bring it within, with numbers.
    pub remedies: Vec<Remedy>,
    /// Cautions that go with this yarn for this purpose.
    pub cautions: Vec<Caution>,
    /// Gauge that the candidate is expected to give over that of the pattern
    /// (gauge_c / gauge_r), where known: the k of a reworked pattern. In the strands in
    /// which it would be held.
    pub gauge_ratio: Option<f64>,
    /// Whether grist is known but the constructions cannot be compared by it.
    pub grist_not_comparable: bool,
    /// What of the label leaves the facts of the yarn in doubt.
    pub doubts: Vec<Doubt>,
}

/// One reason for a verdict.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Reason<'a> {
    /// A caution that decides.
    Caution(&'a Caution),
    /// A rule of the purpose.
    Bar(&'a Bar),
    /// What of the label is in doubt, where that is no condition already.
    Doubt(&'a Doubt),
    /// Something that would have to be known for a firmer answer.
    Missing(&'a Missing),
    /// A departure, outside its tolerance or within.
    Departure(&'a Departure),
}

impl Judgement {
    /// Why, the weightiest first: the cautions and rules that decide; then what of the
    /// label is in doubt; then what is missing, where
    /// that decides; then what lies outside, the farthest first; then what lies within,
    /// in the order of the criteria.
    pub fn reasons(&self) -> Vec<Reason<'_>> {
        let deciding = self
            .cautions
            .iter()
            .filter(|c| c.severity > Severity::Beside);
        let (within, mut outside): (Vec<&Departure>, Vec<&Departure>) =
            self.departures.iter().partition(|d| is_within(d.departure));
        outside.sort_by(|a, b| b.departure.total_cmp(&a.departure));
        let in_doubt = self.verdict != Verdict::CouldWork;
        deciding
            .map(Reason::Caution)
            .chain(self.bar.iter().map(Reason::Bar))
            .chain(self.doubts.iter().filter(|_| in_doubt).map(Reason::Doubt))
            .chain(self.missing_for_more().into_iter().map(Reason::Missing))
            .chain(outside.into_iter().chain(within).map(Reason::Departure))
            .collect()
    }

    /// The departure on one criterion, where judged.
    pub fn departure(&self, criterion: Criterion) -> Option<&Departure> {
        let mut departures = self.departures.iter();
        departures.find(|departure| departure.criterion == criterion)
    }

    /// What would have to be known for a firmer answer.
    fn missing_for_more(&self) -> Vec<&Missing> {
        let decides = self.verdict == Verdict::CannotSay
            || self.verdict == Verdict::CouldWork && !is_judged_enough(&self.departures);
        let counts =
            |missing: &&Missing| matches!(missing.criterion(), Criterion::Grist | Criterion::Gauge);
        let missing = self.not_judged.iter().filter(counts);
        missing.filter(|_| decides).collect()
    }
}

/// What a criterion that could not be judged counts in the order of candidates, so
/// that little knowledge never wins over a good match.
pub(super) const NOT_JUDGED: f64 = 0.5;

/// What length per mass counts there where it is known of both and says nothing, as of a
/// brushed yarn beside a smooth one: a yarn that can be compared and is a little off comes
/// first (common practice, no source).
pub(super) const NOT_COMPARABLE: f64 = 1.5;

/// What a criterion counts in the order of candidates, of which this is missing.
pub(super) fn counted_missing(missing: &Missing) -> f64 {
    match missing {
        Missing::ComparableGrist { .. } => NOT_COMPARABLE,
        _ => NOT_JUDGED,
    }
}

/// D = sqrt(sum(w a^2) / sum(w)) over the criteria that are given, a departure
/// in tolerances, w weight; `None` where none is, or all weights are 0. Over those
/// that were judged it is shown, but not as a mark; with [`counted_missing`] for those
/// that could not be it orders candidates.
#[inline]
pub(super) fn overall(
    departures: impl Iterator<Item = (Criterion, f64)>,
    weights: &Weights,
) -> Option<f64> {
    let (mut squares, mut sum) = (0.0, 0.0);
    for (criterion, departure) in departures {
        let weight = weights.of(criterion);
        squares += weight * departure.powi(2);
        sum += weight;
    }
    (sum > 0.0).then(|| (squares / sum).sqrt())
}

#[cfg(test)]
mod tests {
    use super::*;

    fn of(departures: &[(Criterion, f64)], weights: &Weights) -> Option<f64> {
        overall(departures.iter().copied(), weights)
    }

    #[test]
    fn weights_are_grist_four_gauge_three_fibre_two_and_one_each() {
        let departures = [
            (Criterion::Grist, 0.5),
            (Criterion::Gauge, 1.0),
            (Criterion::Fibre, 2.0),
        ];
        let found = of(&departures, &Weights::default()).unwrap();
        let expected = ((4.0 * 0.25 + 3.0 * 1.0 + 2.0 * 4.0) / 9.0_f64).sqrt();
        assert!((found - expected).abs() < 1e-12);
        assert_eq!(of(&[], &Weights::default()), None);
    }

    #[test]
    fn a_criterion_of_no_weight_does_not_count() {
        let weights = Weights::default().with(Criterion::Fibre, 0.0).unwrap();
        let departures = [(Criterion::Grist, 0.5), (Criterion::Fibre, 9.0)];
        assert_eq!(of(&departures, &weights), Some(0.5));
        assert_eq!(of(&departures[1..], &weights), None);
    }
}
