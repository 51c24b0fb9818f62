//! The records in one SQLite file: opening, formats, rows, search, backups.
//!
//! [`Store`] is one connection; a [`Reader`] sees the records as they were at
//! one moment, a [`Writer`] is one transaction. Rows become records through the
//! records' own constructors, so that a damaged row is an error and never a
//! wrong record. All SQL of the program is here and in `migrations/`. The store
//! reads no clock: days come with the records.
//!
//! Sources: the documentation of SQLite (www.sqlite.org) on STRICT tables,
//! write-ahead logging and the online backup.

mod backup;
mod cells;
mod check;
mod copies;
mod db;
mod error;
mod facts;
mod fewest;
mod glances;
mod handle;
mod header;
mod hurry;
mod key;
mod ledger;
mod lettered;
mod letters;
mod lots;
mod measures;
mod names;
mod new_yarns;
mod opening;
mod parts;
mod patience;
mod pattern_parts;
mod patterns;
mod put;
mod reader;
mod schema;
mod search;
mod spelt;
mod swatches;
mod table;
mod titles;
mod wanted;
mod writer;
mod yarn_changes;
mod yarns;

#[cfg(test)]
mod samples;
#[cfg(test)]
mod test_files;

pub use error::StoreError;
pub use glances::{Glance, Kind, Look};
pub use handle::Store;
pub use lots::{LotInStock, LotName};
pub use names::KeptNames;
pub use new_yarns::{Added, NewYarns};
pub use reader::Reader;
pub use search::{Found, Hit};
pub use writer::Writer;
