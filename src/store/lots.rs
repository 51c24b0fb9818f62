//! Lots on the shelf. What is left of them says [`super::ledger`].

use super::{
    Reader, StoreError, Writer,
    changes::{Action, RecordKind, Step},
    ledger::fold,
    name_search::name_key,
    rows::{BadRow, Cells, DecodeError, FromRow, RowReader, field_columns},
    sql::Table,
};
use crate::{
    measure::{Length, Mass},
    record::{Balance, Entry, Id, Lot, Price, Printed, Stored, Yarn},
    trade::Colour,
    words::joined,
};
use rusqlite::Params;
use std::{fmt::Display, sync::LazyLock};

/// A lot, the yarn it is of, and what its ledger says.
#[derive(Debug, Clone, PartialEq)]
pub struct LotInStock {
    /// The lot.
    pub lot: Stored<Lot>,
    /// The yarn.
    pub yarn: Id<Yarn>,
    /// Mass of one full skein: the lot's own, else the label's.
    pub skein_mass: Option<Mass>,
    /// The first line of the ledger.
    pub opening: Entry,
    /// What the ledger adds up to.
    pub balance: Balance,
}

/// What a lot is called and where it is; empty where that is not said.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct LotName {
    /// The lot.
    pub id: Id<Lot>,
    /// Maker and name of its yarn.
    pub yarn: String,
    /// Its shade.
    pub shade: String,
    /// Its dye lot.
    pub lot: String,
    /// Its place.
    pub place: String,
}

const LOT: Table = Table {
    name: "stock_lot",
    what: "lot",
    columns: "shade, lot, place, weighed_text, weighed_g, weighed_m, price_text, \
              price_amount, price_currency, price_per, price_per_quantity, notes, \
              shade_key, lot_key, place_key, yarn",
};

field_columns!(Lot {
    shade: String,
    lot: Option<String>,
    place: String,
    weighed: Option<Printed<(Mass, Option<Length>)>>,
    price: Option<Printed<Price>>,
    notes: String,
} else { colour });

/// The start of every question for lots, which are fewer than yarns: the cross join
/// has SQLite begin with them.
pub(super) static SELECT: LazyLock<String> = LazyLock::new(|| {
    format!(
        "SELECT stock_lot.id, stock_lot.version, {}, colour_text, colour \
         FROM stock_lot CROSS JOIN yarn ON yarn.id = stock_lot.yarn \
         LEFT JOIN shade_colour ON shade_colour.yarn = stock_lot.yarn \
         AND shade_colour.shade_key = stock_lot.shade_key ",
        LOT.columns()
    )
});

/// The order in which lots are listed.
const ORDER: &str = "ORDER BY maker_key, name_key, stock_lot.shade_key, lot_key, place_key";

/// What tells lots of one yarn apart, folded: shade, lot and place.
type LotKeys = (String, String, String);

/// A row of [`SELECT`].
pub(super) type LotRow = (Stored<Lot>, LotKeys, Id<Yarn>, Option<Printed<Colour>>);

fn keys(shade: &str, lot: Option<&str>, place: &str) -> LotKeys {
    (
        name_key(shade),
        name_key(lot.unwrap_or("")),
        name_key(place),
    )
}

impl FromRow for LotName {
    fn decode(row: &mut RowReader<'_, '_>) -> Result<Self, DecodeError> {
        Ok(Self {
            id: row.part()?,
            yarn: row.cell()?,
            shade: row.cell()?,
            lot: row.cell()?,
            place: row.cell()?,
        })
    }
}

fn cells(lot: &Lot, yarn: i64) -> Cells {
    let keys = keys(&lot.shade, lot.lot.as_deref(), &lot.place);
    Cells::of(lot).and(&keys).and(&yarn)
}

/// `shade Heather, lot 12, in the attic`; empty where nothing is known of it.
pub(super) fn title(lot: &Lot) -> String {
    let named = [
        ("shade ", lot.shade.as_str()),
        ("lot ", lot.lot.as_deref().unwrap_or("")),
        ("in ", lot.place.as_str()),
    ];
    let named = named.iter().filter(|(_, text)| !text.is_empty());
    joined(named.map(|(what, text)| [*what, text].concat()), ", ")
}

