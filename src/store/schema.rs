//! The formats of the file: frozen, numbered migrations.
//!
//! A migration that was ever released is never edited; what changes is a new
//! folder of `migrations/` and one more line here.

use super::StoreError;
use rusqlite::Connection;
use rusqlite_migration::{M, Migrations};
use std::path::Path;

/// Marks a file as one of this program's: `unds` in the file's header.
pub(super) const APPLICATION_ID: i32 = i32::from_be_bytes(*b"unds");

/// Every migration in order; as many as there are is the newest format.
pub(super) const MIGRATIONS: &[&str] = &[include_str!("../../migrations/0001-records/up.sql")];

/// The newest format of `steps`.
pub(super) fn newest(steps: &[&str]) -> u32 {
    u32::try_from(steps.len()).unwrap_or(u32::MAX)
}

/// Brings the file to the newest format of `steps`, all of them or none. Where
/// another program did the same at the same moment, its work stands.
pub(super) fn migrate(
    conn: &mut Connection,
    path: &Path,
    steps: &[&str],
) -> Result<(), StoreError> {
    let migrations = Migrations::new(steps.iter().map(|sql| M::up(sql)).collect());
    let done = migrations.to_latest(conn);
    let pending = migrations.pending_migrations(conn);
    match (done, pending) {
        (Ok(()), _) | (Err(_), Ok(0)) => Ok(()),
        (Err(rusqlite_migration::Error::RusqliteError { err, query }), _) if query.is_empty() => {
            Err(super::db::at(path, err))
        }
        (Err(why), _) => Err(StoreError::Migration {
            path: path.to_owned(),
            why: why.to_string(),
        }),
    }
}
