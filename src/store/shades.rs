//! Colours of shades: one for each shade of a yarn, whatever lots there are of it. The
//! row of a colour that was taken away stays without one, so that all changes of a shade
//! are of one record.

use super::{
    Reader, StoreError, Writer,
    changes::{Action, RecordKind, Step},
    name_search::name_key,
    rows::Cells,
    sql::Table,
};
use crate::{
    record::{Id, Lot, Printed, Yarn},
    trade::Colour,
};

const SHADE: Table = Table {
    name: "shade_colour",
    what: "shade",
    columns: "colour_text, colour, yarn, shade, shade_key",
};

/// Number and version of a shade, and its colour.
type KeptShade = (i64, i64, Option<Printed<Colour>>);

impl Reader<'_> {
    /// The colour of a shade of this yarn, compared as names are.
    pub fn colour_of(
        &self,
        yarn: Id<Yarn>,
        shade: &str,
    ) -> Result<Option<Printed<Colour>>, StoreError> {
        let kept = self.shade(yarn, shade)?;
        Ok(kept.and_then(|(_, _, colour)| colour))
    }

    /// The shades of this yarn that have a colour.
    pub fn colours_of(&self, yarn: Id<Yarn>) -> Result<Vec<(String, Printed<Colour>)>, StoreError> {
        let sql = "SELECT id, shade, colour_text, colour FROM shade_colour \
                   WHERE yarn = ? AND colour IS NOT NULL ORDER BY shade_key";
        let kept: Vec<(i64, String, Printed<Colour>)> =
            self.db.all("shade_colour", sql, [yarn.number()])?;
        let pairs = kept.into_iter();
        Ok(pairs.map(|(_, shade, colour)| (shade, colour)).collect())
    }

    fn shade(&self, yarn: Id<Yarn>, shade: &str) -> Result<Option<KeptShade>, StoreError> {
        let sql = "SELECT id, version, colour_text, colour FROM shade_colour \
                   WHERE yarn = ? AND shade_key = ?";
        let cells = (yarn.number(), name_key(shade));
        self.db.first("shade_colour", sql, cells)
    }

    /// That the shade with this number can be read.
    pub(super) fn check_shade(&self, number: i64) -> Result<(), StoreError> {
        let sql = "SELECT id, version, colour_text, colour FROM shade_colour WHERE id = ?";
        let kept: Option<KeptShade> = self.db.first("shade_colour", sql, [number])?;
        kept.map(drop).ok_or(SHADE.gone(number))
    }
}

impl Writer<'_> {
    /// Gives a shade a colour, or takes it away.
    pub fn colour(
        &self,
        yarn: Id<Yarn>,
        shade: &str,
        colour: Option<&Printed<Colour>>,
    ) -> Result<(), StoreError> {
        let cells = || {
            let named = (yarn.number(), shade.to_owned(), name_key(shade));
            Cells::of(&colour.cloned()).and(&named)
        };
        let (number, version) = match (self.shade(yarn, shade)?, colour) {
            (None, None) => return Ok(()),
            (None, Some(_)) => {
                let number = self.db.insert(&SHADE, &cells())?;
                let step = Step::new(RecordKind::Shade, Action::Added, number);
                return self.write_down(step.of(yarn));
            }
            (Some((.., kept)), colour) if kept.as_ref() == colour => return Ok(()),
            (Some((number, version, _)), _) => (number, version),
        };
        let before = self.rows_of(RecordKind::Shade, number)?;
        self.db.update(&SHADE, (number, version), cells())?;
        let step = Step::new(RecordKind::Shade, Action::Changed, number);
        self.write_down(step.of(yarn).with_before(before))
    }

    /// Brings the colour of a lot's shade to what the lot says now. A lot that is put
    /// under another shade takes that one's colour where only its own is known from
    /// before; a shade of which no lot is left loses its colour.
    pub(super) fn recolour(
        &self,
        yarn: Id<Yarn>,
        before: &Lot,
        after: &Lot,
    ) -> Result<(), StoreError> {
        let colour = after.colour.as_ref();
        if name_key(&before.shade) == name_key(&after.shade) {
            return self.colour(yarn, &after.shade, colour);
        }
        let is_known = self.colour_of(yarn, &after.shade)?.is_some();
        if colour.is_some() && !(is_known && before.colour == after.colour) {
            self.colour(yarn, &after.shade, colour)?;
        }
        let sql = "SELECT count(*) FROM stock_lot WHERE yarn = ? AND shade_key = ?";
        let cells = (yarn.number(), name_key(&before.shade));
        match self.db.number(sql, cells)? {
            0 => self.colour(yarn, &before.shade, None),
            _ => Ok(()),
        }
    }

    /// Writes down the shades of a yarn that is about to go, which go with it.
    pub(super) fn write_shades_down(&self, yarn: Id<Yarn>) -> Result<(), StoreError> {
        let sql = "SELECT id FROM shade_colour WHERE yarn = ? ORDER BY id";
        let shades: Vec<i64> = self.db.all("shade_colour", sql, [yarn.number()])?;
        shades.into_iter().try_for_each(|number| {
            let before = self.rows_of(RecordKind::Shade, number)?;
            let step = Step::new(RecordKind::Shade, Action::Removed, number);
            self.write_down(step.of(yarn).with_before(before))
        })
    }
}

