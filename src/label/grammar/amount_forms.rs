//! The forms in which one amount is written, before it is settled.

use super::amount_keys::{each_of, of_each};
use super::{
    numbers::{Counted, Of, counted},
    words::number_word,
};
use crate::{
    label::reading::{
        Dual, NumberRange, Parsed, Tokens, any_word, dual, exact, fraction, is_skein_word,
        number_range, span_of, symbol, with_pieces, word,
    },
    measure::units::{Dimension, Unit},
};
use winnow::{
    Parser,
    combinator::{alt, opt, repeat},
    error::EmptyError,
};

/// What was recognised, before it is settled.
pub struct Draft {
    /// The numbers.
    pub counted: Counted,
    /// What one skein holds.
    pub each: Option<Dual>,
    /// Loose grams beside the skeins.
    pub plus: Option<Dual>,
    /// Whether it is said to be about so much.
    pub about: bool,
    /// Keys of the colours it is for.
    pub each_of: Vec<String>,
}

/// `~`, `about`, `ca.`.
pub fn about(input: &mut Tokens<'_>) -> Parsed<()> {
    repeat::<_, _, (), _, _>(
        1..3,
        alt((
            symbol("~").void(),
            word(&[
                "about",
                "approx",
                "approximately",
                "ca",
                "circa",
                "roughly",
                "around",
                "nearly",
                "almost",
                "etwa",
                "environ",
                "aprox",
                "noin",
                "c",
            ])
            .void(),
        )),
    )
    .parse_next(input)
}

/// A word for a ball of yarn.
pub fn skein_word(input: &mut Tokens<'_>) -> Parsed<()> {
    any_word
        .verify(|word: &str| is_skein_word(word))
        .void()
        .parse_next(input)
}

/// `2 + 60 g`, `1 full + ~60g`, `3 skeins and 40 g`.
pub fn plus(input: &mut Tokens<'_>) -> Parsed<Draft> {
    let (range, pieces) = with_pieces(exact).parse_next(input)?;
    let full = opt(word(&["full", "whole", "unopened", "new"])).parse_next(input)?;
    let skeins = opt(skein_word).parse_next(input)?;
    opt(word(&["left", "over", "remaining"])).parse_next(input)?;
    alt((
        symbol("+&").void(),
        word(&["plus"]).void(),
        word(&["and"])
            .verify(|_: &str| full.is_some() || skeins.is_some())
            .void(),
    ))
    .parse_next(input)?;
    let about = opt(about).parse_next(input)?.is_some();
    let grams = dual
        .verify(|dual: &Dual| dual.dimension() == Dimension::Mass)
        .parse_next(input)?;
    Ok(Draft {
        plus: Some(grams),
        about,
        ..Draft::of(NumberRange::one(range, span_of(pieces)), Of::Skeins)
    })
}

/// `10 x 50 g`, `9 (10, 11) x 200 yd`, `6 x 100 g balls`.
pub fn times(input: &mut Tokens<'_>) -> Parsed<Draft> {
    let counted = alt((
        counted.verify(|counted: &Counted| counted.of == Of::Nothing),
        number_range.map(|range| Counted::one(range, Of::Nothing)),
    ))
    .parse_next(input)?;
    opt(skein_word).parse_next(input)?;
    symbol("×").parse_next(input)?;
    let each = dual.verify(yarn_unit).parse_next(input)?;
    opt(skein_word).parse_next(input)?;
    Ok(Draft {
        counted: Counted {
            of: Of::Skeins,
            ..counted
        },
        each: Some(each),
        plus: None,
        about: false,
        each_of: opt(each_of).parse_next(input)?.unwrap_or_default(),
    })
}

/// `5 100 g balls`, `four 100-gram skeins`.
pub fn packed(input: &mut Tokens<'_>) -> Parsed<Draft> {
    let (number, pieces) =
        with_pieces(|input| alt((exact, number_word)).parse_next(input)).parse_next(input)?;
    let each = dual.verify(yarn_unit).parse_next(input)?;
    opt(symbol("-")).parse_next(input)?;
    skein_word(input)?;
    Ok(Draft {
        each: Some(each),
        ..Draft::of(NumberRange::one(number, span_of(pieces)), Of::Skeins)
    })
}

/// Millimetres and inches measure no yarn.
pub fn yarn_unit(dual: &Dual) -> bool {
    is_yarn_unit(dual.first.unit)
}

/// Whether yarn is measured in this unit.
pub fn is_yarn_unit(unit: &Unit) -> bool {
    !matches!(unit.symbol, "mm" | "cm" | "in")
}

