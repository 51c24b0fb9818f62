//! `yarns.csv`, `stock.csv`, `swatches.csv`, `projects.csv` and `reservations.csv`, in and
//! out, one row at a time.
//!
//! - The first line that is not blank names the columns, in any order, whatever
//!   their case and spacing. Unknown columns are reported and left out. A unit
//!   may stand with the name (`length (m)`, `mass_g`, `price [EUR]`); a cell
//!   that holds only a number takes it.
//! - Cells are separated by `,`, `;` or a tab; the header line shows which.
//!   Quoting is that of RFC 4180. Text is UTF-8, with or without its mark.
//! - A cell is text as people write it; [`crate::label::cells`] reads it.
//!   `unknown` is what a label does not give. Shades are separated by `|`; within
//!   a shade `\|` is a bar and `\\` a backslash.
//! - A spreadsheet takes a cell that starts with `=`, `+`, `-`, `@` or a tab
//!   for a formula, also behind spaces or double quotes. Such text is written
//!   with one `'` before it, and so is text that starts with `'` or has spaces
//!   at its ends; reading takes exactly that `'` off again.
//! - What is written reads back to the same records.
//! - The columns are the fields of a form as well: [`read_record`] reads one record
//!   from their texts.

mod cell_text;
mod columns;
mod field_reader;
mod header;
mod projects;
mod row_reader;
mod stock;
mod table_reader;
mod table_writer;
mod yarns;

pub(super) use cell_text::unguard;
pub use columns::{
    Column, PROJECT_COLUMNS, Presence, RESERVATION_COLUMNS, STOCK_COLUMNS, SWATCH_COLUMNS,
    YARN_COLUMNS, fact_columns,
};
pub use field_reader::FieldReader;
pub use projects::{ChosenYarn, ProjectRow, ReservationRow};
pub(super) use row_reader::RowReader;
pub use stock::{StockRow, SwatchRow, swatch_texts};
pub use table_reader::{
    RecordReading, Row, Rows, TableRecord, read_record, read_table, record_texts,
};
pub use table_writer::{TableWriter, write_records, write_table};
