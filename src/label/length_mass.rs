//! A length or a mass with its unit, stated once or in both systems.
//!
//! Where both systems are given the metric value counts, and the pair is
//! compared: label practice rounds, so up to 1.5 % apart goes without a word.

use super::{
    range::{NumberRange, number_range},
    reading::{Clash, Note, ReadResult, Reading, Refusal},
    token::{
        ParseResult, Tokens, Words, any_word, exact, number, require, sign_or_word, symbol, word,
        words,
    },
};
use crate::{
    measure::{
        MeasureError,
        units::{Dimension, Habit, Unit, unit},
    },
    words::number as shown,
};
use std::ops::Range;
use winnow::{
    Parser,
    combinator::{alt, opt, repeat},
};

/// How far two statements of one quantity may lie apart without a word.
const APART: f64 = 0.015;
/// Beyond this ratio two quantities side by side are not two statements of one.
const RELATED: f64 = 1.3;
/// The same after a stroke or an equals sign, which say that they are.
const EQUATED: f64 = 2.0;
/// The same in brackets, where only one quantity can be meant.
const BRACKETED: f64 = 10.0;

/// Words after `in` that make it no inch.
const AFTER_IN: Words = words! { total, all, the, each, sizes, size };

/// A length or mass as written.
#[derive(Debug, Clone, PartialEq)]
pub struct Measurement {
    /// The number or range.
    pub range: NumberRange,
    /// Its unit.
    pub unit: &'static Unit,
    /// Bytes of number and unit.
    pub span: Range<usize>,
}

/// A quantity stated once, or once in each system.
#[derive(Debug, Clone, PartialEq)]
pub struct DualMeasure {
    /// The first statement.
    pub first: Measurement,
    /// The same in the other system.
    pub second: Option<Measurement>,
    /// Bytes of both.
    pub span: Range<usize>,
}

/// A length or mass whose numbers have one meaning.
#[derive(Debug, Clone, PartialEq)]
pub struct Magnitude {
    /// Metres or grams.
    pub dimension: Dimension,
    /// Lower end.
    pub low: f64,
    /// Upper end.
    pub high: f64,
    /// Bytes it was read from.
    pub span: Range<usize>,
}

