//! Stock: lots and their ledger.

use super::{AppError, Records};
use crate::{
    record::Yarn,
    report::{Align, Listing, Table},
    store::{LotInStock, Reader},
    words::number,
};
use serde::Serialize;

/// One lot of a list.
#[derive(Debug, Serialize)]
pub struct LotLine {
    /// Its number, by which entries name it.
    pub number: i64,
    /// The yarn.
    pub yarn: String,
    /// Its shade.
    pub shade: String,
    /// Its dye lot.
    pub lot: Option<String>,
    /// Where it is kept.
    pub place: String,
    /// What is there.
    pub held: String,
    /// What of it is reserved.
    pub reserved: String,
    /// Length of what is there, m.
    pub held_m: Option<f64>,
}

impl LotLine {
    fn of(stock: &LotInStock, yarn: &Yarn) -> Self {
        let lot = &stock.lot.record;
        let all = super::question::candidate::LotHeld {
            lot: lot.clone(),
            usable: stock.balance.held,
        };
        Self {
            number: stock.lot.id.number(),
            yarn: yarn.title(),
            shade: lot.shade.clone(),
            lot: lot.lot.clone(),
            place: lot.place.clone(),
            held: stock.balance.held.to_string(),
            reserved: match stock.balance.reserved.is_nothing() {
                true => String::new(),
                false => stock.balance.reserved.to_string(),
            },
            held_m: all.length(&yarn.facts).map(|length| length.as_metres()),
        }
    }

    fn row(&self) -> Vec<String> {
        vec![
            self.number.to_string(),
            self.yarn.clone(),
            self.shade.clone(),
            self.lot.clone().unwrap_or_default(),
            self.place.clone(),
            self.held.clone(),
            self.held_m
                .map(|metres| number(metres, 0))
                .unwrap_or_default(),
            self.reserved.clone(),
        ]
    }
}

/// Every lot, or those of one yarn.
pub fn list_stock(records: &Records, yarn: Option<&str>) -> Result<Listing<LotLine>, AppError> {
    let chosen = yarn.map(|text| records.yarn_named(text)).transpose()?;
    let reader = records.store()?.reader()?;
    let lots = match &chosen {
        Some(yarn) => reader.lots_of(yarn.id)?,
        None => reader.lots()?,
    };
    let rows = lots
        .iter()
        .map(|stock| line(&reader, stock))
        .collect::<Result<Vec<LotLine>, AppError>>()?;
    let heads = [
        ("no", Align::Right),
        ("yarn", Align::Left),
        ("shade", Align::Left),
        ("lot", Align::Left),
        ("place", Align::Left),
        ("held", Align::Left),
        ("m", Align::Right),
        ("reserved", Align::Left),
    ];
    let mut table = Table::new(&heads);
    table.rows = rows.iter().map(LotLine::row).collect();
    let title = chosen.map_or("Stock".to_owned(), |yarn| {
        format!("Stock of {}", yarn.record.title())
    });
    Ok(Listing { title, table, empty: "Nothing is in stock: import a table with `import stock FILE`, or enter a purchase with `stock buy`.".to_owned(), rows, warnings: Vec::new() })
}

pub(super) fn line(reader: &Reader<'_>, stock: &LotInStock) -> Result<LotLine, AppError> {
    Ok(LotLine::of(stock, &reader.yarn(stock.yarn)?.record))
}
