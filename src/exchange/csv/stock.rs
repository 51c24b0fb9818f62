//! `stock.csv` read.

use super::{
    STOCK_COLUMNS,
    row::Cells,
    rows::{Rows, Sheet},
};
use crate::{
    exchange::{ExchangeError, cells},
    record::{Lot, Name, Printed, StockAmount},
};
use std::io::Read;

/// What is there of one lot of a yarn.
#[derive(Debug, Clone, PartialEq)]
pub struct StockRow {
    /// Who makes the yarn.
    pub maker: Name,
    /// What the yarn is called.
    pub name: Name,
    /// The lot.
    pub lot: Lot,
    /// What is there of it.
    pub amount: Printed<StockAmount>,
}

/// Opens a table of stock. `file` is what messages call it; `progress` is told
/// the bytes read so far.
pub fn read_stock<'a>(
    file: &str,
    source: impl Read + 'a,
    progress: impl FnMut(u64) + 'a,
) -> Result<Rows<'a, StockRow>, ExchangeError> {
    let sheet = Sheet {
        columns: STOCK_COLUMNS,
        read: read_row,
    };
    Rows::open(file, Box::new(source), Box::new(progress), &sheet)
}

fn read_row(cells: &mut Cells<'_>) -> Option<StockRow> {
    let (maker, name) = (cells.name("maker"), cells.name("name"));
    let amount = read_amount(cells);
    let lot = read_lot(cells);
    Some(StockRow {
        maker: maker?,
        name: name?,
        lot,
        amount: amount?,
    })
}

fn read_amount(cells: &mut Cells<'_>) -> Option<Printed<StockAmount>> {
    if cells.is_empty("amount") || cells.is_unknown("amount") {
        let allowed = "write what is there, such as `3.5 skeins`, `2 + 60 g` or `340 g`; weigh it where it is not known";
        cells.refuse("amount", "no amount stands here", allowed);
    }
    cells.value("amount", cells::stock_amount)
}

fn read_lot(cells: &mut Cells<'_>) -> Lot {
    let text = |column| cells.text(column).to_owned();
    let (shade, lot) = (text("shade"), text("lot"));
    let (place, notes) = (text("place"), text("notes"));
    let no_lot = lot.is_empty() || cells.is_unknown("lot");
    Lot {
        shade,
        lot: (!no_lot).then_some(lot),
        place,
        weighed: cells.value("weighed", cells::weighed),
        price: cells.value("price", cells::price),
        notes,
    }
}
