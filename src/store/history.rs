//! What was done with one record, step by step: what each field was before, and what it
//! was after. The journal of changes holds only what was there before a step; after it
//! was what the next step found, or what is there now.

use super::{
    Reader, StoreError,
    changes::{Action, ChangePart, RecordKind, STEP, Step},
    undo::{parsed, text_in},
};
use crate::words::joined;
use serde_json::{Map, Value};
use std::collections::BTreeMap;

/// One step of the history of a record.
#[derive(Debug, Clone, PartialEq)]
pub struct HistoryStep {
    /// The change that it was a part of.
    pub change: i64,
    /// When it was made, where that is known.
    pub at: Option<String>,
    /// When it was undone, where it was.
    pub undone_at: Option<String>,
    /// What was done.
    pub part: ChangePart,
    /// Which fields it changed; of a removal all that were filled.
    pub fields: Vec<ChangedField>,
}

/// A field that a step changed; a text is empty where nothing was there.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct ChangedField {
    /// Its name.
    pub name: String,
    /// What was there before.
    pub before: String,
    /// What was there after.
    pub after: String,
}

/// Changes that touch the record, its shades, swatches and lots, and what was removed
/// together with a change of it: a yarn that became a part of it.
const STEPS: &str = "SELECT step.change, step.place FROM change_step AS step \
    WHERE (step.kind = ?1 AND step.record <= ?2 AND step.last >= ?2) \
    OR (?1 = 'yarn' AND step.yarn = ?2 AND step.action <> 'entered') \
    OR (?1 = 'yarn' AND EXISTS ( \
        SELECT 1 FROM change_step_yarn AS beside WHERE beside.change = step.change \
        AND beside.place = step.place AND beside.yarn = ?2)) \
    OR (?1 = 'yarn' AND step.kind = 'yarn' AND step.action = 'removed' AND EXISTS ( \
        SELECT 1 FROM change_step AS own WHERE own.change = step.change \
        AND own.kind = 'yarn' AND own.record = ?2 AND own.action = 'changed')) \
    ORDER BY step.change, step.place";

