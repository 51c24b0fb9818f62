//! Tables of what is kept, and files written whole or not at all.

use super::{
    AppError, Records, TableKind,
    import::{project_row, reservation_rows},
};
use crate::{
    files::{
        FileError,
        atomic::{ExistingFile, write_atomically},
        csv::{ProjectRow, ReservationRow, StockRow, SwatchRow, TableWriter, write_records},
    },
    record::{Name, Printed, Swatch, Yarn},
    store::{LotInStock, Reader},
};
use std::{
    io::{self, Write},
    path::Path,
};

/// What a file that was written holds.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Exported {
    /// A table.
    Table {
        /// How many rows it has.
        rows: u64,
        /// What one row is.
        what: &'static str,
    },
    /// A pattern of this name.
    Pattern(Name),
}

/// Writes all of one kind as a table: lots with what is there now, swatches yarn by yarn,
/// projects in their order.
pub fn export_table(
    records: &Records,
    kind: TableKind,
    file: &str,
    target: impl Write,
) -> Result<Exported, AppError> {
    let reader = records.store()?.reader()?;
    let rows = match kind {
        TableKind::Yarns => {
            let mut table = TableWriter::new(file, target)?;
            reader.yarns(|yarn| Ok::<(), AppError>(table.add(&yarn.record)?))?;
            table.finish()?
        }
        TableKind::Stock => write_records(file, target, &stock_rows(&reader)?)?,
        TableKind::Swatches => write_records(file, target, &swatch_rows(&reader)?)?,
        TableKind::Projects => write_records(file, target, &project_rows(&reader)?)?,
        TableKind::Reservations => write_records(file, target, &reserved_rows(&reader)?)?,
    };
    let what = kind.row();
    Ok(Exported::Table { rows, what })
}

fn stock_rows(reader: &Reader<'_>) -> Result<Vec<StockRow>, AppError> {
    let lots = reader.lots()?.into_iter();
    let row = |stock: LotInStock| Ok(stock_row(reader.yarn(stock.yarn)?.record, stock));
    lots.map(row).collect()
}

fn swatch_rows(reader: &Reader<'_>) -> Result<Vec<SwatchRow>, AppError> {
    let mut rows = Vec::new();
    for id in reader.swatched_yarns()? {
        let yarn = reader.yarn(id)?.record;
        for swatch in reader.swatches_naming(id)? {
            if swatch.yarn == id {
                rows.push(swatch_row(reader, &yarn, swatch.kept.record)?);
            }
        }
    }
    Ok(rows)
}

fn swatch_row(reader: &Reader<'_>, yarn: &Yarn, swatch: Swatch) -> Result<SwatchRow, AppError> {
    let held_with = swatch.held_with.iter();
    let held_with = held_with.map(|yarn| Ok(reader.yarn(*yarn)?.record.title()));
    Ok(SwatchRow {
        maker: yarn.maker.clone(),
        name: yarn.name.clone(),
        held_with: held_with.collect::<Result<_, AppError>>()?,
        swatch: Swatch {
            held_with: Vec::new(),
            ..swatch
        },
    })
}

fn project_rows(reader: &Reader<'_>) -> Result<Vec<ProjectRow>, AppError> {
    let projects = reader.projects()?.into_iter();
    projects
        .map(|kept| project_row(reader, &kept.record))
        .collect()
}

fn reserved_rows(reader: &Reader<'_>) -> Result<Vec<ReservationRow>, AppError> {
    let mut rows = Vec::new();
    for stock in reader.lots()? {
        rows.extend(reservation_rows(reader, &stock)?);
    }
    Ok(rows)
}

fn stock_row(yarn: Yarn, stock: LotInStock) -> StockRow {
    let opening = stock.opening.amount;
    let held = stock.balance.held;
    let amount = if opening.value == held {
        opening
    } else {
        Printed::new(held.to_string(), held)
    };
    StockRow {
        maker: yarn.maker,
        name: yarn.name,
        lot: stock.lot.record,
        amount,
    }
}

/// Writes a file that holds `text`, as [`to_file`] does.
pub fn text_to_file(path: &Path, replace: bool, text: &str) -> Result<(), AppError> {
    to_file(path, replace, |out| {
        let written = out.write_all(text.as_bytes());
        written.map_err(|source| {
            let file = path.display().to_string();
            FileError::Write { file, source }.into()
        })
    })
}

/// Writes a file with what `write` writes; where that fails nothing is changed.
/// A file that is there is replaced only when `replace`.
pub fn to_file<T>(
    path: &Path,
    replace: bool,
    write: impl FnOnce(&mut dyn Write) -> Result<T, AppError>,
) -> Result<T, AppError> {
    let if_there = if replace {
        ExistingFile::Replace
    } else {
        ExistingFile::Refuse
    };
    written_whole(path, if_there, write)
}

/// Writes a file for its owner alone, in the place of one that is there.
pub(super) fn private_file<T>(
    path: &Path,
    write: impl FnOnce(&mut dyn Write) -> Result<T, AppError>,
) -> Result<T, AppError> {
    written_whole(path, ExistingFile::ReplacePrivate, write)
}

/// The error of `write` itself, where that is what kept the file from being written.
fn written_whole<T>(
    path: &Path,
    if_there: ExistingFile,
    write: impl FnOnce(&mut dyn Write) -> Result<T, AppError>,
) -> Result<T, AppError> {
    let mut refused = None;
    let written = write_atomically(path, if_there, |target| {
        write(target).map_err(|error| {
            refused = Some(error);
            FileError::Write {
                file: path.display().to_string(),
                source: io::ErrorKind::Other.into(),
            }
        })
    });
    match (written, refused) {
        (_, Some(error)) => Err(error),
        (written, None) => Ok(written?),
    }
}
