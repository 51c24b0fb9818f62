//! Lots on the shelf and the ledger that says what is left of them.
//!
//! Amounts are whole thousandths of a skein and whole milligrams, so that a
//! ledger of any length adds up exactly.

use super::{Price, Printed, RecordError};
use crate::{
    measure::{Grist, Length, Mass},
    trade::Colour,
    words::{count_of, unmistakable},
};
use std::fmt;

/// The most thousandths of a skein, or milligrams, in one amount.
const MOST: f64 = 1e9;

/// Some skeins and some grams, neither negative: `2 + 60 g`.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default)]
pub struct StockAmount {
    milliskeins: i64,
    milligrams: i64,
}

impl StockAmount {
    /// From skeins and grams; kept to a thousandth of a skein and a milligram.
    pub fn new(skeins: f64, mass: Option<Mass>) -> Result<Self, RecordError> {
        let grams = mass.map_or(0.0, Mass::as_grams);
        let refused = || RecordError::Amount(format!("{skeins} skeins + {grams} g"));
        Ok(Self {
            milliskeins: thousandths(skeins).ok_or_else(refused)?,
            milligrams: thousandths(grams).ok_or_else(refused)?,
        })
    }

    /// From the whole thousandths in which it is kept.
    pub fn from_thousandths(milliskeins: i64, milligrams: i64) -> Result<Self, RecordError> {
        let allowed = 0..=1_000_000_000_000;
        if allowed.contains(&milliskeins) && allowed.contains(&milligrams) {
            Ok(Self {
                milliskeins,
                milligrams,
            })
        } else {
            Err(RecordError::Amount(format!("{milliskeins} / {milligrams}")))
        }
    }

    /// Thousandths of a skein.
    pub fn milliskeins(self) -> i64 {
        self.milliskeins
    }

    /// Milligrams beside the skeins.
    pub fn milligrams(self) -> i64 {
        self.milligrams
    }

    /// Skeins.
    pub fn skeins(self) -> f64 {
        as_whole(self.milliskeins) / 1000.0
    }

    /// Grams beside the skeins.
    pub fn grams(self) -> f64 {
        as_whole(self.milligrams) / 1000.0
    }

    /// Whether it is nothing.
    pub fn is_nothing(self) -> bool {
        self == Self::default()
    }

    /// Metres of it: skeins x skein length + grams x grist. `None` where the
    /// part that is there has no known length.
    pub fn length(self, skein: Option<Length>, grist: Option<Grist>) -> Option<Length> {
        let of_skeins = match self.milliskeins {
            0 => 0.0,
            _ => self.skeins() * skein?.as_metres(),
        };
        let of_grams = match self.milligrams {
            0 => 0.0,
            _ => self.grams() * grist?.as_metres_per_gram(),
        };
        Length::metres(of_skeins + of_grams).ok()
    }

    fn plus(self, other: Self) -> Result<Self, RecordError> {
        Self::from_thousandths(
            self.milliskeins + other.milliskeins,
            self.milligrams + other.milligrams,
        )
    }

    /// `self` less `other`; skeins are opened where the grams do not reach.
    fn less(self, other: Self, skein_mass: Option<Mass>) -> Result<Self, RecordError> {
        let skeins = self.milliskeins - other.milliskeins;
        let grams = self.milligrams - other.milligrams;
        if skeins >= 0 && grams >= 0 {
            return Self::from_thousandths(skeins, grams);
        }
        if skeins < 0 && grams < 0 || skeins + grams < 0 && (skeins == 0 || grams == 0) {
            return Err(self.too_little(other));
        }
        let skein = skein_mass
            .and_then(|mass| thousandths(mass.as_grams()))
            .ok_or(RecordError::NoSkeinMass)?;
        settled(skeins, grams, skein).ok_or_else(|| self.too_little(other))
    }

    fn too_little(self, asked: Self) -> RecordError {
        RecordError::MoreThanHeld {
            asked: asked.to_string(),
            held: self.to_string(),
        }
    }
}

