//! Yarn moved to another place, all of a lot or a part; and a shade that gets another
//! name.

use super::line;
use crate::{
    app::{
        AppError, Fault, FaultKind, InputReader, RecordChange, Records, once::number_made,
        question::lookup::yarn_in, records::today,
    },
    label::cells,
    record::{Entry, EntryKind, Id, Lot, Pin, Printed, Project, StockAmount, Stored, Yarn},
    store::{LotInStock, Writer},
    words::{joined, lower_name},
};

/// Moves a lot to another place, or this amount of it. Where the same lot is there
/// already, the amount is added to that one.
pub fn move_lot(
    records: &mut Records,
    number: i64,
    place: &str,
    amount: Option<&str>,
) -> Result<RecordChange, AppError> {
    let mut reader = InputReader::default();
    let place = place.trim();
    reader.must_fill("place", &Some(place.to_owned()).filter(|it| !it.is_empty()));
    let moved = reader.optional("amount", amount, cells::new_amount);
    reader.check()?;
    let text = number.to_string();
    let what = ["move", "lot", &text, place, amount.unwrap_or_default()];
    records.change_once(what, |writer, made| {
        let id = match number_made(made) {
            Some(number) => Id::new(number),
            None => moved_to(writer, Id::new(number), place, moved)?,
        };
        let line = Box::new(line(writer, writer.lot(id)?)?);
        let change = RecordChange::LotMoved {
            amount: moved,
            line,
        };
        Ok((id.number().to_string(), change))
    })
}

/// The lot at the new place.
fn moved_to(
    writer: &Writer<'_>,
    id: Id<Lot>,
    place: &str,
    amount: Option<StockAmount>,
) -> Result<Id<Lot>, AppError> {
    let stock = writer.lot(id)?;
    let lot = Lot {
        place: place.to_owned(),
        ..stock.lot.record.clone()
    };
    if lower_name(place) == lower_name(&stock.lot.record.place) {
        let kind = FaultKind::SamePlace(place.to_owned());
        return Err(AppError::Faults(vec![Fault::new("place", kind)]));
    }
    let there = writer.lot_named(stock.yarn, &lot.shade, lot.lot.as_deref(), place)?;
    match (amount, there) {
        (None, None) => {
            writer.update_lot(id, stock.lot.version, &lot)?;
            Ok(id)
        }
        (amount, there) => {
            let amount = amount.unwrap_or(stock.balance.held);
            transfer(writer, &stock, (&lot, there), amount)
        }
    }
}

/// Takes an amount out of one lot and puts it into the same at another place.
fn transfer(
    writer: &Writer<'_>,
    from: &LotInStock,
    (lot, there): (&Lot, Option<LotInStock>),
    amount: StockAmount,
) -> Result<Id<Lot>, AppError> {
    let entry = |kind, place: &str| Entry {
        kind,
        amount: Printed::new(amount.to_string(), amount),
        on: today(),
        notes: joined(
            ["moved", place].into_iter().filter(|it| !it.is_empty()),
            ": ",
        ),
    };
    let taken = entry(EntryKind::Used, &lot.place);
    let put = entry(EntryKind::Bought, &from.lot.record.place);
    writer.add_entry(from.lot.id, &taken)?;
    match there {
        Some(there) => {
            writer.add_entry(there.lot.id, &put)?;
            Ok(there.lot.id)
        }
        None => Ok(writer.add_lot(from.yarn, lot, &put)?),
    }
}

/// Gives a shade of a yarn another name: in its lots, in what it comes in, and where it
/// was chosen for a project.
pub fn rename_shade(
    records: &mut Records,
    yarn: &str,
    from: &str,
    to: &str,
) -> Result<RecordChange, AppError> {
    let (from, to) = (from.trim(), to.trim());
    let mut reader = InputReader::default();
    reader.must_fill("to", &Some(to.to_owned()).filter(|it| !it.is_empty()));
    reader.check()?;
    records.change_once(["shade", yarn, from, to], |writer, made| {
        let yarn = match number_made(made) {
            Some(number) => writer.yarn(Id::new(number))?,
            None => yarn_in(writer, yarn)?.yarn,
        };
        let lots = match made {
            Some(_) => 0,
            None => renamed(writer, &yarn, from, to)?,
        };
        let change = RecordChange::ShadeRenamed {
            yarn: yarn.record.title(),
            from: from.to_owned(),
            to: to.to_owned(),
            lots,
        };
        Ok((yarn.id.number().to_string(), change))
    })
}

/// The same of the yarn with this number.
pub fn rename_shade_of(
    records: &mut Records,
    number: i64,
    from: &str,
    to: &str,
) -> Result<RecordChange, AppError> {
    let (from, to) = (from.trim(), to.trim());
    let mut reader = InputReader::default();
    reader.must_fill("from", Some(from));
    reader.must_fill("to", Some(to));
    reader.check()?;
    records.store_mut()?.write(|writer| {
        let yarn = writer.yarn(Id::new(number))?;
        let lots = renamed(writer, &yarn, from, to)?;
        Ok(RecordChange::ShadeRenamed {
            yarn: yarn.record.title(),
            from: from.to_owned(),
            to: to.to_owned(),
            lots,
        })
    })
}

/// How many lots are of the shade.
fn renamed(
    writer: &Writer<'_>,
    yarn: &Stored<Yarn>,
    from: &str,
    to: &str,
) -> Result<usize, AppError> {
    let is_meant = |shade: &str| lower_name(shade) == lower_name(from);
    let of_yarn = writer.lots_of(yarn.id)?;
    let shades = of_yarn.iter().map(|stock| stock.lot.record.shade.clone());
    let mut all: Vec<String> = shades.chain(yarn.record.shades.clone()).collect();
    let lots = of_yarn
        .iter()
        .filter(|stock| is_meant(&stock.lot.record.shade));
    let lots: Vec<&LotInStock> = lots.collect();
    for stock in &lots {
        let lot = Lot {
            shade: to.to_owned(),
            ..stock.lot.record.clone()
        };
        writer.update_lot(stock.lot.id, stock.lot.version, &lot)?;
    }
    let mut record = yarn.record.clone();
    let own = record.shades.iter_mut().filter(|shade| is_meant(shade));
    own.for_each(|shade| *shade = to.to_owned());
    if record != yarn.record {
        writer.update_yarn(yarn.id, yarn.version, &record)?;
    } else if lots.is_empty() {
        all.sort();
        all.dedup();
        return Err(AppError::Unknown {
            what: "shade",
            name: from.to_owned(),
            near: Vec::new(),
            all,
        });
    }
    rename_pins(writer, yarn.id, &is_meant, to)?;
    Ok(lots.len())
}

fn rename_pins(
    writer: &Writer<'_>,
    yarn: Id<Yarn>,
    is_meant: &dyn Fn(&str) -> bool,
    to: &str,
) -> Result<(), AppError> {
    let is_of = |pin: &Pin| pin.yarn == yarn && pin.shade.as_deref().is_some_and(is_meant);
    for kept in writer.projects()? {
        let mut project: Project = kept.record.clone();
        let own = project.pins.iter_mut().filter(|pin| is_of(pin));
        own.for_each(|pin| pin.shade = Some(to.to_owned()));
        if project != kept.record {
            writer.update_project(kept.id, kept.version, &project)?;
        }
    }
    Ok(())
}
