//! Whether what is kept beside a text is still what the text says: the folded names
//! by which records are found, and the numbers of what was printed or typed.
//!
//! A text that cannot be read alone (a part of a sentence, say) proves nothing.

use super::{Problem, StoreError, name_search::name_key, sql::Db};
use crate::label::cells;
use rusqlite::{Connection, Row};

/// What people call a row of a table.
struct Titled {
    table: &'static str,
    title: &'static str,
}

const YARN: Titled = Titled {
    table: "yarn",
    title: "maker || ', ' || name",
};

const PATTERN: Titled = Titled {
    table: "pattern",
    title: "'pattern ' || name",
};

const LOT: Titled = Titled {
    table: "stock_lot",
    title: "'lot ' || id",
};

const SHADE: Titled = Titled {
    table: "shade_colour",
    title: "'shade ' || id",
};

const PROJECT: Titled = Titled {
    table: "project",
    title: "'project ' || name",
};

const ENTRY: Titled = Titled {
    table: "stock_entry",
    title: "'line ' || id || ' of the ledger of lot ' || lot",
};

/// Facts of a yarn or of one that a pattern asks for.
const FACTS: Titled = Titled {
    table: "facts",
    title: "coalesce((SELECT maker || ', ' || name FROM yarn WHERE yarn.id = facts.id), \
            (SELECT 'pattern ' || name FROM pattern JOIN pattern_yarn \
             ON pattern_yarn.pattern = pattern.id WHERE pattern_yarn.id = facts.id), 'number ' || id)",
};

/// The text of a name in a table, and its folded name.
const KEYS: [(Titled, &str, &str); 6] = [
    (YARN, "maker", "maker_key"),
    (YARN, "name", "name_key"),
    (LOT, "shade", "shade_key"),
    (LOT, "coalesce(lot, '')", "lot_key"),
    (LOT, "place", "place_key"),
    (PATTERN, "name", "name_key"),
];

/// The same in a table that is newer than [`write_keys`].
const NEWER_KEYS: [(Titled, &str, &str); 2] =
    [(SHADE, "shade", "shade_key"), (PROJECT, "name", "name_key")];

/// Writes the keys of names that have another, as a migration leaves them.
pub(super) fn write_keys(conn: &Connection) -> rusqlite::Result<()> {
    for (Titled { table, .. }, text, key) in KEYS {
        let mut names = conn.prepare(&format!("SELECT id, {text}, {key} FROM {table}"))?;
        let cells = |row: &Row<'_>| Ok((row.get(0)?, row.get(1)?, row.get(2)?));
        let astray = names.query_map([], cells)?.filter_map(|row| match row {
            Ok((id, text, key)) => {
                let (id, text, key): (i64, String, String) = (id, text, key);
                Some(Ok((name_key(&text), id)))
                    .filter(|row| !matches!(row, Ok((new, _)) if *new == key))
            }
            Err(error) => Some(Err(error)),
        });
        let astray: Vec<(String, i64)> = astray.collect::<rusqlite::Result<_>>()?;
        let mut write = conn.prepare(&format!("UPDATE {table} SET {key} = ? WHERE id = ?"))?;
        for row in astray {
            write.execute(row)?;
        }
    }
    Ok(())
}

/// Names that would not be found.
pub(super) fn astray_keys(db: Db<'_>) -> Result<Vec<Problem>, StoreError> {
    let mut problems = Vec::new();
    for (Titled { table, title }, text, key) in KEYS.into_iter().chain(NEWER_KEYS) {
        let sql = format!("SELECT id, {title}, {text}, {key} FROM {table}");
        let row = |(_, title, text, key): (i64, String, String, String)| {
            if name_key(&text) != key {
                problems.push(Problem::Key { title, text });
            }
            Ok::<(), StoreError>(())
        };
        db.each(table, &sql, [], row)?;
    }
    Ok(problems)
}

/// A text, the number beside it, and how the text is read.
type KeptNumber = (Titled, &'static str, &'static str, fn(&str) -> Option<f64>);

