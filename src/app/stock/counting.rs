//! A count of the shelves with its differences: of a text, or one that goes on from scan
//! to scan. That stays in the records until its differences are recorded, so that nothing
//! is lost where a browser is closed.

use super::{
    LotChoice, StockLine, line,
    shop::{entry, lot_meant},
};
use crate::{
    app::{AppError, Fault, FaultKind, InputReader, Records, records::today},
    label::cells,
    record::{EntryKind, Id, Lot, StockAmount},
    store::{KeptCount, Reader, Writer},
    words::fold,
};
use std::hash::{DefaultHasher, Hash, Hasher};

/// Answer to [`count_stock`]: what was counted, and where it differs.
#[derive(Debug, Clone)]
pub struct StockCount {
    /// Each lot that was counted.
    pub counted: Vec<CountedLot>,
    /// Lots that should be there and were not counted.
    pub missed: Vec<StockLine>,
    /// Whether the differences were booked.
    pub is_booked: bool,
    /// Whether they were booked before, under the same text; nothing was changed.
    pub made_before: bool,
}

/// A lot that was counted.
#[derive(Debug, Clone)]
pub struct CountedLot {
    /// The lot as the records have it.
    pub line: StockLine,
    /// What was counted of it.
    pub counted: StockAmount,
}

impl CountedLot {
    /// Whether the records say otherwise.
    pub fn differs(&self) -> bool {
        self.line.balance.held != self.counted
    }
}

impl StockCount {
    /// Those of which the records say otherwise.
    pub fn differences(&self) -> impl Iterator<Item = &CountedLot> {
        self.counted.iter().filter(|it| it.differs())
    }
}

/// Compares a count of the shelves with the records. A line is a barcode, which counts
/// one, or a barcode, name or number of a lot, then `=`, `;` or a tab, and how much.
/// Where `book` says so, every difference is entered as a weighing, all or none.
pub fn count_stock(
    records: &mut Records,
    text: &str,
    place: Option<&str>,
    book: bool,
) -> Result<StockCount, AppError> {
    if !book {
        return counted(&records.store()?.reader()?, text, place);
    }
    let mut lines = DefaultHasher::new();
    text.lines().for_each(|line| line.trim().hash(&mut lines));
    let fingerprint = lines.finish().to_string();
    let what = ["count", place.unwrap_or_default(), &fingerprint];
    records.once_under_text(what, |writer, made| {
        let mut count = counted(writer, text, place)?;
        match made {
            Some(_) => count.made_before = true,
            None => book_differences(writer, &mut count)?,
        }
        Ok((String::new(), count))
    })
}

/// Enters every difference of a count as a weighing.
fn book_differences(writer: &Writer<'_>, count: &mut StockCount) -> Result<(), AppError> {
    for lot in count.differences() {
        let id = Id::new(lot.line.number);
        writer.add_entry(id, &entry(EntryKind::Weighed, lot.counted, "count"))?;
    }
    count.is_booked = true;
    Ok(())
}

fn counted(reader: &Reader<'_>, text: &str, place: Option<&str>) -> Result<StockCount, AppError> {
    let mut counted = Vec::new();
    let mut faults = Vec::new();
    let lines = text.lines().map(str::trim).zip(1..);
    for (typed, number) in lines.filter(|(typed, _)| !typed.is_empty()) {
        match counted_line(reader, typed, place) {
            Ok(line) => counted.push(line),
            Err(why) => faults.push(Fault::new(
                "",
                FaultKind::CountedLine {
                    line: number,
                    typed: typed.to_owned(),
                    why: why.to_string(),
                },
            )),
        }
    }
    if counted.is_empty() && faults.is_empty() {
        faults.push(Fault::new("", FaultKind::NothingCounted));
    }
    if !faults.is_empty() {
        return Err(AppError::Faults(faults));
    }
    compared(reader, counted, place)
}

/// What was counted of each lot, where it differs, and what was not counted.
fn compared(
    reader: &Reader<'_>,
    lines: impl IntoIterator<Item = (Id<Lot>, StockAmount)>,
    place: Option<&str>,
) -> Result<StockCount, AppError> {
    let mut counted: Vec<CountedLot> = Vec::new();
    for (id, amount) in lines {
        add(reader, &mut counted, id, amount)?;
    }
    let is_here = |lot: &Lot| place.is_none_or(|place| fold(&lot.place) == fold(place));
    let mut missed = Vec::new();
    for stock in reader.lots()? {
        let is_counted = counted
            .iter()
            .any(|it| it.line.number == stock.lot.id.number());
        let is_empty = stock.balance.held.is_nothing();
        if !is_counted && !is_empty && is_here(&stock.lot.record) {
            missed.push(line(reader, stock)?);
        }
    }
    Ok(StockCount {
        counted,
        missed,
        is_booked: false,
        made_before: false,
    })
}

