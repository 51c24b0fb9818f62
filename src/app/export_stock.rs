//! Stock out, as it is now.

use super::{AppError, Records};
use crate::{
    files::csv::{StockRow, write_records},
    record::{Printed, Yarn},
    store::LotInStock,
    words::count_of,
};
use std::io::Write;

/// Writes every lot as a table, with what is there now; gives how many.
pub fn export_stock(records: &Records, file: &str, target: impl Write) -> Result<String, AppError> {
    let reader = records.store()?.reader()?;
    let mut rows = Vec::new();
    for stock in reader.lots()? {
        let yarn = reader.yarn(stock.yarn)?.record;
        rows.push(stock_row(yarn, stock));
    }
    let written = write_records(file, target, &rows)?;
    Ok(count_of(
        f64::from(u32::try_from(written).unwrap_or(u32::MAX)),
        "lot",
    ))
}

fn stock_row(yarn: Yarn, stock: LotInStock) -> StockRow {
    let opening = stock.opening.amount;
    let amount = match opening.value == stock.balance.held {
        true => opening,
        false => Printed::new(stock.balance.held.to_string(), stock.balance.held),
    };
    StockRow {
        maker: yarn.maker,
        name: yarn.name,
        lot: stock.lot.record,
        amount,
    }
}
