//! One number, or a range of two: `20`, `20-22`, `20 to 22`, each with every
//! value that it may mean.

use super::{
    reading::Refusal,
    token::{Number, ParseResult, Tokens, Words, fraction, number, sign_or_word, words},
};
use crate::measure::units::Habit;
use std::ops::Range;
use winnow::{
    Parser,
    combinator::{alt, not, opt, preceded},
};

/// Words between the ends of a range.
const TO: Words = words! { to, bis, a, tot, til, till, ate, hasta };

/// A number or a range as written.
#[derive(Debug, Clone, PartialEq)]
pub struct NumberRange {
    /// The first, or only, number.
    pub low: Number,
    /// The second.
    pub high: Option<Number>,
    /// Bytes of both.
    pub span: Range<usize>,
}

/// A number, or two with a dash or `to` between.
pub fn number_range(input: &mut Tokens<'_>) -> ParseResult<NumberRange> {
    let ends = (value, opt(preceded(sign_or_word("-~", TO), value)));
    ends.with_span().map(NumberRange::from).parse_next(input)
}

/// The same of numbers that are no fractions below one, which neither stitches nor
/// needles are counted in: `7/8 sts` are two numbers.
pub fn counted_range(input: &mut Tokens<'_>) -> ParseResult<NumberRange> {
    preceded(not(fraction), number_range).parse_next(input)
}

/// A number that is no end of a range, whatever follows.
pub fn single_number(input: &mut Tokens<'_>) -> ParseResult<NumberRange> {
    let low = number.map(|low| (low.clone(), None));
    low.with_span().map(NumberRange::from).parse_next(input)
}

/// A number, or a fraction below one such as `3/4`.
fn value(input: &mut Tokens<'_>) -> ParseResult<Number> {
    alt((fraction.map(Number::One), number.map(Clone::clone))).parse_next(input)
}

impl From<((Number, Option<Number>), Range<usize>)> for NumberRange {
    fn from(((low, high), span): ((Number, Option<Number>), Range<usize>)) -> Self {
        Self { low, high, span }
    }
}

impl NumberRange {
    /// One exact number.
    pub fn one(value: f64, span: Range<usize>) -> Self {
        Self {
            low: Number::One(value),
            high: None,
            span,
        }
    }

    /// Every pair of ends in order that it may mean. With an imperial unit a
    /// comma before three digits parts thousands. Two ends of one shape are
    /// read alike.
    pub fn readings(&self, habit: Option<Habit>) -> Vec<(f64, f64)> {
        let lows = values(&self.low, habit);
        let Some(high) = &self.high else {
            return lows.into_iter().map(|value| (value, value)).collect();
        };
        let highs = values(high, habit);
        let both: Vec<(f64, f64)> = match (lows.len(), highs.len()) {
            (2, 2) => lows.into_iter().zip(highs).collect(),
            _ => lows
                .iter()
                .flat_map(|low| highs.iter().map(|high| (*low, *high)))
                .collect(),
        };
        both.into_iter().filter(|(low, high)| low <= high).collect()
    }

    /// The one pair of ends, or why there is not one; `unit` is printed after the
    /// numbers.
    pub fn ends(&self, habit: Option<Habit>, unit: &str) -> Result<(f64, f64), Refusal> {
        match self.readings(habit).as_slice() {
            [one] => Ok(*one),
            _ => Err(self.refusal(habit, unit)),
        }
    }

    /// Why it has not one meaning; `unit` is printed after the numbers.
    pub fn refusal(&self, habit: Option<Habit>, unit: &str) -> Refusal {
        let refuse = |why: String, allowed: String| Refusal::new(self.span.clone(), why, allowed);
        let numbers = || [Some(&self.low), self.high.as_ref()].into_iter().flatten();
        let refused = numbers().find_map(|number| match number {
            Number::Refused(why) => Some(why),
            _ => None,
        });
        if let Some(why) = refused {
            let allowed = format!("the number plainly, such as `1250{unit}` or `4.5{unit}`");
            return refuse(why.clone(), allowed);
        }
        let unclear = numbers().find_map(|number| match values(number, habit).as_slice() {
            [decimal, thousands] => Some((*decimal, *thousands)),
            _ => None,
        });
        match unclear.filter(|_| !self.readings(habit).is_empty()) {
            Some((decimal, thousands)) => refuse(
                format!("it may be {decimal}{unit} or {thousands}{unit}"),
                format!("`{thousands}{unit}`, or `{decimal:.4}{unit}` with a fourth decimal"),
            ),
            None => refuse(
                "a range runs from the smaller to the larger number".to_owned(),
                "the smaller number first".to_owned(),
            ),
        }
    }
}

fn values(number: &Number, habit: Option<Habit>) -> Vec<f64> {
    match (number, habit) {
        (
            Number::Either {
                thousands,
                mark: ',',
                ..
            },
            Some(Habit::Imperial),
        ) => vec![*thousands],
        _ => number.values(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::label::token::lex;

    fn readings(text: &str, habit: Option<Habit>) -> Vec<(f64, f64)> {
        let tokens = lex(text);
        let range = number_range(&mut Tokens::new(&tokens)).unwrap();
        range.readings(habit)
    }

    #[test]
    fn two_ends_of_one_shape_are_read_alike() {
        let both = [(1.1, 1.2), (1100.0, 1200.0)];
        assert_eq!(readings("1.100-1.200", None), both);
        assert_eq!(
            readings("1.100-1200", None),
            [(1.1, 1200.0), (1100.0, 1200.0)]
        );
        let imperial = Some(Habit::Imperial);
        assert_eq!(readings("1,100-1,200", imperial), [(1100.0, 1200.0)]);
        assert_eq!(readings("1.100", imperial), [(1.1, 1.1), (1100.0, 1100.0)]);
    }

    #[test]
    fn a_range_runs_upward() {
        assert_eq!(readings("5-5", None), [(5.0, 5.0)]);
        assert_eq!(readings("6-5", None), []);
        assert_eq!(readings("1.100-900", None), [(1.1, 900.0)]);
    }
}
