//! Reservations from a table: each row is what of one lot is promised for one thing.

use super::{
    Batch, Difference, Import, RowChange, RowFaultKind, Standing, no_such_yarn, yarn_title,
};
use crate::{
    app::{
        AppError,
        projects::{Reservation, reservations::release},
        records::today,
    },
    files::csv::ReservationRow,
    record::{Entry, EntryKind, Id, Lot, Printed, StockAmount},
    store::{LotInStock, Reader, StoreError, Writer},
};

impl Import for ReservationRow {
    /// The lot, and what of it is reserved for the same thing.
    type KeptRecord = (Id<Lot>, StockAmount);

    fn title(&self) -> String {
        yarn_title(&self.maker, &self.name)
    }

    fn add(&self, batch: &mut Batch<'_>) -> Result<Standing<Self::KeptRecord>, AppError> {
        let writer = batch.writer;
        let Some(yarn) = writer.yarn_named(self.maker.as_str(), self.name.as_str())? else {
            let fault = no_such_yarn(&self.maker, &self.name, writer)?;
            return Ok(Standing::Refused(fault));
        };
        let title = self.lot_title(&yarn.record.title());
        let lot = writer.lot_named(yarn.id, &self.shade, self.lot.as_deref(), &self.place)?;
        let Some(lot) = lot.map(|kept| kept.lot.id) else {
            return Ok(Standing::Refused(RowFaultKind::NoSuchLot(title)));
        };
        if !batch.reserved.insert((lot.number(), self.what_for.clone())) {
            return Ok(Standing::Refused(RowFaultKind::RepeatedReservation(title)));
        }
        let open = writer.reservations(lot)?.into_iter();
        let mut open = open.filter(|(what_for, _)| *what_for == self.what_for);
        let Some((_, kept)) = open.next() else {
            let refused = self.reserve(writer, lot, title)?;
            return Ok(refused.map_or(Standing::Added(None), Standing::Refused));
        };
        if kept == self.amount.value {
            return Ok(Standing::Same);
        }
        let stated = self.amount.value;
        let difference = Difference::Reserved { kept, stated };
        let change = RowChange { title, difference };
        Ok(Standing::Differs((lot, kept), change))
    }

    /// What was reserved is released, and what the row says reserved.
    fn replace(
        &self,
        (lot, kept): Self::KeptRecord,
        batch: &Batch<'_>,
    ) -> Result<Option<RowFaultKind>, AppError> {
        let title = self.lot_title(&self.title());
        let taken_back = Reservation {
            lot: lot.number(),
            title: title.clone(),
            what_for: self.what_for.clone(),
            amount: kept,
        };
        release(batch.writer, &taken_back, &today())?;
        self.reserve(batch.writer, lot, title)
    }
}

impl ReservationRow {
    fn lot_title(&self, yarn: &str) -> String {
        let lot = Lot {
            shade: self.shade.clone(),
            colour: None,
            lot: self.lot.clone(),
            place: self.place.clone(),
            weighed: None,
            price: None,
            notes: String::new(),
        };
        lot.title(yarn)
    }

    /// More than is free is refused, as it is everywhere.
    fn reserve(
        &self,
        writer: &Writer<'_>,
        lot: Id<Lot>,
        title: String,
    ) -> Result<Option<RowFaultKind>, AppError> {
        let entry = Entry {
            kind: EntryKind::Reserved,
            amount: self.amount.clone(),
            on: today(),
            notes: self.what_for.clone(),
        };
        match writer.add_entry(lot, &entry) {
            Ok(_) => Ok(None),
            Err(StoreError::Record(why)) => Ok(Some(RowFaultKind::NotReserved { lot: title, why })),
            Err(other) => Err(other.into()),
        }
    }
}

/// A row for everything that something of a lot is reserved for. What was released without
/// saying what for counts against the last.
pub(in crate::app) fn rows_of(
    reader: &Reader<'_>,
    stock: &LotInStock,
) -> Result<Vec<ReservationRow>, AppError> {
    let mut left = stock.balance.reserved;
    if left.is_nothing() {
        return Ok(Vec::new());
    }
    let yarn = reader.yarn(stock.yarn)?.record;
    let mut rows = Vec::new();
    for (what_for, amount) in reader.reservations(stock.lot.id)? {
        let rest = left.less(amount, stock.skein_mass);
        let amount = rest.as_ref().map_or(left, |_| amount);
        left = rest.unwrap_or_default();
        if amount.is_nothing() {
            continue;
        }
        let lot = stock.lot.record.clone();
        rows.push(ReservationRow {
            maker: yarn.maker.clone(),
            name: yarn.name.clone(),
            shade: lot.shade,
            lot: lot.lot,
            place: lot.place,
            amount: Printed::new(amount.to_string(), amount),
            what_for,
        });
    }
    Ok(rows)
}
