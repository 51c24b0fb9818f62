//! Small cells about what is knitted: rows, steps, turns, plain numbers.

use super::{
    length::of,
    whole::{Asked, Cell, whole},
};
use crate::{
    label::reading::{ReadError, Reading, exact, plain, symbol, word},
    measure::{Length, Mass, units::Dimension},
    record::RowRange,
};
use winnow::{
    Parser,
    combinator::{alt, opt},
    error::EmptyError,
};

/// A length or a mass.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Step {
    /// Needs are stated in whole steps of a length.
    Length(Length),
    /// Needs are stated in whole steps of a mass.
    Mass(Mass),
}

/// `10 m`, `50 yd`, `25 g`.
pub fn step(text: &str) -> Cell<Step> {
    let asked = Asked {
        what: "a step",
        allowed: "a length or a mass: `10 m`, `50 yd` or `25 g`",
    };
    whole(text, asked, |input| {
        let length = |input: &mut crate::label::reading::Tokens<'_>| {
            let read = of(input, Dimension::Length, asked.allowed, Length::metres)?;
            Ok(read.map(|read| Reading {
                value: Step::Length(read.value),
                notes: read.notes,
            }))
        };
        let mass = |input: &mut crate::label::reading::Tokens<'_>| {
            let read = of(input, Dimension::Mass, asked.allowed, Mass::grams)?;
            Ok(read.map(|read| Reading {
                value: Step::Mass(read.value),
                notes: read.notes,
            }))
        };
        alt((length, mass)).parse_next(input)
    })
}

/// `3`, `3.5`, `4 x`, `3 times`: a number above zero.
pub fn times(text: &str) -> Cell<f64> {
    let asked = Asked {
        what: "a number of times",
        allowed: "a number above zero: `3` or `3.5 times`",
    };
    whole(text, asked, |input| {
        let value = exact
            .verify(|value: &f64| *value > 0.0 && *value <= 1e6)
            .parse_next(input)?;
        opt(alt((
            symbol("x×").void(),
            word(&["x", "times", "time"]).void(),
        )))
        .parse_next(input)?;
        Ok::<_, EmptyError>(plain(value))
    })
}

/// `40`, `40.5`, `0`: a count of rows, stitches, wraps or turns.
pub fn plain_number(text: &str) -> Cell<f64> {
    let asked = Asked {
        what: "a number",
        allowed: "a number from 0 to 1000000: `40` or `40.5`",
    };
    whole(text, asked, |input| {
        let value = exact
            .verify(|value: &f64| (0.0..=1e6).contains(value))
            .parse_next(input)?;
        Ok::<_, EmptyError>(plain(value))
    })
}

/// `180`, `270 degrees`, `90°`: a part of a full turn.
pub fn degrees(text: &str) -> Cell<f64> {
    let asked = Asked {
        what: "a part of a turn",
        allowed: "degrees above 0, to 360: `180` or `270 degrees`",
    };
    whole(text, asked, |input| {
        let value = exact
            .verify(|value: &f64| *value > 0.0 && *value <= 360.0)
            .parse_next(input)?;
        opt(alt((
            symbol("°").void(),
            word(&["degrees", "degree", "deg"]).void(),
        )))
        .parse_next(input)?;
        Ok::<_, EmptyError>(plain(value))
    })
}

const ROWS_ALLOWED: &str =
    "rows and their stitches, parted by semicolons: `1-20: 80; 21-60: 80 to 120`";

/// `1-20: 80; 21-60: 80 to 120`: runs of rows that follow each other, each with
/// its stitches in the first and the last row.
pub fn row_counts(text: &str) -> Cell<Vec<RowRange>> {
    let refuse = |why: String| ReadError {
        span: 0..text.len(),
        given: text.to_owned(),
        why,
        allowed: ROWS_ALLOWED.to_owned(),
    };
    let mut ranges = Vec::new();
    let mut next = 1;
    for part in text.split(';').filter(|part| !part.trim().is_empty()) {
        let (from, to, range) = row_range(part)
            .ok_or_else(|| refuse(format!("`{}` is no run of rows", part.trim())))?;
        if from != next {
            return Err(refuse(format!(
                "a run begins with row {from} where row {next} comes next"
            )));
        }
        next = to + 1;
        ranges.push(range);
    }
    match ranges.is_empty() {
        true => Err(refuse("it states no rows".to_owned())),
        false => Ok(Reading {
            value: ranges,
            notes: Vec::new(),
        }),
    }
}

/// First row, last row, and the run.
fn row_range(part: &str) -> Option<(u32, u32, RowRange)> {
    let (rows, stitches) = part.split_once(':')?;
    let (from, to) = ends(rows)?;
    let (from, to) = (from.parse::<u32>().ok()?, to.parse::<u32>().ok()?);
    let counts = stitches.trim().trim_end_matches("stitches");
    let counts = counts.trim_end_matches("sts");
    let (first, last) = ends(counts)?;
    let count = |text: &str| {
        let value = text.parse::<f64>().ok()?;
        (0.0..=1e6).contains(&value).then_some(value)
    };
    let range = RowRange {
        rows: to.checked_sub(from)? + 1,
        first: count(first)?,
        last: count(last)?,
    };
    (from >= 1 && to < u32::MAX).then_some((from, to, range))
}

/// `1-20`, `80 to 120`, or one number for both ends.
fn ends(text: &str) -> Option<(&str, &str)> {
    let text = text.trim();
    let pair = text
        .split_once('-')
        .or_else(|| text.split_once('–'))
        .or_else(|| text.split_once("to"));
    let (low, high) = pair.unwrap_or((text, text));
    let (low, high) = (low.trim(), high.trim());
    (!low.is_empty() && !high.is_empty()).then_some((low, high))
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn runs_of_rows_follow_each_other() {
        let read = row_counts("1-20: 80; 21-60: 80 to 120 sts").unwrap().value;
        assert_eq!(
            read[1],
            RowRange {
                rows: 40,
                first: 80.0,
                last: 120.0
            }
        );
        let gap = row_counts("1-20: 80; 22-60: 90").unwrap_err().to_string();
        assert!(gap.contains("row 21 comes next"), "{gap}");
        assert!(row_counts("").is_err() && row_counts("20: ").is_err());
        assert!(row_counts("20-1: 80").is_err() && row_counts("1-5: -80").is_err());
    }

    #[test]
    fn a_step_is_a_length_or_a_mass() {
        assert!(matches!(step("50 yd").unwrap().value, Step::Length(_)));
        assert!(matches!(step("25 g").unwrap().value, Step::Mass(_)));
        assert!(step("25").is_err());
    }

    #[test]
    fn numbers_with_their_words_are_read() {
        assert_eq!(times("3.5 times").unwrap().value, 3.5);
        assert_eq!(degrees("270 degrees").unwrap().value, 270.0);
        assert!(times("0").is_err() && degrees("361").is_err());
    }

    proptest! {
        #[test]
        fn prop_no_text_makes_these_cells_panic(text in any::<String>()) {
            let _ = (row_counts(&text), step(&text), times(&text), degrees(&text));
        }
    }
}
