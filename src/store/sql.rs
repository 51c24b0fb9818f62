//! One connection with its path: every statement goes through here, so that an
//! error always names the file and says in plain words what is the matter. And
//! statements made from a table's list of columns, which stands once.

use super::{
    StoreError,
    rows::{Cells, DecodeError, FromRow, RowReader},
};
use rusqlite::{Connection, ErrorCode, Params, ffi};
use std::{fmt::Display, path::Path};

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

    /// Adds a row; its number.
    pub(super) fn insert(&self, table: &Table, cells: &Cells) -> Result<i64, StoreError> {
        self.run(&table.insert(), cells.params())?;
        Ok(self.conn.last_insert_rowid())
    }

    /// Changes the row with this number, which was read at `version`; its new version.
    pub(super) fn update(
        &self,
        table: &Table,
        (id, version): (i64, i64),
        cells: Cells,
    ) -> Result<i64, StoreError> {
        let cells = cells.and(&id).and(&version);
        if self.run(&table.update_version(), cells.params())? > 0 {
            return Ok(version + 1);
        }
        let there = format!("SELECT count(*) FROM {} WHERE id = ?", table.name);
        Err(match self.number(&there, [id])? {
            0 => table.gone(id),
            _ => StoreError::ChangedMeanwhile {
                what: table.what,
                id,
            },
        })
    }

    /// Removes the row with this number.
    pub(super) fn remove(&self, table: &Table, id: i64) -> Result<(), StoreError> {
        let sql = format!("DELETE FROM {} WHERE id = ?", table.name);
        match self.run(&sql, [id])? {
            0 => Err(table.gone(id)),
            _ => Ok(()),
        }
    }

    /// Hands each row to `see`. The first column of `sql` is the number under which
    /// damage is reported.
    pub(super) fn each_row<E: From<StoreError>>(
        &self,
        table: &'static str,
        sql: &str,
        params: impl Params,
        mut see: impl FnMut(&mut RowReader<'_, '_>) -> Result<Result<(), E>, DecodeError>,
    ) -> Result<(), E> {
        let failed = |error| at(self.path, error);
        let mut statement = self.conn.prepare_cached(sql).map_err(failed)?;
        let mut rows = statement.query(params).map_err(failed)?;
        while let Some(row) = rows.next().map_err(failed)? {
            // A row that has no number is reported as number 0.
            let number = || row.get(0).unwrap_or(0);
            see(&mut RowReader::new(row))
                .map_err(|DecodeError(why)| self.damaged(table, number(), &why))??;
        }
        Ok(())
    }

    /// Hands what each row says to `each`.
    pub(super) fn each<T: FromRow, E: From<StoreError>>(
        &self,
        table: &'static str,
        sql: &str,
        params: impl Params,
        mut each: impl FnMut(T) -> Result<(), E>,
    ) -> Result<(), E> {
        self.each_row(table, sql, params, |row| row.part().map(&mut each))
    }

    /// What all rows say.
    pub(super) fn all<T: FromRow>(
        &self,
        table: &'static str,
        sql: &str,
        params: impl Params,
    ) -> Result<Vec<T>, StoreError> {
        let mut all = Vec::new();
        self.each(table, sql, params, |row| {
            all.push(row);
            Ok::<(), StoreError>(())
        })?;
        Ok(all)
    }

    /// What the first row says, where there is one.
    pub(super) fn first<T: FromRow>(
        &self,
        table: &'static str,
        sql: &str,
        params: impl Params,
    ) -> Result<Option<T>, StoreError> {
        Ok(self.all(table, sql, params)?.into_iter().next())
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
    pub(super) fn damaged(&self, table: &'static str, id: i64, why: &dyn Display) -> StoreError {
        StoreError::Damaged {
            path: self.path.to_owned(),
            table,
            id,
            why: why.to_string(),
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
    /// What people call a row of it.
    pub(super) what: &'static str,
    /// What is written, in the order of the cells, with commas between.
    pub(super) columns: &'static str,
}

impl Table {
    /// A new row of these cells.
    pub(super) fn insert(&self) -> String {
        let (name, columns) = (self.name, self.columns);
        let cells: Vec<&str> = columns.split(", ").map(|_| "?").collect();
        format!(
            "INSERT INTO {name} ({columns}) VALUES ({})",
            cells.join(", ")
        )
    }

    /// These cells into the row whose id comes after them.
    pub(super) fn update(&self) -> String {
        let set = self.columns.replace(", ", " = ?, ");
        format!("UPDATE {} SET {set} = ? WHERE id = ?", self.name)
    }

    /// As [`Table::update`], where the row still has the version that comes last.
    fn update_version(&self) -> String {
        let plain = self.update();
        plain.replacen(" SET ", " SET version = version + 1, ", 1) + " AND version = ?"
    }

    /// The columns, each with the table's name.
    pub(super) fn columns(&self) -> String {
        let columns = self.columns.replace(", ", &format!(", {}.", self.name));
        format!("{}.{columns}", self.name)
    }

    /// The error of a row that is not there.
    pub(super) fn gone(&self, id: i64) -> StoreError {
        let what = self.what;
        StoreError::Gone { what, id }
    }
}
