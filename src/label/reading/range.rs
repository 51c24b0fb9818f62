//! One number, or a range of two: `20`, `20-22`, `20 to 22`.

use super::{Number, Parsed, Refusal, Tokens, span_of, stream};
use crate::measure::units::Habit;
use std::ops::Range;
use winnow::{
    Parser,
    combinator::{alt, opt, preceded},
    error::EmptyError,
};

/// Words between the ends of a range.
const TO: &[&str] = &["to", "bis", "a", "tot", "til", "till", "ate", "hasta"];

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
pub fn number_range(input: &mut Tokens<'_>) -> Parsed<NumberRange> {
    let ((low, high), pieces) =
        stream::with_pieces(|input| (value, opt(preceded(to, value))).parse_next(input))
            .parse_next(input)?;
    Ok(NumberRange {
        low,
        high,
        span: span_of(pieces),
    })
}

/// The same of numbers that are no fractions below one, which neither stitches nor
/// needles are counted in: `7/8 sts` are two numbers.
pub fn counted_range(input: &mut Tokens<'_>) -> Parsed<NumberRange> {
    let mut lone = input.clone();
    match fraction(&mut lone) {
        Ok(_) => Err(EmptyError),
        Err(_) => number_range(input),
    }
}

fn to(input: &mut Tokens<'_>) -> Parsed<()> {
    alt((stream::symbol("-~").void(), stream::word(TO).void())).parse_next(input)
}

/// A number, or a fraction below one such as `3/4`.
fn value(input: &mut Tokens<'_>) -> Parsed<Number> {
    alt((fraction.map(Number::One), stream::number.map(Clone::clone))).parse_next(input)
}

/// `3/4`, without spaces.
pub fn fraction(input: &mut Tokens<'_>) -> Parsed<f64> {
    (stream::exact, stream::symbol("/"), stream::exact)
        .verify_map(|(top, _, bottom)| super::number::common_fraction(top, bottom))
        .parse_next(input)
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

    /// The one pair of ends, or why there is not one.
    pub fn settled(&self, habit: Option<Habit>) -> Result<(f64, f64), Refusal> {
        match self.readings(habit).as_slice() {
            [one] => Ok(*one),
            _ => Err(self.refusal(habit, "")),
        }
    }

    /// Why it has not one meaning; `unit` is printed after the numbers.
    pub fn refusal(&self, habit: Option<Habit>, unit: &str) -> Refusal {
        let refuse = |why: String, allowed: String| Refusal::new(self.span.clone(), why, allowed);
        for number in [Some(&self.low), self.high.as_ref()].into_iter().flatten() {
            if let Number::Refused(why) = number {
                return refuse(
                    why.clone(),
                    format!("the number plainly, such as `1250{unit}` or `4.5{unit}`"),
                );
            }
        }
        if self.readings(habit).is_empty() {
            return refuse(
                "a range runs from the smaller to the larger number".to_owned(),
                "the smaller number first".to_owned(),
            );
        }
        ambiguous(self.first_unclear(habit), self.span.clone(), unit)
    }

    fn first_unclear(&self, habit: Option<Habit>) -> (f64, f64) {
        let unclear = [Some(&self.low), self.high.as_ref()]
            .into_iter()
            .flatten()
            .map(|number| values(number, habit))
            .find(|values| values.len() == 2);
        match unclear.as_deref() {
            Some([decimal, thousands]) => (*decimal, *thousands),
            _ => (0.0, 0.0),
        }
    }
}

fn ambiguous((decimal, thousands): (f64, f64), span: Range<usize>, unit: &str) -> Refusal {
    Refusal::new(
        span,
        format!("it may be {decimal}{unit} or {thousands}{unit}"),
        format!("`{thousands}{unit}`, or `{decimal:.4}{unit}` with a fourth decimal"),
    )
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
    use crate::label::reading::lex;

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
