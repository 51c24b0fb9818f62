//! Swatches out.

use super::{AppError, Records};
use crate::{
    files::csv::{SwatchRow, write_records},
    words::count_of,
};
use std::io::Write;

/// Writes every swatch as a table, yarn by yarn; gives how many.
pub fn export_swatches(
    records: &Records,
    file: &str,
    target: impl Write,
) -> Result<String, AppError> {
    let reader = records.store()?.reader()?;
    let mut rows = Vec::new();
    for id in reader.swatched_yarns()? {
        let yarn = reader.yarn(id)?.record;
        for swatch in reader.swatches_of(id)? {
            rows.push(SwatchRow {
                maker: yarn.maker.clone(),
                name: yarn.name.clone(),
                swatch: swatch.record,
            });
        }
    }
    let written = write_records(file, target, &rows)?;
    Ok(count_of(
        f64::from(u32::try_from(written).unwrap_or(u32::MAX)),
        "swatch",
    ))
}
