//! Formats in and out: tables, pattern files, files of samples and pieces, sheets of
//! text; writing a file whole or not at all. The text of a cell or a key is read by
//! `label`; nothing is kept here.

pub mod atomic;
pub mod csv;
mod error;
pub mod layout;
pub mod needs_file;
mod ods;
pub mod pattern_file;
pub mod sheet;
pub mod sheet_text;
mod text;
mod toml_findings;
mod toml_reader;
mod value;
mod workbook;
mod workbook_rows;

pub use error::{CellFault, CellNote, FileError, Place};
pub use text::FileKind;
pub use workbook::is_workbook;
