//! Seals of the ledger: whether its lines are still those that were written. Each line
//! has a sum of what it says and of the seal before it in its lot, and each lot keeps
//! the number and the seal of its last line. It shows an accident, or a change by hand,
//! and is no proof against someone who computes all of it anew.

use super::{
    Problem, StoreError,
    sql::{Db, at},
};
use crate::record::lot_title;
use rusqlite::Connection;
use std::{collections::BTreeMap, sync::LazyLock};

/// What a line says, in one text.
const SAID: &str =
    "concat_ws(char(31), lot, kind, milliskeins, milligrams, on_day, amount_text, notes)";

/// A line, the seal that it should have, and the one that it has.
struct Sealed {
    id: i64,
    lot: i64,
    due: i64,
    kept: Option<i64>,
}

/// The last line of a ledger as it was when it was written.
#[derive(Clone, Copy)]
struct End {
    line: i64,
    seal: i64,
}

/// The seal of a line: FNV-1a, 64 bits, of the seal before it in its lot (0 at first;
/// eight bytes, the least first) and of what it says.
fn seal(before: i64, said: &str) -> i64 {
    let bytes = before.to_le_bytes().into_iter().chain(said.bytes());
    let sum = bytes.fold(0xcbf2_9ce4_8422_2325_u64, |sum, byte| {
        (sum ^ u64::from(byte)).wrapping_mul(0x0100_0000_01b3)
    });
    sum.cast_signed()
}

/// All lines, lot by lot. A seal that is there is what the next goes by, so that one
/// altered line is one fault.
fn sealed(conn: &Connection) -> rusqlite::Result<Vec<Sealed>> {
    let sql = format!("SELECT id, lot, {SAID}, seal FROM stock_entry ORDER BY lot, id");
    let mut statement = conn.prepare(&sql)?;
    let mut rows = statement.query([])?;
    let mut lines: Vec<Sealed> = Vec::new();
    while let Some(row) = rows.next()? {
        let (id, lot, kept) = (row.get(0)?, row.get(1)?, row.get(3)?);
        let before = lines.last().filter(|line| line.lot == lot);
        let before = before.map_or(0, |line| line.kept.unwrap_or(line.due));
        let due = seal(before, row.get_ref(2)?.as_str()?);
        lines.push(Sealed { id, lot, due, kept });
    }
    Ok(lines)
}

/// Seals all lines that have no seal, as a migration leaves them.
pub(super) fn seal_lines(conn: &Connection) -> rusqlite::Result<()> {
    let mut write = conn.prepare("UPDATE stock_entry SET seal = ? WHERE id = ?")?;
    for line in sealed(conn)?.iter().filter(|line| line.kept.is_none()) {
        write.execute((line.due, line.id))?;
    }
    Ok(())
}

/// The lot of a line, what it says, and the seal that it follows.
static NEW_LINE: LazyLock<String> = LazyLock::new(|| {
    let before = "SELECT seal FROM ledger_end WHERE ledger_end.lot = stock_entry.lot";
    format!("SELECT lot, {SAID}, coalesce(({before}), 0) FROM stock_entry WHERE id = ?")
});

/// Seals a new line, which is the last of its ledger from now on. It follows the line
/// that was the last one when it was written, also where that is gone.
pub(super) fn seal_line(conn: &Connection, line: i64) -> rusqlite::Result<()> {
    let (lot, due) = conn.prepare_cached(&NEW_LINE)?.query_row([line], |row| {
        let due = seal(row.get(2)?, row.get_ref(1)?.as_str()?);
        Ok((row.get::<_, i64>(0)?, due))
    })?;
    conn.prepare_cached("UPDATE stock_entry SET seal = ? WHERE id = ?")?
        .execute((due, line))?;
    let end = "INSERT INTO ledger_end (lot, line, seal) VALUES (?, ?, ?) \
               ON CONFLICT (lot) DO UPDATE SET line = excluded.line, seal = excluded.seal";
    conn.prepare_cached(end)?.execute((lot, line, due))?;
    Ok(())
}

/// The end of each ledger, by the number of its lot.
fn ends(conn: &Connection) -> rusqlite::Result<BTreeMap<i64, End>> {
    let mut statement = conn.prepare("SELECT lot, line, seal FROM ledger_end")?;
    let rows = statement.query_map([], |row| {
        let (line, seal) = (row.get(1)?, row.get(2)?);
        Ok((row.get(0)?, End { line, seal }))
    })?;
    rows.collect()
}

/// A line that is not as it was written, or is not there.
enum Fault {
    Line(i64),
    NoLastLine(i64),
    NotTheLast(i64),
}