impl Reader<'_> {
    /// What records of a kind were called before they were changed or removed, with their
    /// numbers, the newest change first.
    pub fn former_names(&self, kind: RecordKind) -> Result<Vec<(i64, String)>, StoreError> {
        let sql = "SELECT record, before FROM change_step \
                   WHERE kind = ? AND before IS NOT NULL ORDER BY change DESC, place DESC";
        let rows: Vec<(i64, String)> = self.db.all("change_step", sql, [kind.name()])?;
        let name = |rows: &str| {
            let rows = parsed(rows)?;
            let row = rows.get(kind.table())?.as_array()?.first()?;
            let texts = ["maker", "name"].map(|column| text_in(row, column));
            Some(texts.into_iter().flatten().collect::<Vec<_>>().join(", "))
        };
        let names = rows.into_iter();
        Ok(names
            .filter_map(|(number, rows)| Some((number, name(&rows)?)))
            .collect())
    }

    /// The history of a record, the oldest step first; empty where nothing is remembered.
    pub fn history(&self, kind: RecordKind, record: i64) -> Result<Vec<HistoryStep>, StoreError> {
        let places: Vec<(i64, i64)> = self.db.all("change_step", STEPS, (kind.name(), record))?;
        let steps = places.into_iter();
        steps.map(|place| self.history_step(place)).collect()
    }

    fn history_step(&self, (change, place): (i64, i64)) -> Result<HistoryStep, StoreError> {
        let sql = format!("{STEP} WHERE change = ? AND place = ?");
        let step: Option<Step> = self.db.first("change_step", &sql, (change, place))?;
        let step = step.ok_or(super::changes::CHANGE.gone(change))?;
        let sql = "SELECT id, at, undone_at FROM change WHERE id = ?";
        let made: Option<(i64, Option<String>, Option<String>)> =
            self.db.first("change", sql, [change])?;
        let (_, at, undone_at) = made.ok_or(super::changes::CHANGE.gone(change))?;
        let count = step.last - step.record + 1;
        Ok(HistoryStep {
            change,
            fields: self.changed_fields(change, &step, undone_at.is_some())?,
            part: self.part(change, place, count)?,
            at,
            undone_at,
        })
    }

    /// Which fields a step changed. What one that was undone came to is not remembered.
    fn changed_fields(
        &self,
        change: i64,
        step: &Step,
        is_undone: bool,
    ) -> Result<Vec<ChangedField>, StoreError> {
        let Some(before) = step.before.as_deref() else {
            return Ok(Vec::new());
        };
        let before = self.texts(change, before)?;
        let after = match (step.action(), is_undone) {
            (Action::Removed, _) => BTreeMap::new(),
            (_, true) => return Ok(Vec::new()),
            (_, false) => self.texts(change, &self.rows_after(change, step)?)?,
        };
        let mut names: Vec<&String> = before.keys().chain(after.keys()).collect();
        names.sort();
        names.dedup();
        let text = |of: &BTreeMap<String, String>, name: &String| {
            of.get(name).map_or_else(String::new, String::clone)
        };
        let fields = names.into_iter().map(|name| ChangedField {
            name: name.clone(),
            before: text(&before, name),
            after: text(&after, name),
        });
        Ok(fields.filter(|it| it.before != it.after).collect())
    }

    /// What people typed of a record, with the names of yarns that stand by their numbers.
    fn texts(&self, change: i64, rows: &str) -> Result<BTreeMap<String, String>, StoreError> {
        let mut all = texts(rows);
        let rows = parsed(rows).unwrap_or_default();
        let held_with = joined(self.held_with_in(change, &rows)?, "; ");
        if !held_with.is_empty() {
            all.insert("held_with".to_owned(), held_with);
        }
        Ok(all)
    }

    /// The rows of a record after a step: those that the next step found, or those of now.
    fn rows_after(&self, change: i64, step: &Step) -> Result<String, StoreError> {
        let sql = "SELECT before FROM change_step WHERE kind = ? AND record = ? \
                   AND before IS NOT NULL AND (change > ? OR change = ? AND place > ?) \
                   ORDER BY change, place LIMIT 1";
        let (kind, record) = (step.kind, step.record);
        let cells = (kind.name(), record, change, change, step.place);
        match self.db.first::<String>("change_step", sql, cells)? {
            Some(next) => Ok(next),
            None => self.rows_of(kind, record),
        }
    }
}

/// What people typed of a record, by the name of the field. What the program made of a
/// text, its keys and its numbers are left out.
fn texts(rows: &str) -> BTreeMap<String, String> {
    let mut all = BTreeMap::new();
    for (table, rows) in parsed(rows).into_iter().flatten() {
        let rows: Vec<&Map<String, Value>> = match &rows {
            Value::Array(rows) => rows.iter().filter_map(Value::as_object).collect(),
            _ => Vec::new(),
        };
        match table.as_str() {
            "shade" => drop(all.insert("shades".to_owned(), listed(&rows, &["name"]))),
            "project_pin" => {
                let of = ["role", "yarn_name", "shade"];
                all.insert("pins".to_owned(), listed(&rows, &of));
            }
            "pattern_size" => drop(all.insert("sizes".to_owned(), listed(&rows, &["name"]))),
            "pattern_yarn" => {
                drop(all.insert("yarns".to_owned(), listed(&rows, &["key", "called"])))
            }
            "pattern_need" => drop(all.insert("needs".to_owned(), listed(&rows, &["text"]))),
            // Numbers alone, of which only the records know the names.
            "swatch_held_with" => {}
            _ => rows.iter().for_each(|row| add_texts(row, &mut all)),
        }
    }
    all.retain(|_, text| !text.is_empty());
    all
}

/// One text for several rows: `MC, Umberlin DK; CC1`.
fn listed(rows: &[&Map<String, Value>], columns: &[&str]) -> String {
    let row = |row: &&Map<String, Value>| {
        let texts = columns
            .iter()
            .filter_map(|column| row.get(*column)?.as_str());
        texts.collect::<Vec<_>>().join(", ")
    };
    rows.iter().map(row).collect::<Vec<_>>().join("; ")
}