impl Reader<'_> {
    /// Every lot, by yarn, shade, lot and place.
    pub fn lots(&self) -> Result<Vec<LotInStock>, StoreError> {
        self.lots_where(ORDER, [])
    }

    /// What every lot is called, in the same order, without a look at ledgers.
    pub fn lot_names(&self) -> Result<Vec<LotName>, StoreError> {
        let sql = format!(
            "SELECT stock_lot.id, maker || ', ' || name, shade, coalesce(lot, ''), place FROM stock_lot CROSS JOIN yarn ON yarn.id = stock_lot.yarn {ORDER}"
        );
        self.db.all("stock_lot", &sql, [])
    }

    /// The yarns of which there is a lot, by number.
    pub fn yarns_in_stock(&self) -> Result<Vec<Id<Yarn>>, StoreError> {
        let sql = "SELECT DISTINCT yarn FROM stock_lot ORDER BY yarn";
        self.db.all("stock_lot", sql, [])
    }

    /// The lots of one yarn.
    pub fn lots_of(&self, yarn: Id<Yarn>) -> Result<Vec<LotInStock>, StoreError> {
        let rest = format!("WHERE stock_lot.yarn = ? {ORDER}");
        self.lots_where(&rest, [yarn.number()])
    }

    /// The lot with this number.
    pub fn lot(&self, id: Id<Lot>) -> Result<LotInStock, StoreError> {
        let found = self.lots_where("WHERE stock_lot.id = ?", [id.number()])?;
        found.into_iter().next().ok_or(LOT.gone(id.number()))
    }

    /// The lot of this yarn, shade, lot and place, compared as names are; no
    /// lot and an empty one are the same.
    pub fn lot_named(
        &self,
        yarn: Id<Yarn>,
        shade: &str,
        lot: Option<&str>,
        place: &str,
    ) -> Result<Option<LotInStock>, StoreError> {
        let rest = "WHERE stock_lot.yarn = ? AND stock_lot.shade_key = ? AND lot_key = ? AND place_key = ?";
        let cells = Cells::of(&yarn.number()).and(&keys(shade, lot, place));
        let found = self.lots_where(rest, cells.params())?;
        Ok(found.into_iter().next())
    }

    fn lots_where(&self, rest: &str, params: impl Params) -> Result<Vec<LotInStock>, StoreError> {
        let sql = format!("{}{rest}", *SELECT);
        let found: Vec<LotRow> = self.db.all("stock_lot", &sql, params)?;
        let found = found.into_iter();
        let in_stock = found.map(|(mut lot, _, yarn, colour)| {
            lot.record.colour = colour;
            self.in_stock(lot, yarn)
        });
        in_stock.collect()
    }

    fn in_stock(&self, lot: Stored<Lot>, yarn: Id<Yarn>) -> Result<LotInStock, StoreError> {
        let skein_mass = self.skein_mass(&lot.record, yarn)?;
        let entries = self.entries(lot.id)?;
        let damaged = |why: &dyn Display| self.db.damaged("stock_entry", lot.id.number(), why);
        let balance = fold(&entries, skein_mass).map_err(|why| damaged(&why))?;
        let opening = entries.into_iter().next();
        let opening = opening.ok_or_else(|| damaged(&BadRow::NoLedger))?;
        Ok(LotInStock {
            lot,
            yarn,
            skein_mass,
            opening,
            balance,
        })
    }

    /// Mass of one full skein: the lot's own, else the label's.
    pub(super) fn skein_mass(&self, lot: &Lot, yarn: Id<Yarn>) -> Result<Option<Mass>, StoreError> {
        match &lot.weighed {
            Some(weighed) => Ok(Some(weighed.value.0)),
            None => Ok(self.yarn(yarn)?.record.facts.skein_mass()),
        }
    }
}

impl Writer<'_> {
    /// Keeps a new lot and the first line of its ledger; refused where a lot of
    /// this yarn, shade, lot and place is kept. Its colour, where it has one, is that
    /// of all lots of its shade from now on.
    pub fn add_lot(
        &self,
        yarn: Id<Yarn>,
        lot: &Lot,
        opening: &Entry,
    ) -> Result<Id<Lot>, StoreError> {
        self.db.whole(|| {
            self.yarn(yarn)?;
            let added = self.db.insert(&LOT, &cells(lot, yarn.number()));
            let id = added.map_err(|error| error.or_duplicate("lot", || title(lot)))?;
            let skein_mass = self.skein_mass(lot, yarn)?;
            fold(std::slice::from_ref(opening), skein_mass)?;
            self.add_line(Id::new(id), opening)?;
            self.write_down(Step::new(RecordKind::Lot, Action::Added, id).of(yarn))?;
            if lot.colour.is_some() {
                self.colour(yarn, &lot.shade, lot.colour.as_ref())?;
            }
            Ok(Id::new(id))
        })
    }

    /// Changes a lot that was read at `version`; its new version.
    pub fn update_lot(&self, id: Id<Lot>, version: i64, lot: &Lot) -> Result<i64, StoreError> {
        self.db.whole(|| {
            let kept = self.lot(id)?;
            let yarn = kept.yarn;
            let before = self.rows_of(RecordKind::Lot, id.number())?;
            let cells = cells(lot, yarn.number());
            let changed = self.db.update(&LOT, (id.number(), version), cells);
            let next = changed.map_err(|error| error.or_duplicate("lot", || title(lot)))?;
            self.ledger_still_holds(id, lot, yarn)?;
            self.write_down(
                Step::new(RecordKind::Lot, Action::Changed, id.number())
                    .of(yarn)
                    .with_before(before),
            )?;
            self.recolour(yarn, &kept.lot.record, lot)?;
            Ok(next)
        })
    }
}

