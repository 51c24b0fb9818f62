//! What is knitted: rows, stitches, turns, steps, multiples, purpose, days,
//! tolerances.

use super::{Cell, whole, whole_plain, yarn::any_grist};
use crate::{
    label::{
        length_mass::one_value,
        purpose::{fit_alone, purpose_alone},
        reading::{ReadError, ReadResult, Reading, Refusal},
        token::{ParseResult, Tokens, any_word, exact, require, sign_or_word, word, words},
    },
    measure::{GristTolerance, Length, Mass, Ratio, units::Dimension},
    record::{Fit, Multiple, Purpose, RowRange},
};
use std::ops::RangeInclusive;
use winnow::{
    Parser,
    combinator::{alt, opt, preceded, terminated},
};

const PERCENT_ALLOWED: &str = "`8 %`";
const STEP_ALLOWED: &str = "a length or a mass: `10 m`, `50 yd` or `25 g`";
const ROWS_ALLOWED: &str =
    "rows and their stitches, with semicolons between: `1-20: 80; 21-60: 80 to 120`";

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
    whole(text, "a step", STEP_ALLOWED, |input| {
        let length = one_value(Dimension::Length, STEP_ALLOWED, Length::metres);
        let mass = one_value(Dimension::Mass, STEP_ALLOWED, Mass::grams);
        alt((
            length.map(|read| read.map(|length| length.map(Step::Length))),
            mass.map(|read| read.map(|mass| mass.map(Step::Mass))),
        ))
        .parse_next(input)
    })
}

/// `3`, `3.5`, `4 x`, `3 times`: a number above zero.
pub fn times(text: &str) -> Cell<f64> {
    let allowed = "a number above zero: `3` or `3.5 times`";
    whole_plain(text, "a number of times", allowed, |input| {
        let times = opt(sign_or_word("×", words! { times, time }));
        let value = terminated(within(0.0..=1e6), times).parse_next(input)?;
        require(value > 0.0)?;
        Ok(value)
    })
}

/// `40`, `40.5`, `0`: a count of rows, stitches, wraps or turns.
pub fn plain_number(text: &str) -> Cell<f64> {
    let allowed = "a number from 0 to 1000000: `40` or `40.5`";
    whole_plain(text, "a number", allowed, within(0.0..=1e6))
}

/// `180`, `270 degrees`, `90°`: a part of a full turn.
pub fn degrees(text: &str) -> Cell<f64> {
    let allowed = "degrees above 0, to 360: `180` or `270 degrees`";
    whole_plain(text, "a part of a turn", allowed, |input| {
        let degrees = opt(sign_or_word("°", words! { degrees, degree, deg }));
        let value = terminated(within(0.0..=360.0), degrees).parse_next(input)?;
        require(value > 0.0)?;
        Ok(value)
    })
}

fn within(range: RangeInclusive<f64>) -> impl Fn(&mut Tokens<'_>) -> ParseResult<f64> {
    move |input| {
        exact
            .verify(|value: &f64| range.contains(value))
            .parse_next(input)
    }
}

/// `8 %`, `8%`.
pub fn percent(text: &str) -> Cell<Ratio> {
    whole(text, "a percentage", PERCENT_ALLOWED, ratio)
}

fn ratio(input: &mut Tokens<'_>) -> ParseResult<ReadResult<Ratio>> {
    let value = terminated(exact, sign_or_word("%", words! { percent, pct })).parse_next(input)?;
    let ratio = Ratio::percent(value).map(Reading::plain);
    Ok(ratio.map_err(|error| Refusal::new(0..0, error, PERCENT_ALLOWED)))
}

/// `8 %` or `15 m/100 g`.
pub fn tolerance(text: &str) -> Cell<GristTolerance> {
    whole(text, "a tolerance", "`8 %` or `15 m/100 g`", |input| {
        alt((
            ratio.map(|read| read.map(|ratio| ratio.map(GristTolerance::Share))),
            any_grist.map(|read| read.map(|grist| grist.map(GristTolerance::Absolute))),
        ))
        .parse_next(input)
    })
}

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
    if ranges.is_empty() {
        return Err(refuse("it has no rows".to_owned()));
    }
    Ok(Reading::plain(ranges))
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

/// `4 + 2`, `6`.
pub fn multiple(text: &str) -> Cell<Multiple> {
    let allowed = "`4 + 2` or `6`: stitches of one repeat, then those beyond it";
    whole_plain(text, "a stitch multiple", allowed, |input| {
        let lead = opt((
            word(words! { multiple, multiples }),
            opt(word(words! { of })),
        ));
        let unit = || opt(word(words! { st, sts, stitches }));
        let repeat = whole_number.verify(|stitches: &u32| *stitches > 0);
        let stitches = preceded(lead, terminated(repeat, unit())).parse_next(input)?;
        let plus = opt(preceded(sign_or_word("+", words! { plus }), whole_number));
        let plus = terminated(plus, unit()).parse_next(input)?.unwrap_or(0);
        Ok(Multiple { stitches, plus })
    })
}