/// A unit of length or mass; `in total` is no inch.
pub fn unit_word(input: &mut Tokens<'_>) -> ParseResult<&'static Unit> {
    let unit = alt((
        any_word.verify_map(unit),
        symbol("\"").verify_map(|_| unit("\"")),
    ))
    .parse_next(input)?;
    let says_in = unit.symbol == "in" && input.first().is_some_and(|next| next.is_word(AFTER_IN));
    require(!says_in)?;
    Ok(unit)
}

/// A unit of this dimension.
pub fn unit_of(dimension: Dimension) -> impl FnMut(&mut Tokens<'_>) -> ParseResult<&'static Unit> {
    move |input| {
        unit_word
            .verify(|unit: &&Unit| unit.dimension == dimension)
            .parse_next(input)
    }
}

/// Whether yarn is measured in this unit: millimetres and inches measure none.
pub fn is_yarn_unit(unit: &Unit) -> bool {
    !matches!(unit.symbol, "mm" | "cm" | "in")
}

/// `125 m`, `1 3/4 oz`, `900-1,100 m`, `100-gram`, `50 g - 60 g`.
pub fn measured(input: &mut Tokens<'_>) -> ParseResult<Measurement> {
    alt((pounds_and_ounces, range_with_two_units, range_with_unit))
        .with_span()
        .map(|((range, unit), span)| Measurement { range, unit, span })
        .parse_next(input)
}

/// A number or range, and its unit.
type WithUnit = (NumberRange, &'static Unit);

/// `1 lb 4 oz`, in ounces.
fn pounds_and_ounces(input: &mut Tokens<'_>) -> ParseResult<WithUnit> {
    let called = |symbol: &'static str| unit_word.verify(move |unit: &&Unit| unit.symbol == symbol);
    (exact, called("lb"), exact, called("oz"))
        .with_span()
        .map(|((pounds, _, ounces, unit), span)| {
            (NumberRange::one(pounds * 16.0 + ounces, span), unit)
        })
        .parse_next(input)
}

fn range_with_unit(input: &mut Tokens<'_>) -> ParseResult<WithUnit> {
    (number_range, opt(symbol("-")), unit_word)
        .map(|(range, _, unit)| (range, unit))
        .parse_next(input)
}

fn range_with_two_units(input: &mut Tokens<'_>) -> ParseResult<WithUnit> {
    let to = sign_or_word("-", words! { to, bis });
    let ((low, first, _, high, second), span) = (number, unit_word, to, number, unit_word)
        .with_span()
        .parse_next(input)?;
    let range = NumberRange {
        low: low.clone(),
        high: Some(high.clone()),
        span,
    };
    let forward = !range.readings(Some(first.habit)).is_empty();
    require(first == second && forward)?;
    Ok((range, first))
}

/// A quantity, and the same in the other system where that follows.
pub fn dual(input: &mut Tokens<'_>) -> ParseResult<DualMeasure> {
    let both = |input: &mut Tokens<'_>| {
        let first = measured(input)?;
        let second = opt(|input: &mut Tokens<'_>| restated(&first, input)).parse_next(input)?;
        Ok((first, second))
    };
    both.with_span()
        .map(|((first, second), span)| DualMeasure {
            first,
            second,
            span,
        })
        .parse_next(input)
}

/// A quantity in a unit of yarn.
pub fn yarn_dual(input: &mut Tokens<'_>) -> ParseResult<DualMeasure> {
    dual.verify(|dual: &DualMeasure| is_yarn_unit(dual.first.unit))
        .parse_next(input)
}

/// A quantity of this dimension.
pub fn dual_of(dimension: Dimension) -> impl FnMut(&mut Tokens<'_>) -> ParseResult<DualMeasure> {
    move |input| {
        dual.verify(|dual: &DualMeasure| dual.dimension() == dimension)
            .parse_next(input)
    }
}

fn restated(first: &Measurement, input: &mut Tokens<'_>) -> ParseResult<Measurement> {
    let joins: Vec<char> = repeat(
        0..4,
        alt((
            symbol("(/,=~|[-;℮"),
            word(words! { or, approx, ca, about, and, oder, ou, e }).value(' '),
        )),
    )
    .parse_next(input)?;
    let apart = match joins.first() {
        Some('(' | '[') => BRACKETED,
        Some('/' | '=') => EQUATED,
        _ => RELATED,
    };
    let second = measured(input)?;
    opt(symbol(")]")).parse_next(input)?;
    require(first.may_restate(&second, apart))?;
    Ok(second)
}

/// One value of `dimension`, made by `make`.
pub fn one_value<T>(
    dimension: Dimension,
    allowed: &'static str,
    make: impl Fn(f64) -> Result<T, MeasureError>,
) -> impl Fn(&mut Tokens<'_>) -> ParseResult<ReadResult<T>> {
    move |input| Ok(dual_of(dimension)(input)?.value(allowed, &make))
}

impl From<Measurement> for DualMeasure {
    fn from(first: Measurement) -> Self {
        Self {
            span: first.span.clone(),
            first,
            second: None,
        }
    }
}

impl Measurement {
    /// Every pair of ends it may mean, in metres or grams.
    fn readings(&self) -> Vec<(f64, f64)> {
        let scale = self.unit.factor;
        let readings = self.range.readings(Some(self.unit.habit));
        let scaled = readings
            .into_iter()
            .map(|(low, high)| (low * scale, high * scale));
        scaled.collect()
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

    /// The one pair of ends, `partner` deciding where it can.
    fn ends(&self, partner: Option<&Self>) -> Result<(f64, f64), Refusal> {
        let readings = self.readings();
        let theirs = partner.map_or_else(Vec::new, Self::readings);
        let agreed = |(_, mine): &&(f64, f64)| {
            theirs
                .iter()
                .any(|(_, theirs)| (mine / theirs - 1.0).abs() <= APART)
        };
        let confirmed: Vec<&(f64, f64)> = readings.iter().filter(agreed).collect();
        match (readings.as_slice(), confirmed.as_slice()) {
            ([one], _) => Ok(*one),
            (_, [one]) => Ok(**one),
            _ => {
                let unit = format!(" {}", self.unit.symbol);
                Err(self.range.refusal(Some(self.unit.habit), &unit))
            }
        }
    }

    /// `value` in its unit, as text.
    fn text_of(&self, value: f64) -> String {
        format!(
            "{} {}",
            shown(value / self.unit.factor, 2),
            self.unit.symbol
        )
    }
}

impl DualMeasure {
    /// Metres or mass.
    pub fn dimension(&self) -> Dimension {
        self.first.unit.dimension
    }

    /// The quantity in metres or grams, with a note where two statements differ.
    pub fn magnitude(&self) -> ReadResult<Magnitude> {
        let whole = |refusal: Refusal| Refusal {
            span: self.span.clone(),
            ..refusal
        };
        let (main, other) = self.metric_first();
        let (low, high) = main.ends(other).map_err(whole)?;
        let note = match other {
            Some(other) => self.compare(main, other, high).map_err(whole)?,
            None => None,
        };
        let value = Magnitude {
            dimension: self.dimension(),
            low,
            high,
            span: self.span.clone(),
        };
        Ok(Reading::new(value, note))
    }

    /// The one value above zero, made by `make`.
    pub fn value<T>(
        &self,
        allowed: &'static str,
        make: impl Fn(f64) -> Result<T, MeasureError>,
    ) -> ReadResult<T> {
        let refuse = |error| Refusal::new(self.span.clone(), error, allowed);
        self.magnitude()?
            .try_map(|magnitude| make(magnitude.one()?).map_err(refuse))
    }

    fn metric_first(&self) -> (&Measurement, Option<&Measurement>) {
        match &self.second {
            Some(second) if second.unit.habit == Habit::Metric => (second, Some(&self.first)),
            second => (&self.first, second.as_ref()),
        }
    }

    /// The second statement, m or g, where it lies more than `APART` from the one
    /// that counts.
    pub fn other_value(&self) -> Option<f64> {
        let (metric, other) = self.metric_first();
        let (_, value) = metric.ends(other).ok()?;
        let (_, restated) = other?.ends(Some(metric)).ok()?;
        ((restated / value - 1.0).abs() > APART).then_some(restated)
    }

    /// A note where `metric` and `other` differ by more than [`APART`].
    fn compare(
        &self,
        metric: &Measurement,
        other: &Measurement,
        value: f64,
    ) -> Result<Option<Note>, Refusal> {
        let (_, restated) = other.ends(Some(metric))?;
        let ratio = restated / value;
        if (ratio - 1.0).abs() <= APART {
            return Ok(None);
        }
        let message = format!(
            "{} is {}, not {}: used {}{}",
            metric.text_of(value),
            other.text_of(value),
            other.text_of(restated),
            metric.text_of(value),
            swapped(self.dimension(), ratio),
        );
        Ok(Some(Note::clash(Clash::Quantity, &self.span, message)))
    }
}

/// Where the smaller number stands before yards, the two may be swapped: the
/// yards then come to 0.9144^2 of the metres.
fn swapped(dimension: Dimension, ratio: f64) -> &'static str {
    let near = |wanted: f64| (ratio / wanted - 1.0).abs() <= APART;
    let swapped = near(0.9144 * 0.9144) || near(0.9144) || near(1.0 / 0.9144);
    if dimension == Dimension::Length && swapped {
        "; perhaps yards and metres are swapped"
    } else {
        ""
    }
}

impl Magnitude {
    /// The value where it is one and above zero.
    pub fn one(&self) -> Result<f64, Refusal> {
        let (what, unit) = match self.dimension {
            Dimension::Length => ("length", "m"),
            Dimension::Mass => ("mass", "g"),
        };
        let refuse = |why, allowed: String| Err(Refusal::new(self.span.clone(), why, allowed));
        if self.high <= 0.0 {
            let allowed = format!(
                "a number above zero, such as `50 {unit}`, or leave it empty if you do not know"
            );
            return refuse(format!("0 {unit} is not a {what}"), allowed);
        }
        if self.low != self.high {
            return refuse(
                format!("this is a range, and one {what} is needed"),
                format!("one number, such as `50 {unit}`"),
            );
        }
        Ok(self.low)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::label::token::lex;

    /// The value, and what is said about it; none where no second follows.
    fn both(text: &str) -> Option<(f64, String)> {
        let tokens = lex(text);
        let dual = dual(&mut Tokens::new(&tokens)).unwrap();
        dual.second.as_ref()?;
        let reading = dual.magnitude().unwrap();
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
            assert_eq!(told.ends_with("are swapped"), swapped, "{text}: {told}");
        }
    }

    /// 110.8 yd are 101.3 m, and 111.1 yd are 101.6 m.
    #[test]
    fn two_statements_may_lie_one_and_a_half_per_cent_apart() {
        assert_eq!(both("100 m = 110.8 yd"), Some((100.0, String::new())));
        let (value, told) = both("100 m = 111.1 yd").unwrap();
        assert_eq!(value, 100.0);
        assert_eq!(told, "100 m is 109.36 yd, not 111.1 yd: used 100 m");
    }
}
