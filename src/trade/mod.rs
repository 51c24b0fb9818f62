//! Published tables of the trade, one file each, every one with its source.
//! Knows no user's record.

mod class_gauge;
mod class_grist;
mod colour_words;
mod colours;
mod construction;
mod fibre_words;
mod fibres;
mod gtin;
pub mod hazards;
mod label_tolerance;
mod material_words;
mod needles;
mod plain_knit;
mod weight_class;
mod wraps;

pub use class_gauge::{CLASS_GAUGES, ClassGauge, classes_by_gauge, classes_by_needle};
pub use class_grist::{
    CLASS_GRISTS, ClassGrist, OTHER_CHARTS, classes_by_grist, classes_by_other_charts,
};
pub use colours::{COLOUR_NAMES, Colour};
pub use construction::{Construction, Group};
pub use fibre_words::{FIBRE_CODES, FIBRE_WORDS, SHARED_CODES, fibre_of_code, fibre_of_word};
pub use fibres::{Basis, FIBRES, Family, Fibre, FibreGroup, Figure, fibre};
pub use gtin::{Gtin, GtinError};
pub use hazards::{BURN_CAUTIONS, BURN_SIGNS, BurnSign, Hazard};
pub use label_tolerance::{LABEL_TOLERANCES, LabelTolerance, tolerable_shortfall};
pub use material_words::names_material;
pub use needles::{
    COMMON_NEEDLES_MM, HOOK_LETTERS, NEEDLES, NeedleRow, NeedleSystem, hook_size, is_needle_size,
    needle_sizes, needle_steps_from,
};
pub use plain_knit::{PLAIN_KNIT, PlainKnit};
pub use weight_class::{CLASS_NAMES, PLY_NAMES, WeightClass, class_of_name, class_of_ply};
pub use wraps::{classes_by_wraps, grist_by_wraps};
