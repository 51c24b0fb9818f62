//! Taking changes back: whole or not at all, and only while nothing that came later
//! depends on it. The ledger of stock gets a line that takes the last one back; what was
//! edited or removed is put back as it was, row by row; what was added goes.

use super::{
    Reader, StoreError, Writer,
    changes::{CHANGE, KeptChange, RecordKind, STEP, Step},
    name_search::name_key,
    rows::BadRow,
    sql::at,
};
use crate::record::Id;
use rusqlite::types::Value as Cell;
use serde_json::{Map, Value};
use std::sync::LazyLock;

/// Later changes that still count and depend on this one: of the same record, of lots
/// and swatches of a yarn that it added, the removal of a yarn of its swatch. Steps of the
/// change itself are few: what is looked for in the others begins with them.
static FOLLOW_UPS: LazyLock<String> = LazyLock::new(|| {
    let same = "mine.kind = later.kind AND later.record BETWEEN mine.record AND mine.last";
    let added = "mine.kind = 'yarn' AND mine.action = 'added' \
                 AND later.yarn BETWEEN mine.record AND mine.last";
    let removed = "later.kind = 'yarn' AND later.action = 'removed' AND later.record = mine.yarn";
    let [steps, further] = ["change_step", "change_step_yarn"];
    let by = [
        (steps, steps, same),
        (steps, steps, added),
        (steps, further, added),
        (steps, steps, removed),
        (further, steps, removed),
    ];
    let later = by.map(|(mine, later, how)| {
        format!(
            "SELECT later.change FROM {mine} AS mine CROSS JOIN {later} AS later \
             ON {how} AND later.change > mine.change \
             JOIN change ON change.id = later.change AND change.undone_at IS NULL \
             WHERE mine.change = ?1"
        )
    });
    format!("{} ORDER BY 1 DESC", later.join(" UNION "))
});

/// The ledger of a lot, which is never put back.
const LEDGER: (&str, &str) = ("stock_entry", "lot");

impl Reader<'_> {
    /// The last changes that can be taken back, the newest first.
    pub fn undoable_changes(&self, most: usize) -> Result<Vec<KeptChange>, StoreError> {
        let sql = "SELECT id FROM change WHERE undone_at IS NULL ORDER BY id DESC";
        let mut found = Vec::new();
        for number in self.db.all::<i64>("change", sql, [])? {
            if found.len() < most && self.follow_ups(number)?.is_empty() {
                found.push(self.change(number)?);
            }
        }
        Ok(found)
    }

    /// The last change of this record alone, where it can be taken back.
    pub fn undoable_change_of(
        &self,
        kind: RecordKind,
        record: i64,
    ) -> Result<Option<KeptChange>, StoreError> {
        let sql = "SELECT change.id FROM change_step \
                   JOIN change ON change.id = change_step.change AND undone_at IS NULL \
                   WHERE kind = ? AND record = ? AND last = record ORDER BY 1 DESC LIMIT 1";
        let cells = (kind.name(), record);
        let Some(number) = self.db.first::<i64>("change", sql, cells)? else {
            return Ok(None);
        };
        let change = self.change(number)?;
        let is_alone = change.only_part().is_some_and(|part| part.count == 1);
        let is_last = is_alone && self.follow_ups(number)?.is_empty();
        Ok(is_last.then_some(change))
    }

    /// Later changes that depend on this one, the newest first.
    fn follow_ups(&self, number: i64) -> Result<Vec<i64>, StoreError> {
        self.db.all("change_step", &FOLLOW_UPS, [number])
    }
}

impl Reader<'_> {
    /// All rows of a record, as JSON by table and column.
    pub(super) fn rows_of(&self, kind: RecordKind, record: i64) -> Result<String, StoreError> {
        self.rows_in(kind.tables(), record)
    }

    pub(super) fn rows_in(
        &self,
        tables: &[(&str, &str)],
        record: i64,
    ) -> Result<String, StoreError> {
        let mut all = Map::new();
        for (table, whose) in tables {
            let sql = format!("SELECT * FROM {table} WHERE {whose} = ?");
            all.insert((*table).to_owned(), Value::Array(self.rows(&sql, record)?));
        }
        Ok(Value::Object(all).to_string())
    }

    fn rows(&self, sql: &str, record: i64) -> Result<Vec<Value>, StoreError> {
        let read = || {
            let mut statement = self.db.conn.prepare_cached(sql)?;
            let columns = statement.column_names().into_iter().map(str::to_owned);
            let columns: Vec<String> = columns.collect();
            let rows = statement.query_map([record], |row| {
                let cells = columns.iter().enumerate().map(|(place, column)| {
                    let cell = row.get::<_, Cell>(place)?;
                    Ok((column.clone(), as_json(cell)))
                });
                Ok(Value::Object(cells.collect::<rusqlite::Result<_>>()?))
            })?;
            rows.collect::<rusqlite::Result<_>>()
        };
        read().map_err(|error| at(self.db.path, error))
    }
}

