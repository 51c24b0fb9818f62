//! A length or a mass with its unit, stated once or in both systems.
//!
//! Where both systems are given the metric value counts, and the pair is
//! compared: label practice rounds, so up to 1.5 % apart goes without a word.

use super::{
    Note, NumberRange, Outcome, Parsed, Reading, Refusal, Settled, Tokens, number_range, span_of,
    stream, unit_word,
};
use crate::{
    measure::units::{Dimension, Habit, Unit},
    words::number,
};
use std::ops::Range;
use winnow::{
    Parser,
    combinator::{alt, opt, repeat},
    token::any,
};

/// How far two statements of one quantity may lie apart without a word.
const APART: f64 = 0.015;
/// Beyond this ratio two quantities side by side are not two statements of one.
const RELATED: f64 = 1.3;
/// The same after a stroke or an equals sign, which say that they are.
const EQUATED: f64 = 2.0;
/// The same in brackets, where only one quantity can be meant.
const BRACKETED: f64 = 10.0;

/// A length or mass as written.
#[derive(Debug, Clone, PartialEq)]
pub struct Measured {
    /// The number or range.
    pub range: NumberRange,
    /// Its unit.
    pub unit: &'static Unit,
    /// Bytes of number and unit.
    pub span: Range<usize>,
}

/// A quantity stated once, or once in each system.
#[derive(Debug, Clone, PartialEq)]
pub struct Dual {
    /// The first statement.
    pub first: Measured,
    /// The same in the other system.
    pub second: Option<Measured>,
    /// Bytes of both.
    pub span: Range<usize>,
}

/// `125 m`, `1 3/4 oz`, `900-1,100 m`, `100-gram`, `50 g - 60 g`.
pub fn measured(input: &mut Tokens<'_>) -> Parsed<Measured> {
    let ((range, unit), pieces) = stream::with_pieces(|input| {
        alt((pounds_and_ounces, range_with_two_units, range_with_unit)).parse_next(input)
    })
    .parse_next(input)?;
    Ok(Measured {
        range,
        unit,
        span: span_of(pieces),
    })
}

/// `1 lb 4 oz`, in ounces.
fn pounds_and_ounces(input: &mut Tokens<'_>) -> Parsed<(NumberRange, &'static Unit)> {
    let of = |symbol: &'static str| {
        move |input: &mut Tokens<'_>| {
            let number = stream::exact(input)?;
            let unit = unit_word
                .verify(|unit: &&'static Unit| unit.symbol == symbol)
                .parse_next(input)?;
            Ok((number, unit))
        }
    };
    let (((pounds, _), (ounces, unit)), pieces) =
        stream::with_pieces(|input| (of("lb"), of("oz")).parse_next(input)).parse_next(input)?;
    Ok((
        NumberRange::one(pounds * 16.0 + ounces, span_of(pieces)),
        unit,
    ))
}

fn range_with_unit(input: &mut Tokens<'_>) -> Parsed<(NumberRange, &'static Unit)> {
    let range = number_range(input)?;
    opt(stream::symbol("-")).parse_next(input)?;
    Ok((range, unit_word(input)?))
}

fn range_with_two_units(input: &mut Tokens<'_>) -> Parsed<(NumberRange, &'static Unit)> {
    let ((low, first, _, high, second), pieces) = stream::with_pieces(|input| {
        (
            stream::number,
            unit_word,
            alt((
                stream::symbol("-").void(),
                stream::word(&["to", "bis"]).void(),
            )),
            stream::number,
            unit_word,
        )
            .parse_next(input)
    })
    .parse_next(input)?;
    let range = NumberRange {
        low: low.clone(),
        high: Some(high.clone()),
        span: span_of(pieces),
    };
    let forward = !range.readings(Some(first.habit)).is_empty();
    match first == second && forward {
        true => Ok((range, first)),
        false => Err(winnow::error::EmptyError),
    }
}

