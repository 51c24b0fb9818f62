//! What was done with one record, step by step.

use super::{
    AppError, Records, Which,
    projects::project_in,
    question::lookup::{pattern_in, yarn_in},
    swatches::swatch_title,
};
use crate::{
    record::Id,
    store::{HistoryStep, Reader, RecordKind, StoreError},
    words::fold,
};

/// Answer to [`history`].
#[derive(Debug, Clone)]
pub struct History {
    /// What kind of record it is.
    pub kind: RecordKind,
    /// What people call it.
    pub title: String,
    /// What was done, the oldest first.
    pub steps: Vec<HistoryStep>,
}

/// What was done with the record of this name or number, as far as that is remembered.
pub fn history(records: &Records, kind: RecordKind, text: &str) -> Result<History, AppError> {
    let reader = records.store()?.reader()?;
    let number = match named(&reader, kind, text) {
        Err(unknown @ AppError::Unknown { .. }) => {
            formerly_named(&reader, kind, text)?.ok_or(unknown)?
        }
        found => found?,
    };
    told(&reader, kind, number)
}

/// The number of the record of this name.
fn named(reader: &Reader<'_>, kind: RecordKind, text: &str) -> Result<i64, AppError> {
    Ok(match kind {
        RecordKind::Yarn | RecordKind::Shade => yarn_in(reader, text)?.yarn.id.number(),
        RecordKind::Pattern => pattern_in(reader, text)?.id.number(),
        RecordKind::Project => {
            let (kept, _) = project_in(reader, Which::Named(text))?;
            kept.id.number()
        }
        RecordKind::Lot | RecordKind::Swatch => numbered(kind, text)?,
    })
}

/// The number of the record that was last called so, and is gone or has another name.
fn formerly_named(
    reader: &Reader<'_>,
    kind: RecordKind,
    text: &str,
) -> Result<Option<i64>, AppError> {
    let wanted = fold(text);
    let is_meant = |name: &str| {
        let alone = name.split_once(", ").map_or(name, |(_, name)| name);
        [fold(name), fold(alone)].contains(&wanted)
    };
    let mut names = reader.former_names(kind)?.into_iter();
    Ok(names
        .find(|(_, name)| is_meant(name))
        .map(|(number, _)| number))
}

fn numbered(kind: RecordKind, text: &str) -> Result<i64, AppError> {
    text.trim().parse().map_err(|_| AppError::Unknown {
        what: kind.name(),
        name: text.to_owned(),
        near: Vec::new(),
        all: Vec::new(),
    })
}

/// What was done with the record with this number.
pub fn history_of(records: &Records, kind: RecordKind, number: i64) -> Result<History, AppError> {
    told(&records.store()?.reader()?, kind, number)
}

fn told(reader: &Reader<'_>, kind: RecordKind, number: i64) -> Result<History, AppError> {
    let steps = reader.history(kind, number)?;
    let mut last = steps.iter().rev();
    let last = last.find(|step| (step.part.kind, step.part.record) == (kind, number));
    let title = match last {
        Some(step) => step.part.title.clone(),
        None => title_of(reader, kind, number)?,
    };
    Ok(History { kind, title, steps })
}

/// What a record is called of which nothing is remembered; an error where it is none.
fn title_of(reader: &Reader<'_>, kind: RecordKind, number: i64) -> Result<String, AppError> {
    Ok(match kind {
        RecordKind::Yarn => reader.yarn(Id::new(number))?.record.title(),
        RecordKind::Pattern => reader.pattern(Id::new(number))?.record.name.to_string(),
        RecordKind::Project => reader.project(Id::new(number))?.record.name.to_string(),
        RecordKind::Lot => {
            let stock = reader.lot(Id::new(number))?;
            let yarn = reader.yarn(stock.yarn)?.record.title();
            stock.lot.record.title(&yarn)
        }
        RecordKind::Swatch => swatch_title(reader, Id::new(number))?,
        RecordKind::Shade => {
            let (what, id) = (kind.name(), number);
            return Err(StoreError::Gone { what, id }.into());
        }
    })
}