#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "a whole number from 0 to 100 000, checked just before"
)]
fn whole_number(input: &mut Tokens<'_>) -> ParseResult<u32> {
    let value = within(0.0..=100_000.0)(input)?;
    require(value.fract() == 0.0)?;
    Ok(value as u32)
}

/// `hot pad`, `garment`, `child's nightwear`.
pub fn purpose(text: &str) -> Cell<Purpose> {
    let allowed = "`garment`, `accessory`, `socks`, `home`, `dishcloth`, `hot pad`, `felted`, `toy`, `child's garment`, `child's nightwear` or `baby`";
    whole_plain(text, "a purpose", allowed, purpose_alone)
}

/// `fitted`, `relaxed`, `unfitted`.
pub fn fit(text: &str) -> Cell<Fit> {
    whole_plain(
        text,
        "a fit",
        "`fitted`, `relaxed` or `unfitted`",
        fit_alone,
    )
}

/// `yes` or `no`.
pub fn yes_no(text: &str) -> Cell<bool> {
    whole_plain(text, "yes or no", "`yes` or `no`", |input| {
        any_word
            .verify_map(|word| match word {
                "yes" | "y" | "true" => Some(true),
                "no" | "n" | "false" => Some(false),
                _ => None,
            })
            .parse_next(input)
    })
}

/// `2026-03-01`, as it is kept: year, month, day. Other orders are refused, since
/// `1/3/2026` is two days.
pub fn day(text: &str) -> Cell<String> {
    let read = text.parse::<jiff::civil::Date>().ok();
    let day = read.filter(|day| day.to_string() == text);
    day.map(|_| Reading::plain(text.to_owned()))
        .ok_or_else(|| ReadError {
            span: 0..text.len(),
            given: text.to_owned(),
            why: "this is not a day written as year, month and day".to_owned(),
            allowed: "as in `2026-03-01`".to_owned(),
        })
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

    #[test]
    fn every_name_of_a_purpose_and_a_fit_reads_back() {
        for asked in Purpose::ALL {
            assert_eq!(
                purpose(asked.name()).map(|found| found.value),
                Ok(asked),
                "{}",
                asked.name()
            );
        }
        for asked in Fit::ALL {
            assert_eq!(fit(asked.name()).map(|found| found.value), Ok(asked));
        }
    }

    #[test]
    fn words_of_one_purpose_are_read_alike() {
        for (asked, texts) in [
            (Purpose::Socks, ["socks", "sock", "Socken"]),
            (Purpose::Felted, ["felted", "for felting", "fulled"]),
            (Purpose::Dishcloth, ["dish cloth", "washcloth", "Spültuch"]),
            (Purpose::Toy, ["soft toy", "softie", "toys"]),
            (Purpose::HotPad, ["tea cosy", "hot mat", "pot holders"]),
            (
                Purpose::ChildNightwear,
                ["child's dressing gown", "sleepsuit", "baby's sleeping bag"],
            ),
            (
                Purpose::ChildNightwear,
                ["child's robe", "nightdress", "pyjamas"],
            ),
        ] {
            for text in texts {
                let read = purpose(text).map(|found| found.value);
                assert_eq!(read, Ok(asked), "{text}");
            }
        }
    }

    #[test]
    fn a_multiple_has_stitches_beyond_it_or_not() {
        assert_eq!(
            multiple("4 + 2").unwrap().value,
            Multiple {
                stitches: 4,
                plus: 2
            }
        );
        assert_eq!(
            multiple("6").unwrap().value,
            Multiple {
                stitches: 6,
                plus: 0
            }
        );
        assert!(multiple("0").is_err() && multiple("2.5").is_err());
        assert!(
            yes_no("yes").unwrap().value && !yes_no("No").unwrap().value && yes_no("ja?").is_err()
        );
    }

    #[test]
    fn a_day_is_a_year_a_month_and_a_day() {
        assert_eq!(day("2024-02-29").unwrap().value, "2024-02-29");
        for other in [
            "2026-02-29",
            "1/3/2026",
            "2026-3-1",
            "2026-03-01T10:00",
            "today",
            "",
        ] {
            assert!(day(other).is_err(), "{other}");
        }
    }

    proptest! {
        #[test]
        fn prop_no_text_makes_these_cells_panic(text in any::<String>()) {
            let _ = (row_counts(&text), step(&text), times(&text), degrees(&text));
        }
    }
}
