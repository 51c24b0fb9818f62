//! Swatches: kept, listed, removed.

use super::{AppError, Records, heard::Heard, today::today};
use crate::{
    label::cells,
    record::{Id, Swatch},
    report::{Align, Listing, Notice, Table, gauge_words},
    words::number,
};
use serde::Serialize;

/// A swatch, as typed.
#[derive(Debug, Clone, Default)]
pub struct Swatched {
    /// The yarn.
    pub yarn: String,
    /// The needle.
    pub needle: String,
    /// Gauge before washing, with stitch, flat or round, strands.
    pub before: Option<String>,
    /// Gauge after washing.
    pub after: Option<String>,
    /// Anything else.
    pub notes: String,
}

/// Keeps a swatch of a kept yarn.
pub fn add_swatch(records: &mut Records, typed: &Swatched) -> Result<Notice, AppError> {
    let mut heard = Heard::default();
    let yarn = records.yarn_named(&typed.yarn)?;
    let swatch = read_swatch(typed, &mut heard)?;
    records
        .store_mut()?
        .write(|writer| writer.add_swatch(yarn.id, &swatch).map_err(AppError::from))?;
    Ok(kept(&yarn.record.title(), &swatch, heard.warnings))
}

/// The notice of a swatch that was kept.
pub(super) fn kept(title: &str, swatch: &Swatch, warnings: Vec<String>) -> Notice {
    Notice {
        done: format!("Swatch of {title} kept"),
        details: vec![("measured".to_owned(), words(swatch))],
        warnings,
    }
}

/// Reads a swatch, measured today.
pub(super) fn read_swatch(typed: &Swatched, heard: &mut Heard) -> Result<Swatch, AppError> {
    let needle = heard.value("--needle", cells::needle(&typed.needle))?;
    let before = heard.maybe("--before", typed.before.as_deref(), cells::gauge)?;
    let after = heard.maybe("--after", typed.after.as_deref(), cells::gauge)?;
    Ok(Swatch {
        measured_on: today(),
        notes: typed.notes.trim().to_owned(),
        ..Swatch::measured(needle, before, after)?
    })
}

/// A swatch in words.
pub(super) fn words(swatch: &Swatch) -> String {
    let before = swatch
        .before
        .as_ref()
        .map(|before| format!("before washing {}", gauge_words(&before.gauge)));
    let after = swatch
        .after
        .as_ref()
        .map(|after| format!("after washing {}", gauge_words(after)));
    let parts: Vec<String> = before.into_iter().chain(after).collect();
    format!(
        "on {} mm, {}",
        number(swatch.needle.as_millimetres(), 2),
        parts.join("; ")
    )
}

/// One swatch of a list.
#[derive(Debug, Serialize)]
pub struct SwatchLine {
    /// Its number, by which it can be removed.
    pub number: i64,
    /// The day it was measured.
    pub measured_on: String,
    /// What was measured.
    pub measured: String,
    /// Anything else.
    pub notes: String,
}

/// The swatches of one yarn.
pub fn list_swatches(records: &Records, yarn: &str) -> Result<Listing<SwatchLine>, AppError> {
    let yarn = records.yarn_named(yarn)?;
    let swatches = records.store()?.reader()?.swatches_of(yarn.id)?;
    let rows: Vec<SwatchLine> = swatches
        .iter()
        .map(|kept| SwatchLine {
            number: kept.id.number(),
            measured_on: kept.record.measured_on.clone(),
            measured: words(&kept.record),
            notes: kept.record.notes.clone(),
        })
        .collect();
    let mut table = Table::new(&[
        ("no", Align::Right),
        ("day", Align::Left),
        ("measured", Align::Left),
        ("notes", Align::Left),
    ]);
    table.rows = rows
        .iter()
        .map(|row| {
            vec![
                row.number.to_string(),
                row.measured_on.clone(),
                row.measured.clone(),
                row.notes.clone(),
            ]
        })
        .collect();
    Ok(Listing {
        title: format!("Swatches of {}", yarn.record.title()),
        table,
        empty: "No swatch of it is kept yet.".to_owned(),
        rows,
        warnings: Vec::new(),
    })
}

/// Removes a swatch.
pub fn remove_swatch(records: &mut Records, number: i64) -> Result<Notice, AppError> {
    records.store_mut()?.write(|writer| {
        writer
            .remove_swatch(Id::new(number))
            .map_err(AppError::from)
    })?;
    Ok(Notice {
        done: format!("Swatch {number} removed"),
        ..Notice::default()
    })
}
