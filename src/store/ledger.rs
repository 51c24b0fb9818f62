//! The ledger of a lot, to which lines are only ever added.

use super::{
    Reader, StoreError, Writer,
    changes::{Action, RecordKind, Step},
    lots::{self, LotRow, title},
    rows::{Cells, field_columns},
    seals::seal_line,
    sql::{Table, at},
};
use crate::{
    measure::Mass,
    record::{
        Balance, Entry, EntryKind, Id, Lot, Printed, RecordError, StockAmount, Yarn, reservations,
    },
};
use std::sync::LazyLock;

const ENTRY: Table = Table {
    name: "stock_entry",
    what: "entry",
    columns: "kind, amount_text, milliskeins, milligrams, on_day, notes, lot",
};

field_columns!(Entry {
    kind: EntryKind,
    amount: Printed<StockAmount>,
    on: String,
    notes: String,
});

static ENTRIES: LazyLock<String> = LazyLock::new(|| {
    format!(
        "SELECT id, {} FROM stock_entry WHERE lot = ? ORDER BY id",
        ENTRY.columns()
    )
});

/// The lines that count: those that were not taken back.
fn counting<T>(lines: &[T], entry: impl Fn(&T) -> &Entry) -> Vec<&T> {
    let mut counting = Vec::with_capacity(lines.len());
    for line in lines {
        match entry(line).kind {
            EntryKind::Undone => drop(counting.pop()),
            _ => counting.push(line),
        }
    }
    counting
}

/// What the lines add up to. Grams used before the last weighing no longer
/// count, even where a skein mass that was corrected since makes them too many.
pub(super) fn fold(entries: &[Entry], skein_mass: Option<Mass>) -> Result<Balance, RecordError> {
    let entries = counting(entries, |line| line);
    let weighing = entries
        .iter()
        .rposition(|line| line.kind == EntryKind::Weighed);
    let mut lines = entries.iter().enumerate();
    lines.try_fold(Balance::default(), |balance, (place, line)| {
        let after = balance.after(line.kind, line.amount.value, skein_mass);
        let passed = line.kind == EntryKind::Used && Some(place) < weighing;
        after.or_else(|why| passed.then_some(balance).ok_or(why))
    })
}

impl Reader<'_> {
    /// The ledger of a lot, oldest line first.
    pub fn entries(&self, lot: Id<Lot>) -> Result<Vec<Entry>, StoreError> {
        let rows: Vec<(i64, Entry)> = self.db.all("stock_entry", &ENTRIES, [lot.number()])?;
        Ok(rows.into_iter().map(|(_, entry)| entry).collect())
    }
}

impl Reader<'_> {
    /// What a lot is reserved for and how much of it, as its lines say, but for what was
    /// released with the same words.
    pub fn reservations(&self, lot: Id<Lot>) -> Result<Vec<(String, StockAmount)>, StoreError> {
        let kept = self.lot(lot)?;
        let lines = self.entries(lot)?;
        let open = reservations(counting(&lines, |line| line), kept.skein_mass);
        let open = open.into_iter();
        Ok(open
            .map(|(what, amount)| (what.to_owned(), amount))
            .collect())
    }
}

impl Reader<'_> {
    /// The line with this number, of whatever ledger; none where its lot is gone.
    pub(super) fn entry(&self, line: i64) -> Result<Option<Entry>, StoreError> {
        let sql = ENTRIES.replace("lot = ?", "id = ?");
        let found: Option<(i64, Entry)> = self.db.first("stock_entry", &sql, [line])?;
        Ok(found.map(|(_, entry)| entry))
    }
}