/// What is wrong with the last line of a ledger, where one is left.
fn fault_of_end(end: Option<End>, last: Option<&Sealed>) -> Option<Fault> {
    match (end, last) {
        (Some(end), None) => Some(Fault::NoLastLine(end.line)),
        (Some(end), Some(last)) if last.id < end.line => Some(Fault::NoLastLine(end.line)),
        (Some(end), Some(last)) if last.id == end.line => {
            let is_told = last.kept != Some(last.due);
            (!is_told && last.kept != Some(end.seal)).then_some(Fault::Line(last.id))
        }
        (_, Some(last)) => Some(Fault::NotTheLast(last.id)),
        (None, None) => None,
    }
}

/// Lines that are not as they were written, and ledgers that end otherwise than they did.
pub(super) fn altered(db: Db<'_>) -> Result<Vec<Problem>, StoreError> {
    let failed = |error| at(db.path, error);
    let lines = sealed(db.conn).map_err(failed)?;
    let ends = ends(db.conn).map_err(failed)?;
    let altered = lines.iter().filter(|line| line.kept != Some(line.due));
    let mut faults: Vec<(i64, Fault)> = altered
        .map(|line| (line.lot, Fault::Line(line.id)))
        .collect();
    let mut lasts: BTreeMap<i64, Option<&Sealed>> = ends.keys().map(|lot| (*lot, None)).collect();
    lasts.extend(lines.iter().map(|line| (line.lot, Some(line))));
    faults.extend(lasts.into_iter().filter_map(|(lot, last)| {
        let fault = fault_of_end(ends.get(&lot).copied(), last)?;
        Some((lot, fault))
    }));
    faults
        .into_iter()
        .map(|(lot, fault)| problem(db.conn, lot, &fault).map_err(failed))
        .collect()
}

fn problem(conn: &Connection, lot: i64, fault: &Fault) -> rusqlite::Result<Problem> {
    let title = title(conn, lot)?;
    Ok(match *fault {
        Fault::Line(line) => Problem::Line { line, lot, title },
        Fault::NoLastLine(line) => Problem::NoLastLine { line, lot, title },
        Fault::NotTheLast(line) => Problem::NotTheLastLine { line, lot, title },
    })
}

/// What people call a lot.
fn title(conn: &Connection, lot: i64) -> rusqlite::Result<String> {
    let sql = "SELECT maker || ', ' || name, shade, coalesce(lot, '') \
               FROM stock_lot JOIN yarn ON yarn.id = stock_lot.yarn WHERE stock_lot.id = ?";
    conn.prepare_cached(sql)?.query_row([lot], |row| {
        let (yarn, shade, dye_lot): (String, String, String) =
            (row.get(0)?, row.get(1)?, row.get(2)?);
        Ok(lot_title(&yarn, &shade, &dye_lot))
    })
}

#[cfg(test)]
mod tests {
    use super::super::{Store, samples::*};
    use super::*;
    use crate::record::{EntryKind, Id, Lot};

    /// Trying to write what a trigger forbids, as one does who edits the file by hand.
    fn by_hand(store: &Store, sql: &str) {
        let trigger = "SELECT sql FROM sqlite_schema WHERE name = ?";
        let triggers = [
            "stock_entry_is_never_changed",
            "stock_entry_is_never_removed",
        ];
        let made = triggers.map(|name| {
            let made: String = store
                .conn
                .query_row(trigger, [name], |row| row.get(0))
                .unwrap();
            store
                .conn
                .execute_batch(&format!("DROP TRIGGER {name}"))
                .unwrap();
            made
        });
        store.conn.execute_batch(sql).unwrap();
        store.conn.execute_batch(&made.join(";")).unwrap();
    }

    /// A lot of three lines, and a lot of one.
    fn two_ledgers() -> (Store, Id<Lot>) {
        let (mut store, yarn) = shelf();
        let id = add(&mut store, yarn, &lot("red", Some("12")), 5.0);
        for _ in 0..2 {
            use_one(&mut store, id);
        }
        add(&mut store, yarn, &lot("blue", None), 5.0);
        assert_eq!(store.check().unwrap(), []);
        (store, id)
    }

    fn use_one(store: &mut Store, id: Id<Lot>) {
        let used = line(EntryKind::Used, 1.0, 0.0);
        store.write(|w| w.add_entry(id, &used)).unwrap();
    }

    fn told(store: &Store) -> Vec<String> {
        let problems = store.check().unwrap();
        problems.iter().map(ToString::to_string).collect()
    }

