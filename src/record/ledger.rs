//! The ledger of a lot: what was bought, used, weighed, reserved and released, and what
//! it adds up to.

use super::{Printed, RecordError, StockAmount};
use crate::measure::Mass;

/// One line of a lot's ledger. Lines are added, never changed.
#[derive(Debug, Clone, PartialEq)]
pub struct Entry {
    /// What happened.
    pub kind: EntryKind,
    /// How much, as typed and meant.
    pub amount: Printed<StockAmount>,
    /// The day, as `YYYY-MM-DD`.
    pub on: String,
    /// What for, or anything else.
    pub notes: String,
}

/// What a ledger line does.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum EntryKind {
    /// Adds to what is there.
    Bought,
    /// Takes from what is there.
    Used,
    /// Says what is there, whatever was thought before.
    Weighed,
    /// Promises some of it.
    Reserved,
    /// Takes a promise back.
    Released,
    /// Takes the last line back that still counts: neither of the two counts then.
    Undone,
}

impl EntryKind {
    /// All of them.
    pub const ALL: [Self; 6] = [
        Self::Bought,
        Self::Used,
        Self::Weighed,
        Self::Reserved,
        Self::Released,
        Self::Undone,
    ];

    /// The word used here.
    pub fn name(self) -> &'static str {
        match self {
            Self::Bought => "bought",
            Self::Used => "used",
            Self::Weighed => "weighed",
            Self::Reserved => "reserved",
            Self::Released => "released",
            Self::Undone => "undone",
        }
    }
}

/// What a ledger adds up to.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Balance {
    /// What is on the shelf.
    pub held: StockAmount,
    /// What of it is promised.
    pub reserved: StockAmount,
}

impl Balance {
    /// The balance after one more entry. `skein_mass` is the mass of one skein
    /// of the lot, needed where grams come out of skeins.
    pub fn after(
        self,
        kind: EntryKind,
        amount: StockAmount,
        skein_mass: Option<Mass>,
    ) -> Result<Self, RecordError> {
        let Self { held, reserved } = self;
        Ok(match kind {
            EntryKind::Bought => Self {
                held: held.plus(amount)?,
                reserved,
            },
            EntryKind::Used => Self {
                held: held.less(amount, skein_mass)?,
                reserved,
            },
            EntryKind::Weighed => Self {
                held: amount,
                reserved,
            },
            EntryKind::Reserved => Self {
                held,
                reserved: reserved.plus(amount)?,
            }
            .promised(skein_mass)
            .map_err(|why| self.more_than_free(why, amount, skein_mass))?,
            EntryKind::Released => Self {
                held,
                reserved: reserved
                    .less(amount, skein_mass)
                    .map_err(|why| self.more_than_reserved(why, amount))?,
            },
            // Whoever adds up leaves out both lines.
            EntryKind::Undone => self,
        })
    }

    /// The same of an entry that is new: what is used is not reserved as well. Older
    /// ledgers may hold such a line, and still add up.
    pub fn after_new(
        self,
        kind: EntryKind,
        amount: StockAmount,
        skein_mass: Option<Mass>,
    ) -> Result<Self, RecordError> {
        let after = self.after(kind, amount, skein_mass)?;
        if kind != EntryKind::Used || after.reserved.is_nothing() {
            return Ok(after);
        }
        let refused = |why| match why {
            RecordError::MoreThanHeld { .. } => RecordError::UsesReserved {
                asked: amount,
                free: self.free(skein_mass).unwrap_or_default(),
                reserved: self.reserved,
            },
            other => other,
        };
        after.promised(skein_mass).map_err(refused)
    }

    /// What is on the shelf and not promised; nothing where more is promised
    /// than is there.
    pub fn free(self, skein_mass: Option<Mass>) -> Result<StockAmount, RecordError> {
        match self.held.less(self.reserved, skein_mass) {
            Err(RecordError::MoreThanHeld { .. }) => Ok(StockAmount::default()),
            free => free,
        }
    }

