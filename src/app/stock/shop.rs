//! The shop floor: lots named by barcode or name, sales, reservations by customer, and
//! what runs low.

use super::{LotChoice, line};
use crate::{
    app::{
        AppError, InputReader, RecordChange, Records, Reservation,
        input::filled,
        once::number_made,
        projects::reservations::{Reservations, release},
        question::lookup::yarn_in,
        records::today,
    },
    label::{cells, measured::measured_range},
    record::{Entry, EntryKind, Id, Lot, Printed, StockAmount},
    store::{LotInStock, Reader, Writer},
    words::{fold, joined},
};

/// As many digits name a lot by its number; more are a barcode.
const LOT_DIGITS: usize = 7;

impl LotChoice {
    /// What tells it from others.
    pub(super) fn said(&self) -> impl Iterator<Item = &str> {
        let words = [&self.shade, &self.lot, &self.place];
        let words = words.into_iter().filter_map(|word| word.as_deref());
        std::iter::once(self.which.as_str()).chain(words)
    }
}

/// The lot that is meant: by its number, or the one of a yarn of which something is left.
pub(super) fn lot_meant(reader: &Reader<'_>, choice: &LotChoice) -> Result<Id<Lot>, AppError> {
    let text = choice.which.trim();
    let is_number = text.len() <= LOT_DIGITS && text.chars().all(|c| c.is_ascii_digit());
    if let (true, Ok(number)) = (is_number, text.parse()) {
        return Ok(reader.lot(Id::new(number))?.lot.id);
    }
    let yarn = yarn_in(reader, text)?.yarn;
    let mut lots = reader.lots_of(yarn.id)?;
    let is_like = |word: &Option<String>, text: &str| {
        let word = filled(word).map(fold);
        word.is_none_or(|word| fold(text).contains(&word))
    };
    lots.retain(|stock| {
        let lot = &stock.lot.record;
        is_like(&choice.shade, &lot.shade)
            && is_like(&choice.lot, lot.lot.as_deref().unwrap_or_default())
            && is_like(&choice.place, &lot.place)
    });
    let is_there = |stock: &LotInStock| !stock.balance.held.is_nothing();
    if lots.iter().any(is_there) {
        lots.retain(is_there);
    }
    match lots.as_slice() {
        [only] => Ok(only.lot.id),
        [] => Err(AppError::NoSuchLot(yarn.record.title())),
        lots => Err(AppError::WhichLot {
            yarn: yarn.record.title(),
            lots: lots.iter().map(lot_words).collect(),
        }),
    }
}

/// `6: moss, A417, blue trunk`.
fn lot_words(stock: &LotInStock) -> String {
    let lot = &stock.lot.record;
    let words = [lot.shade.as_str(), lot.lot.as_deref().unwrap_or_default()];
    let words = words.into_iter().chain([lot.place.as_str()]);
    let words = joined(words.filter(|word| !word.is_empty()), ", ");
    let all = [stock.lot.id.number().to_string(), words];
    joined(all.into_iter().filter(|text| !text.is_empty()), ": ")
}

/// A sale: what was reserved for the customer is released first, as far as it goes.
pub fn sell(
    records: &mut Records,
    choice: &LotChoice,
    amount: Option<&str>,
    customer: Option<&str>,
) -> Result<RecordChange, AppError> {
    let mut input = InputReader::default();
    let read = input.required("amount", amount, cells::new_amount);
    let amount = input.checked(read)?;
    let customer = customer.map_or("", str::trim);
    let text = amount.to_string();
    let what = ["sell"].into_iter().chain(choice.said());
    let what: Vec<&str> = what.chain([text.as_str(), customer]).collect();
    records.change_once(what, |writer, made| {
        let id = match number_made(made) {
            Some(number) => Id::new(number),
            None => sold(writer, lot_meant(writer, choice)?, amount, customer)?,
        };
        let line = Box::new(line(writer, writer.lot(id)?)?);
        let change = RecordChange::Sold {
            amount,
            customer: customer.to_owned(),
            line,
        };
        Ok((id.number().to_string(), change))
    })
}

fn sold(
    writer: &Writer<'_>,
    id: Id<Lot>,
    amount: StockAmount,
    customer: &str,
) -> Result<Id<Lot>, AppError> {
    let open = writer.reservations(id)?.into_iter();
    let own = open.filter(|(what, _)| !customer.is_empty() && fold(what) == fold(customer));
    for (what_for, reserved) in own {
        let is_more = reserved.milliskeins() > amount.milliskeins() && reserved.milligrams() == 0;
        let released = if is_more { amount } else { reserved };
        writer.add_entry(id, &entry(EntryKind::Released, released, &what_for))?;
    }
    let notes = ["sold", customer].into_iter().filter(|it| !it.is_empty());
    let used = entry(EntryKind::Used, amount, &joined(notes, ": "));
    writer.add_entry(id, &used)?;
    Ok(id)
}

