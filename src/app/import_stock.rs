//! Stock from a table: all of it or none.

use super::{AppError, Records, bad_rows::BadRows, imported::Imported, today::today};
use crate::{
    exchange::{
        CellError,
        csv::{Row, StockRow, read_stock},
    },
    record::{Entry, EntryKind, Id, Lot, Stored, Yarn},
    report::Notice,
    store::{LotInStock, Writer},
    words::did_you_mean,
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
    let mut rows = read_stock(file, source, progress)?;
    let mut done = Imported::of(file, update);
    done.warnings
        .extend(rows.warnings().iter().map(ToString::to_string));
    records.store_mut()?.write(|writer| {
        let mut bad = BadRows::of(file);
        let mut seen = HashSet::new();
        for row in &mut rows {
            take(row?, writer, &mut done, &mut bad, &mut seen)?;
        }
        match bad.is_empty() {
            true => Ok(()),
            false => Err(AppError::BadRows(bad)),
        }
    })?;
    Ok(done.notice("lot"))
}

fn take(
    row: Row<StockRow>,
    writer: &Writer<'_>,
    done: &mut Imported,
    bad: &mut BadRows,
    seen: &mut HashSet<Id<Lot>>,
) -> Result<(), AppError> {
    done.note(&row.warnings);
    match row.record {
        Err(faults) => bad.add(faults),
        Ok(stock) => bad.add(keep(row.line, &stock, writer, done, seen)?),
    }
    Ok(())
}

fn keep(
    line: u64,
    row: &StockRow,
    writer: &Writer<'_>,
    done: &mut Imported,
    seen: &mut HashSet<Id<Lot>>,
) -> Result<Option<CellError>, AppError> {
    let Some(yarn) = writer.yarn_named(row.maker.as_str(), row.name.as_str())? else {
        return unknown(line, row, writer).map(Some);
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
        return Ok(Some(CellError::row(
            line,
            &titled(&yarn, row),
            told,
            "add the amounts, or give them different places",
        )));
    }
    change(line, row, &yarn, &kept, writer, done)
}

fn change(
    line: u64,
    row: &StockRow,
    yarn: &Stored<Yarn>,
    kept: &LotInStock,
    writer: &Writer<'_>,
    done: &mut Imported,
) -> Result<Option<CellError>, AppError> {
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
        return Ok(Some(CellError::row(
            line,
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

fn unknown(line: u64, row: &StockRow, writer: &Writer<'_>) -> Result<CellError, AppError> {
    let titles = writer.yarn_titles()?;
    let given = format!("{}, {}", row.maker, row.name);
    let near = did_you_mean(&given, titles.iter().map(|(_, title)| title.as_str()));
    let allowed = match near.is_empty() {
        true => "import the yarn first".to_owned(),
        false => format!(
            "import the yarn first, or did you mean {}?",
            crate::words::or_list(&near)
        ),
    };
    Ok(CellError::row(
        line,
        &given,
        "no yarn of this maker and name is kept",
        allowed,
    ))
}
