//! Whether what is kept beside a text is still what the text says: the folded names
//! by which records are found, and the numbers of what was printed or typed.
//!
//! A text that cannot be read alone (a part of a sentence, say) proves nothing.

use super::{StoreError, name_search::name_key, sql::Db};
use crate::label::cells;

/// A table, the text of a name in it, and its folded name.
const KEYS: [(&str, &str, &str); 6] = [
    ("yarn", "maker", "maker_key"),
    ("yarn", "name", "name_key"),
    ("stock_lot", "shade", "shade_key"),
    ("stock_lot", "coalesce(lot, '')", "lot_key"),
    ("stock_lot", "place", "place_key"),
    ("pattern", "name", "name_key"),
];

/// Names that would not be found, a sentence each.
pub(super) fn astray_keys(db: Db<'_>) -> Result<Vec<String>, StoreError> {
    let mut problems = Vec::new();
    for (table, text, key) in KEYS {
        let sql = format!("SELECT id, {text}, {key} FROM {table}");
        db.each(table, &sql, [], |(id, text, key): (i64, String, String)| {
            if name_key(&text) != key {
                problems.push(format!(
                    "row {id} of `{table}`: `{text}` is not found by its name; save it again"
                ));
            }
            Ok::<(), StoreError>(())
        })?;
    }
    Ok(problems)
}

/// A table, a text in it, the number beside it, and how the text is read.
type KeptNumber = (
    &'static str,
    &'static str,
    &'static str,
    fn(&str) -> Option<f64>,
);

const NUMBERS: [KeptNumber; 6] = [
    ("facts", "length_text", "length_m", length),
    ("facts", "mass_text", "mass_g", mass),
    ("stock_lot", "weighed_text", "weighed_g", weighed),
    (
        "stock_entry",
        "amount_text",
        "milliskeins * 1.0",
        milliskeins,
    ),
    ("stock_entry", "amount_text", "milligrams * 1.0", milligrams),
    ("facts", "needle_text", "needle_low_mm", needle),
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

fn needle(text: &str) -> Option<f64> {
    Some(cells::needles(text).ok()?.value.low().as_millimetres())
}

fn milliskeins(text: &str) -> Option<f64> {
    Some(cells::stock_amount(text).ok()?.value.skeins() * 1000.0)
}

fn milligrams(text: &str) -> Option<f64> {
    Some(cells::stock_amount(text).ok()?.value.grams() * 1000.0)
}

/// Texts that say another number than the one beside them, a sentence each.
pub(super) fn read_otherwise(db: Db<'_>) -> Result<Vec<String>, StoreError> {
    let mut problems = Vec::new();
    for (table, text, number, read) in NUMBERS {
        let sql = format!("SELECT id, {text}, {number} FROM {table} WHERE {text} IS NOT NULL");
        db.each(table, &sql, [], |(id, text, kept): (i64, String, f64)| {
            if read(&text).is_some_and(|read| (read - kept).abs() > 1e-6 * read.abs().max(1.0)) {
                problems.push(format!(
                    "row {id} of `{table}`: `{text}` is not the number that is kept beside it; restore a backup"
                ));
            }
            Ok::<(), StoreError>(())
        })?;
    }
    problems.dedup();
    Ok(problems)
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
        assert_eq!(store.check().unwrap(), Vec::<String>::new());
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
            "of `stock_entry`: `1 skein`",
            "of `facts`: `125 m`",
            "of `stock_lot`: `red`",
            "of `yarn`: ",
        ] {
            assert!(
                problems.iter().any(|problem| problem.contains(told)),
                "{told}: {problems:?}"
            );
        }
    }
}
