//! The one doorway for every front end: one function per thing a person asks.
//! Text as typed goes in, a report with its warnings comes out.

mod asked;
mod convert;
mod error;
mod heard;
mod question;
mod read;
mod size;
mod skeins;

pub use crate::quantity::Keep;
pub use convert::{ConvertRequest, convert};
pub use error::AppError;
pub use question::Question;
pub use read::read;
pub use size::{SizeRequest, size};
pub use skeins::{GaugeChange, SkeinsRequest, skeins};
