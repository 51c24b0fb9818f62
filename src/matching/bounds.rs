//! How well a yarn can do at best, told from little of it: what lets a search
//! through many yarns pass over those that have no place among the best.
//!
//! Every bound rests on the same departures as [`super::judge`], so that what is
//! passed over would not have been listed had it been judged.

use super::{
    Criterion, Offered, Settings, Verdict, Wanted,
    construction::construction,
    fibre::fibre,
    grist::{are_comparable, effective},
    terms::{Outcome, SEVERAL_STRANDS, in_tolerances, is_within},
    weight_class::weight_class,
};
use crate::{
    record::{Printed, YarnFacts},
    trade::Construction,
};

/// A verdict and an overall departure that a candidate does not beat.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct AtBest {
    /// No better than this.
    pub verdict: Verdict,
    /// No less than this, in tolerances.
    pub least: f64,
}

/// What yarns of one class, blend and construction share.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct KindBound {
    squares: f64,
    weights: f64,
    is_outside: bool,
    /// Whether their length per mass says something beside what is wanted.
    pub is_comparable: bool,
}

/// Bounds for candidates of one strand.
#[derive(Debug)]
pub struct Bounds<'a> {
    wanted: &'a Wanted,
    settings: &'a Settings,
    /// Length per mass that is wanted and its tolerance, m/g.
    reference: Option<(f64, f64)>,
    knows_gauge: bool,
    /// Weight of what a look does not tell: gauge and care.
    unseen: f64,
}

/// How much wider than reckoned a band is taken, so that rounding leaves none out.
const WIDER: f64 = 1e-6;

impl<'a> Bounds<'a> {
    /// For what is wanted.
    pub fn new(wanted: &'a Wanted, settings: &'a Settings) -> Self {
        let reference = effective(&wanted.facts, wanted.strands)
            .map(|grist| (grist.as_metres_per_gram(), settings.tolerance.around(grist)));
        let knows_gauge = wanted.gauge.is_some() || wanted.facts.gauge.is_some();
        let may_judge = [
            (Criterion::Gauge, knows_gauge),
            (Criterion::Care, wanted.care.is_some()),
        ];
        let unseen = may_judge
            .iter()
            .filter(|(_, may)| *may)
            .map(|(criterion, _)| settings.weights.of(*criterion))
            .sum();
        Self {
            wanted,
            settings,
            reference,
            knows_gauge,
            unseen,
        }
    }

    /// What a class, a blend and a construction make of every yarn of them; the
    /// rest of `facts` is not looked at.
    pub fn of_kind(&self, facts: YarnFacts) -> KindBound {
        let offered = Offered {
            facts,
            swatches: Vec::new(),
            measured: None,
            strands: 1,
        };
        let mut kind = KindBound {
            squares: 0.0,
            weights: 0.0,
            is_outside: false,
            is_comparable: are_comparable(&self.wanted.facts, &offered.facts),
        };
        for outcome in [
            weight_class(self.wanted, &offered),
            fibre(self.wanted, &offered),
            construction(self.wanted, &offered),
        ] {
            if let Outcome::Judged(found) = outcome {
                let weight = self.settings.weights.of(found.criterion);
                kind.squares += weight * found.departure.powi(2);
                kind.weights += weight;
                kind.is_outside |= !is_within(found.departure);
            }
        }
        kind
    }

    /// What a yarn of this kind and length per mass does at best.
    pub fn at_best(&self, kind: &KindBound, grist: Option<f64>) -> AtBest {
        let judged = self
            .reference
            .zip(grist)
            .filter(|_| kind.is_comparable)
            .map(|((wanted, tolerance), grist)| in_tolerances(grist - wanted, tolerance));
        let (squares, weights) = self.with_grist(kind, judged);
        let verdict = match (judged, grist) {
            (Some(departure), _) if is_within(departure) && !kind.is_outside => Verdict::ShouldWork,
            (Some(departure), _) if is_within(departure) => Verdict::CouldWork,
            (Some(_), Some(grist)) if self.strands_bring_within(grist) => Verdict::CouldWork,
            (Some(_), _) => Verdict::WillNotWork,
            (None, _) if self.knows_gauge => Verdict::CouldWork,
            (None, _) => Verdict::CannotSay,
        };
        let least = least(squares, weights + self.unseen);
        AtBest { verdict, least }
    }

