//! Stock from a table: each row is one lot in one place.

use super::{
    Batch, Difference, Import, RowChange, RowFaultKind, Standing, no_such_yarn, yarn_title,
};
use crate::{
    app::{AppError, records::today},
    files::csv::StockRow,
    record::{Entry, EntryKind, Id, Lot, Yarn},
    store::LotInStock,
    words::fold,
};
impl Import for StockRow {
    type KeptRecord = LotInStock;

    fn title(&self) -> String {
        yarn_title(&self.maker, &self.name)
    }

    fn add(&self, batch: &mut Batch<'_>) -> Result<Standing<Self::KeptRecord>, AppError> {
        let writer = batch.writer;
        let Some(yarn) = writer.yarn_named(self.maker.as_str(), self.name.as_str())? else {
            let fault = no_such_yarn(&self.maker, &self.name, writer)?;
            return Ok(Standing::Refused(fault));
        };
        let Lot {
            shade, lot, place, ..
        } = &self.lot;
        let Some(kept) = writer.lot_named(yarn.id, shade, lot.as_deref(), place)? else {
            if let Some(twin) = self.likely_twin(yarn.id, batch)? {
                let title = twin.lot.record.title(&yarn.record.title());
                let fault = RowFaultKind::LotRenamed {
                    number: twin.lot.id.number(),
                    title,
                };
                return Ok(Standing::Refused(fault));
            }
            let added = writer.add_lot(yarn.id, &self.lot, &entry(self, EntryKind::Bought))?;
            batch.seen.insert(added.number());
            return Ok(Standing::Added(None));
        };
        if !batch.seen.insert(kept.lot.id.number()) {
            let fault = RowFaultKind::RepeatedLot(self.lot.title(&yarn.record.title()));
            return Ok(Standing::Refused(fault));
        }
        if has_amount(&kept, self) && kept.lot.record == self.lot {
            return Ok(Standing::Same);
        }
        let difference = Difference::Held {
            kept: kept.balance.held,
            stated: self.amount.value,
        };
        let title = self.lot.title(&yarn.record.title());
        let change = RowChange { title, difference };
        Ok(Standing::Differs(kept, change))
    }

    fn replace(&self, kept: Self::KeptRecord, batch: &Batch<'_>) -> Result<(), AppError> {
        if kept.lot.record != self.lot {
            let (id, version) = (kept.lot.id, kept.lot.version);
            batch.writer.update_lot(id, version, &self.lot)?;
        }
        if !has_amount(&kept, self) {
            let weighed = entry(self, EntryKind::Weighed);
            batch.writer.add_entry(kept.lot.id, &weighed)?;
        }
        Ok(())
    }
}

impl StockRow {
    /// The kept lot that this row may be under another name: of the same shade and
    /// amount, in the same place, where only one of the two has a dye lot.
    fn likely_twin(
        &self,
        yarn: Id<Yarn>,
        batch: &Batch<'_>,
    ) -> Result<Option<LotInStock>, AppError> {
        let Lot {
            shade, lot, place, ..
        } = &self.lot;
        let kept = match lot {
            Some(_) => batch.writer.lot_named(yarn, shade, None, place)?,
            None => {
                let lots = batch.writer.lots_of(yarn)?.into_iter();
                let here = |kept: &LotInStock| {
                    let lot = &kept.lot.record;
                    fold(&lot.shade) == fold(shade) && fold(&lot.place) == fold(place)
                };
                lots.filter(here).find(|kept| has_amount(kept, self))
            }
        };
        let is_twin = |kept: &LotInStock| {
            has_amount(kept, self) && !batch.seen.contains(kept.lot.id.number())
        };
        Ok(kept.filter(is_twin))
    }
}

/// Whether a row has the amount that is there now, or that was there at first.
fn has_amount(kept: &LotInStock, row: &StockRow) -> bool {
    [kept.opening.amount.value, kept.balance.held].contains(&row.amount.value)
}

fn entry(row: &StockRow, kind: EntryKind) -> Entry {
    Entry {
        kind,
        amount: row.amount.clone(),
        on: today(),
        notes: "imported".to_owned(),
    }
}
