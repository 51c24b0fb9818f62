//! What judging a candidate gives.

use super::{Criterion, Remedy};

/// How far a candidate lies from what is wanted on one criterion.
#[derive(Debug, Clone, PartialEq)]
pub struct Departure {
    /// On what.
    pub criterion: Criterion,
    /// In tolerances: 0 the same, 1 at the edge.
    pub departure: f64,
    /// What is wanted, with its unit, in words.
    pub wanted: String,
    /// What is offered, with its unit, in words.
    pub offered: String,
    /// The tolerance used, with its unit, in words.
    pub tolerance: String,
    /// The same as numbers on one line, where they are numbers.
    pub scale: Option<Scale>,
    /// Where the values come from, what was assumed, a sentence each.
    pub notes: Vec<String>,
}

/// Numbers behind a departure, all in `unit`; the rail is drawn from them.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Scale {
    /// What is wanted.
    pub wanted: f64,
    /// What is offered.
    pub offered: f64,
    /// Tolerance, either way.
    pub tolerance: f64,
    /// The unit.
    pub unit: &'static str,
}

/// A criterion that could not be judged.
#[derive(Debug, Clone, PartialEq)]
pub struct NotJudged {
    /// Which.
    pub criterion: Criterion,
    /// Why not.
    pub why: String,
    /// What to measure or ask, and how.
    pub measure: String,
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

impl Verdict {
    /// The words of the verdict.
    pub fn words(self) -> &'static str {
        match self {
            Self::ShouldWork => "should work",
            Self::CouldWork => "could work, if ...",
            Self::CannotSay => "cannot say",
            Self::WillNotWork => "will not work",
        }
    }
}

/// A caution, shown apart from the departures and never hidden by a verdict.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Caution {
    /// What to take care of, one or two sentences.
    pub text: String,
    /// What it does to the verdict, whatever the departures.
    pub severity: Severity,
}

/// What a caution does to the verdict, the strongest last.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Severity {
    /// Nothing: it is told beside it.
    Told,
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
    /// Why, a sentence each, the weightiest first.
    pub reasons: Vec<String>,
    /// Weighted root mean square of the departures; `None` where none is judged.
    pub overall: Option<f64>,
    /// In the order of [`Criterion::ALL`].
    pub departures: Vec<Departure>,
    /// In the order of [`Criterion::ALL`].
    pub not_judged: Vec<NotJudged>,
    /// What would bring it within, with numbers.
    pub remedies: Vec<Remedy>,
    /// Cautions that go with this yarn for this purpose.
    pub cautions: Vec<Caution>,
    /// Gauge that the candidate is expected to give over that of the pattern
    /// (gauge_c / gauge_r), where known: the k of a reworked pattern.
    pub gauge_ratio: Option<f64>,
    /// Whether grist is known but the constructions cannot be compared by it.
    pub grist_not_comparable: bool,
}

#[cfg(test)]
mod tests {
    use super::Verdict::{CannotSay, CouldWork, ShouldWork, WillNotWork};

    #[test]
    fn the_answer_is_one_of_four_sentences() {
        let words = [ShouldWork, CouldWork, CannotSay, WillNotWork].map(super::Verdict::words);
        assert_eq!(
            words,
            [
                "should work",
                "could work, if ...",
                "cannot say",
                "will not work"
            ]
        );
    }
}
