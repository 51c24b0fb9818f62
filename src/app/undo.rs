//! Changes of the records that can be taken back, and taking one back.

use super::{
    AppError, RecordChange, Records,
    once::number_made,
    records::today,
    stock::{StockLine, line},
};
use crate::{
    record::Id,
    store::{KeptChange, Reader, RecordKind, StoreError, Writer},
};

/// How many changes are listed.
const LISTED: usize = 10;

/// Answer to [`list_undo`]: changes that can be taken back, the newest first.
#[derive(Debug, Clone)]
pub struct UndoList(pub Vec<KeptChange>);

/// The last changes that can be taken back.
pub fn list_undo(records: &Records) -> Result<UndoList, AppError> {
    let reader = records.store()?.reader()?;
    Ok(UndoList(reader.undoable_changes(LISTED)?))
}

/// The last change of this record alone, where it can be taken back.
pub fn undo_of(
    records: &Records,
    kind: RecordKind,
    record: i64,
) -> Result<Option<KeptChange>, AppError> {
    let reader = records.store()?.reader()?;
    Ok(reader.undoable_change_of(kind, record)?)
}

/// Takes the change with this number back, or the last one. Refused where later changes
/// depend on it.
pub fn undo(records: &mut Records, number: Option<i64>) -> Result<RecordChange, AppError> {
    let text = number.map(|number| number.to_string());
    let what = ["undo"].into_iter().chain(text.as_deref());
    records.change_once(what, |writer, made| {
        let done = match number_made(made) {
            Some(number) => undone(writer, writer.change(number)?)?,
            None => take_back(writer, number)?,
        };
        Ok((done.0.to_string(), done.1))
    })
}

/// Why a trial ended: with what it came to, or with an error.
struct TrialEnd(Result<RecordChange, AppError>);

impl From<StoreError> for TrialEnd {
    fn from(error: StoreError) -> Self {
        Self(Err(error.into()))
    }
}

/// What [`undo`] would change; nothing is changed.
pub fn preview_undo(records: &mut Records, number: Option<i64>) -> Result<RecordChange, AppError> {
    let ended = records.store_mut()?.write(|writer| {
        let done = take_back(writer, number).map(|(_, change)| change);
        Err::<RecordChange, TrialEnd>(TrialEnd(done))
    });
    let change = ended.or_else(|TrialEnd(done)| done)?;
    Ok(RecordChange::WouldUndo(Box::new(change)))
}

fn take_back(writer: &Writer<'_>, number: Option<i64>) -> Result<(i64, RecordChange), AppError> {
    let change = match number {
        Some(number) => writer.change(number)?,
        None => {
            let last = writer.undoable_changes(1)?.pop();
            last.ok_or(AppError::NothingToUndo)?
        }
    };
    match writer.undo(change.number, &today()) {
        Err(StoreError::FollowedUp { changes }) => {
            let first = changes.into_iter().map(|number| writer.change(number));
            let first = first.collect::<Result<_, _>>()?;
            Err(AppError::UndoFirst(first))
        }
        done => {
            done?;
            undone(writer, change)
        }
    }
}

/// What was taken back, and what is there again of a lot.
fn undone(reader: &Reader<'_>, change: KeptChange) -> Result<(i64, RecordChange), AppError> {
    let number = change.number;
    let left = left_again(reader, &change)?.map(Box::new);
    let change = Box::new(change);
    Ok((number, RecordChange::Undone { change, left }))
}

fn left_again(reader: &Reader<'_>, change: &KeptChange) -> Result<Option<StockLine>, AppError> {
    let Some(part) = change.only_part() else {
        return Ok(None);
    };
    if part.kind != RecordKind::Lot || part.count > 1 {
        return Ok(None);
    }
    match reader.lot(Id::new(part.record)) {
        Ok(lot) => line(reader, lot).map(Some),
        Err(StoreError::Gone { .. }) => Ok(None),
        Err(other) => Err(other.into()),
    }
}