const NUMBERS: [KeptNumber; 7] = [
    (FACTS, "length_text", "length_m", length),
    (FACTS, "mass_text", "mass_g", mass),
    (FACTS, "needle_text", "needle_low_mm", needle),
    (LOT, "weighed_text", "weighed_g", weighed),
    (SHADE, "colour_text", "colour * 1.0", colour),
    (ENTRY, "amount_text", "milliskeins * 1.0", milliskeins),
    (ENTRY, "amount_text", "milligrams * 1.0", milligrams),
];

fn length(text: &str) -> Option<f64> {
    Some(cells::length(text).ok()?.value.as_metres())
}

fn mass(text: &str) -> Option<f64> {
    Some(cells::mass(text).ok()?.value.as_grams())
}

fn weighed(text: &str) -> Option<f64> {
    Some(cells::weighed(text).ok()?.value.0.as_grams())
}

fn colour(text: &str) -> Option<f64> {
    Some(f64::from(cells::colour(text).ok()?.value.number()))
}

fn needle(text: &str) -> Option<f64> {
    Some(cells::needles(text).ok()?.value.low().as_millimetres())
}

fn milliskeins(text: &str) -> Option<f64> {
    Some(cells::stock_amount(text).ok()?.value.skeins() * 1000.0)
}

fn milligrams(text: &str) -> Option<f64> {
    Some(cells::stock_amount(text).ok()?.value.grams() * 1000.0)
}

/// Texts that say another number than the one beside them.
pub(super) fn read_otherwise(db: Db<'_>) -> Result<Vec<Problem>, StoreError> {
    let mut problems = Vec::new();
    for (Titled { table, title }, text, number, read) in NUMBERS {
        let sql =
            format!("SELECT id, {title}, {text}, {number} FROM {table} WHERE {text} IS NOT NULL");
        let row = |(_, title, text, kept): (i64, String, String, f64)| {
            if read(&text).is_some_and(|read| differ(read, kept)) {
                problems.push(Problem::Number {
                    title,
                    text,
                    by_people: table != ENTRY.table,
                });
            }
            Ok::<(), StoreError>(())
        };
        db.each(table, &sql, [], row)?;
    }
    problems.dedup();
    Ok(problems)
}

/// By more than the last digits, in which versions of the program may differ.
fn differ(one: f64, other: f64) -> bool {
    (one - other).abs() > 1e-6 * one.abs().max(1.0)
}

#[cfg(test)]
mod tests {
    use super::super::samples::*;
    use crate::record::EntryKind;

    #[test]
    fn altered_amounts_lengths_and_keys_are_told() {
        let (mut store, yarn) = shelf();
        let id = add(&mut store, yarn, &lot("red", None), 2.0);
        store
            .write(|w| w.add_entry(id, &line(EntryKind::Used, 1.0, 0.0)))
            .unwrap();
        assert_eq!(store.check().unwrap(), []);
        let trigger =
            "SELECT 0, sql FROM sqlite_schema WHERE name = 'stock_entry_is_never_changed'";
        let reader = store.reader().unwrap();
        let made: Option<(i64, String)> = reader.db.first("sqlite_schema", trigger, []).unwrap();
        drop(reader);
        let altered = format!(
            "DROP TRIGGER stock_entry_is_never_changed;
             UPDATE stock_entry SET amount_text = '1 skein', milliskeins = 500 WHERE kind = 'used';
             {};
             UPDATE facts SET length_text = '125 m', length_m = 150, mass_text = '50 g', mass_g = 50, grist = 3;
             UPDATE stock_lot SET shade_key = 'blue';
             UPDATE yarn SET name_key = 'other';",
            made.unwrap().1
        );
        store.conn.execute_batch(&altered).unwrap();
        let problems = store.check().unwrap();
        for told in [
            "line 2 of the ledger of lot 1: the number beside `1 skein`",
            "the number beside `125 m` is another",
            "lot 1: `red` is not found",
            "is not found by its name",
        ] {
            assert!(
                problems
                    .iter()
                    .any(|problem| problem.to_string().contains(told)),
                "{told}: {problems:?}"
            );
        }
    }
}
