//! Entries in the ledger of a lot: bought, used, weighed, reserved, released.

use super::{
    BuyRequest, EntryRequest, LotChoice, LotRequest, edit::colour_in_name, line, shop::lot_meant,
};
use crate::{
    app::{
        AppError, FieldNote, InputReader, Overpromise, RecordChange, Records, once::number_made,
        records::today,
    },
    label::{
        cells,
        reading::{ReadError, Reading},
    },
    record::{Entry, EntryKind, Id, Lot, Printed, StockAmount, Yarn},
    store::{Reader, Writer},
};

/// Enters a purchase: a new lot, or more of one that is in the records.
pub fn buy(records: &mut Records, request: &BuyRequest) -> Result<RecordChange, AppError> {
    let mut reader = InputReader::default();
    let amount = amount(&mut reader, request.amount.as_deref(), cells::new_amount);
    let lot = lot_of(&mut reader, &request.lot);
    let amount = reader.checked(amount)?;
    if lot.colour.is_none() {
        reader.notes.extend(colour_in_name(&lot.shade));
    }
    let yarn = records.yarn_named(request.yarn.as_deref().unwrap_or_default())?;
    let entry = Entry {
        kind: EntryKind::Bought,
        amount,
        on: today(),
        notes: lot.notes.clone(),
    };
    records.change_once(said_of(request), |writer, made| {
        let id = match number_made(made) {
            Some(number) => Id::new(number),
            None => bought(writer, yarn.id, &lot, &entry)?,
        };
        let change = entered(writer, id, &entry, reader.notes)?;
        Ok((id.number().to_string(), change))
    })
}

/// The lot that a purchase names.
fn lot_of(reader: &mut InputReader, request: &LotRequest) -> Lot {
    Lot {
        shade: trimmed(request.shade.as_deref()),
        colour: printed(reader, "colour", &request.colour, cells::colour),
        lot: Some(trimmed(request.lot.as_deref())).filter(|lot| !lot.is_empty()),
        place: trimmed(request.place.as_deref()),
        weighed: printed(reader, "weighed", &request.weighed, cells::weighed),
        price: printed(reader, "price", &request.price, cells::price),
        notes: trimmed(request.notes.as_deref()),
    }
}

/// The lot that a purchase goes to, with its entry.
fn bought(
    writer: &Writer<'_>,
    yarn: Id<Yarn>,
    lot: &Lot,
    entry: &Entry,
) -> Result<Id<Lot>, AppError> {
    let kept = writer.lot_named(yarn, &lot.shade, lot.lot.as_deref(), &lot.place)?;
    let Some(kept) = kept else {
        return Ok(writer.add_lot(yarn, lot, entry)?);
    };
    writer.add_entry(kept.lot.id, entry)?;
    if lot.colour.is_some() {
        writer.colour(yarn, &lot.shade, lot.colour.as_ref())?;
    }
    Ok(kept.lot.id)
}

/// Enters what was used, weighed, reserved or released of a lot.
pub fn enter(
    records: &mut Records,
    kind: EntryKind,
    lot: i64,
    request: &EntryRequest,
) -> Result<RecordChange, AppError> {
    let number = lot.to_string();
    enter_in(records, kind, vec![&number], request, |_| Ok(Id::new(lot)))
}

/// The same of a lot that is named by its yarn, or by its number.
pub fn enter_of(
    records: &mut Records,
    kind: EntryKind,
    choice: &LotChoice,
    request: &EntryRequest,
) -> Result<RecordChange, AppError> {
    let said = choice.said().collect();
    enter_in(records, kind, said, request, |reader| {
        lot_meant(reader, choice)
    })
}

fn enter_in(
    records: &mut Records,
    kind: EntryKind,
    lot: Vec<&str>,
    request: &EntryRequest,
    find: impl FnOnce(&Reader<'_>) -> Result<Id<Lot>, AppError>,
) -> Result<RecordChange, AppError> {
    let mut reader = InputReader::default();
    let read = match kind {
        EntryKind::Weighed => cells::amount_on_scale,
        _ => cells::new_amount,
    };
    let amount = amount(&mut reader, request.amount.as_deref(), read);
    let entry = Entry {
        kind,
        amount: reader.checked(amount)?,
        on: today(),
        notes: trimmed(request.what_for.as_deref()),
    };
    let how_much = [entry.amount.text.as_str(), entry.notes.as_str()];
    let what = std::iter::once(kind.name()).chain(lot).chain(how_much);
    records.change_once(what, |writer, made| {
        let id = match number_made(made) {
            Some(number) => Id::new(number),
            None => {
                let id = find(writer)?;
                writer.add_entry(id, &entry)?;
                id
            }
        };
        let change = entered(writer, id, &entry, reader.notes)?;
        Ok((id.number().to_string(), change))
    })
}

/// Everything that a purchase says, to tell it from others.
fn said_of(request: &BuyRequest) -> impl Iterator<Item = &str> {
    let said = [request.yarn.as_deref(), request.amount.as_deref()];
    let of_lot = request.lot.given().map(|(_, text)| text);
    let said = said.into_iter().flatten().chain(of_lot);
    std::iter::once(EntryKind::Bought.name()).chain(said)
}

/// The text of a field that may be empty.
fn trimmed(text: Option<&str>) -> String {
    text.map_or_else(String::new, |text| text.trim().to_owned())
}

fn amount(
    reader: &mut InputReader,
    text: Option<&str>,
    read: fn(&str) -> Result<Reading<StockAmount>, ReadError>,
) -> Option<Printed<StockAmount>> {
    let value = reader.required("amount", text, read)?;
    let printed = trimmed(text);
    let has_unit = printed.contains(char::is_alphabetic);
    let text = has_unit.then_some(printed);
    Some(Printed::new(
        text.unwrap_or_else(|| value.to_string()),
        value,
    ))
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

/// What a lot is reserved for, where its lines say so.
pub(super) fn reserved_for(reader: &Reader<'_>, lot: Id<Lot>) -> Result<Vec<String>, AppError> {
    let open = reader.reservations(lot)?.into_iter().map(|(what, _)| what);
    Ok(open.filter(|what| !what.is_empty()).collect())
}

/// What was entered. It is made before the entry is kept for good: what is reported as
/// failed was not entered.
fn entered(
    reader: &Reader<'_>,
    id: Id<Lot>,
    entry: &Entry,
    notes: Vec<FieldNote>,
) -> Result<RecordChange, AppError> {
    let stock = reader.lot(id)?;
    let beyond = match stock.balance.overpromised(stock.skein_mass) {
        Some(amount) => Some(Overpromise {
            amount,
            reserved_for: reserved_for(reader, id)?,
        }),
        None => None,
    };
    Ok(RecordChange::Entered {
        kind: entry.kind,
        amount: entry.amount.value,
        line: Box::new(line(reader, stock)?),
        beyond,
        notes,
    })
}
