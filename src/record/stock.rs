//! Lots on the shelf, and amounts of yarn: whole thousandths of a skein and whole
//! milligrams, so that a ledger of any length adds up exactly.

use super::{Price, Printed, RecordError};
use crate::{
    measure::{Grist, Length, Mass},
    trade::Colour,
    words::{count_of, unmistakable},
};
use std::fmt;

/// The most thousandths of a skein, or milligrams, in one amount.
const MOST: f64 = 1e9;

/// By so much an exact fit may be missed.
const EXACT: f64 = 1e-9;

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

    /// The least part of it that is so long, or all of it where it is shorter: of its
    /// skeins, `in_whole` ones where there are, else in thousandths; then of its grams, in
    /// whole ones. `None` where the part that it takes has no known length.
    pub fn part(
        self,
        length: Length,
        (skein, grist): (Option<Length>, Option<Grist>),
        in_whole: bool,
    ) -> Option<Self> {
        let metres = length.as_metres();
        let of_skeins = match self.milliskeins {
            0 => 0.0,
            _ => self.skeins() * skein?.as_metres(),
        };
        if metres <= of_skeins {
            let step = if in_whole { 1.0 } else { 1000.0 };
            let steps = (metres / skein?.as_metres() * step - EXACT).ceil().max(0.0);
            let milliskeins = thousandths(steps / step)?.min(self.milliskeins);
            return Some(Self {
                milliskeins,
                milligrams: 0,
            });
        }
        let grams = match self.milligrams {
            0 => 0.0,
            _ => (metres - of_skeins) / grist?.as_metres_per_gram(),
        };
        let grams = thousandths((grams - EXACT).ceil().max(0.0))?;
        Some(Self {
            milliskeins: self.milliskeins,
            milligrams: grams.min(self.milligrams),
        })
    }

    /// Both together.
    pub fn plus(self, other: Self) -> Result<Self, RecordError> {
        Self::from_thousandths(
            self.milliskeins + other.milliskeins,
            self.milligrams + other.milligrams,
        )
    }

    /// `self` less `other`; skeins are opened where the grams do not reach.
    pub fn less(self, other: Self, skein_mass: Option<Mass>) -> Result<Self, RecordError> {
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
        f.write_str(&self.counted_in("skein"))
    }
}

impl StockAmount {
    /// The same in another word for one: `3.5 balls`, `2 balls + 60 g`.
    pub fn counted_in(self, word: &str) -> String {
        self.written(|skeins| match (skeins * 100.0).fract() == 0.0 {
            true => count_of(skeins, word),
            false => format!("{} {word}s", unmistakable(skeins)),
        })
    }

    /// The same where a head says what is counted: `3.5`, `2 + 60 g`.
    pub fn numbers(self) -> String {
        self.written(unmistakable)
    }

    fn written(self, count: impl Fn(f64) -> String) -> String {
        let grams = || format!("{} g", unmistakable(self.grams()));
        match (self.milliskeins, self.milligrams) {
            (_, 0) => count(self.skeins()),
            (0, _) => grams(),
            _ => [count(self.skeins()), grams()].join(" + "),
        }
    }
}

/// One dye lot of one shade in one place.
#[derive(Debug, Clone, Default, PartialEq)]
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

#[cfg(test)]
mod tests {
    use super::*;

    fn amount(skeins: f64, grams: f64) -> StockAmount {
        StockAmount::new(skeins, Some(Mass::grams(grams).unwrap())).unwrap()
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
    fn a_part_is_as_long_as_it_must_be_and_never_more_than_all() {
        let lengths = (Length::metres(125.0).ok(), Grist::metres_per_gram(2.5).ok());
        let part = |of: StockAmount, metres, in_whole| {
            let length = Length::metres(metres).unwrap();
            of.part(length, lengths, in_whole).unwrap()
        };
        let lot = amount(4.5, 60.0);
        assert_eq!(part(lot, 250.0, true), amount(2.0, 0.0));
        assert_eq!(part(lot, 251.0, true), amount(3.0, 0.0));
        assert_eq!(part(lot, 251.0, false), amount(2.008, 0.0));
        assert_eq!(part(lot, 550.0, true), amount(4.5, 0.0));
        assert_eq!(part(lot, 600.0, true), amount(4.5, 15.0));
        assert_eq!(part(lot, 9000.0, false), lot);
        let unknown = lot.part(Length::metres(1.0).unwrap(), (None, None), true);
        assert_eq!(unknown, None);
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
