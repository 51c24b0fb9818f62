//! Published tables of the trade, one file each, every one with its source.
//! Knows no user's record.

mod construction;
mod fibres;
mod gtin;
mod weight_class;

pub use construction::Construction;
pub use fibres::{Basis, FIBRES, Family, Fibre, Figure, fibre};
pub use gtin::{Gtin, GtinError};
pub use weight_class::WeightClass;
