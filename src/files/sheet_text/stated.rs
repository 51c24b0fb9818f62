//! Quantities with a unit, wherever they stand in a line, and those stated in two unit
//! systems that do not agree.

use crate::{
    label::{
        amount::{CountedUnit, SizedNumber, SizedNumbers, sized_numbers},
        token::{Token, Tokens, lex, text_of},
    },
    measure::units::{Dimension, Unit},
    words::number,
};
use winnow::Parser;

/// What a quantity counts.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum StatedKind {
    /// Skeins.
    Skeins,
    /// A length or mass in this unit.
    Unit(&'static Unit),
}

/// A quantity with its unit, for one size or for several.
#[derive(Debug, Clone, PartialEq)]
pub struct Stated {
    /// What each size is said to take: every meaning its number may have, in
    /// skeins, metres or grams; of a range the upper end.
    pub readings: Vec<Vec<f64>>,
    /// What is counted.
    pub of: StatedKind,
    /// As written.
    pub text: String,
    /// Pieces of the line it was read from.
    pub(super) from: usize,
    pub(super) to: usize,
}

impl Stated {
    /// One value a size, where every number has one meaning.
    pub fn values(&self) -> Option<Vec<f64>> {
        let one = |readings: &Vec<f64>| match readings.as_slice() {
            [one] => Some(*one),
            _ => None,
        };
        self.readings.iter().map(one).collect()
    }

    /// Whether it is an amount of yarn, by its unit.
    pub fn is_of_yarn(&self) -> bool {
        match self.of {
            StatedKind::Skeins => true,
            StatedKind::Unit(unit) => !matches!(unit.symbol, "mm" | "cm" | "in" | "ft"),
        }
    }

    /// Whether it is a length of yarn.
    pub fn is_length_of_yarn(&self) -> bool {
        let length =
            matches!(self.of, StatedKind::Unit(unit) if unit.dimension == Dimension::Length);
        length && self.is_of_yarn()
    }
}

/// Every quantity with a unit, in the order of the line.
pub(super) fn stated(text: &str) -> Vec<Stated> {
    let tokens = lex(text);
    let mut found = Vec::new();
    let mut at = 0;
    while let Some(rest) = tokens.get(at..).filter(|rest| !rest.is_empty()) {
        let mut input = Tokens::new(rest);
        let Ok((numbers, pieces)) = sized_numbers.with_taken().parse_next(&mut input) else {
            at += 1;
            continue;
        };
        let to = at + pieces.len().max(1);
        found.extend(of(&numbers, pieces, at, to));
        at = to;
    }
    found
}