#[cfg(test)]
mod tests {
    use super::super::samples::*;
    use super::*;
    use crate::record::EntryKind;

    #[test]
    fn lots_come_back_exactly_with_their_ledger() {
        let (mut store, yarn) = shelf();
        for kept in [full_lot(), lot("", None)] {
            let id = add(&mut store, yarn, &kept, 3.0);
            let used = line(EntryKind::Used, 0.0, 20.0);
            store.write(|w| w.add_entry(id, &used)).unwrap();
            let reader = store.reader().unwrap();
            let found = reader.lot(id).unwrap();
            assert_eq!((found.lot.record, found.yarn), (kept, yarn));
            assert_eq!(found.opening, line(EntryKind::Bought, 3.0, 0.0));
            assert_eq!(reader.entries(id).unwrap(), [found.opening, used]);
        }
        let weighed: Vec<f64> = store
            .reader()
            .unwrap()
            .lots()
            .unwrap()
            .iter()
            .map(|lot| lot.balance.held.grams())
            .collect();
        // 50 - 20 g of the label's skein, 48 - 20 g of the weighed one.
        assert_eq!(weighed, [30.0, 28.0]);
        assert_eq!(store.check().unwrap(), []);
    }

    #[test]
    fn lots_are_listed_by_yarn_and_found_by_shade_lot_and_place() {
        let (mut store, dune) = shelf();
        let ash = store.write(|w| w.add_yarn(&bare("Alder", "Ash"))).unwrap();
        let heather = add(&mut store, dune, &lot("Heather", Some("12")), 2.0);
        let plain = add(&mut store, ash, &lot("", None), 1.0);
        let reader = store.reader().unwrap();
        let all = reader.lots().unwrap();
        assert_eq!(
            all.iter().map(|l| l.lot.id).collect::<Vec<_>>(),
            [plain, heather]
        );
        let of_dune = reader.lots_of(dune).unwrap();
        assert_eq!(
            of_dune.iter().map(|l| l.lot.id).collect::<Vec<_>>(),
            [heather]
        );
        let named = reader.lot_named(dune, "HEATHER", Some(" 12 "), "").unwrap();
        assert_eq!(named.unwrap().lot.id, heather);
        let empty = reader.lot_named(ash, "", Some(""), "").unwrap();
        assert_eq!(empty.unwrap().lot.id, plain);
        assert!(
            reader
                .lot_named(dune, "Heather", None, "")
                .unwrap()
                .is_none()
        );
    }

    #[test]
    fn a_second_lot_of_the_same_shade_lot_and_place_is_refused_whole() {
        let (mut store, yarn) = shelf();
        add(&mut store, yarn, &lot("Heather", None), 1.0);
        let opening = line(EntryKind::Bought, 1.0, 0.0);
        let again = store.write(|w| w.add_lot(yarn, &lot("heather", Some("")), &opening));
        assert_eq!(
            again.unwrap_err().to_string(),
            "there is already a lot `shade heather`; change that one, or use another name"
        );
        assert_eq!(store.reader().unwrap().lots().unwrap().len(), 1);
    }

    #[test]
    fn a_lot_cannot_open_with_more_used_than_bought() {
        let (mut store, yarn) = shelf();
        let used = line(EntryKind::Used, 1.0, 0.0);
        assert!(
            store
                .write(|w| w.add_lot(yarn, &lot("", None), &used))
                .is_err()
        );
        assert!(store.reader().unwrap().lots().unwrap().is_empty());
    }

    #[test]
    fn the_second_of_two_who_change_a_lot_is_told() {
        let (mut store, yarn) = shelf();
        let id = add(&mut store, yarn, &lot("", None), 2.0);
        assert_eq!(
            store.write(|w| w.update_lot(id, 1, &full_lot())).unwrap(),
            2
        );
        let second = store.write(|w| w.update_lot(id, 1, &lot("", None)));
        assert!(matches!(second, Err(StoreError::ChangedMeanwhile { .. })));
        assert_eq!(
            store.reader().unwrap().lot(id).unwrap().lot.record,
            full_lot()
        );
    }

    #[test]
    fn a_yarn_with_stock_is_not_removed() {
        let (mut store, yarn) = shelf();
        add(&mut store, yarn, &lot("", None), 2.0);
        let refused = store.write(|w| w.remove_yarn(yarn));
        assert!(matches!(refused, Err(StoreError::InUse { .. })));
    }
}
