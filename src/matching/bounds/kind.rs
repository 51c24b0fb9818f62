//! What class, construction, blend and washing make of every yarn that has them.

use super::Bounds;
use crate::{
    matching::{
        Candidate, Cap, Severity,
        care::care,
        condition::holds_back,
        construction::construction,
        criterion::{Outcome, is_within},
        fibre::fibre,
        grist::are_comparable,
        hazard::cautions,
        judgement::{NOT_COMPARABLE, NOT_JUDGED},
        prediction::density,
        purpose_rules::of_purpose,
        weight_class::weight_class,
    },
    record::{Blend, Care, Classes, Printed, YarnFacts},
    trade::Construction,
};

/// What is said of one criterion.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum Glimpse {
    /// It departs so far, in tolerances.
    Departs(f64),
    /// It is not judged.
    NotJudged,
    /// It is known of both, and cannot be compared.
    NotComparable,
    /// Nobody asks for it.
    NotAsked,
    /// It may be judged, and may depart by nothing.
    NotTold,
}

impl Glimpse {
    fn new(outcome: &Outcome) -> Self {
        match outcome {
            Outcome::Judged(found) => Self::Departs(found.departure),
            Outcome::NotJudged(_) => Self::NotJudged,
            Outcome::NotAsked => Self::NotAsked,
        }
    }

    pub(super) fn departure(self) -> Option<f64> {
        match self {
            Self::Departs(departure) => Some(departure),
            Self::NotJudged | Self::NotComparable | Self::NotAsked | Self::NotTold => None,
        }
    }

    /// What it counts at least in the order of candidates; none where nobody asks.
    pub(super) fn counted(self) -> Option<f64> {
        match self {
            Self::Departs(departure) => Some(departure),
            Self::NotJudged => Some(NOT_JUDGED),
            Self::NotComparable => Some(NOT_COMPARABLE),
            Self::NotTold => Some(0.0),
            Self::NotAsked => None,
        }
    }

    fn or(self, other: Self) -> Self {
        if self == Self::NotJudged { other } else { self }
    }

    pub(super) fn is_beyond(&self) -> bool {
        self.departure().is_some_and(|found| !is_within(found))
    }
}

/// What yarns of one class, blend, construction and way of washing share.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct KindBound {
    pub(super) class: Glimpse,
    pub(super) fibre: Glimpse,
    pub(super) construction: Glimpse,
    pub(super) care: Glimpse,
    /// g/cm3, where known.
    pub(super) density: Option<f64>,
    pub(super) severity: Severity,
    /// Whether something holds a good verdict back: a fibre that is not known, what the
    /// purpose is wary of.
    pub(super) is_held_back: bool,
    /// Whether their length per mass says something beside what is wanted.
    pub is_comparable: bool,
}

impl KindBound {
    const UNKNOWN: Self = Self {
        class: Glimpse::NotJudged,
        fibre: Glimpse::NotJudged,
        construction: Glimpse::NotJudged,
        care: Glimpse::NotJudged,
        density: None,
        severity: Severity::Beside,
        is_held_back: false,
        is_comparable: true,
    };

    /// How far they depart on fibre, in tolerances, as it counts in the order of
    /// candidates; 0 where nobody asks.
    pub fn fibre_departure(&self) -> f64 {
        self.fibre.counted().unwrap_or(0.0)
    }

    /// What two parts of a kind make together.
    #[must_use]
    pub fn with(&self, other: &Self) -> Self {
        Self {
            class: self.class.or(other.class),
            fibre: self.fibre.or(other.fibre),
            construction: self.construction.or(other.construction),
            care: self.care.or(other.care),
            density: self.density.or(other.density),
            severity: self.severity.max(other.severity),
            is_held_back: self.is_held_back || other.is_held_back,
            is_comparable: self.is_comparable && other.is_comparable,
        }
    }
}

impl Bounds<'_> {
    /// What a class makes of every yarn of it.
    pub fn of_class(&self, class: Option<Classes>) -> KindBound {
        let class = class.map(unprinted);
        let offered = one_strand(YarnFacts {
            class,
            ..YarnFacts::default()
        });
        KindBound {
            class: Glimpse::new(&weight_class(self.wanted, &offered)),
            ..KindBound::UNKNOWN
        }
    }

    /// What a construction makes of every yarn of it.
    pub fn of_construction(&self, built: Option<Construction>) -> KindBound {
        let offered = one_strand(YarnFacts {
            construction: built.map(unprinted),
            ..YarnFacts::default()
        });
        let caps = of_purpose(self.wanted, &offered).caps;
        KindBound {
            is_held_back: caps.iter().any(is_of_build),
            construction: Glimpse::new(&construction(self.wanted, &offered)),
            is_comparable: self.grist.is_some()
                && are_comparable(&self.wanted.facts, &offered.facts),
            ..KindBound::UNKNOWN
        }
    }

    /// What a blend and a way of washing make of every yarn of both.
    pub fn of_fibre(&self, blend: Option<Blend>, washing: Option<Care>) -> KindBound {
        let density = blend.as_ref().and_then(density);
        let offered = one_strand(YarnFacts {
            blend: blend.map(unprinted),
            care: washing.map(unprinted),
            ..YarnFacts::default()
        });
        let (is_capped, severity) = self.by_rules(&offered);
        let fibre = fibre(self.wanted, &offered);
        KindBound {
            is_held_back: is_capped || holds_back(&fibre),
            fibre: Glimpse::new(&fibre),
            care: Glimpse::new(&care(self.wanted, &offered)),
            density,
            severity,
            ..KindBound::UNKNOWN
        }
    }

    /// Whether the purpose is wary of a yarn, and what its rules and the hazards do to the
    /// verdict.
    fn by_rules(&self, offered: &Candidate) -> (bool, Severity) {
        let rules = of_purpose(self.wanted, offered);
        let cautions = cautions(self.wanted, offered);
        let severities = cautions.iter().map(|caution| caution.severity);
        let barred = rules.bar.map(|_| Severity::Forbids);
        let severity = severities.chain(barred).max();
        let is_capped = !rules.caps.is_empty();
        (is_capped, severity.unwrap_or(Severity::Beside))
    }

    /// The same of a blend alone.
    pub(super) fn by_rules_of_blend(&self, blend: Option<&Blend>) -> (bool, Severity) {
        self.by_rules(&one_strand(YarnFacts {
            blend: blend.cloned().map(unprinted),
            ..YarnFacts::default()
        }))
    }
}

/// Whether a cap tells of the build alone: a blend that is not known has others.
fn is_of_build(cap: &Cap) -> bool {
    match cap {
        Cap::HeelsWear { loose, .. } => loose.is_some(),
        Cap::Sheds | Cap::Loops => true,
        Cap::NearHeat | Cap::MayNotFelt => false,
    }
}

fn one_strand(facts: YarnFacts) -> Candidate {
    Candidate {
        facts,
        swatches: Vec::new(),
        measured: None,
        strands: 1,
        doubts: Vec::new(),
    }
}

/// A value whose printed text is not looked at.
fn unprinted<T>(value: T) -> Printed<T> {
    Printed::new("", value)
}
