//! Stock from a table: each row is one lot in one place.

use super::{
    Batch, Difference, FieldChange, Import, RowChange, RowFaultKind, Standing, no_such_yarn,
    yarn_title,
};
use crate::{
    app::{AppError, records::today},
    files::csv::StockRow,
    record::{Entry, EntryKind, Id, Lot, Yarn},
    store::LotInStock,
    words::{fold, lower_name},
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
        if let Some(fault) = self.other_colour(yarn.id, batch)? {
            return Ok(Standing::Refused(fault));
        }
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
        let lot = self.lot_beside(&kept);
        let difference = match has_amount(&kept, self) {
            true if kept.lot.record == lot => return Ok(Standing::Same),
            true => Difference::Lot(differences(&kept.lot.record, &lot)),
            false => Difference::Held {
                kept: kept.balance.held,
                stated: self.amount.value,
            },
        };
        let title = self.lot.title(&yarn.record.title());
        let change = RowChange { title, difference };
        Ok(Standing::Differs(kept, change))
    }

    fn replace(
        &self,
        kept: Self::KeptRecord,
        batch: &Batch<'_>,
    ) -> Result<Option<RowFaultKind>, AppError> {
        let lot = self.lot_beside(&kept);
        if kept.lot.record != lot {
            let (id, version) = (kept.lot.id, kept.lot.version);
            batch.writer.update_lot(id, version, &lot)?;
        }
        if !has_amount(&kept, self) {
            let weighed = entry(self, EntryKind::Weighed);
            batch.writer.add_entry(kept.lot.id, &weighed)?;
        }
        Ok(None)
    }
}

impl StockRow {
    /// The lot as the row says it; the colour of its shade as it is kept, where the row
    /// says none or the same in other words.
    fn lot_beside(&self, kept: &LotInStock) -> Lot {
        let (stated, known) = (&self.lot.colour, &kept.lot.record.colour);
        let is_said = stated.as_ref().is_some_and(|stated| {
            let known = known.as_ref();
            known.is_none_or(|known| known.value != stated.value)
        });
        let colour = if is_said { stated } else { known };
        Lot {
            colour: colour.clone(),
            ..self.lot.clone()
        }
    }

    /// Another colour of the same shade, as a row before says it or, where nothing may
    /// be replaced, as it is kept.
    fn other_colour(
        &self,
        yarn: Id<Yarn>,
        batch: &mut Batch<'_>,
    ) -> Result<Option<RowFaultKind>, AppError> {
        let Some(stated) = &self.lot.colour else {
            return Ok(None);
        };
        let shade = (yarn.number(), lower_name(&self.lot.shade));
        let before = batch.colours.insert(shade, stated.clone());
        let known = match before {
            None if batch.update => None,
            None => batch.writer.colour_of(yarn, &self.lot.shade)?,
            before => before,
        };
        let other = known.filter(|known| known.value != stated.value);
        Ok(other.map(|other| RowFaultKind::OtherColour {
            shade: self.lot.shade.clone(),
            colours: [other.text, stated.text.clone()],
        }))
    }

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

/// What differs between two records of one lot.
fn differences(kept: &Lot, new: &Lot) -> Vec<FieldChange> {
    let mut found = Vec::new();
    macro_rules! compare {
        ($($field:ident)*) => {$(
            let text = |lot: &Lot| lot.$field.as_ref().map(|printed| printed.text.clone());
            if kept.$field != new.$field {
                let texts = Some([text(kept), text(new)]);
                found.push(FieldChange { field: stringify!($field), texts });
            }
        )*};
    }
    compare! { colour weighed price }
    let differ = [
        ("shade", kept.shade != new.shade),
        ("lot", kept.lot != new.lot),
        ("place", kept.place != new.place),
        ("notes", kept.notes != new.notes),
    ];
    let differ = differ.into_iter().filter(|(_, differs)| *differs);
    found.extend(differ.map(|(field, _)| FieldChange { field, texts: None }));
    found
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
