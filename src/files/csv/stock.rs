//! `stock.csv`, and the fields of a lot.

use super::{
    STOCK_COLUMNS, columns::Column, field_reader::FieldReader, table_reader::TableRecord,
    table_writer::cell,
};
use crate::record::{Lot, Name, Printed, StockAmount};

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

impl TableRecord for StockRow {
    const COLUMNS: &'static [Column] = STOCK_COLUMNS;

    fn read(fields: &mut FieldReader<'_>) -> Option<Self> {
        let (maker, name) = (fields.name("maker"), fields.name("name"));
        let amount = read_amount(fields);
        let lot = read_lot(fields);
        Some(Self {
            maker: maker?,
            name: name?,
            lot,
            amount: amount?,
        })
    }

    fn texts(&self) -> Vec<String> {
        let lot = &self.lot;
        vec![
            self.maker.to_string(),
            self.name.to_string(),
            lot.shade.clone(),
            lot.lot.as_deref().unwrap_or("").to_owned(),
            cell(Some(&self.amount)),
            cell(lot.weighed.as_ref()),
            lot.place.clone(),
            cell(lot.price.as_ref()),
            lot.notes.clone(),
        ]
    }
}

fn read_amount(fields: &mut FieldReader<'_>) -> Option<Printed<StockAmount>> {
    if !fields.is_given("amount") {
        let allowed = "write what you have, such as `3.5 skeins`, `2 + 60 g` or `340 g`; weigh it if you do not know";
        fields.refuse("amount", "it is empty", allowed);
    }
    fields.printed("amount")
}

fn read_lot(fields: &mut FieldReader<'_>) -> Lot {
    let text = |column| fields.text(column).to_owned();
    let (shade, lot) = (text("shade"), text("lot"));
    let (place, notes) = (text("place"), text("notes"));
    Lot {
        shade,
        lot: fields.is_given("lot").then_some(lot),
        place,
        weighed: fields.printed("weighed"),
        price: fields.printed("price"),
        notes,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::files::csv::{Row, read_table};

    fn row(cells: &str) -> Row<StockRow> {
        let text = format!("maker,name,shade,lot,amount,weighed,place,price,notes\n{cells}\n");
        let mut rows = read_table("stock.csv", text.as_bytes(), |_| {}).unwrap();
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