/// A quantity, and the same in the other system where that follows.
pub fn dual(input: &mut Tokens<'_>) -> Parsed<Dual> {
    let ((first, second), pieces) = stream::with_pieces(|input| {
        let first = measured(input)?;
        let second = opt(|input: &mut Tokens<'_>| partner(&first, input)).parse_next(input)?;
        Ok((first, second))
    })
    .parse_next(input)?;
    Ok(Dual {
        first,
        second,
        span: span_of(pieces),
    })
}

fn partner(first: &Measured, input: &mut Tokens<'_>) -> Parsed<Measured> {
    let joins: Vec<char> = repeat(
        0..4,
        alt((
            stream::symbol("(/,=~|[-;"),
            stream::word(&["or", "approx", "ca", "about", "and", "oder", "ou"]).value(' '),
        )),
    )
    .parse_next(input)?;
    let apart = match joins.first() {
        Some('(' | '[') => BRACKETED,
        Some('/' | '=') => EQUATED,
        _ => RELATED,
    };
    let second = measured(input)?;
    opt(any.verify(|token: &&super::Token<'_>| token.is(')') || token.is(']')))
        .parse_next(input)?;
    match first.may_restate(&second, apart) {
        true => Ok(second),
        false => Err(winnow::error::EmptyError),
    }
}

impl Measured {
    /// Every pair of ends it may mean, in metres or grams.
    pub fn readings(&self) -> Vec<(f64, f64)> {
        let scale = self.unit.factor;
        let readings = self.range.readings(Some(self.unit.habit));
        readings
            .into_iter()
            .map(|(low, high)| (low * scale, high * scale))
            .collect()
    }

    /// Whether `other`, at most `apart` times as much or as little, may be this
    /// quantity in the other system.
    fn may_restate(&self, other: &Self, apart: f64) -> bool {
        let near = |a: f64, b: f64| a / b < apart && b / a < apart;
        self.unit.dimension == other.unit.dimension
            && self.unit.habit != other.unit.habit
            && self
                .readings()
                .iter()
                .any(|(_, a)| other.readings().iter().any(|(_, b)| near(*a, *b)))
    }

    fn refusal(&self) -> Refusal {
        let unit = format!(" {}", self.unit.symbol);
        let mut refusal = self.range.refusal(Some(self.unit.habit), &unit);
        refusal.span = self.span.clone();
        refusal
    }

    /// The one pair of ends, `partner` deciding where it can.
    fn settled(&self, partner: Option<&Self>) -> Result<(f64, f64), Refusal> {
        let readings = self.readings();
        let agreed = |(_, mine): &&(f64, f64)| {
            partner.is_some_and(|partner| {
                partner
                    .readings()
                    .iter()
                    .any(|(_, theirs)| (mine / theirs - 1.0).abs() <= APART)
            })
        };
        let confirmed: Vec<&(f64, f64)> = readings.iter().filter(agreed).collect();
        match (readings.as_slice(), confirmed.as_slice()) {
            ([one], _) => Ok(*one),
            (_, [one]) => Ok(**one),
            _ => Err(self.refusal()),
        }
    }
}

impl Dual {
    /// Metres or mass.
    pub fn dimension(&self) -> Dimension {
        self.first.unit.dimension
    }

    /// The quantity in metres or grams, with a note where two statements differ.
    pub fn settle(&self) -> Outcome<Settled> {
        let whole = |mut refusal: Refusal| {
            refusal.span = self.span.clone();
            refusal
        };
        let (main, other) = self.metric_first();
        let (low, high) = main.settled(other).map_err(whole)?;
        let mut notes = Vec::new();
        if let Some(other) = other {
            notes.extend(self.compare(main, other, high).map_err(whole)?);
        }
        Ok(Reading {
            value: Settled {
                dimension: self.dimension(),
                low,
                high,
                span: self.span.clone(),
            },
            notes,
        })
    }

    fn metric_first(&self) -> (&Measured, Option<&Measured>) {
        match &self.second {
            Some(second) if second.unit.habit == Habit::Metric => (second, Some(&self.first)),
            second => (&self.first, second.as_ref()),
        }
    }

    /// A note where `metric` and `other` differ by more than [`APART`].
    fn compare(
        &self,
        metric: &Measured,
        other: &Measured,
        value: f64,
    ) -> Result<Option<Note>, Refusal> {
        let (_, restated) = other.settled(Some(metric))?;
        let ratio = restated / value;
        if (ratio - 1.0).abs() <= APART {
            return Ok(None);
        }
        let one = |measured: &Measured, v: f64| {
            format!(
                "{} {}",
                number(v / measured.unit.factor, 2),
                measured.unit.symbol
            )
        };
        let message = format!(
            "{} is {}, not {}: {} is taken{}",
            one(metric, value),
            one(other, value),
            one(other, restated),
            one(metric, value),
            swapped(self.dimension(), ratio),
        );
        Ok(Some(Note {
            span: self.span.clone(),
            message,
        }))
    }
}

/// Where the smaller number stands before yards, the two may be swapped: the
/// yards then come to 0.9144^2 of the metres.
fn swapped(dimension: Dimension, ratio: f64) -> &'static str {
    let near = |wanted: f64| (ratio / wanted - 1.0).abs() <= APART;
    let swapped = 0.9144 * 0.9144;
    match dimension == Dimension::Length && (near(swapped) || near(0.9144) || near(1.0 / 0.9144)) {
        true => "; yards and metres may be swapped",
        false => "",
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::label::reading::lex;

    /// The value, and what is said about it; none where no second follows.
    fn both(text: &str) -> Option<(f64, String)> {
        let tokens = lex(text);
        let dual = dual(&mut Tokens::new(&tokens)).unwrap();
        dual.second.as_ref()?;
        let reading = dual.settle().unwrap();
        let notes: Vec<String> = reading.notes.into_iter().map(|note| note.message).collect();
        Some((reading.value.low, notes.join("; ")))
    }

    /// 164 yd are 150 m, 250 yd are 229 m and 900 yd are 823 m.
    #[test]
    fn two_systems_beside_each_other_are_one_quantity_where_they_can_be() {
        for (text, is_one) in [
            ("100 m, 140 yd", true),
            ("100 m, 164 yd", false),
            ("100 m = 164 yd", true),
            ("100 m / 164 yd", true),
            ("164 yd = 100 m", true),
            ("100 m = 250 yd", false),
            ("250 yd = 100 m", false),
            ("100 m (900 yd)", true),
            ("900 yd (100 m)", true),
            ("100 m (1200 yd)", false),
            ("100 m = 110 m", false),
            ("100 m = 3.5 oz", false),
        ] {
            assert_eq!(both(text).is_some(), is_one, "{text}");
        }
    }

    /// By hand: 125 yd are 114.3 m, 0.834 of 137 m; a yard is 0.9144 m.
    #[test]
    fn numbers_that_look_swapped_are_said_to_be() {
        for (text, swapped) in [
            ("137 m = 125 yd", true),
            ("100 m = 100 yd", true),
            ("100 m = 119.6 yd", true),
            ("100 m = 130 yd", false),
            ("100 g = 3.23 oz", false),
            ("100 g = 2.95 oz", false),
        ] {
            let (_, told) = both(text).unwrap();
            assert!(!told.is_empty(), "{text}");
            assert_eq!(told.ends_with("may be swapped"), swapped, "{text}: {told}");
        }
    }

    /// 110.8 yd are 101.3 m, and 111.1 yd are 101.6 m.
    #[test]
    fn two_statements_may_lie_one_and_a_half_per_cent_apart() {
        assert_eq!(both("100 m = 110.8 yd"), Some((100.0, String::new())));
        let (value, told) = both("100 m = 111.1 yd").unwrap();
        assert_eq!(value, 100.0);
        assert_eq!(told, "100 m is 109.36 yd, not 111.1 yd: 100 m is taken");
    }
}