impl Writer<'_> {
    /// Takes a change back; `day` is today. Refused where that was done before, or a
    /// later change depends on it.
    pub fn undo(&self, number: i64, day: &str) -> Result<(), StoreError> {
        let sql = "SELECT undone_at IS NULL FROM change WHERE id = ?";
        match self.db.first("change", sql, [number])? {
            None => return Err(CHANGE.gone(number)),
            Some(false) => return Err(StoreError::UndoneBefore(number)),
            Some(true) => {}
        }
        let changes = self.follow_ups(number)?;
        if !changes.is_empty() {
            return Err(StoreError::FollowedUp { changes });
        }
        self.db.whole(|| {
            let now = self.journal.now.as_deref().unwrap_or(day);
            let sql = "UPDATE change SET undone_at = ? WHERE id = ?";
            self.db.run(sql, (now, number))?;
            let mut place = i64::MAX;
            let sql = format!("{STEP} WHERE change = ? AND place < ? ORDER BY place DESC LIMIT 1");
            while let Some(step) = self
                .db
                .first::<Step>("change_step", &sql, [number, place])?
            {
                place = step.place;
                self.take_back(number, &step, day)?;
            }
            Ok(())
        })
    }

    fn take_back(&self, change: i64, step: &Step, day: &str) -> Result<(), StoreError> {
        match (&step.before, step.line) {
            (Some(before), _) => self.put_back(step, before),
            (None, Some(line)) => self.take_line_back(Id::new(step.record), line, day),
            (None, None) => self.take_away(change, step),
        }
    }

    /// Removes what was added; one record is kept with its change.
    fn take_away(&self, change: i64, step: &Step) -> Result<(), StoreError> {
        if step.record == step.last {
            let sql = "UPDATE change_step SET after = ? WHERE change = ? AND place = ?";
            let ledger = (step.kind == RecordKind::Lot).then_some(LEDGER);
            let tables = step.kind.tables().iter().copied().chain(ledger);
            let rows = self.rows_in(&tables.collect::<Vec<_>>(), step.record)?;
            self.db.run(sql, (rows, change, step.place))?;
        }
        let range = [step.record, step.last];
        if step.kind == RecordKind::Yarn {
            self.make_ready_to_remove(step.last - step.record + 1)?;
        }
        let removals: &[&str] = match step.kind {
            RecordKind::Yarn => {
                &["DELETE FROM facts WHERE id IN (SELECT id FROM yarn WHERE id BETWEEN ? AND ?)"]
            }
            RecordKind::Lot => &[
                "DELETE FROM stock_entry WHERE lot BETWEEN ? AND ?",
                "DELETE FROM stock_lot WHERE id BETWEEN ? AND ?",
            ],
            RecordKind::Shade => &["DELETE FROM shade_colour WHERE id BETWEEN ? AND ?"],
            RecordKind::Swatch => &["DELETE FROM swatch WHERE id BETWEEN ? AND ?"],
            RecordKind::Pattern => {
                self.remove_parts(step.record)?;
                &["DELETE FROM pattern WHERE id BETWEEN ? AND ?"]
            }
            RecordKind::Project => &["DELETE FROM project WHERE id BETWEEN ? AND ?"],
        };
        for sql in removals {
            self.db.run(sql, range)?;
        }
        self.build_indexes()
    }

    /// Puts the rows of a record back as they were. Whoever has read it since gets an error
    /// by its version.
    fn put_back(&self, step: &Step, before: &str) -> Result<(), StoreError> {
        let (kind, record) = (step.kind, step.record);
        let table = kind.table();
        let version = format!("SELECT coalesce(max(version), 0) FROM {table} WHERE id = ?");
        let version_here = self.db.number(&version, [record])?;
        match kind {
            RecordKind::Yarn => drop(self.db.run("DELETE FROM shade WHERE yarn = ?", [record])?),
            RecordKind::Pattern => self.remove_parts(record)?,
            RecordKind::Project => self.remove_pins(record)?,
            RecordKind::Swatch => self.remove_held_with(record)?,
            RecordKind::Lot | RecordKind::Shade => {}
        }
        let damaged = || {
            self.db
                .damaged("change_step", record, &BadRow::NothingBefore)
        };
        let rows = parsed(before).ok_or_else(damaged)?;
        for (table, _) in kind.tables() {
            let rows = rows.get(*table).and_then(Value::as_array);
            for row in rows.into_iter().flatten() {
                let put = self.put_row(table, row);
                let name = || text_in(row, "name").or(text_in(row, "shade"));
                let name = || name().unwrap_or("").to_owned();
                put.map_err(|error| error.or_duplicate(kind.name(), name))?;
            }
        }
        let sql = format!("UPDATE {table} SET version = max(version, ?) + 1 WHERE id = ?");
        self.db.run(&sql, [version_here, record])?;
        self.look_at(kind, record)
    }

    /// Writes a row where it was, whatever is there now. Columns that are newer than
    /// what was written down stay as they are.
    fn put_row(&self, table: &str, row: &Value) -> Result<(), StoreError> {
        let columns = format!("SELECT 0, name FROM pragma_table_info('{table}')");
        let columns: Vec<(i64, String)> = self.db.all("pragma_table_info", &columns, [])?;
        let cells = columns.iter().filter_map(|(_, column)| {
            let cell = as_cell(row.get(column)?);
            match column.strip_suffix("_key") {
                Some(of) => {
                    let key = name_key(text_in(row, of).unwrap_or(""));
                    Some((column, Cell::Text(key)))
                }
                None => Some((column, cell)),
            }
        });
        let (columns, cells): (Vec<&str>, Vec<Cell>) =
            cells.map(|(column, cell)| (column.as_str(), cell)).unzip();
        let marks = vec!["?"; columns.len()].join(", ");
        let set = columns
            .iter()
            .map(|column| format!("{column} = excluded.{column}"));
        let set = match columns.contains(&"id") {
            true => format!(
                " ON CONFLICT (id) DO UPDATE SET {}",
                set.collect::<Vec<_>>().join(", ")
            ),
            false => String::new(),
        };
        let columns = columns.join(", ");
        let sql = format!("INSERT INTO {table} ({columns}) VALUES ({marks}){set}");
        self.db
            .run(&sql, rusqlite::params_from_iter(cells))
            .map(|_| ())
    }

    /// That a record that was put back can be read and what depends on it holds.
    fn look_at(&self, kind: RecordKind, record: i64) -> Result<(), StoreError> {
        match kind {
            RecordKind::Yarn => {
                self.yarn(Id::new(record))?;
                // One that is there again is no new name with a greater number.
                self.db.run("UPDATE tally SET renamed = random()", [])?;
                self.ledgers_still_hold(Id::new(record))
            }
            RecordKind::Lot => {
                let kept = self.lot(Id::new(record))?;
                self.ledger_still_holds(kept.lot.id, &kept.lot.record, kept.yarn)
            }
            RecordKind::Shade => self.check_shade(record),
            RecordKind::Swatch => self.swatch(Id::new(record)).map(|_| ()),
            RecordKind::Pattern => self.pattern(Id::new(record)).map(|_| ()),
            RecordKind::Project => self.project(Id::new(record)).map(|_| ()),
        }
    }
}

