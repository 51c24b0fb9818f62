//! What the user owns and needs, valid by construction: yarns and their labels,
//! lots and their ledger, swatches, patterns with sizes and needs.
//! No SQL, no CSV, no HTML, no clock.

mod blend;
mod contradiction;
mod error;
mod facts;
mod multiple;
mod name;
mod need;
mod pattern;
mod stated_gauge;
mod stock;
mod stored;
mod swatch;
mod yarn;

pub use blend::{Blend, BlendPart, FibreName};
pub use contradiction::{Contradiction, contradictions};
pub use error::RecordError;
pub use facts::Printed;
pub use facts::{Classes, Needles, YarnFacts};
pub use multiple::Multiple;
pub use name::Name;
pub use need::{Need, NeedRange, RowRange};
pub use pattern::PatternYarn;
pub use pattern::Purpose;
pub use pattern::Size;
pub use pattern::{Fit, Pattern};
pub use stated_gauge::{FlatOrRound, StatedGauge, Stitch};
pub use stock::{Balance, Entry, EntryKind, Lot, StockAmount, lot_title};
pub use stored::{Id, Stored};
pub use swatch::Swatch;
pub use yarn::Care;
pub use yarn::Yarn;
pub use yarn::{Price, PriceBasis};
