//! What the user owns and needs, valid by construction: yarns and their labels,
//! lots and their ledger, swatches, patterns with sizes and needs,
//! projects.
//! No SQL, no CSV, no HTML, no clock.

mod blend;
mod contradiction;
mod error;
mod ledger;
mod pattern;
mod project;
mod stock;
mod stored;
mod strand;
mod swatch;
mod yarn;

pub use blend::{Blend, BlendPart, FibreName};
pub use contradiction::{Contradiction, contradictions};
pub use error::RecordError;
pub use ledger::{Balance, Entry, EntryKind, reservations};
pub use pattern::{Fit, Multiple, Need, NeedRange, Pattern, PatternYarn, Purpose, RowRange, Size};
pub use project::{Pin, Project};
pub use stock::{Lot, StockAmount, lot_title};
pub use stored::{Id, Name, Stored};
pub use strand::{Smooth, Together, built_together, washed_together};
pub use swatch::{FlatOrRound, StatedGauge, Stitch, Swatch};
pub use yarn::{Care, Classes, Needles, Price, PriceBasis, Printed, Yarn, YarnFacts, counter_in};
