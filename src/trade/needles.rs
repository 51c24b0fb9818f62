//! Needle and hook sizes: millimetres beside the numbers of the markets.
//!
//! Sources: consensus of six printed charts (common practice); Craft Yarn
//! Council, Standard Yarn Weight System, for US 000, US 17 and hook letters.
//! Rows marked "memory" were confirmed by no text. Where charts disagree a
//! number stands in several rows, and all of them are given.

use crate::measure::NeedleSize;

/// Whose number a needle bears.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum NeedleSystem {
    /// US numbers: larger is thicker.
    Us,
    /// Old UK and Canadian numbers: larger is finer.
    OldUk,
    /// Japanese numbers: larger is thicker.
    Japanese,
}

impl NeedleSystem {
    /// How it is written here, before the number.
    pub fn name(self) -> &'static str {
        match self {
            Self::Us => "US",
            Self::OldUk => "old UK",
            Self::Japanese => "Japanese no.",
        }
    }
}

/// One size and its numbers.
#[derive(Debug, PartialEq)]
pub struct NeedleRow {
    /// Diameter, mm.
    pub mm: f64,
    /// US number, as `1.5` where charts print 1 1/2.
    pub us: Option<&'static str>,
    /// Old UK and Canadian number.
    pub old_uk: Option<&'static str>,
}

const fn row(mm: f64, us: Option<&'static str>, old_uk: Option<&'static str>) -> NeedleRow {
    NeedleRow { mm, us, old_uk }
}

/// Every needle size, finest first.
pub const NEEDLES: &[NeedleRow] = &[
    row(1.0, Some("0000"), None),
    row(1.25, Some("0000"), None), // memory; charts differ
    row(1.25, Some("000"), None),
    row(1.5, Some("00"), None),
    row(1.5, Some("000"), None),
    row(1.75, Some("00"), Some("15")), // memory
    row(2.0, Some("0"), Some("14")),
    row(2.25, Some("1"), Some("13")),
    row(2.5, Some("1.5"), None),
    row(2.75, Some("2"), Some("12")),
    row(3.0, Some("2.5"), Some("11")),
    row(3.25, Some("3"), Some("10")),
    row(3.5, Some("4"), None),
    row(3.75, Some("5"), Some("9")),
    row(4.0, Some("6"), Some("8")),
    row(4.5, Some("7"), Some("7")),
    row(5.0, Some("8"), Some("6")),
    row(5.5, Some("9"), Some("5")),
    row(6.0, Some("10"), Some("4")),
    row(6.5, Some("10.5"), Some("3")),
    row(7.0, Some("10.75"), Some("2")), // US number from memory
    row(7.5, None, Some("1")),
    row(8.0, Some("11"), Some("0")),
    row(9.0, Some("13"), Some("00")),
    row(10.0, Some("15"), Some("000")),
    row(12.0, Some("17"), None),
    row(12.75, Some("17"), None),
    row(15.0, Some("19"), None),
    row(19.0, Some("35"), None),
    row(20.0, Some("36"), None),
    row(25.0, Some("50"), None),
];

/// Every diameter in millimetres that `number` means in `system`, finest first.
pub fn needle_sizes(system: NeedleSystem, number: &str) -> Vec<f64> {
    let holds = |row: &&NeedleRow| match system {
        NeedleSystem::Us => row.us == Some(number),
        NeedleSystem::OldUk => row.old_uk == Some(number),
        NeedleSystem::Japanese => false,
    };
    let japanese = JAPANESE.iter().filter(|_| system == NeedleSystem::Japanese);
    let japanese = japanese.filter(|(known, _)| *known == number);
    let rows = NEEDLES.iter().filter(holds).map(|row| row.mm);
    rows.chain(japanese.map(|(_, mm)| *mm)).collect()
}

/// Japanese numbers and their millimetres: common practice, no source, from memory.
/// From 7 mm on they are counted in millimetres.
pub const JAPANESE: &[(&str, f64)] = &[
    ("0", 2.1),
    ("1", 2.4),
    ("2", 2.7),
    ("3", 3.0),
    ("4", 3.3),
    ("5", 3.6),
    ("6", 3.9),
    ("7", 4.2),
    ("8", 4.5),
    ("9", 4.8),
    ("10", 5.1),
    ("11", 5.4),
    ("12", 5.7),
    ("13", 6.0),
    ("14", 6.3),
    ("15", 6.6),
];

/// Whether needles of this diameter are made.
pub fn is_needle_size(mm: f64) -> bool {
    NEEDLES.iter().any(|row| row.mm == mm)
}

