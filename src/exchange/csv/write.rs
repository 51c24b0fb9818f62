//! Both tables written.

use super::{
    STOCK_COLUMNS, StockRow, YARN_COLUMNS, columns::Column, guard::guard, row::UNKNOWN,
    shades::write_shades,
};
use crate::{
    exchange::ExchangeError,
    record::{Printed, Yarn},
};
use std::{
    borrow::Borrow,
    io::{self, Write},
};

/// Writes a table of yarns and gives how many it wrote. `file` is what messages
/// call it.
pub fn write_yarns<Y: Borrow<Yarn>>(
    file: &str,
    target: impl Write,
    yarns: impl IntoIterator<Item = Y>,
) -> Result<u64, ExchangeError> {
    let rows = yarns.into_iter().map(|yarn| yarn_cells(yarn.borrow()));
    write_rows(file, target, YARN_COLUMNS, rows)
}

/// Writes a table of stock and gives how many rows it wrote. `file` is what
/// messages call it.
pub fn write_stock<S: Borrow<StockRow>>(
    file: &str,
    target: impl Write,
    stock: impl IntoIterator<Item = S>,
) -> Result<u64, ExchangeError> {
    let rows = stock.into_iter().map(|row| stock_cells(row.borrow()));
    write_rows(file, target, STOCK_COLUMNS, rows)
}

fn write_rows<const N: usize>(
    file: &str,
    target: impl Write,
    columns: &[Column],
    rows: impl Iterator<Item = [String; N]>,
) -> Result<u64, ExchangeError> {
    let failed = |source| ExchangeError::Write {
        file: file.to_owned(),
        source,
    };
    let write = || -> io::Result<u64> {
        let mut writer = csv::Writer::from_writer(target);
        writer.write_record(columns.iter().map(|column| column.name))?;
        let mut written = 0;
        for row in rows {
            writer.write_record(row.iter().map(|cell| guard(cell).into_owned()))?;
            written += 1;
        }
        writer.flush()?;
        Ok(written)
    };
    write().map_err(failed)
}

/// The cells of a yarn, in the order of [`YARN_COLUMNS`].
fn yarn_cells(yarn: &Yarn) -> [String; 17] {
    let facts = &yarn.facts;
    let needed = |text: String| match text.is_empty() && facts.count.is_none() {
        true => UNKNOWN.to_owned(),
        false => text,
    };
    [
        yarn.maker.to_string(),
        yarn.name.to_string(),
        needed(printed(facts.length.as_ref())),
        needed(printed(facts.mass.as_ref())),
        printed(facts.class.as_ref()),
        printed(facts.blend.as_ref()),
        printed(facts.construction.as_ref()),
        printed(facts.gauge.as_ref()),
        printed(facts.needles.as_ref()),
        printed(facts.care.as_ref()),
        printed(facts.price.as_ref()),
        yarn.gtin
            .as_ref()
            .map_or_else(String::new, ToString::to_string),
        yarn.notes.clone(),
        printed(facts.count.as_ref()),
        facts
            .plies
            .map_or_else(String::new, |plies| plies.to_string()),
        write_shades(&yarn.shades),
        if yarn.discontinued { "yes" } else { "no" }.to_owned(),
    ]
}

/// The cells of a row of stock, in the order of [`STOCK_COLUMNS`].
fn stock_cells(row: &StockRow) -> [String; 9] {
    let lot = &row.lot;
    [
        row.maker.to_string(),
        row.name.to_string(),
        lot.shade.clone(),
        lot.lot.clone().unwrap_or_default(),
        row.amount.text.clone(),
        printed(lot.weighed.as_ref()),
        lot.place.clone(),
        printed(lot.price.as_ref()),
        lot.notes.clone(),
    ]
}

fn printed<T>(value: Option<&Printed<T>>) -> String {
    value.map_or_else(String::new, |value| value.text.clone())
}
