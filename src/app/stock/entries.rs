//! Entries in the ledger of a lot: bought, used, weighed, reserved, released.

use super::{BuyRequest, EntryRequest, line};
use crate::{
    app::{AppError, FieldNote, InputReader, RecordChange, Records, today::today},
    label::{
        cells,
        reading::{ReadError, Reading},
    },
    record::{Entry, EntryKind, Id, Lot, Printed, StockAmount},
    store::Reader,
};

/// Enters a purchase: a new lot, or more of one that is kept.
pub fn buy(records: &mut Records, request: &BuyRequest) -> Result<RecordChange, AppError> {
    let mut reader = InputReader::default();
    let amount = amount(&mut reader, request.amount.as_deref());
    let lot = Lot {
        shade: trimmed(request.shade.as_deref()),
        lot: Some(trimmed(request.lot.as_deref())).filter(|lot| !lot.is_empty()),
        place: trimmed(request.place.as_deref()),
        weighed: printed(&mut reader, "weighed", &request.weighed, cells::weighed),
        price: printed(&mut reader, "price", &request.price, cells::price),
        notes: trimmed(request.notes.as_deref()),
    };
    let amount = reader.checked(amount)?;
    let yarn = records.yarn_named(request.yarn.as_deref().unwrap_or_default())?;
    let entry = Entry {
        kind: EntryKind::Bought,
        amount,
        on: today(),
        notes: lot.notes.clone(),
    };
    let once = records.next_change(said_of(request));
    records.store_mut()?.write(|writer| {
        if let Some(&[lot]) = once.earlier(writer)?.as_deref() {
            let change = entered(writer, Id::new(lot), entry.kind, reader.notes)?;
            return Ok(RecordChange::MadeBefore(Box::new(change)));
        }
        let id = match writer.lot_named(yarn.id, &lot.shade, lot.lot.as_deref(), &lot.place)? {
            Some(kept) => writer.add_entry(kept.lot.id, &entry).map(|_| kept.lot.id)?,
            None => writer.add_lot(yarn.id, &lot, &entry)?,
        };
        once.keep(writer, &[id.number()])?;
        entered(writer, id, entry.kind, reader.notes)
    })
}

/// Enters what was used, weighed, reserved or released of a lot.
pub fn enter(
    records: &mut Records,
    kind: EntryKind,
    lot: i64,
    request: &EntryRequest,
) -> Result<RecordChange, AppError> {
    let mut reader = InputReader::default();
    let amount = amount(&mut reader, request.amount.as_deref());
    let entry = Entry {
        kind,
        amount: reader.checked(amount)?,
        on: today(),
        notes: trimmed(request.what_for.as_deref()),
    };
    let id = Id::<Lot>::new(lot);
    let number = lot.to_string();
    let once = records.next_change([kind.name(), &number, &entry.amount.text, &entry.notes]);
    records.store_mut()?.write(|writer| {
        if once.earlier(writer)?.is_some() {
            let change = entered(writer, id, kind, reader.notes)?;
            return Ok(RecordChange::MadeBefore(Box::new(change)));
        }
        writer.add_entry(id, &entry)?;
        once.keep(writer, &[lot])?;
        entered(writer, id, kind, reader.notes)
    })
}

/// Everything that a purchase says, to tell it from others.
fn said_of(request: &BuyRequest) -> impl Iterator<Item = &str> {
    let said = [
        &request.yarn,
        &request.amount,
        &request.shade,
        &request.lot,
        &request.place,
        &request.weighed,
        &request.price,
        &request.notes,
    ];
    let said = said.into_iter().filter_map(Option::as_deref);
    std::iter::once(EntryKind::Bought.name()).chain(said)
}

/// The text of a field that may be empty.
fn trimmed(text: Option<&str>) -> String {
    text.map_or_else(String::new, |text| text.trim().to_owned())
}

fn amount(reader: &mut InputReader, text: Option<&str>) -> Option<Printed<StockAmount>> {
    let value = reader.required("amount", text, cells::stock_amount)?;
    Some(Printed::new(trimmed(text), value))
}

fn printed<T>(
    reader: &mut InputReader,
    field: &str,
    text: &Option<String>,
    read: impl Fn(&str) -> Result<Reading<T>, ReadError>,
) -> Option<Printed<T>> {
    let value = reader.optional(field, text.as_deref(), read)?;
    text.clone().map(|text| Printed::new(text, value))
}

/// What was entered. It is made before the entry is kept for good: what is told as
/// failed was not entered.
fn entered(
    reader: &Reader<'_>,
    id: Id<Lot>,
    kind: EntryKind,
    notes: Vec<FieldNote>,
) -> Result<RecordChange, AppError> {
    Ok(RecordChange::Entered {
        kind,
        line: Box::new(line(reader, reader.lot(id)?)?),
        notes,
    })
}
