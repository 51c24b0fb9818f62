//! A length per mass that somebody measured: `377 m/100 g (369 to 386)`. It stands where
//! a label has its yarn count, and its text keeps how far the truth may lie from it.

use super::{
    grist::{per_mass, per_unit},
    range::number_range,
    reading::{ReadResult, Reading, Refusal},
    token::{ParseResult, Tokens, exact, lex, symbol},
};
use crate::{
    measure::{Grist, Interval, YarnCount, units::CountSystem},
    record::YarnFacts,
};
use winnow::{
    Parser,
    combinator::{alt, peek},
};

const MEASURED_ALLOWED: &str = "`377 m/100 g (369 to 386)`";

/// A measured length per mass, and from where to where it may lie.
type MeasuredGrist = (Grist, Interval<Grist>);

fn measured(input: &mut Tokens<'_>) -> ParseResult<ReadResult<MeasuredGrist>> {
    let number = peek(exact).parse_next(input)?;
    let (grist, _, range, _) = (
        alt((per_mass, per_unit)),
        symbol("("),
        number_range,
        symbol(")"),
    )
        .parse_next(input)?;
    Ok(grist.and_then(|grist| {
        let (low, high) = range.ends(None, "")?;
        grist.try_map(|grist| {
            let span = range.span.clone();
            let refuse = |why: &str| Refusal::new(span.clone(), why, MEASURED_ALLOWED);
            let of_unit = grist.as_metres_per_gram() / number;
            let end = |end: f64| {
                let end = Grist::metres_per_gram(end * of_unit);
                end.map_err(|_| refuse("no yarn is so long or so short for its weight"))
            };
            let ends = Interval::between(end(low)?, end(high)?)
                .map_err(|_| refuse("the first number is above the second"))?;
            match (low..=high).contains(&number) {
                true => Ok((grist, ends)),
                false => Err(refuse("the number before it does not lie in this range")),
            }
        })
    }))
}

/// The same as the count of a single, in metres per gram, which is its metric number.
pub fn measured_count(input: &mut Tokens<'_>) -> ParseResult<ReadResult<YarnCount>> {
    let (read, span) = measured.with_span().parse_next(input)?;
    Ok(read.and_then(|read| {
        read.try_map(|(grist, _)| {
            let count = YarnCount::new(grist.as_metres_per_gram(), 1, CountSystem::Metric);
            count.map_err(|error| Refusal::new(span, error, MEASURED_ALLOWED))
        })
    }))
}

/// From where to where the length per mass of a yarn may lie, where somebody measured it
/// and no label says it.
pub fn measured_range(facts: &YarnFacts) -> Option<Interval<Grist>> {
    let has_put_up = facts.length.is_some() && facts.mass.is_some();
    range_in(&facts.count.as_ref().filter(|_| !has_put_up)?.text)
}

/// The range that a text gives, also beside a label.
pub fn range_in(text: &str) -> Option<Interval<Grist>> {
    // Most counts have none, and are asked for often.
    if !text.contains('(') {
        return None;
    }
    let tokens = lex(text);
    let read: Reading<MeasuredGrist> = measured(&mut Tokens::new(&tokens)).ok()?.ok()?;
    Some(read.value.1)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::label::cells;

    /// A pound is 453.59237 g and a yard 0.9144 m.
    #[test]
    fn what_was_measured_is_read_with_its_range_in_the_unit_before_it() {
        for (text, [value, low, high]) in [
            ("377 m/100 g (369 to 386)", [3.77, 3.69, 3.86]),
            ("377.4 m/100 g (368.9-386.1)", [3.774, 3.689, 3.861]),
            (
                "1150 yd/lb (1000 to 1300)",
                [1150.0, 1000.0, 1300.0].map(|yards| yards * 0.9144 / 453.592_37),
            ),
        ] {
            let count = cells::count(text).unwrap().value;
            assert!(
                (count.grist().as_metres_per_gram() - value).abs() < 1e-9,
                "{text}"
            );
            let range = range_in(text).unwrap().map(Grist::as_metres_per_gram);
            assert!((range.low() - low).abs() < 1e-9, "{text}");
            assert!((range.high() - high).abs() < 1e-9, "{text}");
        }
    }

    #[test]
    fn a_range_that_does_not_hold_the_number_is_refused_and_a_bare_count_has_none() {
        for text in [
            "377 m/100 g (380 to 386)",
            "377 m/100 g (386 to 369)",
            "377 m/100 g",
            "377 m/100 g (x)",
        ] {
            assert!(cells::count(text).is_err(), "{text}");
        }
        assert_eq!(range_in("2/14 Nm"), None);
        assert!(cells::count("2/14 Nm").is_ok());
    }
}