pub(super) fn text_in<'r>(row: &'r Value, column: &str) -> Option<&'r str> {
    row.get(column)?.as_str()
}

pub(super) fn parsed(text: &str) -> Option<Map<String, Value>> {
    match serde_json::from_str(text) {
        Ok(Value::Object(rows)) => Some(rows),
        _ => None,
    }
}

/// A cell as JSON, from which it is read back exactly. No table has bytes.
fn as_json(cell: Cell) -> Value {
    match cell {
        Cell::Integer(number) => number.into(),
        Cell::Real(number) => number.into(),
        Cell::Text(text) => text.into(),
        Cell::Null | Cell::Blob(_) => Value::Null,
    }
}

fn as_cell(value: &Value) -> Cell {
    match value {
        Value::String(text) => Cell::Text(text.clone()),
        Value::Number(number) => match (number.as_i64(), number.as_f64()) {
            (Some(whole), _) => Cell::Integer(whole),
            (None, Some(real)) => Cell::Real(real),
            (None, None) => Cell::Null,
        },
        _ => Cell::Null,
    }
}

#[cfg(test)]
mod tests {
    use super::super::changes::{Action, MOST};
    use super::super::{InsertOutcome, Store, samples::*};
    use super::*;
    use crate::{
        record::{EntryKind, Lot, Pattern, Printed, Swatch, Yarn},
        trade::Colour,
    };
    use proptest::prelude::*;

