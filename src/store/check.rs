//! Looking the whole file over: SQLite's own checks, then what only we know.

use super::{
    Problem, Reader, StoreError, kept_text, schema_check, seals,
    sql::{Db, at},
};
use crate::{
    measure::Grist,
    record::{Id, Lot, Pattern, Project, Swatch},
};
use rusqlite::{Connection, TransactionBehavior};
use std::path::Path;

/// What is wrong with the file, its tables and its records. Where
/// pages are damaged nothing else is looked at.
pub(super) fn all(conn: &Connection, path: &Path) -> Result<Vec<Problem>, StoreError> {
    let problems = file(conn, path)?;
    if !problems.is_empty() {
        return Ok(problems);
    }
    let reader = Reader::begin(conn, path, TransactionBehavior::Deferred)?;
    let mut problems = schema_check::differences(reader.db)?;
    match reader.check_records() {
        Ok(more) => problems.extend(more),
        // A table that is missing or another has been told.
        Err(StoreError::Sqlite { .. }) if !problems.is_empty() => {}
        Err(other) => return Err(other),
    }
    Ok(problems)
}

/// What is wrong with the file itself.
fn file(conn: &Connection, path: &Path) -> Result<Vec<Problem>, StoreError> {
    looked(Db { conn, path }, "PRAGMA integrity_check")
}

/// What is wrong with a copy that was just made: every page is read and has its place,
/// every cell its type, every reference its row. What SQLite kept as a rule, checks of
/// columns and that indexes agree with their tables, was copied with the pages: to go
/// through it again would take ten times as long.
pub(super) fn pages(conn: &Connection, path: &Path) -> Result<Vec<Problem>, StoreError> {
    conn.pragma_update(None, "ignore_check_constraints", true)
        .map_err(|error| at(path, error))?;
    looked(Db { conn, path }, "PRAGMA quick_check")
}

fn looked(db: Db<'_>, how: &str) -> Result<Vec<Problem>, StoreError> {
    match pages_and_keys(db, how) {
        Err(corrupt @ StoreError::Corrupt { .. }) => {
            Ok(vec![Problem::Unreadable(corrupt.to_string())])
        }
        done => done,
    }
}

fn pages_and_keys(db: Db<'_>, how: &str) -> Result<Vec<Problem>, StoreError> {
    let mut lines: Vec<String> = db.all("file", how, [])?;
    lines.retain(|line| line != "ok");
    let astray = "SELECT coalesce(rowid, 0), \"table\", parent FROM pragma_foreign_key_check";
    let astray: Vec<(i64, String, String)> = db.all("file", astray, [])?;
    let astray = astray
        .into_iter()
        .map(|(row, table, parent)| Problem::Astray { row, table, parent });
    Ok(lines
        .into_iter()
        .map(Problem::Unreadable)
        .chain(astray)
        .collect())
}

impl Reader<'_> {
    /// What is wrong with the records.
    pub(super) fn check_records(&self) -> Result<Vec<Problem>, StoreError> {
        let mut problems = self.check_facts()?;
        problems.extend(self.check_tally()?);
        problems.extend(self.check_each("yarn", |id| self.check_yarn(id))?);
        problems
            .extend(self.check_each("stock_lot", |id| self.lot(Id::<Lot>::new(id)).map(|_| None))?);
        problems.extend(self.check_each("shade_colour", |id| self.check_shade(id).map(|()| None))?);
        problems.extend(self.check_each("pattern", |id| {
            self.pattern(Id::<Pattern>::new(id)).map(|_| None)
        })?);
        problems.extend(self.check_each("project", |id| {
            self.project(Id::<Project>::new(id)).map(|_| None)
        })?);
        problems.extend(self.check_each("swatch", |id| {
            self.swatch(Id::<Swatch>::new(id)).map(|_| None)
        })?);
        problems.extend(seals::altered(self.db)?);
        problems.extend(kept_text::astray_keys(self.db)?);
        problems.extend(kept_text::read_otherwise(self.db)?);
        Ok(problems)
    }

    /// That every row can be read; what cannot is named and the rest goes on.
    fn check_each(
        &self,
        table: &'static str,
        look: impl Fn(i64) -> Result<Option<Problem>, StoreError>,
    ) -> Result<Vec<Problem>, StoreError> {
        self.check_rows(table, &format!("SELECT id FROM {table}"), look)
    }

    fn check_rows(
        &self,
        table: &'static str,
        ids: &str,
        look: impl Fn(i64) -> Result<Option<Problem>, StoreError>,
    ) -> Result<Vec<Problem>, StoreError> {
        let ids: Vec<i64> = self.db.all(table, ids, [])?;
        let mut problems = Vec::new();
        for id in ids {
            match look(id) {
                Ok(problem) => problems.extend(problem),
                Err(damaged @ StoreError::Damaged { .. }) => {
                    problems.push(Problem::Unreadable(damaged.to_string()));
                }
                Err(other) => return Err(other),
            }
        }
        Ok(problems)
    }

    /// That the kept grist is the one that length, mass and count give.
    fn check_yarn(&self, id: i64) -> Result<Option<Problem>, StoreError> {
        let yarn = self.yarn(Id::new(id))?.record;
        let sql = "SELECT id, grist FROM facts WHERE id = ?";
        let kept: Option<(i64, Option<Grist>)> = self.db.first("facts", sql, [id])?;
        let kept = kept.and_then(|(_, grist)| grist);
        let differs = kept != yarn.facts.grist();
        Ok(differs.then(|| Problem::Grist(yarn.title())))
    }

    /// That there are as many yarns as the tally says.
    fn check_tally(&self) -> Result<Option<Problem>, StoreError> {
        let told = self.count_yarns()?;
        let kept = self.db.number("SELECT count(*) FROM yarn", [])?;
        let kept = kept.unsigned_abs();
        Ok((told != kept).then_some(Problem::Tally { told, kept }))
    }

    /// That no facts are left without their yarn.
    fn check_facts(&self) -> Result<Vec<Problem>, StoreError> {
        let sql = "SELECT id FROM facts WHERE id NOT IN (SELECT id FROM yarn) \
                   AND id NOT IN (SELECT id FROM pattern_yarn)";
        let ids: Vec<i64> = self.db.all("facts", sql, [])?;
        Ok(ids.into_iter().map(Problem::LostFacts).collect())
    }
}