/// The lot of a line, and how much was counted of it.
fn counted_line(
    reader: &Reader<'_>,
    typed: &str,
    place: Option<&str>,
) -> Result<(Id<Lot>, StockAmount), AppError> {
    let split = typed.rsplit_once(['=', ';', '\t']);
    let (which, amount) = split.unwrap_or((typed, "1"));
    let choice = LotChoice {
        which: which.trim().to_owned(),
        place: place.map(str::to_owned),
        ..LotChoice::default()
    };
    let id = lot_meant(reader, &choice)?;
    Ok((id, read_amount(amount.trim())?))
}

/// A whole number counts skeins.
fn read_amount(amount: &str) -> Result<StockAmount, AppError> {
    let mut input = InputReader::default();
    let is_whole = !amount.is_empty() && amount.chars().all(|c| c.is_ascii_digit());
    let read = match (is_whole, amount.parse::<f64>()) {
        (true, Ok(skeins)) => Some(StockAmount::new(skeins, None)?),
        _ => input.required("amount", Some(amount), cells::new_amount),
    };
    let read = input.checked(read);
    read.map_err(|_| AppError::NotCounted(amount.to_owned()))
}

/// The same lot counted twice is counted together, as by a scanner.
fn add(
    reader: &Reader<'_>,
    counted: &mut Vec<CountedLot>,
    id: Id<Lot>,
    amount: StockAmount,
) -> Result<(), AppError> {
    match counted.iter_mut().find(|it| it.line.number == id.number()) {
        Some(known) => known.counted = known.counted.plus(amount)?,
        None => counted.push(CountedLot {
            line: line(reader, reader.lot(id)?)?,
            counted: amount,
        }),
    }
    Ok(())
}

/// A count that is under way.
#[derive(Debug, Clone)]
pub struct CountSession {
    /// Its number, day and place.
    pub count: KeptCount,
    /// What was entered, the last first.
    pub lines: Vec<SessionLine>,
    /// Where it differs from the records so far.
    pub so_far: StockCount,
}

/// One line that was entered.
#[derive(Debug, Clone)]
pub struct SessionLine {
    /// Its number.
    pub number: i64,
    /// The lot as the records have it.
    pub line: StockLine,
    /// How much was counted.
    pub counted: StockAmount,
}

/// The counts that are under way.
pub fn counts_under_way(records: &Records) -> Result<Vec<KeptCount>, AppError> {
    Ok(records.store()?.reader()?.counts_under_way()?)
}

/// Begins a count of a place, or of all; its number.
pub fn begin_count(records: &mut Records, place: Option<&str>) -> Result<i64, AppError> {
    let place = place.map_or("", str::trim);
    let store = records.store_mut()?;
    Ok(store.write(|writer| writer.begin_count(place, &today()))?)
}

/// The count with this number.
pub fn count_session(records: &Records, number: i64) -> Result<CountSession, AppError> {
    session(&records.store()?.reader()?, number)
}

fn session(reader: &Reader<'_>, number: i64) -> Result<CountSession, AppError> {
    let count = reader.count_under_way(number)?;
    let kept = reader.count_lines(number)?;
    let counted = kept.iter().map(|line| (line.lot, line.amount));
    let so_far = compared(reader, counted, place_of(&count))?;
    let lines = kept.iter().rev().map(|kept| {
        Ok(SessionLine {
            number: kept.number,
            line: line(reader, reader.lot(kept.lot)?)?,
            counted: kept.amount,
        })
    });
    Ok(CountSession {
        lines: lines.collect::<Result<_, AppError>>()?,
        count,
        so_far,
    })
}

/// The place that is counted, where it is one.
fn place_of(count: &KeptCount) -> Option<&str> {
    Some(count.place.as_str()).filter(|place| !place.is_empty())
}

/// Adds what was scanned or typed to a count: one where no amount is said.
pub fn add_to_count(
    records: &mut Records,
    number: i64,
    which: &str,
    amount: Option<&str>,
) -> Result<(), AppError> {
    records.store_mut()?.write(|writer| {
        let count = writer.count_under_way(number)?;
        let choice = LotChoice {
            which: which.to_owned(),
            place: place_of(&count).map(str::to_owned),
            ..LotChoice::default()
        };
        let lot = lot_meant(writer, &choice)?;
        let amount = read_amount(
            amount
                .map(str::trim)
                .filter(|it| !it.is_empty())
                .unwrap_or("1"),
        )?;
        Ok(writer.add_count_line(number, lot, amount)?)
    })
}

/// Takes a line out of a count.
pub fn take_from_count(records: &mut Records, number: i64, line: i64) -> Result<(), AppError> {
    let store = records.store_mut()?;
    Ok(store.write(|writer| writer.remove_count_line(number, line))?)
}

/// Records the differences of a count as one change, and ends it.
pub fn book_count(records: &mut Records, number: i64) -> Result<StockCount, AppError> {
    records.store_mut()?.write(|writer| {
        let mut count = session(writer, number)?.so_far;
        book_differences(writer, &mut count)?;
        writer.end_count(number)?;
        Ok(count)
    })
}

/// Ends a count and records nothing.
pub fn drop_count(records: &mut Records, number: i64) -> Result<(), AppError> {
    let store = records.store_mut()?;
    Ok(store.write(|writer| writer.end_count(number))?)
}
