//! Quantities with a unit, wherever they stand in a line.

use crate::{
    label::{
        amount::{CountedUnit, SizedNumber, SizedNumbers, sized_numbers},
        token::{Token, Tokens, lex, text_of},
    },
    measure::units::{Dimension, Unit},
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
