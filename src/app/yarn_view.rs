//! One yarn with its lots and its swatches, by its number.

use super::{
    AppError, Records,
    browse::{Entry, lot_entry},
    swatches::words,
    yarns::yarn_notice,
};
use crate::{record::Id, report::Notice};

/// What is kept of one yarn.
#[derive(Debug, Clone)]
pub struct YarnView {
    /// What people call it.
    pub title: String,
    /// What its label says.
    pub notice: Notice,
    /// Its lots.
    pub lots: Vec<Entry>,
    /// Its swatches.
    pub swatches: Vec<Entry>,
}

/// The yarn with this number.
pub fn view_yarn(records: &Records, number: i64) -> Result<YarnView, AppError> {
    let reader = records.store()?.reader()?;
    let yarn = reader.yarn(Id::new(number))?;
    let lots = reader.lots_of(yarn.id)?;
    let swatches = reader.swatches_of(yarn.id)?;
    Ok(YarnView {
        title: yarn.record.title(),
        notice: yarn_notice(&yarn.record),
        lots: lots
            .iter()
            .map(|lot| lot_entry(lot, &yarn.record))
            .collect(),
        swatches: swatches
            .into_iter()
            .map(|swatch| Entry {
                number: swatch.id.number(),
                title: words(&swatch.record),
                words: [swatch.record.measured_on, swatch.record.notes].join(" "),
            })
            .collect(),
    })
}

/// Removes the yarn with this number, unless stock or a swatch refers to it.
pub fn remove_yarn_numbered(records: &mut Records, number: i64) -> Result<(), AppError> {
    records
        .store_mut()?
        .write(|writer| writer.remove_yarn(Id::new(number)).map_err(AppError::from))
}

/// Removes the pattern with this number.
pub fn remove_pattern_numbered(records: &mut Records, number: i64) -> Result<(), AppError> {
    records.store_mut()?.write(|writer| {
        writer
            .remove_pattern(Id::new(number))
            .map_err(AppError::from)
    })
}
