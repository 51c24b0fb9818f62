//! Stock: lots and their ledger.

use super::{AppError, Records, heard::Heard, today::today};
use crate::{
    exchange::{
        cells,
        csv::{StockRow, write_stock},
    },
    record::{Entry, EntryKind, Id, Lot, Printed, StockAmount, Stored, Yarn},
    report::{Align, Listing, Notice, Table},
    store::{LotInStock, Reader},
    words::{count_of, number},
};
use serde::Serialize;
use std::io::Write;

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
        let all = super::candidate::LotHeld {
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

fn line(reader: &Reader<'_>, stock: &LotInStock) -> Result<LotLine, AppError> {
    Ok(LotLine::of(stock, &reader.yarn(stock.yarn)?.record))
}

/// What was bought, as typed.
#[derive(Debug, Clone, Default)]
pub struct Bought {
    /// The yarn.
    pub yarn: String,
    /// How much.
    pub amount: String,
    /// Its shade.
    pub shade: String,
    /// Its dye lot.
    pub lot: Option<String>,
    /// Where it is put.
    pub place: String,
    /// Mass (and length) of one full skein of it.
    pub weighed: Option<String>,
    /// What was paid.
    pub price: Option<String>,
    /// Anything else.
    pub notes: String,
}

/// Enters a purchase: a new lot, or more of one that is kept.
pub fn buy(records: &mut Records, bought: &Bought) -> Result<Notice, AppError> {
    let mut heard = Heard::default();
    let yarn = records.yarn_named(&bought.yarn)?;
    let amount = amount(&bought.amount, &mut heard)?;
    let weighed = heard.maybe("--weighed", bought.weighed.as_deref(), cells::weighed)?;
    let price = heard.maybe("--price", bought.price.as_deref(), cells::price)?;
    let lot = Lot {
        shade: bought.shade.trim().to_owned(),
        lot: bought
            .lot
            .as_deref()
            .map(str::trim)
            .filter(|lot| !lot.is_empty())
            .map(str::to_owned),
        place: bought.place.trim().to_owned(),
        weighed: bought
            .weighed
            .clone()
            .zip(weighed)
            .map(|(text, value)| Printed::new(text, value)),
        price: bought
            .price
            .clone()
            .zip(price)
            .map(|(text, value)| Printed::new(text, value)),
        notes: bought.notes.trim().to_owned(),
    };
    let entry = Entry {
        kind: EntryKind::Bought,
        amount,
        on: today(),
        notes: bought.notes.trim().to_owned(),
    };
    let id = records.store_mut()?.write(|writer| {
        match writer.lot_named(yarn.id, &lot.shade, lot.lot.as_deref(), &lot.place)? {
            Some(kept) => writer.add_entry(kept.lot.id, &entry).map(|_| kept.lot.id),
            None => writer.add_lot(yarn.id, &lot, &entry),
        }
        .map_err(AppError::from)
    })?;
    told(records, id, "bought", heard.warnings)
}

/// Enters what was used, weighed, reserved or released of a lot.
pub fn enter(
    records: &mut Records,
    kind: EntryKind,
    lot: i64,
    typed: &str,
    notes: &str,
) -> Result<Notice, AppError> {
    let mut heard = Heard::default();
    let amount = amount(typed, &mut heard)?;
    let entry = Entry {
        kind,
        amount,
        on: today(),
        notes: notes.trim().to_owned(),
    };
    let id = Id::<Lot>::new(lot);
    records
        .store_mut()?
        .write(|writer| writer.add_entry(id, &entry).map_err(AppError::from))?;
    told(records, id, kind.name(), heard.warnings)
}

fn amount(typed: &str, heard: &mut Heard) -> Result<Printed<StockAmount>, AppError> {
    Ok(Printed::new(
        typed.trim(),
        heard.value("amount", cells::stock_amount(typed))?,
    ))
}

fn told(
    records: &Records,
    id: Id<Lot>,
    what: &str,
    warnings: Vec<String>,
) -> Result<Notice, AppError> {
    let reader = records.store()?.reader()?;
    let line = line(&reader, &reader.lot(id)?)?;
    let held = match line.held_m {
        Some(metres) => format!("{} ({} m)", line.held, number(metres, 0)),
        None => line.held.clone(),
    };
    let mut details = vec![
        ("lot number".to_owned(), line.number.to_string()),
        ("now held".to_owned(), held),
    ];
    if !line.reserved.is_empty() {
        details.push(("reserved".to_owned(), line.reserved.clone()));
    }
    let shade = if line.shade.is_empty() {
        String::new()
    } else {
        format!(", {}", line.shade)
    };
    Ok(Notice {
        done: format!("{}{shade}: {what}, entered", line.yarn),
        details,
        warnings,
    })
}

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

/// Writes every lot as a table, with what is there now; gives how many.
pub fn export_stock(records: &Records, file: &str, target: impl Write) -> Result<String, AppError> {
    let reader = records.store()?.reader()?;
    let mut rows = Vec::new();
    for stock in reader.lots()? {
        let yarn = reader.yarn(stock.yarn)?.record;
        rows.push(stock_row(yarn, stock));
    }
    let written = write_stock(file, target, &rows)?;
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
