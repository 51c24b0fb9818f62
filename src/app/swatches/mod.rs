//! Swatches: kept, listed, removed.

mod edit;
mod request;

pub use edit::{save_swatch, swatch_to_edit};
pub use request::SwatchRequest;

use super::{AppError, FieldNote, InputReader, RecordChange, Records, today::today};
use crate::{
    label::cells,
    record::{Id, Stored, Swatch},
};

/// Keeps a swatch of a kept yarn.
pub fn add_swatch(
    records: &mut Records,
    yarn: &str,
    request: &SwatchRequest,
) -> Result<RecordChange, AppError> {
    let (swatch, notes) = read_swatch(request)?;
    let yarn = records.yarn_named(yarn)?;
    records
        .store_mut()?
        .write(|writer| writer.add_swatch(yarn.id, &swatch))?;
    Ok(RecordChange::SwatchKept {
        yarn: yarn.record.title(),
        swatch: Box::new(swatch),
        notes,
    })
}

/// Reads a swatch, measured today.
fn read_swatch(request: &SwatchRequest) -> Result<(Swatch, Vec<FieldNote>), AppError> {
    let mut reader = InputReader::default();
    let needle = reader.required("needle", request.needle.as_deref(), cells::needle);
    let before = reader.optional("before", request.before.as_deref(), cells::gauge);
    let after = reader.optional("after", request.after.as_deref(), cells::gauge);
    let swatch = Swatch {
        measured_on: today(),
        notes: request.notes.as_deref().map_or("", str::trim).to_owned(),
        ..Swatch::measured(reader.checked(needle)?, before, after)?
    };
    Ok((swatch, reader.notes))
}

/// Answer to [`list_swatches`].
#[derive(Debug, Clone)]
pub struct SwatchList {
    /// The yarn.
    pub yarn: String,
    /// Its swatches.
    pub swatches: Vec<Stored<Swatch>>,
}

/// The swatches of one yarn.
pub fn list_swatches(records: &Records, yarn: &str) -> Result<SwatchList, AppError> {
    let yarn = records.yarn_named(yarn)?;
    Ok(SwatchList {
        swatches: records.store()?.reader()?.swatches_of(yarn.id)?,
        yarn: yarn.record.title(),
    })
}

/// Removes a swatch.
pub fn remove_swatch(records: &mut Records, number: i64) -> Result<RecordChange, AppError> {
    records
        .store_mut()?
        .write(|writer| writer.remove_swatch(Id::new(number)))?;
    Ok(RecordChange::SwatchRemoved { number })
}
