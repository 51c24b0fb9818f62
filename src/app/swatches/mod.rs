//! Swatches: kept, listed, edited, removed.

mod edit;
mod request;

pub use edit::{edit_swatch, save_swatch, swatch_to_edit};
pub use request::SwatchRequest;

use super::{
    AppError, FieldNote, InputReader, RecordChange, Records, once::number_made,
    question::lookup::yarn_in, records::today,
};
use crate::{
    label::cells,
    record::{Id, Stored, Swatch, Yarn},
    store::Reader,
    words::joined,
};

/// Keeps a swatch of a kept yarn.
pub fn add_swatch(
    records: &mut Records,
    yarn: &str,
    request: &SwatchRequest,
) -> Result<RecordChange, AppError> {
    let (swatch, notes) = read_swatch(&records.store()?.reader()?, request)?;
    let kept = records.yarn_named(yarn)?;
    let said: Vec<String> = request.given().map(|(_, text)| text).collect();
    let said = said.iter().map(String::as_str);
    let what = ["add", "swatch", yarn].into_iter().chain(said);
    records.change_once(what, |writer, made| {
        let id = match number_made(made) {
            Some(number) => Id::new(number),
            None => writer.add_swatch(kept.id, &swatch)?,
        };
        Ok((id.number().to_string(), swatch_kept(writer, id, notes)?))
    })
}

/// What is said of a swatch that was added or changed.
fn swatch_kept(
    reader: &Reader<'_>,
    id: Id<Swatch>,
    notes: Vec<FieldNote>,
) -> Result<RecordChange, AppError> {
    let swatch = reader.swatch(id)?;
    Ok(RecordChange::SwatchKept {
        yarn: joined(titles(reader, &swatch.yarns())?, " + "),
        swatch: Box::new(swatch.kept.record),
        notes,
    })
}

/// What people call these yarns.
fn titles(reader: &Reader<'_>, yarns: &[Id<Yarn>]) -> Result<Vec<String>, AppError> {
    let titles = yarns
        .iter()
        .map(|yarn| Ok(reader.yarn(*yarn)?.record.title()));
    titles.collect()
}

/// What people call a swatch: all its yarns.
pub(super) fn swatch_title(reader: &Reader<'_>, id: Id<Swatch>) -> Result<String, AppError> {
    let yarns = reader.swatch(id)?.yarns();
    Ok(joined(titles(reader, &yarns)?, " + "))
}

/// Reads a swatch, measured today.
fn read_swatch(
    records: &Reader<'_>,
    request: &SwatchRequest,
) -> Result<(Swatch, Vec<FieldNote>), AppError> {
    let mut reader = InputReader::default();
    reader.several("held-with", &request.held_with);
    let needle = reader.required("needle", request.needle.as_deref(), cells::needle);
    let before = reader.optional("before", request.before.as_deref(), cells::gauge);
    let after = reader.optional("after", request.after.as_deref(), cells::gauge);
    let swatch = Swatch {
        measured_on: today(),
        notes: request.notes.as_deref().map_or("", str::trim).to_owned(),
        ..Swatch::measured(reader.checked(needle)?, before, after)?
    };
    swatch.check_strands(request.further_yarns().count())?;
    let yarns = request.further_yarns();
    let yarns = yarns.map(|text| Ok(yarn_in(records, text)?.yarn.id));
    let held_with = yarns.collect::<Result<_, AppError>>()?;
    Ok((swatch.held_with(held_with)?, reader.notes))
}

/// Answer to [`list_swatches`].
#[derive(Debug, Clone)]
pub struct SwatchList {
    /// The yarn.
    pub yarn: String,
    /// Its swatches, also those in which it was held together with others.
    pub swatches: Vec<ListedSwatch>,
}

/// A swatch among those of one yarn.
#[derive(Debug, Clone, PartialEq)]
pub struct ListedSwatch {
    /// The swatch.
    pub kept: Stored<Swatch>,
    /// What people call the yarns that were held with this one.
    pub held_with: Vec<String>,
}

/// The swatches of one yarn.
pub fn list_swatches(records: &Records, yarn: &str) -> Result<SwatchList, AppError> {
    let yarn = records.yarn_named(yarn)?;
    Ok(SwatchList {
        swatches: listed_swatches(&records.store()?.reader()?, yarn.id)?,
        yarn: yarn.record.title(),
    })
}

/// The swatches of one yarn, also those in which it was held together with others.
pub(super) fn listed_swatches(
    reader: &Reader<'_>,
    yarn: Id<Yarn>,
) -> Result<Vec<ListedSwatch>, AppError> {
    let listed = reader.swatches_naming(yarn)?.into_iter().map(|swatch| {
        Ok(ListedSwatch {
            held_with: titles(reader, &swatch.held_with(yarn))?,
            kept: swatch.kept,
        })
    });
    listed.collect()
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