    #[test]
    fn a_line_that_is_altered_or_missing_is_told() {
        for (sql, told_of) in [
            (
                "UPDATE stock_entry SET amount_text = '2 skeins', milliskeins = 2000 WHERE id = 2",
                "line 2 of the ledger of lot 1 (Quay, Dune, red, lot 12) is not as it was written",
            ),
            (
                "DELETE FROM stock_entry WHERE id = 2",
                "line 3 of the ledger of lot 1 (Quay, Dune, red, lot 12) is not",
            ),
            (
                "UPDATE stock_entry SET notes = 'mine' WHERE id = 4",
                "line 4 of the ledger of lot 2 (Quay, Dune, blue) is not",
            ),
            (
                "UPDATE stock_entry SET seal = NULL WHERE id = 3",
                "line 3 of the ledger of lot 1 (Quay, Dune, red, lot 12) is not",
            ),
        ] {
            let (store, _) = two_ledgers();
            by_hand(&store, sql);
            let problems = told(&store);
            assert!(
                problems.len() == 1 && problems[0].starts_with(told_of),
                "{problems:?}"
            );
        }
    }

    #[test]
    fn an_end_that_was_cut_off_is_told_also_after_further_lines() {
        let (mut store, id) = two_ledgers();
        by_hand(&store, "DELETE FROM stock_entry WHERE id = 3");
        let gone = "line 3, the last of the ledger of lot 1 (Quay, Dune, red, lot 12), is missing; \
                    restore a backup";
        assert_eq!(told(&store), [gone]);
        for _ in 0..2 {
            use_one(&mut store, id);
            let problems = told(&store);
            let broken = "line 5 of the ledger of lot 1 (Quay, Dune, red, lot 12) is not as it was \
                          written, or one before it is missing; restore a backup";
            assert_eq!(problems, [broken]);
        }
    }

    /// The seal that fits what the line says now and the line before it.
    fn seal_anew(store: &Store, number: i64) {
        let lines = sealed(&store.conn).unwrap();
        let due = lines.iter().find(|line| line.id == number).unwrap().due;
        let sql = format!("UPDATE stock_entry SET seal = {due} WHERE id = {number}");
        by_hand(store, &sql);
    }

    #[test]
    fn a_last_line_that_was_altered_with_its_seal_is_told() {
        let (mut store, id) = two_ledgers();
        let more =
            "UPDATE stock_entry SET amount_text = '2 skeins', milliskeins = 2000 WHERE id = 3";
        by_hand(&store, more);
        seal_anew(&store, 3);
        let altered = "line 3 of the ledger of lot 1 (Quay, Dune, red, lot 12) is not as it was \
                       written, or one before it is missing; restore a backup";
        assert_eq!(told(&store), [altered]);
        use_one(&mut store, id);
        assert_eq!(told(&store), [altered.replace("line 3", "line 5")]);
    }

    #[test]
    fn a_line_that_was_added_by_hand_with_its_seal_is_told() {
        let (store, _) = two_ledgers();
        by_hand(
            &store,
            "INSERT INTO stock_entry (lot, kind, amount_text, milliskeins, milligrams, on_day, notes)
                 VALUES (1, 'bought', '9', 9000, 0, '2026-03-01', '')",
        );
        seal_anew(&store, 5);
        let foreign = "line 5 of the ledger of lot 1 (Quay, Dune, red, lot 12) comes after its last \
                       recorded one; restore a backup";
        assert_eq!(told(&store), [foreign]);
        by_hand(&store, "DELETE FROM ledger_end WHERE lot = 2");
        assert_eq!(
            told(&store)[1],
            "line 4 of the ledger of lot 2 (Quay, Dune, blue) comes after its last recorded one; \
             restore a backup"
        );
    }

    #[test]
    fn a_ledger_of_which_all_lines_are_gone_is_told() {
        let (store, _) = two_ledgers();
        by_hand(&store, "DELETE FROM stock_entry WHERE lot = 1");
        let gone = "line 3, the last of the ledger of lot 1 (Quay, Dune, red, lot 12), is missing; \
                    restore a backup";
        assert!(told(&store).iter().any(|problem| problem == gone));
    }

    #[test]
    fn what_is_undone_keeps_the_ends_of_ledgers() {
        let (mut store, _) = two_ledgers();
        let last = |store: &Store| store.reader().unwrap().undoable_changes(1).unwrap().pop();
        while let Some(last) = last(&store) {
            store.write(|w| w.undo(last.number, "2026-04-01")).unwrap();
            assert_eq!(store.check().unwrap(), []);
        }
        let ends = "SELECT count(*) FROM ledger_end";
        assert_eq!(store.reader().unwrap().db.number(ends, []).unwrap(), 0);
    }

    #[test]
    fn a_seal_depends_on_the_one_before_and_on_every_byte() {
        assert_ne!(seal(0, "a"), seal(1, "a"));
        assert_ne!(seal(0, "a"), seal(0, "b"));
        let zeros = (0..8).fold(0xcbf2_9ce4_8422_2325_u64, |sum, _| {
            sum.wrapping_mul(0x0100_0000_01b3)
        });
        assert_eq!(seal(0, ""), zeros.cast_signed());
    }
}