    const DAY: &str = "2026-04-01";

    /// Everything that an export says, and the numbers of the records.
    fn all(store: &Store) -> String {
        let reader = store.reader().unwrap();
        let mut yarns = Vec::new();
        let read: Result<(), StoreError> = reader.yarns(|yarn| {
            yarns.push(yarn);
            Ok(())
        });
        read.unwrap();
        let swatches = yarns.iter().map(|yarn| {
            let swatches = reader.swatches_naming(yarn.id).unwrap().into_iter();
            let told = swatches.map(|s| (s.kept.id, s.yarn, s.kept.record));
            told.collect::<Vec<_>>()
        });
        let swatches = swatches.collect::<Vec<_>>();
        let yarns: Vec<_> = yarns.iter().map(|y| (y.id, &y.record)).collect();
        let lots = reader.lots().unwrap().into_iter();
        let lots: Vec<_> = lots.map(|l| (l.lot.id, l.lot.record, l.balance)).collect();
        let patterns = reader.patterns().unwrap().into_iter();
        let patterns: Vec<_> = patterns.map(|p| (p.id, p.record)).collect();
        format!("{yarns:#?}{swatches:#?}{lots:#?}{patterns:#?}")
    }

    fn undo(store: &mut Store, number: i64) -> Result<(), StoreError> {
        store.write(|writer| writer.undo(number, DAY))
    }

    fn undo_last(store: &mut Store) -> Option<KeptChange> {
        let last = store.reader().unwrap().undoable_changes(1).unwrap().pop()?;
        undo(store, last.number).unwrap();
        Some(last)
    }

    /// What may be done with the records; numbers choose among what is there.
    #[derive(Debug, Clone)]
    enum Deed {
        AddYarn(Box<Yarn>),
        ChangeYarn(usize, Box<Yarn>),
        RemoveYarn(usize),
        AddLot(usize, u8),
        ChangeLot(usize, u8),
        Enter(usize, EntryKind, u8),
        /// Of a yarn, held with some others.
        AddSwatch(usize, Box<Swatch>, Vec<usize>),
        ChangeSwatch(usize, Box<Swatch>, Vec<usize>),
        RemoveSwatch(usize),
        /// The swatches of one yarn to another, before it is removed.
        GiveSwatches(usize, usize),
        AddPattern(Box<Pattern>),
        ChangePattern(usize, Box<Pattern>),
        RemovePattern(usize),
        /// A table of yarns, some of which may be there.
        Import(Vec<Yarn>),
    }