/// Skeins and grams of which one is negative, brought to one that is not:
/// whole skeins are opened into grams, else all of it becomes grams.
fn settled(milliskeins: i64, milligrams: i64, skein: i64) -> Option<StockAmount> {
    let opened = (-milligrams).max(0).div_euclid(skein.max(1))
        + i64::from((-milligrams).max(0).rem_euclid(skein.max(1)) > 0);
    let left = milliskeins - opened * 1000;
    if milligrams < 0 && left >= 0 {
        return StockAmount::from_thousandths(left, milligrams + opened * skein).ok();
    }
    StockAmount::from_thousandths(0, milligrams + milliskeins * skein / 1000).ok()
}

#[expect(
    clippy::cast_possible_truncation,
    reason = "bounded by MOST just before"
)]
fn thousandths(value: f64) -> Option<i64> {
    let scaled = (value * 1000.0).round();
    (0.0..=MOST).contains(&scaled).then_some(scaled as i64)
}

#[expect(
    clippy::cast_precision_loss,
    reason = "amounts stay below 2^53 thousandths"
)]
fn as_whole(value: i64) -> f64 {
    value as f64
}

impl fmt::Display for StockAmount {
    /// `3.5 skeins`, `2 skeins + 60 g`, `340 g`; read back to the same amount.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let skeins = || count_of_thousandths(self.skeins());
        let grams = || format!("{} g", unmistakable(self.grams()));
        match (self.milliskeins, self.milligrams) {
            (_, 0) => f.write_str(&skeins()),
            (0, _) => f.write_str(&grams()),
            _ => write!(f, "{} + {}", skeins(), grams()),
        }
    }
}

fn count_of_thousandths(skeins: f64) -> String {
    if (skeins * 100.0).fract() == 0.0 {
        count_of(skeins, "skein")
    } else {
        format!("{} skeins", unmistakable(skeins))
    }
}

/// One dye lot of one shade in one place.
#[derive(Debug, Clone, PartialEq)]
pub struct Lot {
    /// Shade, as printed; empty where there is none.
    pub shade: String,
    /// Colour of the shade, one for all lots of it; `None` where nobody gave one.
    pub colour: Option<Printed<Colour>>,
    /// Dye lot, as printed; `None` where the band gives none.
    pub lot: Option<String>,
    /// Where it is kept; empty where not said.
    pub place: String,
    /// Mass, and length where measured, of one full skein of this lot.
    pub weighed: Option<Printed<(Mass, Option<Length>)>>,
    /// What was paid.
    pub price: Option<Printed<Price>>,
    /// Anything else.
    pub notes: String,
}

impl Lot {
    /// `Vorrelith, Orrin DK, moss, lot A417`; `yarn` is the title of its yarn.
    pub fn title(&self, yarn: &str) -> String {
        lot_title(yarn, &self.shade, self.lot.as_deref().unwrap_or_default())
    }
}

/// The title of a lot of this yarn, shade and dye lot, as far as they are known.
pub fn lot_title(yarn: &str, shade: &str, dye_lot: &str) -> String {
    let mut title = yarn.to_owned();
    for (before, text) in [(", ", shade), (", lot ", dye_lot)] {
        if !text.is_empty() {
            title.push_str(before);
            title.push_str(text);
        }
    }
    title
}

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
    /// of the lot, needed where grams are taken from skeins.
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

    #[test]
    fn an_amount_has_a_length_only_through_what_is_known() {
        let skein = Length::metres(125.0).ok();
        let grist = Grist::metres_per_gram(2.5).ok();
        assert_eq!(
            amount(2.0, 20.0).length(skein, grist),
            Length::metres(300.0).ok()
        );
        assert_eq!(
            amount(2.0, 0.0).length(skein, None),
            Length::metres(250.0).ok()
        );
        assert_eq!(amount(2.0, 20.0).length(skein, None), None);
    }

    #[test]
    fn amounts_read_as_people_say_them() {
        let texts = [
            amount(3.5, 0.0),
            amount(2.0, 60.0),
            amount(0.0, 340.0),
            amount(0.333, 0.0),
        ]
        .map(|a| a.to_string());
        assert_eq!(
            texts,
            ["3.5 skeins", "2 skeins + 60 g", "340 g", "0.333 skeins"]
        );
    }
}
