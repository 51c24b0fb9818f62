//! Swatches: kept, listed, edited, removed.

mod edit;
mod request;

pub use edit::{edit_swatch, save_swatch, swatch_to_edit};
pub use request::SwatchRequest;

use super::{
    AppError, FieldNote, InputReader, RecordChange, Records, once::number_made, records::today,
};
use crate::{
    label::cells,
    record::{Id, Stored, Swatch, Yarn},
    store::{Reader, StoreError},
};

/// Keeps a swatch of a kept yarn.
pub fn add_swatch(
    records: &mut Records,
    yarn: &str,
    request: &SwatchRequest,
) -> Result<RecordChange, AppError> {
    let (swatch, notes) = read_swatch(request)?;
    let kept = records.yarn_named(yarn)?;
    let said = [
        &request.needle,
        &request.before,
        &request.after,
        &request.notes,
    ];
    let said = said.into_iter().filter_map(Option::as_deref);
    let what = ["add", "swatch", yarn].into_iter().chain(said);
    records.change_once(what, |writer, made| {
        let id = match number_made(made) {
            Some(number) => Id::new(number),
            None => writer.add_swatch(kept.id, &swatch)?,
        };
        let swatch = Box::new(swatch_in(writer, id)?.1.record);
        let yarn = kept.record.title();
        let change = RecordChange::SwatchKept {
            yarn,
            swatch,
            notes,
        };
        Ok((id.number().to_string(), change))
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

/// The swatch with this number, and its yarn.
fn swatch_in(reader: &Reader<'_>, id: Id<Swatch>) -> Result<(Id<Yarn>, Stored<Swatch>), AppError> {
    let yarn = reader.yarn_of_swatch(id)?;
    let mut swatches = reader.swatches_of(yarn)?.into_iter();
    let gone = StoreError::Gone {
        what: "swatch",
        id: id.number(),
    };
    Ok((yarn, swatches.find(|swatch| swatch.id == id).ok_or(gone)?))
}

/// Removes a swatch.
pub fn remove_swatch(records: &mut Records, number: i64) -> Result<RecordChange, AppError> {
    let text = number.to_string();
    records.change_once(["remove", "swatch", &text], |writer, made| {
        if made.is_none() {
            writer.remove_swatch(Id::new(number))?;
        }
        Ok((text.clone(), RecordChange::SwatchRemoved { number }))
    })
}