#[cfg(test)]
mod tests {
    use super::super::{Store, samples::*};
    use super::*;

    fn coloured(shade: &str, number: &str, colour: &str) -> Lot {
        Lot {
            colour: Colour::read(colour).map(|value| Printed::new(colour, value)),
            ..lot(shade, Some(number))
        }
    }

    fn colours(store: &Store) -> Vec<String> {
        let lots = store.reader().unwrap().lots().unwrap().into_iter();
        let colour = |lot: Lot| lot.colour.map_or(String::new(), |colour| colour.text);
        lots.map(|kept| colour(kept.lot.record)).collect()
    }

    #[test]
    fn a_colour_is_that_of_all_lots_of_a_shade_and_comes_back_as_typed() {
        let (mut store, yarn) = shelf();
        add(
            &mut store,
            yarn,
            &coloured("Sea", "1", "Dark sea-green"),
            2.0,
        );
        add(&mut store, yarn, &lot("sea", Some("2")), 2.0);
        add(&mut store, yarn, &lot("moss", None), 2.0);
        assert_eq!(colours(&store), ["", "Dark sea-green", "Dark sea-green"]);
        add(&mut store, yarn, &coloured("SEA", "3", "#2F6F8F"), 2.0);
        assert_eq!(colours(&store), ["", "#2F6F8F", "#2F6F8F", "#2F6F8F"]);
        assert_eq!(store.check().unwrap(), []);
    }

    fn change(store: &mut Store, id: Id<Lot>, to: &Lot) {
        let version = store.reader().unwrap().lot(id).unwrap().lot.version;
        store.write(|w| w.update_lot(id, version, to)).unwrap();
    }

    #[test]
    fn a_lot_under_another_shade_takes_the_colour_that_is_known_of_it() {
        let (mut store, yarn) = shelf();
        let misspelt = add(&mut store, yarn, &coloured("se", "1", "teal"), 2.0);
        add(&mut store, yarn, &coloured("sea", "2", "navy"), 2.0);
        change(&mut store, misspelt, &coloured("sea", "1", "teal"));
        assert_eq!(colours(&store), ["navy", "navy"]);
        let known = store.reader().unwrap().colour_of(yarn, "se").unwrap();
        assert_eq!(known, None, "no lot is left of it");
        change(&mut store, misspelt, &coloured("lake", "1", "navy"));
        assert_eq!(colours(&store), ["navy", "navy"]);
        change(&mut store, misspelt, &lot("lake", Some("1")));
        assert_eq!(colours(&store), ["", "navy"]);
    }

    #[test]
    fn a_yarn_that_goes_comes_back_with_the_colours_of_its_shades() {
        let (mut store, yarn) = shelf();
        let colour = Printed::new("navy", Colour::read("navy").unwrap());
        let coloured = |store: &Store| store.reader().unwrap().colour_of(yarn, "sea").unwrap();
        store
            .write(|w| w.colour(yarn, "sea", Some(&colour)))
            .unwrap();
        store.write(|w| w.remove_yarn(yarn)).unwrap();
        assert_eq!(coloured(&store), None);
        let last = store.take_last_change().unwrap();
        store.write(|w| w.undo(last, "2026-04-01")).unwrap();
        assert_eq!(coloured(&store), Some(colour));
        assert_eq!(store.check().unwrap(), []);
    }

    #[test]
    fn a_colour_that_is_not_what_was_typed_is_told() {
        let (mut store, yarn) = shelf();
        add(&mut store, yarn, &coloured("sea", "1", "navy"), 2.0);
        let altered = "UPDATE shade_colour SET colour = 255, shade_key = 'x'";
        store.conn.execute_batch(altered).unwrap();
        let problems = store.check().unwrap();
        let told: Vec<String> = problems.iter().map(ToString::to_string).collect();
        let told = told.join("\n");
        assert!(
            told.contains("shade 1: the number beside `navy` is another"),
            "{told}"
        );
        assert!(
            told.contains("shade 1: `sea` is not found by its name"),
            "{told}"
        );
    }
}
