//! The ledger of a lot, shown.

use super::{AppError, Records};
use crate::{
    record::{Entry, Id, Lot, Stored, Yarn},
    report::{Align, Listing, Table},
};
use serde::Serialize;

/// The ledger of one lot.
pub fn ledger(records: &Records, lot: i64) -> Result<Listing<LedgerLine>, AppError> {
    let reader = records.store()?.reader()?;
    let id = Id::<Lot>::new(lot);
    let stock = reader.lot(id)?;
    let yarn: Stored<Yarn> = reader.yarn(stock.yarn)?;
    let rows: Vec<LedgerLine> = reader
        .entries(id)?
        .into_iter()
        .map(LedgerLine::of)
        .collect();
    let mut table = Table::new(&[
        ("day", Align::Left),
        ("what", Align::Left),
        ("how much", Align::Left),
        ("notes", Align::Left),
    ]);
    table.rows = rows
        .iter()
        .map(|row| {
            vec![
                row.on.clone(),
                row.kind.to_owned(),
                row.amount.clone(),
                row.notes.clone(),
            ]
        })
        .collect();
    let title = format!(
        "Ledger of lot {lot}: {}, {}; {} held",
        yarn.record.title(),
        stock.lot.record.shade,
        stock.balance.held
    );
    Ok(Listing {
        title,
        table,
        empty: String::new(),
        rows,
        warnings: Vec::new(),
    })
}

/// One line of a ledger.
#[derive(Debug, Serialize)]
pub struct LedgerLine {
    /// The day.
    pub on: String,
    /// What happened.
    pub kind: &'static str,
    /// How much, as typed.
    pub amount: String,
    /// What for, or anything else.
    pub notes: String,
}

impl LedgerLine {
    fn of(entry: Entry) -> Self {
        Self {
            on: entry.on,
            kind: entry.kind.name(),
            amount: entry.amount.text,
            notes: entry.notes,
        }
    }
}
