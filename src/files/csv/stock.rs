//! `stock.csv` read.

use super::{
    STOCK_COLUMNS,
    row::Cells,
    rows::{Rows, Sheet},
};
use crate::{
    files::ExchangeError,
    label::cells,
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

#[cfg(test)]
mod tests {
    use super::*;
    use crate::files::csv::Row;

    fn row(cells: &str) -> Row<StockRow> {
        let text = format!("maker,name,shade,lot,amount,weighed,place,price,notes\n{cells}\n");
        let mut rows = read_stock("stock.csv", text.as_bytes(), |_| {}).unwrap();
        rows.next().unwrap().unwrap()
    }

    fn stock(cells: &str) -> StockRow {
        row(cells).record.unwrap()
    }

    #[test]
    fn a_lot_is_read_with_all_that_is_said_of_it() {
        let row = stock("V,O,moss,A417,2 + 60 g,48.5 g = 121 m,blue trunk,6.50 GBP,gift");
        let lot = row.lot;
        assert_eq!(
            (lot.shade.as_str(), lot.lot.as_deref()),
            ("moss", Some("A417"))
        );
        let weighed = lot.weighed.unwrap().value;
        assert_eq!(weighed.0.as_grams(), 48.5);
        assert_eq!(weighed.1.unwrap().as_metres(), 121.0);
        assert_eq!(
            (row.amount.value.skeins(), row.amount.value.grams()),
            (2.0, 60.0)
        );
        assert_eq!(
            (lot.place.as_str(), lot.notes.as_str()),
            ("blue trunk", "gift")
        );
    }

    #[test]
    fn a_band_without_a_lot_has_none() {
        for cells in ["V,O,,,340 g,,,,", "V,O,,unknown,340 g,,,,"] {
            assert_eq!(stock(cells).lot.lot, None);
        }
    }

    #[test]
    fn an_amount_must_be_given() {
        for cells in ["V,O,,,,,,,", "V,O,,,unknown,,,,"] {
            let faults = row(cells).record.unwrap_err();
            assert_eq!(faults.len(), 1);
            assert_eq!(faults[0].field, "amount");
            assert!(faults[0].allowed.contains("3.5 skeins"));
        }
    }
}