    /// Writes where there is something to do it with.
    type Work<'d> = Box<dyn Fn(&Writer<'_>) -> Option<Result<(), StoreError>> + 'd>;

    fn any_deed() -> impl Strategy<Value = Deed> {
        let yarn = || any_yarn().prop_map(Box::new);
        let swatch = || any_swatch().prop_map(Box::new);
        let pattern = || any_pattern().prop_map(Box::new);
        let held = || prop::collection::vec(any::<usize>(), 0..3);
        let kind = prop::sample::select(&EntryKind::ALL[..5]);
        prop_oneof![
            3 => yarn().prop_map(Deed::AddYarn),
            2 => (any::<usize>(), yarn()).prop_map(|(at, yarn)| Deed::ChangeYarn(at, yarn)),
            2 => any::<usize>().prop_map(Deed::RemoveYarn),
            3 => (any::<usize>(), 0..12_u8).prop_map(|(at, shade)| Deed::AddLot(at, shade)),
            2 => (any::<usize>(), 0..12_u8).prop_map(|(at, shade)| Deed::ChangeLot(at, shade)),
            4 => (any::<usize>(), kind, 0..9_u8).prop_map(|(at, kind, n)| Deed::Enter(at, kind, n)),
            3 => (any::<usize>(), swatch(), held()).prop_map(|(at, it, held)| Deed::AddSwatch(at, it, held)),
            1 => (any::<usize>(), swatch(), held()).prop_map(|(at, it, held)| Deed::ChangeSwatch(at, it, held)),
            1 => any::<usize>().prop_map(Deed::RemoveSwatch),
            1 => any::<(usize, usize)>().prop_map(|(from, to)| Deed::GiveSwatches(from, to)),
            1 => pattern().prop_map(Deed::AddPattern),
            1 => (any::<usize>(), pattern()).prop_map(|(at, p)| Deed::ChangePattern(at, p)),
            1 => any::<usize>().prop_map(Deed::RemovePattern),
            1 => prop::collection::vec(any_yarn(), 0..4).prop_map(Deed::Import),
        ]
    }

    fn chosen<T: Copy>(all: &[T], at: usize) -> Option<T> {
        all.get(at.checked_rem(all.len())?).copied()
    }

    fn held_with(swatch: &Swatch, held: &[usize], yarns: &[i64]) -> Swatch {
        let held = held.iter().filter_map(|at| chosen(yarns, *at));
        Swatch {
            held_with: held.map(Id::new).collect(),
            ..swatch.clone()
        }
    }

    /// One of three shades, with one of three colours or without.
    fn shade(number: u8) -> Lot {
        let colours = ["navy", "Navy", "#2f6f8f"];
        let colour = colours.get(usize::from(number / 3));
        let read = |text: &&str| Some(Printed::new(*text, Colour::read(text)?));
        Lot {
            colour: colour.and_then(read),
            ..lot(&format!("shade {}", number % 3), None)
        }
    }

    /// Does it, where there is something to do it with and it is not refused.
    fn act(store: &mut Store, deed: &Deed) {
        let reader = store.reader().unwrap();
        let ids = |sql: &str| reader.db.all::<i64>("ids", sql, []).unwrap();
        let yarns = ids("SELECT id FROM yarn ORDER BY id");
        let lots = ids("SELECT id FROM stock_lot ORDER BY id");
        let swatches = ids("SELECT id FROM swatch ORDER BY id");
        let patterns = ids("SELECT id FROM pattern ORDER BY id");
        let version = |table: &str, id: i64| {
            let sql = format!("SELECT version FROM {table} WHERE id = ?");
            reader.db.number(&sql, [id]).unwrap()
        };
        let versions = |table: &str, all: &[i64], at: &usize| {
            let id = chosen(all, *at)?;
            Some((id, version(table, id)))
        };
        let work: Work<'_> = match deed {
            Deed::AddYarn(yarn) => Box::new(|w| Some(w.add_yarn(yarn).map(drop))),
            Deed::ChangeYarn(at, yarn) => {
                let read = versions("yarn", &yarns, at);
                Box::new(move |w| read.map(|(id, v)| w.update_yarn(Id::new(id), v, yarn).map(drop)))
            }
            Deed::RemoveYarn(at) => {
                let id = chosen(&yarns, *at);
                Box::new(move |w| id.map(|id| w.remove_yarn(Id::new(id))))
            }
            Deed::AddLot(at, number) => {
                let (id, opening) = (chosen(&yarns, *at), line(EntryKind::Bought, 3.0, 0.0));
                let lot = shade(*number);
                Box::new(move |w| id.map(|id| w.add_lot(Id::new(id), &lot, &opening).map(drop)))
            }
            Deed::ChangeLot(at, number) => {
                let (read, lot) = (versions("stock_lot", &lots, at), shade(*number));
                Box::new(move |w| read.map(|(id, v)| w.update_lot(Id::new(id), v, &lot).map(drop)))
            }
            Deed::Enter(at, kind, n) => {
                let (id, n) = (chosen(&lots, *at), f64::from(*n));
                let entry = line(*kind, (n / 2.0).floor(), n * 7.0);
                Box::new(move |w| id.map(|id| w.add_entry(Id::new(id), &entry).map(drop)))
            }
            Deed::AddSwatch(at, swatch, held) => {
                let (id, swatch) = (chosen(&yarns, *at), held_with(swatch, held, &yarns));
                Box::new(move |w| id.map(|id| w.add_swatch(Id::new(id), &swatch).map(drop)))
            }
            Deed::ChangeSwatch(at, swatch, held) => {
                let read = versions("swatch", &swatches, at);
                let swatch = held_with(swatch, held, &yarns);
                Box::new(move |w| {
                    read.map(|(id, v)| w.update_swatch(Id::new(id), v, &swatch).map(drop))
                })
            }
            Deed::GiveSwatches(from, to) => {
                let both = chosen(&yarns, *from).zip(chosen(&yarns, *to));
                let both = both.filter(|(from, to)| from != to);
                Box::new(move |w| {
                    let (from, to) = both.map(|(from, to)| (Id::new(from), Id::new(to)))?;
                    let given = w.give_swatches(from, to);
                    Some(given.and_then(|_| w.remove_yarn(from)))
                })
            }
            Deed::RemoveSwatch(at) => {
                let id = chosen(&swatches, *at);
                Box::new(move |w| id.map(|id| w.remove_swatch(Id::new(id))))
            }
            Deed::AddPattern(pattern) => Box::new(|w| Some(w.add_pattern(pattern).map(drop))),
            Deed::ChangePattern(at, pattern) => {
                let read = versions("pattern", &patterns, at);
                Box::new(move |w| {
                    read.map(|(id, v)| w.update_pattern(Id::new(id), v, pattern).map(drop))
                })
            }
            Deed::RemovePattern(at) => {
                let id = chosen(&patterns, *at);
                Box::new(move |w| id.map(|id| w.remove_pattern(Id::new(id))))
            }
            Deed::Import(table) => Box::new(|w| {
                let mut new = w.new_yarns().unwrap();
                let added = table.iter().try_for_each(|yarn| match new.add(yarn)? {
                    InsertOutcome::New(_) | InsertOutcome::Before(_) => Ok(()),
                });
                Some(added)
            }),
        };
        drop(reader);
        let done: Result<(), StoreError> = store.write(|w| work(w).unwrap_or(Ok(())));
        drop(done);
    }

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(48))]

        #[test]
        fn prop_all_changes_undone_from_the_last_leave_the_records_as_they_were(
            deeds in prop::collection::vec(any_deed(), 1..24),
        ) {
            let mut store = Store::in_memory().unwrap();
            let empty = all(&store);
            let mut states = Vec::new();
            for deed in &deeds {
                let before = all(&store);
                act(&mut store, deed);
                if store.take_last_change().is_some() {
                    states.push(before);
                }
            }
            while let Some(before) = states.pop() {
                prop_assert!(undo_last(&mut store).is_some());
                prop_assert_eq!(all(&store), before);
            }
            prop_assert_eq!(store.check().unwrap(), []);
            prop_assert!(undo_last(&mut store).is_none());
            prop_assert_eq!(all(&store), empty);
        }

        #[test]
        fn prop_a_change_undone_in_any_order_is_done_whole_or_not_at_all(
            deeds in prop::collection::vec(any_deed(), 1..16),
            order in prop::collection::vec(any::<usize>(), 1..24),
        ) {
            let mut store = Store::in_memory().unwrap();
            let mut made = Vec::new();
            for deed in &deeds {
                act(&mut store, deed);
                made.extend(store.take_last_change());
            }
            for at in order {
                let Some(number) = chosen(&made, at) else { break };
                let before = all(&store);
                match undo(&mut store, number) {
                    Ok(()) => made.retain(|other| *other != number),
                    Err(
                        StoreError::FollowedUp { .. }
                        | StoreError::Duplicate { .. }
                        | StoreError::Ledger { .. },
                    ) => prop_assert_eq!(all(&store), before),
                    Err(other) => prop_assert!(false, "{}", other),
                }
            }
            prop_assert_eq!(store.check().unwrap(), []);
            while undo_last(&mut store).is_some() {}
            prop_assert_eq!(store.check().unwrap(), []);
        }
    }

    #[test]
    fn the_ledger_shows_what_was_used_and_that_it_was_taken_back() {
        let (mut store, yarn) = shelf();
        let id = add(&mut store, yarn, &lot("", None), 5.0);
        let used = line(EntryKind::Used, 2.0, 0.0);
        store.write(|w| w.add_entry(id, &used)).unwrap();
        let change = undo_last(&mut store).unwrap();
        assert_eq!(change.parts[0].line.as_ref(), Some(&used));
        let reader = store.reader().unwrap();
        let kinds: Vec<_> = reader.entries(id).unwrap().iter().map(|e| e.kind).collect();
        let expected = [EntryKind::Bought, EntryKind::Used, EntryKind::Undone];
        assert_eq!(kinds, expected);
        assert_eq!(reader.lot(id).unwrap().balance.held.skeins(), 5.0);
        drop(reader);
        let again = undo(&mut store, change.number);
        assert!(matches!(again, Err(StoreError::UndoneBefore(_))));
        assert!(matches!(undo(&mut store, 99), Err(StoreError::Gone { .. })));
    }

    #[test]
    fn records_that_cannot_be_written_stay_as_they_are() {
        let (mut store, _) = shelf();
        let before = all(&store);
        store.conn.pragma_update(None, "query_only", true).unwrap();
        let refused = undo(&mut store, 1);
        assert!(
            matches!(refused, Err(StoreError::ReadOnly { .. })),
            "{refused:?}"
        );
        assert_eq!(all(&store), before);
    }

    #[test]
    fn what_someone_else_followed_up_is_not_undone() {
        let (mut store, yarn) = shelf();
        let added = store.take_last_change().unwrap();
        let id = add(&mut store, yarn, &lot("", None), 5.0);
        let bought = store.take_last_change().unwrap();
        let used = line(EntryKind::Used, 2.0, 0.0);
        store.write(|w| w.add_entry(id, &used)).unwrap();
        let use_of = store.take_last_change().unwrap();
        let refused = |store: &mut Store, number| match undo(store, number) {
            Err(StoreError::FollowedUp { changes }) => changes,
            other => panic!("{other:?}"),
        };
        assert_eq!(refused(&mut store, added), [use_of, bought]);
        assert_eq!(refused(&mut store, bought), [use_of]);
        let reader = store.reader().unwrap();
        let listed = reader.undoable_changes(10).unwrap();
        assert_eq!(
            listed.iter().map(|c| c.number).collect::<Vec<_>>(),
            [use_of]
        );
        let of_lot = reader
            .undoable_change_of(RecordKind::Lot, id.number())
            .unwrap();
        assert_eq!(of_lot.map(|change| change.number), Some(use_of));
        let of_yarn = reader
            .undoable_change_of(RecordKind::Yarn, yarn.number())
            .unwrap();
        assert_eq!(of_yarn, None);
        drop(reader);
        for number in [use_of, bought, added] {
            undo(&mut store, number).unwrap();
        }
        assert!(store.reader().unwrap().lots().unwrap().is_empty());
        let kept =
            "SELECT count(*) FROM change_step WHERE after LIKE '%\"stock_entry\":[{%undone%'";
        assert_eq!(store.reader().unwrap().db.number(kept, []).unwrap(), 1);
    }

    #[test]
    fn a_removed_yarn_is_there_again_under_its_number_and_found_by_its_name() {
        let names = crate::store::NameCache::default();
        let mut store = Store::in_memory().unwrap().with_name_cache(names);
        let id = store.write(|w| w.add_yarn(&full())).unwrap();
        let title = full().title();
        let found = |store: &Store| {
            let reader = store.reader().unwrap();
            reader.search_yarns(&title, 3).unwrap().len()
        };
        assert_eq!(found(&store), 1);
        store.write(|w| w.remove_yarn(id)).unwrap();
        assert_eq!(found(&store), 0);
        assert_eq!(undo_last(&mut store).unwrap().parts[0].title, title);
        assert_eq!(found(&store), 1);
        let kept = store.reader().unwrap().yarn(id).unwrap();
        assert_eq!((kept.record, kept.version), (full(), 2));
        let taken = store.write(|w| w.remove_yarn(id));
        taken.unwrap();
        store.write(|w| w.add_yarn(&full())).unwrap();
        let removal = store.take_last_change().unwrap() - 1;
        let refused = undo(&mut store, removal);
        assert!(
            matches!(refused, Err(StoreError::Duplicate { .. })),
            "{refused:?}"
        );
        assert_eq!(store.check().unwrap(), []);
    }

    #[test]
    fn the_oldest_of_very_many_changes_is_forgotten() {
        let mut store = Store::in_memory().unwrap();
        let pattern = bare_pattern("Bollard");
        let id = store.write(|w| w.add_pattern(&pattern)).unwrap();
        for version in 1..=MOST {
            store
                .write(|w| w.update_pattern(id, version, &pattern))
                .unwrap();
        }
        let reader = store.reader().unwrap();
        assert!(matches!(reader.change(1), Err(StoreError::Gone { .. })));
        assert_eq!(reader.change(2).unwrap().parts[0].action, Action::Changed);
        let steps = "SELECT count(*) FROM change_step";
        assert_eq!(reader.db.number(steps, []).unwrap(), MOST);
    }
}
