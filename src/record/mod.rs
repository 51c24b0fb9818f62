//! What the user owns and needs, valid by construction: yarns and their labels,
//! lots and their ledger, swatches, patterns with sizes and needs.
//! No SQL, no CSV, no HTML, no clock.

mod blend;
mod care;
mod contradiction;
mod error;
mod facts;
mod multiple;
mod name;
mod need;
mod pattern;
mod pattern_yarn;
mod price;
mod printed;
mod purpose;
mod size;
mod stated_gauge;
mod stock;
mod stored;
mod swatch;
mod yarn;

pub use blend::{Blend, BlendPart, FibreName};
pub use care::Care;
pub use contradiction::contradictions;
pub use error::RecordError;
pub use facts::{Classes, Needles, YarnFacts};
pub use multiple::Multiple;
pub use name::Name;
pub use need::{Need, NeedRange, RowRange};
pub use pattern::{Fit, Pattern};
pub use pattern_yarn::PatternYarn;
pub use price::{Price, PriceBasis};
pub use printed::Printed;
pub use purpose::Purpose;
pub use size::Size;
pub use stated_gauge::{StatedGauge, Stitch, Worked};
pub use stock::{Balance, Entry, EntryKind, Lot, StockAmount};
pub use stored::{Id, Stored};
pub use swatch::Swatch;
pub use yarn::Yarn;
