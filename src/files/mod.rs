//! In and out: text of a ball band, cells, CSV files, pattern files, atomic
//! writing. Knows records and how they are written down; no SQL.

pub mod atomic;
pub mod csv;
mod error;
pub mod needs_file;
pub mod pattern_file;
pub mod sheet_text;
mod text;

pub use error::{CellError, CellNote, ExchangeError};
pub use text::Found;