    /// What may be used by whom `own` of what is promised is promised to.
    pub fn usable_with(
        self,
        own: StockAmount,
        skein_mass: Option<Mass>,
    ) -> Result<StockAmount, RecordError> {
        let reserved = match self.reserved.less(own, skein_mass) {
            Err(RecordError::MoreThanHeld { .. }) => StockAmount::default(),
            others => others?,
        };
        Self { reserved, ..self }.free(skein_mass)
    }

    /// How much more is promised than is on the shelf, as after a weighing that found
    /// less; `None` where it is not, or the mass of a skein is needed and not known.
    pub fn overpromised(self, skein_mass: Option<Mass>) -> Option<StockAmount> {
        self.promised(skein_mass).err()?;
        let beyond = self.reserved.less(self.held, skein_mass).ok();
        beyond.filter(|beyond| !beyond.is_nothing())
    }

    fn more_than_free(
        self,
        why: RecordError,
        asked: StockAmount,
        skein_mass: Option<Mass>,
    ) -> RecordError {
        match why {
            RecordError::MoreThanHeld { .. } => RecordError::MoreThanFree {
                asked,
                free: self.free(skein_mass).unwrap_or_default(),
                reserved: self.reserved,
            },
            other => other,
        }
    }

    fn more_than_reserved(self, why: RecordError, asked: StockAmount) -> RecordError {
        match why {
            RecordError::MoreThanHeld { .. } => RecordError::MoreThanReserved {
                asked,
                reserved: self.reserved,
            },
            other => other,
        }
    }

    fn promised(self, skein_mass: Option<Mass>) -> Result<Self, RecordError> {
        self.held.less(self.reserved, skein_mass).map(|_| self)
    }
}

/// What a lot is reserved for, as its lines that count say, with what of that was not
/// released with the same words.
pub fn reservations<'e>(
    lines: impl IntoIterator<Item = &'e Entry>,
    skein_mass: Option<Mass>,
) -> Vec<(&'e str, StockAmount)> {
    let mut open: Vec<(&str, StockAmount)> = Vec::new();
    for line in lines {
        let what_for = line.notes.as_str();
        let before = open.iter().find(|(what, _)| *what == what_for);
        let before = before.map_or(StockAmount::default(), |(_, amount)| *amount);
        let after = match line.kind {
            EntryKind::Reserved => before.plus(line.amount.value),
            EntryKind::Released => before.less(line.amount.value, skein_mass),
            _ => continue,
        };
        open.retain(|(what, _)| *what != what_for);
        // More is released with these words than was reserved with them.
        open.extend(after.ok().map(|amount| (what_for, amount)));
    }
    open.retain(|(_, amount)| !amount.is_nothing());
    open
}

#[cfg(test)]
mod tests {
    use super::*;

    fn amount(skeins: f64, grams: f64) -> StockAmount {
        StockAmount::new(skeins, Some(Mass::grams(grams).unwrap())).unwrap()
    }

    fn fifty() -> Option<Mass> {
        Some(Mass::grams(50.0).unwrap())
    }

    fn after(
        entries: &[(EntryKind, StockAmount)],
        skein: Option<Mass>,
    ) -> Result<Balance, RecordError> {
        entries
            .iter()
            .try_fold(Balance::default(), |balance, (kind, amount)| {
                balance.after(*kind, *amount, skein)
            })
    }

    #[test]
    fn grams_used_open_a_skein() {
        let entries = [
            (EntryKind::Bought, amount(3.0, 0.0)),
            (EntryKind::Used, amount(0.0, 60.0)),
        ];
        assert_eq!(after(&entries, fifty()).unwrap().held, amount(1.0, 40.0));
        assert_eq!(after(&entries, None), Err(RecordError::NoSkeinMass));
    }

    #[test]
    fn a_skein_used_may_come_out_of_loose_grams() {
        let entries = [
            (EntryKind::Bought, amount(0.0, 60.0)),
            (EntryKind::Used, amount(1.0, 0.0)),
        ];
        assert_eq!(after(&entries, fifty()).unwrap().held, amount(0.0, 10.0));
    }

