//! What an answer rests on, and what it lacks: kinds and figures, no sentence.

use super::Criterion;
use crate::{
    measure::{Grist, Interval, NeedleSize},
    record::{Care, Classes, FlatOrRound},
    trade::{Basis, Construction},
};

/// Which of the two yarns is meant.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Side {
    /// The pattern's yarn.
    Reference,
    /// The yarn that is offered.
    Candidate,
}

/// Length per mass of a yarn with its strands held together.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct HeldGrist {
    /// How many strands.
    pub strands: u8,
    /// Of one strand.
    pub one: Grist,
    /// Of all of them.
    pub together: Grist,
    /// That of the pattern's fibres which would be as thick, where the two blends
    /// are not equally dense.
    pub as_thick_as: Option<Grist>,
}

impl HeldGrist {
    /// What counts against `wanted`: the nearer of length per mass itself and at equal
    /// thickness.
    pub fn nearer_to(&self, wanted: &Self) -> Grist {
        let off = |grist: Grist| {
            (grist.as_metres_per_gram() - wanted.together.as_metres_per_gram()).abs()
        };
        let thick = self
            .as_thick_as
            .filter(|thick| off(*thick) < off(self.together));
        thick.unwrap_or(self.together)
    }

    /// How far it lies above (or below) `wanted`, as a share of that, by what counts.
    pub fn off(&self, wanted: &Self) -> f64 {
        self.nearer_to(wanted).as_metres_per_gram() / wanted.together.as_metres_per_gram() - 1.0
    }
}

/// Where a gauge comes from.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum GaugeSource {
    /// The pattern states it.
    Pattern,
    /// The label of the pattern's yarn.
    ReferenceLabel,
    /// The label of the yarn that is offered.
    CandidateLabel,
    /// The user measured it just now.
    Measured,
    /// A swatch, after washing.
    WashedSwatch,
    /// A swatch, before washing.
    Swatch,
}

/// A gauge and its source.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct FoundGauge {
    /// Where it comes from.
    pub source: GaugeSource,
    /// Stitches over 10 cm.
    pub per_10_cm: Interval<f64>,
}

/// Where a value comes from, or what was assumed for it.
#[derive(Debug, Clone, PartialEq)]
pub enum Evidence {
    /// Length per mass comes from a yarn count, as printed.
    YarnCount(Side, String),
    /// Length per mass was measured; from where to where it may lie.
    MeasuredGrist(Side, Interval<Grist>),
    /// A construction that is not stated counts as plied.
    ConstructionNotStated(Side),
    /// Two gauges in one stitch.
    GaugesCompared {
        /// Of the yarn that is offered.
        candidate: FoundGauge,
        /// What it is compared with.
        reference: FoundGauge,
        /// The needle of the swatch.
        needle: Option<NeedleSize>,
        /// The pattern's gauge in another stitch, to which the ratio is carried over.
        carried_to: Option<FoundGauge>,
    },
    /// A gauge that does not say over which length counts as over 10 cm.
    GaugeLengthNotStated(GaugeSource),
    /// A gauge of other strands was multiplied by `factor`.
    GaugeOfOtherStrands {
        /// Which gauge.
        source: GaugeSource,
        /// Strands that it is for.
        from: u8,
        /// Strands that it is computed for.
        to: u8,
        /// What it was multiplied by.
        factor: f64,
    },
    /// The swatch was counted before washing.
    SwatchNotWashed,
    /// One of two gauges is flat and the other in the round.
    FlatAgainstRound([(GaugeSource, FlatOrRound); 2]),
    /// The gauge is predicted from thickness.
    PredictedFromThickness,
    /// Fibres are not known: both densities count as equal.
    EqualDensity,
    /// A printed name that may mean several classes.
    SeveralClasses(String, Classes),
    /// One property of two blends.
    FibreProperty(PropertyComparison),
    /// The yarn holds an elastic fibre, which stays out of the averages.
    Elastic(Side),
    /// The two blends are not equally dense.
    EqualThickness {
        /// How far length per mass lies from what is wanted, as a share of it.
        by_length: f64,
        /// The same of what would be as thick of the pattern's fibres.
        by_thickness: f64,
        /// That length per mass.
        as_thick_as: Grist,
    },
    /// The label allows dry cleaning only, where washing by hand is asked for.
    DryCleanOnly,
}

/// A property of a blend.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum FibreProperty {
    /// Recovery from 5 % strain, %.
    Recovery,
    /// Extension at break, %.
    Extension,
    /// Moisture regain, %.
    Regain,
    /// Share that is synthetic, %.
    SyntheticShare,
}

/// Two blends by one property.
#[derive(Debug, Clone, PartialEq)]
pub struct PropertyComparison {
    /// Which.
    pub property: FibreProperty,
    /// The values; `None` where over a quarter of one of the blends has none.
    pub values: Option<PropertyValues>,
    /// Fibres whose value is not a published one.
    pub unpublished: Vec<(&'static str, Basis)>,
}

/// The values of one property.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PropertyValues {
    /// Of the candidate.
    pub candidate: f64,
    /// Of the pattern's yarn.
    pub reference: f64,
    /// How far apart, in tolerances, times what it counts at this fit.
    pub departure: f64,
}

/// Why a criterion could not be judged.
#[derive(Debug, Clone, PartialEq)]
pub enum Missing {
    /// A length per mass is not known.
    Grist(Side),
    /// The two lengths per mass say nothing of each other.
    ComparableGrist {
        /// Of the candidate, with its construction where stated.
        candidate: (HeldGrist, Option<Construction>),
        /// Of the pattern's yarn.
        reference: (HeldGrist, Option<Construction>),
    },
    /// The pattern's gauge is not known.
    PatternGauge,
    /// No gauge of the candidate in the same stitch, and why none is predicted.
    Gauge(NoPrediction),
    /// The class of a label is that of one strand.
    ClassOfStrands,
    /// A weight class is not stated.
    WeightClass(Side),
    /// Fibres are not known.
    Fibre(Side),
    /// Nothing is known of these fibres; none is named where their values do not meet.
    FibreValues(Vec<String>),
    /// A construction is not known.
    Construction(Side),
    /// How the candidate may be washed, where the pattern asks for this.
    Care(Care),
}

/// Why no gauge is predicted.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum NoPrediction {
    /// A length per mass is not known.
    GristNotKnown,
    /// The constructions do not compare.
    NotComparable,
    /// One is more than twice as fine as the other.
    TooFar,
}

impl Missing {
    /// The criterion that could not be judged.
    pub fn criterion(&self) -> Criterion {
        match self {
            Self::Grist(_) | Self::ComparableGrist { .. } => Criterion::Grist,
            Self::PatternGauge | Self::Gauge(_) => Criterion::Gauge,
            Self::ClassOfStrands | Self::WeightClass(_) => Criterion::WeightClass,
            Self::Fibre(_) | Self::FibreValues(_) => Criterion::Fibre,
            Self::Construction(_) => Criterion::Construction,
            Self::Care(_) => Criterion::Care,
        }
    }
}
