//! One connection with its path: every statement goes through here, so that an
//! error always names the file and says in plain words what is the matter. And
//! statements made from a table's list of columns, which stands once.

use super::{
    StoreError,
    facts::BLEND,
    rows::{DecodeError, RowReader},
};
use rusqlite::{Connection, ErrorCode, Params, Row, ffi};
use std::path::Path;

/// A connection and the path that its errors name.
#[derive(Clone, Copy)]
pub(super) struct Db<'a> {
    pub(super) conn: &'a Connection,
    pub(super) path: &'a Path,
}

impl Db<'_> {
    /// Runs a statement; how many rows it changed.
    pub(super) fn run(&self, sql: &str, params: impl Params) -> Result<usize, StoreError> {
        let done = self
            .conn
            .prepare_cached(sql)
            .and_then(|mut statement| statement.execute(params));
        done.map_err(|error| at(self.path, error))
    }

    /// Runs an insertion; the new row's number.
    pub(super) fn insert(&self, sql: &str, params: impl Params) -> Result<i64, StoreError> {
        self.run(sql, params)?;
        Ok(self.conn.last_insert_rowid())
    }

    /// Hands each row to `decode` and what that makes of it to `each`. The first
    /// column of `sql` is the number under which damage is reported.
    pub(super) fn each<T, E: From<StoreError>>(
        &self,
        table: &'static str,
        sql: &str,
        params: impl Params,
        decode: impl Fn(&mut RowReader<'_, '_>) -> Result<T, DecodeError>,
        mut each: impl FnMut(T) -> Result<(), E>,
    ) -> Result<(), E> {
        let failed = |error| at(self.path, error);
        let mut statement = self.conn.prepare_cached(sql).map_err(failed)?;
        let mut rows = statement.query(params).map_err(failed)?;
        while let Some(row) = rows.next().map_err(failed)? {
            each(decode(&mut RowReader::new(row)).map_err(|flaw| self.damaged(table, row, flaw))?)?;
        }
        Ok(())
    }

    /// All rows.
    pub(super) fn all<T>(
        &self,
        table: &'static str,
        sql: &str,
        params: impl Params,
        decode: impl Fn(&mut RowReader<'_, '_>) -> Result<T, DecodeError>,
    ) -> Result<Vec<T>, StoreError> {
        let mut all = Vec::new();
        self.each(table, sql, params, decode, |row| {
            all.push(row);
            Ok::<(), StoreError>(())
        })?;
        Ok(all)
    }

    /// The first row, where there is one.
    pub(super) fn first<T>(
        &self,
        table: &'static str,
        sql: &str,
        params: impl Params,
        decode: impl Fn(&mut RowReader<'_, '_>) -> Result<T, DecodeError>,
    ) -> Result<Option<T>, StoreError> {
        Ok(self.all(table, sql, params, decode)?.into_iter().next())
    }

    /// The one number that `sql` gives.
    pub(super) fn number(&self, sql: &str, params: impl Params) -> Result<i64, StoreError> {
        let number = self
            .conn
            .prepare_cached(sql)
            .and_then(|mut statement| statement.query_row(params, |row| row.get(0)));
        number.map_err(|error| at(self.path, error))
    }

    /// All of `work` or none of it, whatever the caller does with its error.
    pub(super) fn whole<T>(
        &self,
        work: impl FnOnce() -> Result<T, StoreError>,
    ) -> Result<T, StoreError> {
        self.run("SAVEPOINT whole", [])?;
        let done = work();
        if done.is_err() {
            self.run("ROLLBACK TO whole", [])?;
        }
        self.run("RELEASE whole", [])?;
        done
    }

    /// The error of a row that is no valid record.
    fn damaged(
        &self,
        table: &'static str,
        row: &Row<'_>,
        DecodeError(why): DecodeError,
    ) -> StoreError {
        StoreError::Damaged {
            path: self.path.to_owned(),
            table,
            // A row that has no number is told as number 0.
            id: row.get(0).unwrap_or(0),
            why,
        }
    }
}

/// What an error of SQLite means for the person whose file it is.
pub(super) fn at(path: &Path, source: rusqlite::Error) -> StoreError {
    let path = path.to_owned();
    match source.sqlite_error_code() {
        Some(ErrorCode::DatabaseBusy | ErrorCode::DatabaseLocked) => StoreError::Locked { path },
        Some(ErrorCode::ReadOnly | ErrorCode::PermissionDenied | ErrorCode::CannotOpen) => {
            StoreError::ReadOnly { path }
        }
        Some(ErrorCode::NotADatabase) => StoreError::NotADatabase { path },
        Some(ErrorCode::DatabaseCorrupt) => StoreError::Corrupt { path },
        Some(ErrorCode::DiskFull) => StoreError::Full { path },
        Some(ErrorCode::SystemIoFailure) => StoreError::Disk { path, source },
        Some(ErrorCode::ConstraintViolation) => forbidden(path, source),
        _ => StoreError::Sqlite { path, source },
    }
}

/// A broken rule by its name; a clash of names stays as SQLite has it, for
/// [`StoreError::or_duplicate`].
fn forbidden(path: std::path::PathBuf, source: rusqlite::Error) -> StoreError {
    match source {
        rusqlite::Error::SqliteFailure(
            ffi::Error {
                extended_code: ffi::SQLITE_CONSTRAINT_CHECK | ffi::SQLITE_CONSTRAINT_NOTNULL,
                ..
            },
            Some(rule),
        ) => StoreError::Refused { path, rule },
        source => StoreError::Sqlite { path, source },
    }
}

/// A table whose key is `id`.
pub(super) struct Table {
    /// Its name.
    pub(super) name: &'static str,
    /// What is written, in the order of the cells.
    pub(super) columns: &'static [&'static str],
}

impl Table {
    /// A new row of these cells.
    pub(super) fn insert(&self) -> String {
        let cells: Vec<&str> = self.columns.iter().map(|column| cell(column)).collect();
        let (name, columns, cells) = (self.name, self.columns.join(", "), cells.join(", "));
        format!("INSERT INTO {name} ({columns}) VALUES ({cells})")
    }

    /// These cells into the row whose id comes after them.
    pub(super) fn update(&self) -> String {
        let set = self.columns.iter();
        let set: Vec<String> = set
            .map(|column| format!("{column} = {}", cell(column)))
            .collect();
        format!("UPDATE {} SET {} WHERE id = ?", self.name, set.join(", "))
    }

    /// As [`Table::update`], where the row still has the version that comes last.
    pub(super) fn update_version(&self) -> String {
        let plain = self.update();
        plain.replacen(" SET ", " SET version = version + 1, ", 1) + " AND version = ?"
    }

    /// The columns, each with the table's name.
    pub(super) fn columns(&self) -> String {
        let named = self
            .columns
            .iter()
            .map(|column| format!("{}.{column}", self.name));
        named.collect::<Vec<_>>().join(", ")
    }
}

/// A cell to be bound; a blend is looked up by its parts.
fn cell(column: &str) -> &'static str {
    if column == BLEND {
        "(SELECT id FROM blend WHERE parts = ?)"
    } else {
        "?"
    }
}