    #[test]
    fn what_is_promised_beyond_what_a_weighing_found_is_known() {
        let promised = [
            (EntryKind::Bought, amount(3.0, 0.0)),
            (EntryKind::Reserved, amount(2.0, 0.0)),
            (EntryKind::Weighed, amount(1.0, 20.0)),
        ];
        let balance = after(&promised, fifty()).unwrap();
        assert_eq!(balance.overpromised(fifty()), Some(amount(0.0, 30.0)));
        assert_eq!(balance.overpromised(None), None);
        let enough = after(&promised[..2], fifty()).unwrap();
        assert_eq!(enough.overpromised(fifty()), None);
        let none = [&promised[..2], &[(EntryKind::Weighed, amount(0.0, 0.0))]].concat();
        let balance = after(&none, None).unwrap();
        assert_eq!(balance.overpromised(None), Some(amount(2.0, 0.0)));
    }

    #[test]
    fn more_than_is_there_is_refused_and_told() {
        let entries = [
            (EntryKind::Bought, amount(1.0, 0.0)),
            (EntryKind::Used, amount(2.0, 0.0)),
        ];
        let error = after(&entries, fifty()).unwrap_err().to_string();
        assert_eq!(
            error,
            "2 skeins is more than you have in this lot (1 skein): weigh what is left and record that"
        );
        let entries = [
            (EntryKind::Bought, amount(1.0, 0.0)),
            (EntryKind::Used, amount(0.0, 51.0)),
        ];
        assert!(matches!(
            after(&entries, fifty()),
            Err(RecordError::MoreThanHeld { .. })
        ));
    }

    #[test]
    fn weighing_overrules_what_was_thought() {
        let entries = [
            (EntryKind::Bought, amount(3.0, 0.0)),
            (EntryKind::Weighed, amount(2.0, 31.5)),
            (EntryKind::Reserved, amount(2.0, 0.0)),
        ];
        let balance = after(&entries, fifty()).unwrap();
        assert_eq!(balance.held, amount(2.0, 31.5));
        assert_eq!(balance.free(fifty()).unwrap(), amount(0.0, 31.5));
    }

    #[test]
    fn no_more_is_promised_than_is_there_and_a_promise_can_be_taken_back() {
        let bought = (EntryKind::Bought, amount(2.0, 0.0));
        assert!(after(&[bought, (EntryKind::Reserved, amount(3.0, 0.0))], fifty()).is_err());
        let entries = [
            bought,
            (EntryKind::Reserved, amount(2.0, 0.0)),
            (EntryKind::Released, amount(1.0, 0.0)),
        ];
        assert_eq!(after(&entries, fifty()).unwrap().reserved, amount(1.0, 0.0));
    }

    #[test]
    fn what_cannot_be_reserved_or_released_is_told_by_what_is_left_and_reserved() {
        let bought = (EntryKind::Bought, amount(3.0, 0.0));
        let one = (EntryKind::Reserved, amount(1.0, 0.0));
        let told = |kind| {
            let entries = [bought, one, (kind, amount(4.0, 0.0))];
            after(&entries, fifty()).unwrap_err().to_string()
        };
        assert_eq!(
            told(EntryKind::Reserved),
            "4 skeins is more than you can still reserve (2 skeins free, 1 skein reserved already): reserve less, or release some first"
        );
        assert_eq!(
            told(EntryKind::Released),
            "4 skeins is more than is reserved (1 skein): release at most that"
        );
    }

    #[test]
    fn what_is_reserved_is_not_used_before_it_is_released() {
        let entries = [
            (EntryKind::Bought, amount(3.0, 0.0)),
            (EntryKind::Reserved, amount(2.0, 0.0)),
        ];
        let balance = after(&entries, fifty()).unwrap();
        let used =
            |skeins, grams| balance.after_new(EntryKind::Used, amount(skeins, grams), fifty());
        assert_eq!(used(1.0, 0.0).unwrap().held, amount(2.0, 0.0));
        for refused in [used(2.0, 0.0), used(0.0, 51.0)] {
            let told = refused.unwrap_err().to_string();
            assert!(told.contains("1 skein free, 2 skeins reserved"), "{told}");
            assert!(told.contains("release"), "{told}");
        }
        // A ledger that was written before this rule is read as it is.
        assert!(
            balance
                .after(EntryKind::Used, amount(2.0, 0.0), fifty())
                .is_ok()
        );
    }
}