/// A hook letter, as US labels print it, and its diameter in mm. Letters vary
/// by maker: charts give 2 or 2.25 mm for B, and 2.5 or 2.75 mm for C.
pub const HOOK_LETTERS: &[(&str, f64)] = &[
    ("b", 2.25),
    ("c", 2.75),
    ("d", 3.25),
    ("e", 3.5),
    ("f", 3.75),
    ("g", 4.0),
    ("h", 5.0),
    ("i", 5.5),
    ("j", 6.0),
    ("k", 6.5),
    ("l", 8.0),
    ("m", 9.0),
    ("n", 10.0),
    ("q", 15.0),
];

/// Diameter in mm of a hook letter.
pub fn hook_size(letter: &str) -> Option<f64> {
    let letter = letter.to_lowercase();
    HOOK_LETTERS
        .iter()
        .find(|(known, _)| *known == letter)
        .map(|(_, mm)| *mm)
}

/// The sizes that are commonly sold, so that `one size up` has a meaning, in mm,
/// thinnest first. Common practice, no source: the sizes on which six trade charts
/// agree, and 1.75 mm from memory.
pub const COMMON_NEEDLES_MM: [f64; 28] = [
    1.0, 1.25, 1.5, 1.75, 2.0, 2.25, 2.5, 2.75, 3.0, 3.25, 3.5, 3.75, 4.0, 4.5, 5.0, 5.5, 6.0, 6.5,
    7.0, 7.5, 8.0, 9.0, 10.0, 12.0, 15.0, 19.0, 20.0, 25.0,
];

/// The size `steps` above `from` (below, where negative), counted from the
/// common size nearest to it, of two equally near ones the thinner; `None`
/// beyond the ends of the list.
pub fn needle_steps_from(from: NeedleSize, steps: i8) -> Option<NeedleSize> {
    let off = |mm: f64| (mm - from.as_millimetres()).abs();
    let (nearest, _) = COMMON_NEEDLES_MM
        .iter()
        .enumerate()
        .min_by(|(_, a), (_, b)| off(**a).total_cmp(&off(**b)))?;
    let place = nearest.checked_add_signed(isize::from(steps))?;
    let mm = COMMON_NEEDLES_MM.get(place)?;
    NeedleSize::millimetres(*mm).ok()
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Common practice, no source: six charts agree on these rows.
    #[test]
    fn us_and_old_uk_numbers_agree_at_seven_only() {
        assert_eq!(needle_sizes(NeedleSystem::Us, "6"), [4.0]);
        assert_eq!(needle_sizes(NeedleSystem::OldUk, "6"), [5.0]);
        assert_eq!(
            needle_sizes(NeedleSystem::Us, "7"),
            needle_sizes(NeedleSystem::OldUk, "7")
        );
    }

    /// US 17: 12 mm on all charts, 12.75 mm in Craft Yarn Council, Standard
    /// Yarn Weight System.
    #[test]
    fn a_number_on_which_charts_disagree_gives_every_size() {
        assert_eq!(needle_sizes(NeedleSystem::Us, "17"), [12.0, 12.75]);
        assert!(needle_sizes(NeedleSystem::OldUk, "17").is_empty());
    }

    #[test]
    fn sizes_rise_and_none_is_beyond_what_is_made() {
        assert!(NEEDLES.is_sorted_by(|a, b| a.mm <= b.mm));
        assert!(is_needle_size(3.75) && !is_needle_size(3.8));
    }

    fn steps(from: f64, steps: i8) -> Option<f64> {
        let from = NeedleSize::millimetres(from).unwrap();
        needle_steps_from(from, steps).map(NeedleSize::as_millimetres)
    }

    #[test]
    fn one_size_up_from_4_mm_is_4_5_mm_and_one_down_is_3_75_mm() {
        assert_eq!(steps(4.0, 1), Some(4.5));
        assert_eq!(steps(4.0, -1), Some(3.75));
        assert_eq!(steps(4.0, 2), Some(5.0));
    }

    #[test]
    fn an_odd_size_counts_from_the_nearest_common_one() {
        assert_eq!(steps(4.2, 1), Some(4.5));
        assert_eq!(steps(4.25, 1), Some(4.5));
    }

    #[test]
    fn beyond_the_ends_there_is_no_size() {
        assert_eq!(steps(1.0, -1), None);
        assert_eq!(steps(25.0, 1), None);
    }

    #[test]
    fn sizes_stand_in_order() {
        assert!(COMMON_NEEDLES_MM.is_sorted());
    }
}