fn add_texts(row: &Map<String, Value>, all: &mut BTreeMap<String, String>) {
    let printed: Vec<&str> = row
        .keys()
        .filter_map(|column| column.strip_suffix("_text"))
        .collect();
    let is_made = |column: &str| {
        let of_printed = printed.iter().any(|it| column.starts_with(*it));
        let is_class = column == "classes";
        let is_number = [
            "id", "version", "yarn", "pattern", "rank", "grist", "strands",
        ];
        of_printed || is_class || is_number.contains(&column) || column.ends_with("_key")
    };
    for (column, cell) in row {
        let name = match column.strip_suffix("_text") {
            Some(name) => name,
            None if is_made(column) => continue,
            None => column,
        };
        let text = match cell {
            Value::String(text) => text.clone(),
            Value::Null => continue,
            other => other.to_string(),
        };
        // Several yarns of a pattern, each with its facts.
        let all_of = all.entry(name.to_owned()).or_default();
        if !all_of.is_empty() {
            all_of.push_str("; ");
        }
        all_of.push_str(&text);
    }
}

#[cfg(test)]
mod tests {
    use super::super::{Store, samples::*};
    use super::*;
    use crate::record::{Lot, Printed};

    fn history(store: &Store, kind: RecordKind, number: i64) -> Vec<HistoryStep> {
        store.reader().unwrap().history(kind, number).unwrap()
    }

    fn fields(step: &HistoryStep) -> Vec<(&str, &str, &str)> {
        let fields = step.fields.iter();
        fields
            .map(|it| (it.name.as_str(), it.before.as_str(), it.after.as_str()))
            .collect()
    }

    #[test]
    fn each_step_says_what_was_there_before_and_after() {
        let (mut store, yarn) = shelf();
        let id = add(&mut store, yarn, &lot("moss", Some("1")), 2.0);
        for place in ["trunk", "shelf"] {
            let kept = store.reader().unwrap().lot(id).unwrap().lot;
            let moved = Lot {
                place: place.to_owned(),
                ..kept.record
            };
            let version = kept.version;
            store.write(|w| w.update_lot(id, version, &moved)).unwrap();
        }
        let told = history(&store, RecordKind::Lot, id.number());
        let actions: Vec<Action> = told.iter().map(|step| step.part.action).collect();
        assert_eq!(actions, [Action::Added, Action::Changed, Action::Changed]);
        assert_eq!(fields(&told[1]), [("place", "", "trunk")]);
        assert_eq!(fields(&told[2]), [("place", "trunk", "shelf")]);
        let last = store.take_last_change().unwrap();
        store.write(|w| w.undo(last, "2026-04-01")).unwrap();
        let told = history(&store, RecordKind::Lot, id.number());
        assert_eq!(fields(&told[1]), [("place", "", "trunk")]);
        assert!(told[2].undone_at.is_some());
        assert_eq!(fields(&told[2]), []);
    }

    #[test]
    fn what_was_removed_is_told_in_full_and_numbers_of_the_program_are_not() {
        let mut store = Store::in_memory().unwrap();
        let yarn = full();
        let id = store.write(|w| w.add_yarn(&yarn)).unwrap();
        store.write(|w| w.remove_yarn(id)).unwrap();
        let told = history(&store, RecordKind::Yarn, id.number());
        let gone = fields(told.last().unwrap());
        let length = yarn
            .facts
            .length
            .as_ref()
            .map(|it: &Printed<_>| it.text.as_str());
        assert!(gone.contains(&("length", length.unwrap(), "")), "{gone:?}");
        assert!(
            gone.contains(&("maker", yarn.maker.as_str(), "")),
            "{gone:?}"
        );
        let made = ["length_m", "version", "name_key", "id", "grist", "classes"];
        assert!(
            gone.iter().all(|(name, ..)| !made.contains(name)),
            "{gone:?}"
        );
    }
}
