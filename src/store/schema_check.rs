//! Whether tables, indexes and triggers are those that the migrations make.

use super::{
    Problem, StoreError,
    migrations::{MIGRATIONS, migrate},
    sql::{Db, at},
};
use rusqlite::Connection;
use std::{collections::BTreeMap, path::Path};

/// What each is called, and how it is made.
type Schema = BTreeMap<String, String>;

/// What is missing, foreign or different.
pub(super) fn differences(db: Db<'_>) -> Result<Vec<Problem>, StoreError> {
    let here = schema(db)?;
    let path = Path::new(":memory:");
    let mut conn = Connection::open_in_memory().map_err(|error| at(path, error))?;
    migrate(&mut conn, path, MIGRATIONS)?;
    let wanted = schema(Db { conn: &conn, path })?;
    let missing = wanted
        .iter()
        .filter_map(|(name, sql)| match here.get(name) {
            None => Some(Problem::Missing(name.clone())),
            Some(other) if other != sql => Some(Problem::MadeOtherwise(name.clone())),
            Some(_) => None,
        });
    let foreign = here.keys().filter(|name| !wanted.contains_key(*name));
    let foreign = foreign.map(|name| Problem::Foreign(name.clone()));
    Ok(missing.chain(foreign).collect())
}

fn schema(db: Db<'_>) -> Result<Schema, StoreError> {
    let sql = "SELECT type || ' `' || name || '`', coalesce(sql, '') FROM sqlite_schema \
               WHERE name NOT LIKE 'sqlite~_%' ESCAPE '~'";
    Ok(db.all("sqlite_schema", sql, [])?.into_iter().collect())
}

#[cfg(test)]
mod tests {
    use super::super::{Store, test_files::*};

    #[test]
    fn what_was_dropped_added_or_changed_is_told() {
        for (sql, told) in [
            (
                "DROP INDEX facts_by_grist",
                "index `facts_by_grist` is missing",
            ),
            (
                "DROP TRIGGER stock_entry_is_never_changed",
                "trigger `stock_entry_is_never_changed` is missing",
            ),
            (
                "CREATE TRIGGER other AFTER INSERT ON yarn BEGIN DELETE FROM swatch; END",
                "trigger `other` is not of this program",
            ),
            (
                "DROP INDEX yarn_by_name; CREATE INDEX yarn_by_name ON yarn (maker_key, name_key)",
                "index `yarn_by_name` is not as this program makes it",
            ),
            (
                "CREATE VIEW mine AS SELECT * FROM yarn",
                "view `mine` is not of this program",
            ),
            (
                "PRAGMA foreign_keys = OFF; DROP TABLE swatch",
                "table `swatch` is missing",
            ),
        ] {
            let folder = folder();
            drop(stocked(&file(&folder)));
            raw(&file(&folder), sql);
            let problems = Store::open_existing(&file(&folder))
                .unwrap()
                .check()
                .unwrap();
            let is_told = problems
                .iter()
                .any(|problem| problem.to_string().contains(told));
            assert!(is_told, "{sql}: {problems:?}");
        }
    }
}
