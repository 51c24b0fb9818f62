//! What class, construction, blend and washing make of every yarn that has them.

use super::{
    super::{
        Candidate, Severity,
        care::care,
        construction::construction,
        fibre::fibre,
        grist::are_comparable,
        hazard::cautions,
        prediction::density,
        terms::{Outcome, is_within},
        weight_class::weight_class,
    },
    Bounds,
};
use crate::{
    record::{Blend, Care, Classes, Printed, YarnFacts},
    trade::Construction,
};

/// What is told of one criterion.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum Glimpse {
    /// It departs so far, in tolerances.
    Departs(f64),
    /// It is not judged.
    NotJudged,
    /// It may be judged, and may depart by nothing.
    NotTold,
}

impl Glimpse {
    fn new(outcome: &Outcome) -> Self {
        match outcome {
            Outcome::Judged(found) => Self::Departs(found.departure),
            Outcome::NotJudged(_) | Outcome::NotAsked => Self::NotJudged,
        }
    }

    pub(super) fn departure(self) -> Option<f64> {
        match self {
            Self::Departs(departure) => Some(departure),
            Self::NotJudged | Self::NotTold => None,
        }
    }

    fn or(self, other: Self) -> Self {
        if self == Self::NotJudged { other } else { self }
    }

    pub(super) fn is_beyond(self) -> bool {
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
        is_comparable: true,
    };

    /// How far they depart on fibre, where that is judged.
    pub fn fibre_departure(&self) -> Option<f64> {
        self.fibre.departure()
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
        KindBound {
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
        let cautions = cautions(self.wanted, &offered);
        let severity = cautions.iter().map(|caution| caution.severity).max();
        KindBound {
            fibre: Glimpse::new(&fibre(self.wanted, &offered)),
            care: Glimpse::new(&care(self.wanted, &offered)),
            density,
            severity: severity.unwrap_or(Severity::Beside),
            ..KindBound::UNKNOWN
        }
    }
}

fn one_strand(facts: YarnFacts) -> Candidate {
    Candidate {
        facts,
        swatches: Vec::new(),
        measured: None,
        strands: 1,
    }
}

/// A value whose printed text is not looked at.
fn unprinted<T>(value: T) -> Printed<T> {
    Printed::new("", value)
}
