//! Entries in the ledger of a lot: bought, used, weighed, reserved, released.

use super::{AppError, Records, heard::Heard, stock::line, today::today};
use crate::{
    label::cells,
    record::{Entry, EntryKind, Id, Lot, Printed, StockAmount},
    report::Notice,
    words::number,
};

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