fn of(numbers: &SizedNumbers, pieces: &[Token<'_>], from: usize, to: usize) -> Option<Stated> {
    let of = match numbers.unit {
        CountedUnit::Skeins => StatedKind::Skeins,
        CountedUnit::Unit(unit) => StatedKind::Unit(unit),
        CountedUnit::Unstated => return None,
    };
    let text = text_of(pieces);
    let readings = numbers.entries.iter().map(|entry| meanings(entry, of));
    is_whole(&text, numbers.entries.len()).then(|| Stated {
        readings: readings.collect(),
        of,
        text,
        from,
        to,
    })
}

/// Whether a list is one: its brackets are closed, which a line broken within a
/// list does not do, and something else than space parts its numbers.
fn is_whole(text: &str, entries: usize) -> bool {
    let closed = text.matches(['(', '[']).count() == text.matches([')', ']']).count();
    let parted = text.contains(['(', '[', ',', '/', ';', '-', '–']);
    entries < 2 || closed && parted
}

fn meanings(entry: &SizedNumber, of: StatedKind) -> Vec<f64> {
    let (habit, factor) = match of {
        StatedKind::Skeins => (None, 1.0),
        StatedKind::Unit(unit) => (Some(unit.habit), unit.factor),
    };
    let readings = entry.range.readings(habit);
    readings
        .into_iter()
        .map(|(_, high)| high * factor)
        .collect()
}

/// How far two statements of one quantity may lie apart: label rounding
/// (common practice, no source; as for labels).
const APART: f64 = 0.015;
/// Beyond this ratio two quantities in brackets are not two statements of one;
/// inches taken for centimetres lie 2.54 apart, ounces for grams far beyond.
const FURTHEST: f64 = 3.0;
/// The same for neighbouring cells of a table, where less speaks for a pair.
const FURTHEST_OF_CELLS: f64 = 1.3;

/// Two statements that disagree.
#[derive(Debug, Clone, PartialEq)]
pub struct UnitPair {
    /// Both as written.
    pub given: String,
    /// The first in the unit of the second.
    pub expected: String,
}

/// The pairs of a line that lie more than 1.5 % apart. Needle lengths and gauge
/// lengths are named at 2.5 cm an inch by the trade (`4 in (10 cm)`): that is no
/// disagreement in a line about gauge or needles.
pub fn unit_pairs(line: &str) -> Vec<UnitPair> {
    pairs_of(line, &stated(line))
}

/// The same of a line whose quantities are known.
pub(super) fn pairs_of(line: &str, found: &[Stated]) -> Vec<UnitPair> {
    if found.len() < 2 {
        return Vec::new();
    }
    let tokens = lex(line);
    let is_of_gauge = tokens.iter().filter_map(Token::word).any(speaks_of_gauge);
    let neighbours = found.iter().zip(found.iter().skip(1));
    neighbours
        .filter_map(|(first, second)| {
            let units = units(first, second)?;
            let between = tokens.get(first.to..second.from)?;
            let furthest = joined(first, between)?;
            let off = disagreement(first, second, furthest)?;
            let of_trade = is_of_gauge && (off - 2.54 / 2.5).abs() < 1e-9;
            (!of_trade).then(|| UnitPair {
                given: format!("{} and {}", first.text, second.text),
                expected: expected(first, units.1),
            })
        })
        .collect()
}

fn speaks_of_gauge(word: &str) -> bool {
    [
        "gauge", "tension", "needle", "needles", "circular", "dpn", "dpns", "stitches", "sts",
        "st", "rows",
    ]
    .contains(&word)
}

/// The two units, where they measure one thing in two systems.
fn units(first: &Stated, second: &Stated) -> Option<(&'static Unit, &'static Unit)> {
    let (StatedKind::Unit(a), StatedKind::Unit(b)) = (first.of, second.of) else {
        return None;
    };
    let two_systems = a.dimension == b.dimension && a.habit != b.habit;
    let as_many = first.readings.len() == second.readings.len();
    (two_systems && as_many).then_some((a, b))
}

/// How far apart they may lie and still be two statements of one; `None` where
/// what stands between them does not join them.
fn joined(first: &Stated, between: &[Token<'_>]) -> Option<f64> {
    let word = |token: &Token<'_>| {
        token
            .word()
            .is_some_and(|word| ["or", "approx", "ca", "about"].contains(&word))
    };
    let sign = |token: &Token<'_>, signs: &str| signs.chars().any(|sign| token.is(sign));
    let joins = |token: &Token<'_>| word(token) || sign(token, "()[]/=~|,");
    if between.len() > 4 || !between.iter().all(joins) {
        return None;
    }
    let has = |signs: &str| between.iter().any(|token| sign(token, signs));
    let strong = has("([/=~") || between.iter().any(word);
    match (strong, has("|") || first.readings.len() > 1 && has(",")) {
        (true, _) => Some(FURTHEST),
        (false, true) => Some(FURTHEST_OF_CELLS),
        (false, false) => None,
    }
}

/// The worst ratio of the two, of the meanings that lie nearest, where it is
/// beyond the rounding and within what may be a pair at all.
fn disagreement(first: &Stated, second: &Stated, furthest: f64) -> Option<f64> {
    let sizes = first.readings.iter().zip(&second.readings);
    let worst = sizes
        .filter_map(|(a, b)| nearest_ratio(a, b))
        .fold(1.0, f64::max);
    (worst > (1.0 + APART) * (1.0 + 1e-9) && worst < furthest).then_some(worst)
}

fn nearest_ratio(a: &[f64], b: &[f64]) -> Option<f64> {
    let ratios = a
        .iter()
        .flat_map(|a| b.iter().map(move |b| (a / b).max(b / a)));
    ratios.min_by(f64::total_cmp)
}

fn expected(first: &Stated, unit: &Unit) -> String {
    let each: Vec<String> = first
        .readings
        .iter()
        .filter_map(|readings| readings.first())
        .map(|value| number(value / unit.factor, 1))
        .collect();
    format!("{} {}", each.join(", "), unit.symbol)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn values(text: &str) -> Vec<Vec<f64>> {
        stated(text).iter().filter_map(Stated::values).collect()
    }

    #[test]
    fn quantities_are_found_wherever_they_stand() {
        assert_eq!(
            values("A: some yarn, 120 m/50 g, 8 (9, 10) skeins"),
            [vec![120.0], vec![50.0], vec![8.0, 9.0, 10.0]]
        );
        assert_eq!(values("no figures here"), Vec::<Vec<f64>>::new());
    }

    #[test]
    fn a_list_that_breaks_off_states_nothing() {
        assert_eq!(values("120 m; 8 (9, 10 skeins"), [[120.0]]);
        assert_eq!(values("120 m per 50 g (1.76"), [[120.0], [50.0]]);
        assert_eq!(values("50 g 120 131.2 240"), [[50.0]]);
    }

    #[test]
    fn numbers_without_a_unit_state_nothing() {
        assert_eq!(values("9 (10, 11) of something"), Vec::<Vec<f64>>::new());
    }
}

#[cfg(test)]
mod unit_pairs_tests {
    use super::*;

    fn expected_of(line: &str) -> Vec<String> {
        unit_pairs(line)
            .into_iter()
            .map(|pair| pair.expected)
            .collect()
    }

    /// FlatOrRound examples of common practice, no source; recomputed (cases C97 and
    /// C99): within 1.5 % is label rounding.
    #[test]
    fn label_rounding_is_no_disagreement() {
        for line in [
            "5 oz/141.7 g",
            "250 yd/228 m",
            "6 oz/170.1 g",
            "315 yd/288 m",
            "4 oz/115 g with 220 yd/200 m",
            "chest 33 (36, 40) in / 84 (91.5, 102) cm",
        ] {
            assert_eq!(expected_of(line), Vec::<String>::new(), "{line}");
        }
    }

    /// FlatOrRound example of common practice, no source; recomputed (case C103): 1 oz
    /// is 28.35 g, and `roughly 29 g` is 2 % high.
    #[test]
    fn pairs_that_disagree_are_told_with_what_they_should_be() {
        let rows = [
            ("1 oz (29 g)", "28.3 g"),
            ("body 40 in (106 cm)", "101.6 cm"),
            ("each skein 120 m (120 yd)", "131.2 yd"),
            ("16 in (16 cm)", "40.6 cm"),
            ("33 (36, 40) in / 84 (91.5, 112) cm", "83.8, 91.4, 101.6 cm"),
        ];
        for (line, expected) in rows {
            assert_eq!(expected_of(line), [expected], "{line}");
        }
    }

    #[test]
    fn what_is_not_stated_twice_is_no_pair() {
        for line in [
            "1200 m, 109 yd a ball",
            "120 m / 50 g",
            "900 m needed (109 yd a ball, 9 balls)",
            "5 in wide and 20 cm long",
        ] {
            assert_eq!(expected_of(line), Vec::<String>::new(), "{line}");
        }
    }

    #[test]
    fn the_trades_lengths_of_gauge_and_needle_are_no_disagreement() {
        assert_eq!(
            expected_of("22 sts over 4 in (10 cm)"),
            Vec::<String>::new()
        );
        assert_eq!(
            expected_of("circular needle, 32 in (80 cm)"),
            Vec::<String>::new()
        );
        assert_eq!(expected_of("chest 40 in (100 cm)"), ["101.6 cm"]);
    }
}
