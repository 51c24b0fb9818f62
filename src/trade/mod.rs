//! Published tables of the trade, one file each, every one with its source.
//! Knows no user's record.

mod class_gauge;
mod class_grist;
mod construction;
mod fibres;
mod gtin;
pub mod hazards;
mod label_tolerance;
mod needle_steps;
mod plain_knit;
mod weight_class;
mod wraps;

pub use class_gauge::{CLASS_GAUGES, ClassGauge, classes_by_gauge, classes_by_needle};
pub use class_grist::{CLASS_GRISTS, ClassGrist, classes_by_grist};
pub use construction::{Construction, Group};
pub use fibres::{Basis, FIBRES, Family, Fibre, Figure, fibre};
pub use gtin::{Gtin, GtinError};
pub use hazards::Hazard;
pub use label_tolerance::{LABEL_TOLERANCES, LabelTolerance, tolerable_shortfall};
pub use needle_steps::{COMMON_NEEDLES_MM, needle_steps_from};
pub use plain_knit::{
    PLAIN_KNIT, PlainKnit, fabric_mass, loop_length, plain_fabric_mass, stitch_density,
};
pub use weight_class::WeightClass;
pub use wraps::{classes_by_wraps, grist_by_wraps};