pub(super) fn entry(kind: EntryKind, amount: StockAmount, notes: &str) -> Entry {
    Entry {
        kind,
        amount: Printed::new(amount.to_string(), amount),
        on: today(),
        notes: notes.to_owned(),
    }
}

/// Answer to [`list_reservations`].
#[derive(Debug, Clone)]
pub struct ReservationList {
    /// For whom or what, where only that was asked for.
    pub what_for: Option<String>,
    /// What is reserved, by whom or what it is for.
    pub reservations: Vec<Reservation>,
}

/// What is reserved, for whom or what; all of it, or that of one.
pub fn list_reservations(
    records: &Records,
    what_for: Option<&str>,
) -> Result<ReservationList, AppError> {
    let reader = records.store()?.reader()?;
    Ok(ReservationList {
        reservations: reserved(&reader, what_for)?,
        what_for: what_for.map(str::to_owned),
    })
}

fn reserved(reader: &Reader<'_>, what_for: Option<&str>) -> Result<Vec<Reservation>, AppError> {
    let mut all = Reservations::of(reader)?.all();
    if let Some(wanted) = what_for {
        all.retain(|it| fold(&it.what_for) == fold(wanted));
        if all.is_empty() {
            return Err(AppError::NothingReserved(wanted.to_owned()));
        }
    }
    all.sort_by_key(|it| (fold(&it.what_for), it.title.clone()));
    Ok(all)
}

/// Releases all that is reserved for someone or something.
pub fn release_all(records: &mut Records, what_for: &str) -> Result<RecordChange, AppError> {
    records.change_once(["release", "all", what_for], |writer, made| {
        let all = match made {
            Some(_) => Vec::new(),
            None => reserved(writer, Some(what_for))?,
        };
        let today = today();
        for reservation in &all {
            release(writer, reservation, &today)?;
        }
        let what_for = what_for.to_owned();
        let change = RecordChange::AllReleased {
            what_for,
            released: all,
        };
        Ok((String::new(), change))
    })
}

/// Answer to [`low_stock`].
#[derive(Debug, Clone)]
pub struct LowStock {
    /// What is low is less than this, in skeins, where its yarn does not say.
    pub below: f64,
    /// Whether yarns that say how few are low were asked about by that.
    pub is_by_yarn: bool,
    /// The yarns that are, by shade: the one with the least first.
    pub shades: Vec<LowShade>,
}

/// A shade of which little is left that is not reserved.
#[derive(Debug, Clone)]
pub struct LowShade {
    /// The yarn.
    pub yarn: String,
    /// The shade.
    pub shade: String,
    /// How many skeins are free, grams counted as parts of one where that is known.
    pub free: f64,
    /// Fewer than so many are low.
    pub below: f64,
    /// How many lots they are in.
    pub lots: usize,
}

/// How few skeins of a shade are low, where nobody says.
const LOW: u16 = 3;

/// Shades of yarns that were in the stash and of which fewer skeins than so many are left
/// free: as many as is asked for, else as their yarn says, else three. What is discontinued,
/// or has no label to buy it by, is left out.
pub fn low_stock(records: &Records, below: Option<&str>) -> Result<LowStock, AppError> {
    let mut input = InputReader::default();
    let asked = input.whole("below", below, 1..=1000u16);
    input.check()?;
    let below = f64::from(asked.unwrap_or(LOW));
    let reader = records.store()?.reader()?;
    let mut shades: Vec<LowShade> = Vec::new();
    for stock in reader.lots()? {
        let yarn = reader.yarn(stock.yarn)?.record;
        if yarn.discontinued || measured_range(&yarn.facts).is_some() {
            continue;
        }
        let free = skeins(&stock)?;
        let (title, shade) = (yarn.title(), &stock.lot.record.shade);
        let mut known = shades.iter_mut();
        match known.find(|it| it.yarn == title && fold(&it.shade) == fold(shade)) {
            Some(known) => {
                known.free += free;
                known.lots += 1;
            }
            None => shades.push(LowShade {
                yarn: title,
                shade: shade.clone(),
                free,
                below: match (asked, yarn.low) {
                    (None, Some(low)) => f64::from(low),
                    _ => below,
                },
                lots: 1,
            }),
        }
    }
    shades.retain(|it| it.free < it.below);
    shades.sort_by(|a, b| a.free.total_cmp(&b.free));
    Ok(LowStock {
        below,
        is_by_yarn: asked.is_none(),
        shades,
    })
}

/// Free skeins: grams / mass of one skein. Grams of a skein of unknown mass count as one.
fn skeins(stock: &LotInStock) -> Result<f64, AppError> {
    let free = stock.balance.free(stock.skein_mass)?;
    let of_grams = match (free.milligrams(), stock.skein_mass) {
        (0, _) => 0.0,
        (_, Some(mass)) if mass.as_grams() > 0.0 => free.grams() / mass.as_grams(),
        _ => 1.0,
    };
    Ok(free.skeins() + of_grams)
}