/// A number or a list of sizes with its unit; alone a bare number too.
pub fn listed(input: &mut Tokens<'_>, alone: bool) -> Parsed<Draft> {
    let mut counted = alt((
        counted,
        number_range.map(|range| Counted::one(range, Of::Nothing)),
        word_count,
    ))
    .parse_next(input)?;
    let sizes = counted.entries.iter().all(|entry| entry.size.is_some());
    if counted.of == Of::Nothing && sizes && !alone {
        counted.unclear = Some("the numbers of the sizes have no unit".to_owned());
    }
    let kept = match counted.of {
        Of::Skeins => true,
        Of::Unit(unit) => is_yarn_unit(unit),
        Of::Nothing => alone || sizes,
    };
    if !kept {
        return Err(EmptyError);
    }
    let each = opt(of_each).parse_next(input)?;
    let each_of = opt(each_of).parse_next(input)?;
    Ok(Draft {
        counted,
        each,
        plus: None,
        about: false,
        each_of: each_of.unwrap_or_default(),
    })
}

fn word_count(input: &mut Tokens<'_>) -> Parsed<Counted> {
    let (number, pieces) = with_pieces(number_word).parse_next(input)?;
    skein_word(input)?;
    Ok(Counted::one(
        NumberRange::one(number, span_of(pieces)),
        Of::Skeins,
    ))
}

/// `1/2 skein`, `90% of a skein`; `3/4 balls` may be two sizes.
pub fn fraction_of_one(input: &mut Tokens<'_>) -> Parsed<Draft> {
    let ((value, plural), pieces) = with_pieces(|input| {
        let value = alt((fraction, hundredths, decimal)).parse_next(input)?;
        repeat::<_, _, (), _, _>(0..3, word(&["a", "of", "full"])).parse_next(input)?;
        let word = any_word
            .verify(|word: &str| is_skein_word(word))
            .parse_next(input)?;
        Ok((value, word.ends_with('s')))
    })
    .parse_next(input)?;
    let mut draft = Draft::of(NumberRange::one(value, span_of(pieces)), Of::Skeins);
    draft.counted.unclear = (plural && value > 0.5)
        .then(|| "two numbers with a stroke may be a fraction, two sizes or a range".to_owned());
    Ok(draft)
}

/// `90%`.
fn hundredths(input: &mut Tokens<'_>) -> Parsed<f64> {
    (exact, symbol("%"))
        .map(|(share, _)| share / 100.0)
        .parse_next(input)
}

/// `0.75 of a`.
fn decimal(input: &mut Tokens<'_>) -> Parsed<f64> {
    let value = exact.verify(|value: &f64| *value < 1.0).parse_next(input)?;
    (word(&["of"]), word(&["a", "one"])).parse_next(&mut input.clone())?;
    Ok(value)
}

/// `half a hank`, `1/2 skein`, `a quarter of a ball`, `a ball`.
pub fn part_of_one(input: &mut Tokens<'_>) -> Parsed<Draft> {
    let (value, pieces) = with_pieces(|input| {
        opt(word(&["a", "one"])).parse_next(input)?;
        let value = alt((
            word(&[
                "half", "halbes", "halber", "demi", "media", "mezzo", "mezza",
            ])
            .value(0.5),
            word(&["third"]).value(1.0 / 3.0),
            word(&["quarter"]).value(0.25),
        ))
        .parse_next(input)?;
        repeat::<_, _, (), _, _>(0..4, word(&["a", "of", "an", "one", "the"])).parse_next(input)?;
        skein_word(input)?;
        Ok(value)
    })
    .parse_next(input)?;
    Ok(Draft::of(
        NumberRange::one(value, span_of(pieces)),
        Of::Skeins,
    ))
}

/// `two and a half skeins`, `2 and 1/2 balls`.
pub fn and_a_part(input: &mut Tokens<'_>) -> Parsed<Draft> {
    let (value, pieces) = with_pieces(|input| {
        let whole = alt((exact, number_word)).parse_next(input)?;
        alt((word(&["and"]).void(), symbol("&+").void())).parse_next(input)?;
        opt(word(&["a", "one"])).parse_next(input)?;
        let part = alt((
            word(&["half"]).value(0.5),
            word(&["quarter"]).value(0.25),
            word(&["third"]).value(1.0 / 3.0),
            fraction,
        ))
        .parse_next(input)?;
        opt((word(&["of"]), opt(word(&["a"])))).parse_next(input)?;
        skein_word(input)?;
        Ok(whole + part)
    })
    .parse_next(input)?;
    Ok(Draft::of(
        NumberRange::one(value, span_of(pieces)),
        Of::Skeins,
    ))
}

impl Draft {
    fn of(range: NumberRange, of: Of) -> Self {
        Self {
            counted: Counted::one(range, of),
            each: None,
            plus: None,
            about: false,
            each_of: Vec::new(),
        }
    }
}
