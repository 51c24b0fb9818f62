//! `yarns.csv`, `stock.csv` and `swatches.csv`, in and out, one row at a time.
//!
//! - The first line that is not blank names the columns, in any order, whatever
//!   their case and spacing. Unknown columns are reported and left out. A unit
//!   may stand with the name (`length (m)`, `mass_g`, `price [EUR]`); a cell
//!   that holds only a number takes it.
//! - Cells are parted by `,`, `;` or a tab; the header line shows which.
//!   Quoting is that of RFC 4180. Text is UTF-8, with or without its mark.
//! - A cell is text as people write it; [`crate::label::cells`] reads it.
//!   `unknown` is what a label does not give. Shades are parted by `|`; within
//!   a shade `\|` is a bar and `\\` a backslash.
//! - A spreadsheet takes a cell that starts with `=`, `+`, `-`, `@` or a tab
//!   for a formula, also behind spaces or double quotes. Such text is written
//!   with one `'` before it, and so is text that starts with `'` or has spaces
//!   at its ends; reading takes exactly that `'` off again.
//! - What is written reads back to the same records.

mod columns;
mod cutter;
mod delimiter;
mod guard;
mod head;
mod header;
mod lines;
mod memory;
mod one;
mod row;
mod rows;
mod shades;
mod stock;
mod swatches;
mod table;
mod worker;
mod write;
mod yarns;

pub(super) use guard::unguard;

pub use columns::{Column, Required, STOCK_COLUMNS, SWATCH_COLUMNS, YARN_COLUMNS};
pub use one::{One, lot_texts, read_one_lot, read_one_yarn, yarn_texts};
pub use rows::{Row, Rows};
pub use stock::{StockRow, read_stock};
pub use swatches::{SwatchRow, read_swatches, swatch_texts, write_swatches};
pub use table::write_table;
pub use write::{YarnsOut, write_stock, write_yarns};
pub use yarns::read_yarns;
