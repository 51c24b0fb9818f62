//! What people call the records of the journal, also those that are gone.

use super::{
    Reader, StoreError,
    changes::{RecordKind, Step},
    undo::{parsed, text_in},
};
use crate::{
    record::{Id, lot_title},
    words::joined,
};
use serde_json::{Map, Value};

impl Reader<'_> {
    /// What people call the record of a step.
    pub(super) fn title_of(&self, change: i64, step: &Step) -> Result<String, StoreError> {
        let here = self.rows_of(step.kind, step.record)?;
        let after =
            "SELECT after FROM change_step WHERE change = ? AND place = ? AND after IS NOT NULL";
        let after = self.db.first("change_step", after, [change, step.place])?;
        let texts = [Some(here), step.before.clone(), after];
        let table = step.kind.table();
        let found = texts.iter().flatten().find_map(|text| {
            let rows = parsed(text)?;
            let row = rows.get(table)?.as_array()?.first().cloned()?;
            Some((row, rows))
        });
        let text = |column| {
            let text = found.as_ref().and_then(|(row, _)| text_in(row, column));
            text.unwrap_or("").to_owned()
        };
        let yarn = step.yarn.map(|yarn| self.yarn_title_in(change, yarn));
        let yarn = yarn.transpose()?.unwrap_or_default();
        Ok(match step.kind {
            RecordKind::Yarn => [text("maker"), text("name")].join(", "),
            RecordKind::Lot => lot_title(&yarn, &text("shade"), &text("lot")),
            RecordKind::Shade => lot_title(&yarn, &text("shade"), ""),
            RecordKind::Swatch => {
                let rows = found.map(|(_, rows)| rows).unwrap_or_default();
                let held_with = self.held_with_in(change, &rows)?;
                joined([yarn].into_iter().chain(held_with), " + ")
            }
            RecordKind::Pattern | RecordKind::Project => text("name"),
        })
    }

    /// What people call a yarn that a change has to do with, also one that is gone.
    fn yarn_title_in(&self, change: i64, yarn: i64) -> Result<String, StoreError> {
        match self.yarn(Id::new(yarn)) {
            Ok(yarn) => Ok(yarn.record.title()),
            Err(StoreError::Gone { .. }) => self.removed_yarn(change, yarn),
            Err(error) => Err(error),
        }
    }

    /// What people call the yarns that a swatch of these rows was held with.
    pub(super) fn held_with_in(
        &self,
        change: i64,
        rows: &Map<String, Value>,
    ) -> Result<Vec<String>, StoreError> {
        let held = rows.get("swatch_held_with").and_then(Value::as_array);
        let yarns = held.into_iter().flatten();
        let yarns = yarns.filter_map(|row| row.get("yarn")?.as_i64());
        yarns.map(|yarn| self.yarn_title_in(change, yarn)).collect()
    }

    /// What people called a yarn that is gone: when this change removed it, else when the
    /// last one did.
    fn removed_yarn(&self, change: i64, yarn: i64) -> Result<String, StoreError> {
        let sql = "SELECT before FROM change_step \
                   WHERE kind = ? AND record = ? AND before IS NOT NULL \
                   ORDER BY change = ? DESC, change DESC LIMIT 1";
        let cells = (RecordKind::Yarn.name(), yarn, change);
        let before: Option<String> = self.db.first("change_step", sql, cells)?;
        let rows = before.as_deref().and_then(parsed);
        let row = rows.as_ref().and_then(|rows| {
            let rows = rows.get(RecordKind::Yarn.table())?.as_array()?;
            rows.first()
        });
        let names = ["maker", "name"].map(|column| row.and_then(|row| text_in(row, column)));
        Ok(names.into_iter().flatten().collect::<Vec<_>>().join(", "))
    }
}
