//! Two yarns that are one, entered twice: what belongs to the one goes to the other, and
//! the one is removed. All of it is one change, which [`super::undo`] takes back.

use super::{
    Reader, StoreError, Writer,
    changes::{Action, RecordKind, Step},
    lots::title,
};
use crate::record::{Id, Lot, Yarn};

impl Reader<'_> {
    /// The numbers of the swatches of a yarn.
    fn swatch_numbers(&self, yarn: Id<Yarn>) -> Result<Vec<i64>, StoreError> {
        let sql = "SELECT id FROM swatch WHERE yarn = ? ORDER BY id";
        self.db.all("swatch", sql, [yarn.number()])
    }
}

impl Writer<'_> {
    /// Puts a lot under another yarn, as this lot says it now; its ledger goes with it.
    pub fn give_lot(&self, id: Id<Lot>, to: Id<Yarn>, lot: &Lot) -> Result<(), StoreError> {
        self.db.whole(|| {
            self.yarn(to)?;
            let kept = self.lot(id)?;
            if kept.lot.record != *lot {
                self.update_lot(id, kept.lot.version, lot)?;
            }
            let before = self.rows_of(RecordKind::Lot, id.number())?;
            let sql = "UPDATE stock_lot SET yarn = ?, version = version + 1 WHERE id = ?";
            let moved = self.db.run(sql, (to.number(), id.number()));
            moved.map_err(|error| error.or_duplicate("lot", || title(lot)))?;
            self.ledger_still_holds(id, lot, to)?;
            let step = Step::new(RecordKind::Lot, Action::Changed, id.number());
            self.write_down(step.of(to).with_before(before))
        })
    }

    /// Gives the swatches of one yarn to another; how many they are.
    pub fn give_swatches(&self, from: Id<Yarn>, to: Id<Yarn>) -> Result<usize, StoreError> {
        let swatches = self.swatch_numbers(from)?;
        for number in &swatches {
            let before = self.rows_of(RecordKind::Swatch, *number)?;
            let sql = "UPDATE swatch SET yarn = ?, version = version + 1 WHERE id = ?";
            self.db.run(sql, (to.number(), number))?;
            let step = Step::new(RecordKind::Swatch, Action::Changed, *number);
            self.write_down(step.of(to).with_before(before))?;
        }
        Ok(swatches.len())
    }

    /// Gives the colours of shades of one yarn to another, where they are not known of it.
    pub fn give_colours(&self, from: Id<Yarn>, to: Id<Yarn>) -> Result<(), StoreError> {
        for (shade, colour) in self.colours_of(from)? {
            if self.colour_of(to, &shade)?.is_none() {
                self.colour(to, &shade, Some(&colour))?;
            }
        }
        Ok(())
    }
}
