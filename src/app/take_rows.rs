//! The rows of a table into the records: all of them or none.

use super::{AppError, Records, bad_rows::BadRows, imported::Imported};
use crate::{
    files::{
        CellFault, Place,
        csv::{Row, Rows, TableRecord},
    },
    store::Writer,
};

/// Rows that were taken, and those that cannot be.
pub(super) type Taken = (Imported, BadRows);

/// Does `work` in one transaction; what it did is kept only where no row is bad.
pub(super) fn all_or_none(
    records: &mut Records,
    work: impl FnOnce(&Writer<'_>) -> Result<Taken, AppError>,
) -> Result<Imported, AppError> {
    records.store_mut()?.write(|writer| match work(writer)? {
        (done, bad) if bad.is_empty() => Ok(done),
        (_, bad) => Err(AppError::BadRows(bad)),
    })
}

/// Takes every row. `title` names a record; `keep` keeps one and gives what stands
/// against it.
pub(super) fn take_rows<T: TableRecord>(
    rows: Rows<'_, T>,
    mut done: Imported,
    title: impl Fn(&T) -> String,
    mut keep: impl FnMut(u64, &T, &mut Imported) -> Result<Option<CellFault>, AppError>,
) -> Result<Taken, AppError> {
    let mut bad = BadRows::of(&done.file);
    done.warnings
        .extend(rows.warnings().iter().map(ToString::to_string));
    for row in rows {
        let Row {
            line,
            record,
            warnings,
        } = row?;
        let before = done.before();
        done.note(&warnings);
        match record {
            Err(faults) => {
                done.tell(line, String::new, before, &faults);
                bad.add(faults);
            }
            Ok(record) => {
                let fault =
                    keep(line, &record, &mut done)?.map(|fault| fault.at(Place::line(line)));
                done.tell(line, || title(&record), before, fault.as_slice());
                bad.add(fault);
            }
        }
    }
    Ok((done, bad))
}
