//! What of the stash is reserved, and for what. Yarn of a project is reserved under its
//! name, so what somebody reserved by hand under that name is the project's as well.

use crate::{
    app::AppError,
    record::{Entry, EntryKind, Id, Lot, Printed, RecordError, StockAmount},
    store::{LotInStock, Reader, Writer},
    words::fold,
};

/// What of a lot is reserved for one thing.
#[derive(Debug, Clone, PartialEq)]
pub struct Reservation {
    /// Number of the lot.
    pub lot: i64,
    /// What people call the lot.
    pub title: String,
    /// What for, as it was said.
    pub what_for: String,
    /// How much.
    pub amount: StockAmount,
}

impl Reservation {
    fn is_for(&self, name: &str) -> bool {
        fold(&self.what_for) == fold(name)
    }
}

/// All reservations.
#[derive(Debug, Clone, Default)]
pub(in crate::app) struct Reservations(Vec<Reservation>);

impl Reservations {
    pub(in crate::app) fn of(reader: &Reader<'_>) -> Result<Self, AppError> {
        let mut all = Vec::new();
        for stock in reader.lots()? {
            if stock.balance.reserved.is_nothing() {
                continue;
            }
            let yarn = reader.yarn(stock.yarn)?.record.title();
            let title = stock.lot.record.title(&yarn);
            let open = reader.reservations(stock.lot.id)?.into_iter();
            all.extend(open.map(|(what_for, amount)| Reservation {
                lot: stock.lot.id.number(),
                title: title.clone(),
                what_for,
                amount,
            }));
        }
        Ok(Self(all))
    }

    /// All of them, in the order of the lots.
    pub(in crate::app) fn all(self) -> Vec<Reservation> {
        self.0
    }

    /// What is reserved for the project of this name.
    pub(in crate::app) fn of_project(&self, name: &str) -> Vec<Reservation> {
        let all = self.0.iter();
        all.filter(|it| it.is_for(name)).cloned().collect()
    }

    /// What may be used of a lot by those of these names.
    pub(in crate::app) fn usable(
        &self,
        stock: &LotInStock,
        names: &[String],
    ) -> Result<StockAmount, AppError> {
        let of_lot = self.0.iter().filter(|it| it.lot == stock.lot.id.number());
        let own = of_lot.filter(|it| names.iter().any(|name| it.is_for(name)));
        let own = own
            .map(|it| it.amount)
            .try_fold(StockAmount::default(), StockAmount::plus)?;
        Ok(stock.balance.usable_with(own, stock.skein_mass)?)
    }
}

/// Takes a reservation back, as far as so much is still reserved; how much that is.
pub(in crate::app) fn release(
    writer: &Writer<'_>,
    taken_back: &Reservation,
    on: &str,
) -> Result<StockAmount, AppError> {
    let lot = Id::<Lot>::new(taken_back.lot);
    let stock = writer.lot(lot)?;
    let kind = EntryKind::Released;
    // Some of it may have been released without words of what for.
    let amount = match stock
        .balance
        .after(kind, taken_back.amount, stock.skein_mass)
    {
        Err(RecordError::MoreThanReserved { .. }) => stock.balance.reserved,
        _ => taken_back.amount,
    };
    enter(writer, kind, (lot, amount), (&taken_back.what_for, on))?;
    Ok(amount)
}

/// Adds a line to the ledger of a lot, unless it is of nothing.
pub(in crate::app) fn enter(
    writer: &Writer<'_>,
    kind: EntryKind,
    (lot, amount): (Id<Lot>, StockAmount),
    (what_for, on): (&str, &str),
) -> Result<(), AppError> {
    if amount.is_nothing() {
        return Ok(());
    }
    let entry = Entry {
        kind,
        amount: Printed::new(amount.to_string(), amount),
        on: on.to_owned(),
        notes: what_for.to_owned(),
    };
    writer.add_entry(lot, &entry)?;
    Ok(())
}
