//! Stock from a table: all of it or none.

use super::{
    AppError, Records,
    imported::{Imported, no_such_yarn},
    preview::{Preview, tried},
    take_rows::{Taken, all_or_none, take_rows},
    today::today,
};
use crate::{
    files::{
        CellFault,
        csv::{Rows, StockRow, read_table},
    },
    record::{Entry, EntryKind, Id, Lot, Stored, Yarn},
    report::Notice,
    store::{LotInStock, Writer},
};
use std::{collections::HashSet, io::Read};

/// Imports a table of stock. Each row is one lot in one place. A lot that is
/// kept already stays as it is, also when some of it was used since; where the
/// file says otherwise, that is an error unless `update`: then the amount is
/// entered as weighed.
pub fn import_stock(
    records: &mut Records,
    file: &str,
    source: impl Read,
    update: bool,
    progress: impl FnMut(u64),
) -> Result<Notice, AppError> {
    let rows = read_table(file, source, progress)?;
    let done = all_or_none(records, |writer| {
        take_all(rows, writer, Imported::of(file, update))
    })?;
    Ok(done.notice("lot"))
}

/// What importing a table of stock would do, row by row; nothing is written.
pub fn preview_stock(
    records: &mut Records,
    file: &str,
    source: impl Read,
    update: bool,
) -> Result<Preview, AppError> {
    let rows = read_table(file, source, |_| ())?;
    tried(records, |writer| {
        take_all(rows, writer, Imported::row_by_row(file, update))
    })
}

fn take_all(
    rows: Rows<'_, StockRow>,
    writer: &Writer<'_>,
    done: Imported,
) -> Result<Taken, AppError> {
    let mut seen = HashSet::new();
    take_rows(
        rows,
        done,
        |row| format!("{}, {}", row.maker, row.name),
        |_, row, done| keep(row, writer, done, &mut seen),
    )
}

fn keep(
    row: &StockRow,
    writer: &Writer<'_>,
    done: &mut Imported,
    seen: &mut HashSet<Id<Lot>>,
) -> Result<Option<CellFault>, AppError> {
    let Some(yarn) = writer.yarn_named(row.maker.as_str(), row.name.as_str())? else {
        return no_such_yarn(&row.maker, &row.name, writer).map(Some);
    };
    let Lot {
        shade, lot, place, ..
    } = &row.lot;
    let Some(kept) = writer.lot_named(yarn.id, shade, lot.as_deref(), place)? else {
        let opening = entry(row, EntryKind::Bought);
        seen.insert(writer.add_lot(yarn.id, &row.lot, &opening)?);
        done.added += 1;
        return Ok(None);
    };
    if !seen.insert(kept.lot.id) {
        let told = "this lot of this shade stands in the file twice in the same place";
        return Ok(Some(CellFault::new(
            "",
            &titled(&yarn, row),
            told,
            "add the amounts, or give them different places",
        )));
    }
    change(row, &yarn, &kept, writer, done)
}

fn change(
    row: &StockRow,
    yarn: &Stored<Yarn>,
    kept: &LotInStock,
    writer: &Writer<'_>,
    done: &mut Imported,
) -> Result<Option<CellFault>, AppError> {
    let same_amount = [kept.opening.amount.value, kept.balance.held].contains(&row.amount.value);
    let same_lot = kept.lot.record == row.lot;
    if same_amount && same_lot {
        done.unchanged += 1;
        return Ok(None);
    }
    if !done.update {
        let told = format!(
            "this lot is kept already and differs: {} is there",
            kept.balance.held
        );
        return Ok(Some(CellFault::new(
            "",
            &titled(yarn, row),
            told,
            "import again with --update to enter what the file says",
        )));
    }
    if !same_lot {
        writer.update_lot(kept.lot.id, kept.lot.version, &row.lot)?;
    }
    if !same_amount {
        writer.add_entry(kept.lot.id, &entry(row, EntryKind::Weighed))?;
    }
    done.note_change(&format!(
        "{}: {} -> {}",
        titled(yarn, row),
        kept.balance.held,
        row.amount.value
    ));
    Ok(None)
}

fn titled(yarn: &Stored<Yarn>, row: &StockRow) -> String {
    let lot = row
        .lot
        .lot
        .as_deref()
        .map(|lot| format!(", lot {lot}"))
        .unwrap_or_default();
    format!("{}, {}{lot}", yarn.record.title(), row.lot.shade)
}

fn entry(row: &StockRow, kind: EntryKind) -> Entry {
    Entry {
        kind,
        amount: row.amount.clone(),
        on: today(),
        notes: "imported".to_owned(),
    }
}