    fn with_grist(&self, kind: &KindBound, departure: Option<f64>) -> (f64, f64) {
        let weight = self.settings.weights.of(Criterion::Grist);
        departure.map_or((kind.squares, kind.weights), |departure| {
            (
                kind.squares + weight * departure.powi(2),
                kind.weights + weight,
            )
        })
    }

    fn strands_bring_within(&self, grist: f64) -> bool {
        self.reference.is_some_and(|(wanted, tolerance)| {
            SEVERAL_STRANDS.into_iter().any(|strands| {
                let held = grist / f64::from(strands);
                is_within(in_tolerances(held - wanted, tolerance * (1.0 + WIDER)))
            })
        })
    }

    /// What any yarn of comparable length per mass at least `distance` m/g away
    /// from what is wanted does at best, where its verdict is at best `verdict`:
    /// D >= a sqrt(w_grist / sum of all w), a the distance in tolerances.
    pub fn at_distance(&self, verdict: Verdict, distance: f64) -> AtBest {
        let weights = Criterion::ALL.map(|criterion| self.settings.weights.of(criterion));
        let grist = self.settings.weights.of(Criterion::Grist);
        let tolerance = self.reference.map_or(f64::INFINITY, |(_, t)| t);
        let squares = grist * in_tolerances(distance, tolerance).powi(2);
        let least = least(squares, weights.iter().sum());
        AtBest { verdict, least }
    }

    /// Length per mass that is wanted and its tolerance, m/g, where known.
    pub fn reference(&self) -> Option<(f64, f64)> {
        self.reference
    }

    /// What a yarn whose length per mass says nothing does at best.
    pub fn without_grist(&self) -> AtBest {
        let verdict = match self.knows_gauge {
            true => Verdict::CouldWork,
            false => Verdict::CannotSay,
        };
        AtBest {
            verdict,
            least: 0.0,
        }
    }

    /// How far, m/g, from what is wanted a yarn within the tolerance may lie.
    pub fn reach(&self) -> f64 {
        self.reference.map_or(0.0, |(wanted, tolerance)| {
            tolerance * (1.0 + WIDER) + wanted * WIDER
        })
    }

    /// From where to where, m/g, a yarn may lie of which one strand, then two and
    /// so on, come within the tolerance; empty where nothing is wanted by grist.
    pub fn bands(&self) -> Vec<(f64, f64)> {
        let reach = self.reach();
        let strands = std::iter::once(1).chain(SEVERAL_STRANDS);
        let band = |strands: u8| {
            let (wanted, _) = self.reference?;
            let times = f64::from(strands);
            Some(((wanted - reach) * times, (wanted + reach) * times))
        };
        strands.filter_map(band).collect()
    }

    /// Constructions whose length per mass says nothing beside what is wanted,
    /// and whether one that is not stated is among them.
    pub fn not_comparable(&self) -> (Vec<Construction>, bool) {
        let with = |construction: Option<Construction>| {
            let facts = YarnFacts {
                construction: construction.map(|value| Printed::new(value.name(), value)),
                ..YarnFacts::default()
            };
            are_comparable(&self.wanted.facts, &facts)
        };
        let constructions = Construction::ALL
            .into_iter()
            .filter(|construction| !with(Some(*construction)));
        (constructions.collect(), !with(None))
    }
}

fn least(squares: f64, weights: f64) -> f64 {
    match weights > 0.0 {
        true => (squares / weights).sqrt(),
        false => 0.0,
    }
}