impl Writer<'_> {
    /// Adds a line to a lot's ledger; what it adds up to then. Refused where
    /// more is used or promised than is there, or used that is promised.
    pub fn add_entry(&self, lot: Id<Lot>, entry: &Entry) -> Result<Balance, StoreError> {
        let kept = self.lot(lot)?;
        let after = kept
            .balance
            .after_new(entry.kind, entry.amount.value, kept.skein_mass)?;
        let line = self.add_line(lot, entry)?;
        self.write_down(
            Step::new(RecordKind::Lot, Action::Entered, lot.number())
                .of(kept.yarn)
                .with_line(line),
        )?;
        Ok(after)
    }

    /// Adds the line that takes the last counting one of a lot's ledger back. Refused
    /// where that is not the line with this number, which someone else followed up.
    pub(super) fn take_line_back(
        &self,
        lot: Id<Lot>,
        number: i64,
        day: &str,
    ) -> Result<(), StoreError> {
        let kept = self.lot(lot)?;
        let lines: Vec<(i64, Entry)> = self.db.all("stock_entry", &ENTRIES, [lot.number()])?;
        let last = counting(&lines, |(_, line)| line).pop();
        let Some((_, line)) = last.filter(|(last, _)| *last == number) else {
            let (what, id) = (RecordKind::Lot.name(), lot.number());
            return Err(StoreError::ChangedMeanwhile { what, id });
        };
        let back = Entry {
            kind: EntryKind::Undone,
            on: day.to_owned(),
            notes: line.kind.name().to_owned(),
            amount: line.amount.clone(),
        };
        self.add_line(lot, &back)?;
        self.ledger_still_holds(lot, &kept.lot.record, kept.yarn)
    }

    /// That every ledger of this yarn adds up, now that its facts have changed.
    pub(super) fn ledgers_still_hold(&self, yarn: Id<Yarn>) -> Result<(), StoreError> {
        let sql = format!("{}WHERE stock_lot.yarn = ?", *lots::SELECT);
        let lots: Vec<LotRow> = self.db.all("stock_lot", &sql, [yarn.number()])?;
        lots.iter()
            .try_for_each(|(lot, _, yarn, _)| self.ledger_still_holds(lot.id, &lot.record, *yarn))
    }

    /// That the ledger of this lot adds up, now that the lot or its yarn changed.
    pub(super) fn ledger_still_holds(
        &self,
        id: Id<Lot>,
        lot: &Lot,
        yarn: Id<Yarn>,
    ) -> Result<(), StoreError> {
        let broken = |why| StoreError::Ledger {
            lot: title(lot),
            why,
        };
        let skein_mass = self.skein_mass(lot, yarn)?;
        fold(&self.entries(id)?, skein_mass).map_err(broken)?;
        Ok(())
    }

    /// Writes a line down as it is; its number.
    pub(super) fn add_line(&self, lot: Id<Lot>, entry: &Entry) -> Result<i64, StoreError> {
        let cells = Cells::of(entry).and(&lot.number());
        let line = self.db.insert(&ENTRY, &cells)?;
        seal_line(self.db.conn, line).map_err(|error| at(self.db.path, error))?;
        Ok(line)
    }
}

#[cfg(test)]
mod tests {
    use super::super::samples::*;
    use super::*;

    #[test]
    fn no_more_is_taken_than_is_there_and_the_ledger_stays_as_it_was() {
        let (mut store, yarn) = shelf();
        let id = add(&mut store, yarn, &lot("", None), 2.0);
        let too_much = store.write(|w| w.add_entry(id, &line(EntryKind::Used, 3.0, 0.0)));
        let why = too_much.unwrap_err();
        assert!(matches!(
            why,
            StoreError::Record(RecordError::MoreThanHeld { .. })
        ));
        let reserved = store.write(|w| w.add_entry(id, &line(EntryKind::Reserved, 1.0, 0.0)));
        assert_eq!(reserved.unwrap().reserved.skeins(), 1.0);
        assert_eq!(store.reader().unwrap().entries(id).unwrap().len(), 2);
    }

    #[test]
    fn lines_of_the_ledger_are_never_changed_nor_removed() {
        let (mut store, yarn) = shelf();
        add(&mut store, yarn, &lot("", None), 2.0);
        for sql in [
            "UPDATE stock_entry SET milliskeins = 9",
            "DELETE FROM stock_entry",
            "DELETE FROM stock_lot",
            "DELETE FROM yarn",
        ] {
            let refused = store.write(|w| w.db.run(sql, []));
            assert!(refused.is_err(), "{sql}");
        }
    }

    #[test]
    fn a_change_after_which_a_ledger_does_not_add_up_is_refused() {
        let (mut store, yarn) = shelf();
        let id = add(&mut store, yarn, &lot("", None), 2.0);
        let used = line(EntryKind::Used, 0.0, 80.0);
        store.write(|w| w.add_entry(id, &used)).unwrap();
        let lighter = put_up("Quay", "Dune", 125.0, 25.0);
        let refused = store.write(|w| w.update_yarn(yarn, 1, &lighter));
        assert!(
            matches!(refused, Err(StoreError::Ledger { .. })),
            "{refused:?}"
        );
        let mut weighed = lot("", None);
        weighed.weighed = Some(Printed::new("25 g", (grams(25.0), None)));
        let refused = store.write(|w| w.update_lot(id, 1, &weighed));
        assert!(
            matches!(refused, Err(StoreError::Ledger { .. })),
            "{refused:?}"
        );
        assert_eq!(store.check().unwrap(), []);
    }

    #[test]
    fn what_was_used_before_the_last_weighing_does_not_hold_up_a_correction() {
        let (mut store, yarn) = shelf();
        let id = add(&mut store, yarn, &lot("", None), 2.0);
        for (kind, mass) in [(EntryKind::Used, 80.0), (EntryKind::Weighed, 15.0)] {
            store
                .write(|w| w.add_entry(id, &line(kind, 0.0, mass)))
                .unwrap();
        }
        let lighter = put_up("Quay", "Dune", 125.0, 25.0);
        store.write(|w| w.update_yarn(yarn, 1, &lighter)).unwrap();
        let kept = store.reader().unwrap().lot(id).unwrap();
        assert_eq!(kept.balance.held.grams(), 15.0);
        let more = store.write(|w| w.add_entry(id, &line(EntryKind::Used, 0.0, 16.0)));
        assert!(more.is_err());
    }
}
