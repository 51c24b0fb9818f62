//! The history of a record: when, what, and each field before and after.

use super::{
    Page, Render, Style, Table,
    json::{fields_of, list},
    listing::{ListFields, list_fields, list_page},
    undo::part_words,
};
use crate::{
    app::{ChangedField, History, HistoryStep},
    words::{joined, safe},
};

/// So many changes are remembered of all records together.
const NOTHING: &str =
    "Nothing is remembered of it: the program keeps the last 1000 changes of all records.";

/// `place: blue trunk, was shelf`; of a removal `place was shelf`.
fn field_words(field: &ChangedField) -> String {
    let name = field_name(&field.name);
    let (before, after) = (safe(&field.before), safe(&field.after));
    match (before.as_str(), after.as_str()) {
        (before, "") => format!("{name} was {before}"),
        ("", after) => format!("{name}: {after}"),
        (before, after) => format!("{name}: {after}, was {before}"),
    }
}

/// The name of a field as forms and tables call it.
fn field_name(column: &str) -> String {
    match column {
        "blend" => "fibre".to_owned(),
        "without_fibres" => "without".to_owned(),
        "only_fibres" => "only".to_owned(),
        "pattern_name" => "pattern".to_owned(),
        "needle_mm" => "needle in mm".to_owned(),
        "pins" => "yarn you chose".to_owned(),
        "gtin" => "article number".to_owned(),
        "more_gtins" => "further article numbers".to_owned(),
        other => other.replace('_', " "),
    }
}

fn step_words(step: &HistoryStep) -> String {
    let fields = joined(step.fields.iter().map(field_words), "; ");
    let done = part_words(&step.part);
    let done = match fields.as_str() {
        "" => done,
        fields => format!("{done}: {fields}"),
    };
    match &step.undone_at {
        Some(at) => format!("{done} (undone {at})"),
        None => done,
    }
}

/// The steps as a table, the newest first.
pub fn history_table(history: &History) -> Table {
    let columns = Table::of(history.steps.iter().rev())
        .left("when", |step| step.at.as_deref())
        .left("change", step_words);
    columns.into()
}

fields_of! {
    /// A change of a record.
    StepFields(step: &HistoryStep) {
        /// Number of the change.
        number: i64 = step.change,
        /// When.
        at: Option<String> = step.at.clone(),
        /// When it was undone.
        undone_at: Option<String> = step.undone_at.clone(),
        /// Kind of the record.
        kind: &'static str = step.part.kind.name(),
        /// What was done.
        action: &'static str = step.part.action.name(),
        /// The change in a sentence.
        change: String = step_words(step),
        /// Each field that changed.
        fields: Vec<FieldChanges> = list(&step.fields, FieldChanges::of),
    }
}

fields_of! {
    /// A field that changed.
    FieldChanges(field: &ChangedField) {
        /// The field.
        field: String = field_name(&field.name),
        /// What it was; empty where it was empty.
        before: String = field.before.clone(),
        /// What it is.
        after: String = field.after.clone(),
    }
}

impl Render for History {
    type Fields = ListFields<StepFields>;

    fn fields(&self) -> Self::Fields {
        list_fields(&self.steps, StepFields::of)
    }

    fn page(&self, _: &Style) -> Page {
        let title = format!("History of {} {}", self.kind.name(), self.title);
        list_page(title, history_table(self), NOTHING)
    }
}
