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
mod bulk_insert;
mod busy_retry;
mod changes;
mod check;
mod columns;
mod copy;
mod counts;
mod daily;
mod database;
mod error;
mod facts;
mod header;
mod history;
mod index_scan;
mod kept_text;
mod layouts;
mod ledger;
mod lots;
mod merge;
mod migrations;
mod name_search;
mod once;
mod patterns;
mod projects;
mod read_only;
mod rows;
mod schema_check;
mod seals;
mod shades;
mod sql;
mod step_titles;
mod swatches;
mod temporary;
mod transaction;
mod undo;
mod wish_scan;
mod yarns;

#[cfg(test)]
mod samples;
#[cfg(test)]
mod test_files;

pub use backup::SoundBackup;
pub use bulk_insert::{InsertOutcome, NewYarns};
pub use changes::{Action, ChangePart, KeptChange, RecordKind};
pub use counts::{KeptCount, KeptCountLine};
pub use daily::DailyBackups;
pub use database::Store;
pub use error::{Problem, StoreError, SystemRefusal};
pub use header::belongs_to_database;
pub use history::{ChangedField, HistoryStep};
pub use index_scan::{
    BlendFilter, GAUGE_SPREADS, IndexEntry, IndexScan, Kind, NO_BLEND, ScanRange,
};
pub use lots::{LotInStock, LotName};
pub use name_search::{Found, Hit, NameCache, NameKeys, name_key};
pub use once::OnceKey;
pub use swatches::KeptSwatch;
pub use temporary::{NotAFile, beside, folder_of, keep_names, open_ordinary, refuse_special};
pub use transaction::{Reader, Writer};
pub use wish_scan::{PricedYarn, ShadeOfYarn};
