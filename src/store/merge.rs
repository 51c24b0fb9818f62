//! Two yarns that are one, entered twice: what belongs to the one goes to the other, and
//! the one is removed. All of it is one change, which [`super::undo`] takes back.

use super::{
    KeptSwatch, StoreError, Writer,
    changes::{Action, RecordKind, Step},
    lots::title,
};
use crate::record::{Id, Lot, Yarn};

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

    /// Gives the swatches of one yarn to another, also those in which it was held with
    /// others; how many they are. One in which both were held is of two strands of the one
    /// that stays.
    pub fn give_swatches(&self, from: Id<Yarn>, to: Id<Yarn>) -> Result<usize, StoreError> {
        let swatches = self.swatches_naming(from)?;
        for swatch in &swatches {
            self.give_swatch(swatch, from, to)?;
        }
        Ok(swatches.len())
    }

    fn give_swatch(
        &self,
        swatch: &KeptSwatch,
        from: Id<Yarn>,
        to: Id<Yarn>,
    ) -> Result<(), StoreError> {
        let number = swatch.kept.id.number();
        let before = self.rows_of(RecordKind::Swatch, number)?;
        let first = if swatch.yarn == from { to } else { swatch.yarn };
        let sql = "UPDATE swatch SET yarn = ?, version = version + 1 WHERE id = ?";
        self.db.run(sql, (first.number(), number))?;
        let sql = "UPDATE swatch_held_with SET yarn = ? WHERE swatch = ? AND yarn = ?";
        self.db.run(sql, (to.number(), number, from.number()))?;
        let step = Step::new(RecordKind::Swatch, Action::Changed, number).of(first);
        let held_with = swatch.kept.record.held_with.iter().copied();
        let held_with = held_with.map(|yarn| if yarn == from { to } else { yarn });
        self.write_down(step.beside(held_with).with_before(before))
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

#[cfg(test)]
mod tests {
    use super::super::{Store, samples::*};
    use super::*;

    #[test]
    fn a_swatch_of_a_pair_names_the_yarn_that_stays_or_holds_it_twice() {
        let mut store = Store::in_memory().unwrap();
        let [dune, reed, fen] = ["Dune", "Reed", "Fen"]
            .map(|name| store.write(|w| w.add_yarn(&bare("Quay", name))).unwrap());
        let [bare, _] = swatches();
        let mut add = |first, others: &[Id<Yarn>]| {
            let swatch = bare.clone().held_with(others.to_vec()).unwrap();
            store.write(|w| w.add_swatch(first, &swatch)).unwrap()
        };
        let (other, both) = (add(fen, &[reed]), add(reed, &[dune, fen]));
        let strands = |store: &Store| {
            let reader = store.reader().unwrap();
            [other, both].map(|id| reader.swatch(id).unwrap().strand())
        };
        let before = strands(&store);
        let done: Result<usize, StoreError> = store.write(|w| {
            let given = w.give_swatches(reed, dune)?;
            w.remove_yarn(reed)?;
            Ok(given)
        });
        assert_eq!(done.unwrap(), 2);
        assert_eq!(strands(&store), [vec![dune, fen], vec![dune, dune, fen]]);
        assert_eq!(store.check().unwrap(), []);
        let last = store.take_last_change().unwrap();
        store.write(|w| w.undo(last, "2026-04-01")).unwrap();
        assert_eq!(strands(&store), before);
        assert_eq!(store.check().unwrap(), []);
    }
}
