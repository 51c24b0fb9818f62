//! The forms in which one amount is written, with what one skein of it holds and
//! which yarn or colour it is for.

use super::sizes::{CountedUnit, MOST_SIZES, SizedNumber, SizedNumbers, sized_numbers};
use crate::label::{
    length_mass::{DualMeasure, dual_of, is_yarn_unit, yarn_dual},
    range::{NumberRange, number_range, single_number},
    token::{
        ParseResult, Token, Tokens, Words, exact, fraction, longest_of, number_word, one_of,
        require, sign_or_word, skein_word, skip, symbol, word, words,
    },
};
use crate::measure::units::Dimension;
use winnow::{
    Parser,
    combinator::{alt, delimited, not, opt, peek, preceded, separated, terminated},
    error::EmptyError,
};

/// What was recognised, each number with all that it may mean.
pub struct Draft {
    /// The numbers.
    pub numbers: SizedNumbers,
    /// What one skein holds.
    pub each: Option<DualMeasure>,
    /// Loose grams beside the skeins.
    pub plus: Option<DualMeasure>,
    /// Whether it is said to be about so much.
    pub about: bool,
    /// Keys of the colours it is for.
    pub each_of: Vec<String>,
}

const ABOUT: Words = words! {
    about, approx, approximately, ca, circa, roughly, around, nearly, almost, etwa, environ,
    aprox, noin, c
};
/// Parts of one skein.
const PARTS: &[(f64, Words)] = &[
    (
        0.5,
        words! { half, halbes, halber, demi, media, mezzo, mezza },
    ),
    (1.0 / 3.0, words! { third }),
    (0.25, words! { quarter }),
];
const AND_PARTS: &[(f64, Words)] = &[
    (0.5, words! { half }),
    (1.0 / 3.0, words! { third }),
    (0.25, words! { quarter }),
];

/// An amount in any form; `alone` where nothing else may stand.
pub fn draft(input: &mut Tokens<'_>, alone: bool) -> ParseResult<Draft> {
    let list = sized_numbers.parse_peek(input.clone()).ok();
    alt((
        and_a_part,
        fraction_of_one,
        plus,
        |input: &mut _| times(input, list.as_ref()),
        packed,
        sized_packed,
        |input: &mut _| listed(input, alone, list.as_ref()),
        part_of_one,
    ))
    .parse_next(input)
}

/// Numbers for sizes, read once for all forms, and what stands behind them.
type List<'t> = (Tokens<'t>, SizedNumbers);

/// The list, where it holds; it is copied only then.
fn take_list<'t>(
    input: &mut Tokens<'t>,
    list: Option<&List<'t>>,
    holds: impl Fn(&SizedNumbers) -> bool,
) -> ParseResult<SizedNumbers> {
    let (rest, numbers) = list.filter(|(_, list)| holds(list)).ok_or(EmptyError)?;
    input.clone_from(rest);
    Ok(numbers.clone())
}

/// `~`, `about`, `ca.`.
pub fn about(input: &mut Tokens<'_>) -> ParseResult<()> {
    let capital = one_of(|token| token.is_capitalised() && token.is_word(words! { c }));
    let word = preceded(not(capital), word(ABOUT)).void();
    skip(1..3, alt((symbol("~").void(), word))).parse_next(input)
}

/// `2 + 60 g`, `1 full + ~60g`, `3 skeins and 40 g`.
fn plus(input: &mut Tokens<'_>) -> ParseResult<Draft> {
    let (skeins, span) = exact.with_span().parse_next(input)?;
    let full = opt(word(words! { full, whole, unopened, new })).parse_next(input)?;
    let named = opt(skein_word).parse_next(input)?;
    opt(word(words! { left, over, remaining })).parse_next(input)?;
    let and = word(words! { and })
        .verify(|_: &str| full.or(named).is_some())
        .void();
    alt((sign_or_word("+&", words! { plus }), and)).parse_next(input)?;
    let about = opt(about).parse_next(input)?.is_some();
    let grams = dual_of(Dimension::Mass)(input)?;
    Ok(Draft {
        plus: Some(grams),
        about,
        ..Draft::skeins(skeins, span)
    })
}

/// `10 x 50 g`, `9 (10, 11) x 200 yd`, `6 x 100 g balls`.
fn times<'t>(input: &mut Tokens<'t>, list: Option<&List<'t>>) -> ParseResult<Draft> {
    let is_unstated = |numbers: &SizedNumbers| numbers.unit == CountedUnit::Unstated;
    let unstated = |input: &mut _| take_list(input, list, is_unstated);
    let times = (opt(skein_word), symbol("×"));
    let numbers = terminated(alt((unstated, bare_number)), times).parse_next(input)?;
    let each = terminated(yarn_dual, opt(skein_word)).parse_next(input)?;
    let each_of = opt(each_of).parse_next(input)?;
    Ok(Draft {
        each: Some(each),
        each_of: each_of.into_iter().flatten().collect(),
        ..Draft::from(SizedNumbers {
            unit: CountedUnit::Skeins,
            ..numbers
        })
    })
}

fn bare_number(input: &mut Tokens<'_>) -> ParseResult<SizedNumbers> {
    number_range
        .map(|range| SizedNumbers::one(range, CountedUnit::Unstated))
        .parse_next(input)
}

/// `5 50 g balls`, `four 100-gram skeins`.
fn packed(input: &mut Tokens<'_>) -> ParseResult<Draft> {
    let number = alt((exact, number_word)).with_span();
    let each = terminated(yarn_dual, (opt(symbol("-")), skein_word));
    let ((number, span), each) = (number, each).parse_next(input)?;
    Ok(Draft {
        each: Some(each),
        ..Draft::skeins(number, span)
    })
}

/// `10 (11, 12, 13) 50 g balls`, `8 [9, 10] 2 oz. balls`: sizes, and then the ball.
fn sized_packed(input: &mut Tokens<'_>) -> ParseResult<Draft> {
    let one = || single_number.map(|range| SizedNumber { size: None, range });
    let in_brackets = delimited(
        symbol("(["),
        separated(1..MOST_SIZES, one(), symbol(",:;/-")),
        symbol(")]"),
    );
    let (first, more): (SizedNumber, Vec<SizedNumber>) = (one(), in_brackets).parse_next(input)?;
    opt(symbol("×")).parse_next(input)?;
    let each = terminated(yarn_dual, (opt(symbol("-")), skein_word)).parse_next(input)?;
    Ok(Draft {
        each: Some(each),
        ..Draft::from(SizedNumbers {
            entries: std::iter::once(first).chain(more).collect(),
            unit: CountedUnit::Skeins,
            unclear: None,
        })
    })
}

/// A number or a list of sizes with its unit; alone a bare number too.
fn listed<'t>(input: &mut Tokens<'t>, alone: bool, list: Option<&List<'t>>) -> ParseResult<Draft> {
    let counts = |numbers: &SizedNumbers| {
        alone || numbers.unit != CountedUnit::Unstated || numbers.is_named()
    };
    let sized = |input: &mut _| take_list(input, list, counts);
    let in_words = terminated(number_word.with_span(), skein_word)
        .map(|(number, span)| Draft::skeins(number, span).numbers);
    let mut numbers = alt((sized, bare_number, in_words)).parse_next(input)?;
    let named = numbers.is_named();
    match numbers.unit {
        CountedUnit::Skeins => {}
        CountedUnit::Unit(unit) => require(is_yarn_unit(unit))?,
        CountedUnit::Unstated => require(alone || named)?,
    }
    if numbers.unit == CountedUnit::Unstated && !alone {
        numbers.unclear = Some("the numbers of the sizes have no unit".to_owned());
    }
    let (each, each_of) = (opt(of_each), opt(each_of)).parse_next(input)?;
    Ok(Draft {
        each,
        each_of: each_of.into_iter().flatten().collect(),
        ..Draft::from(numbers)
    })
}

/// `1/2 skein`, `90% of a skein`; `3/4 balls` may be two sizes.
fn fraction_of_one(input: &mut Tokens<'_>) -> ParseResult<Draft> {
    let percent = terminated(exact, symbol("%")).map(|share| share / 100.0);
    let of_a = (word(words! { of }), word(words! { a, one }));
    let decimal = terminated(exact.verify(|value: &f64| *value < 1.0), peek(of_a));
    let value = alt((fraction, percent, decimal));
    let ((value, (), word), span) = (value, skip(0..3, word(words! { a, of, full })), skein_word)
        .with_span()
        .parse_next(input)?;
    let mut draft = Draft::skeins(value, span);
    draft.numbers.unclear = (word.ends_with('s') && value > 0.5)
        .then(|| "two numbers with a stroke may be a fraction, two sizes or a range".to_owned());
    Ok(draft)
}

/// `half a hank`, `1/2 skein`, `a quarter of a ball`, `a ball`.
fn part_of_one(input: &mut Tokens<'_>) -> ParseResult<Draft> {
    let part = longest_of(PARTS);
    let of_a = skip(0..4, word(words! { a, of, an, one, the }));
    delimited(opt(word(words! { a, one })), part, (of_a, skein_word))
        .with_span()
        .map(|(value, span)| Draft::skeins(value, span))
        .parse_next(input)
}

/// `two and a half skeins`, `2 and 1/2 balls`.
fn and_a_part(input: &mut Tokens<'_>) -> ParseResult<Draft> {
    let named = longest_of(AND_PARTS);
    let and_a = (
        sign_or_word("&+", words! { and }),
        opt(word(words! { a, one })),
    );
    let whole = terminated(alt((exact, number_word)), and_a);
    let of_a = opt((word(words! { of }), opt(word(words! { a }))));
    (whole, alt((named, fraction)), of_a, skein_word)
        .with_span()
        .map(|((whole, part, ..), span)| Draft::skeins(whole + part, span))
        .parse_next(input)
}

/// `2 balls MC`, `3 skeins in A`.
pub fn of_key(input: &mut Tokens<'_>) -> ParseResult<String> {
    let lead = (
        opt(word(words! { in, of, for })),
        opt(word(words! { colour, color, yarn })),
    );
    preceded(lead, colour_key).parse_next(input)
}

/// A key that patterns give to a yarn: `MC`, `CC2`, `A` to `H`.
pub fn colour_key(input: &mut Tokens<'_>) -> ParseResult<String> {
    const KEYS: [&str; 10] = ["MC", "CC", "A", "B", "C", "D", "E", "F", "G", "H"];
    let named = longest_of(NAMED_KEYS);
    let known = |key: &str| KEYS.contains(&key.trim_end_matches(|c: char| c.is_ascii_digit()));
    alt((key.verify(known), named.map(str::to_owned))).parse_next(input)
}

/// Keys that patterns spell out.
const NAMED_KEYS: &[(&str, Words)] = &[
    ("MC", words! { main colour, main color, main yarn, main }),
    (
        "CC",
        words! { contrast colour, contrast color, contrasting colour, contrasting color, contrast },
    ),
];

/// `of 182 m`, `, 100 g each`, `à 50 g`, `(50 g each)`.
fn of_each(input: &mut Tokens<'_>) -> ParseResult<DualMeasure> {
    let of = sign_or_word("@", words! { of, a, at, je, de, da, von, each });
    let sure = opt(of).parse_next(input)?;
    if sure.is_none() {
        opt(symbol(",(")).parse_next(input)?;
    }
    let before = delimited(opt(about), opt(word(words! { each })), opt(about)).parse_next(input)?;
    let each = yarn_dual(input)?;
    let after = opt(word(words! { each, per, je, ea })).parse_next(input)?;
    opt(symbol(")")).parse_next(input)?;
    require(sure.is_some() || before.or(after).is_some())?;
    Ok(each)
}

/// `each in A, B, C and MC`: keys of colours, in capitals.
fn each_of(input: &mut Tokens<'_>) -> ParseResult<Vec<String>> {
    const COLOURS: Words = words! { colours, colors, colour, color, shades, yarn, yarns };
    let each = (opt(symbol(",")), word(words! { each, ea }));
    let lead = (each, opt(word(words! { in, of, for })), opt(word(COLOURS)));
    let and = skip(1..3, sign_or_word(",&+/", words! { and }));
    preceded(lead, separated(1..41, key, and)).parse_next(input)
}

fn key(input: &mut Tokens<'_>) -> ParseResult<String> {
    let capitals = |token: &Token<'_>| {
        token.word().is_some()
            && token.text.chars().count() <= 3
            && token.text.chars().all(char::is_uppercase)
    };
    let digit = one_of(|token| token.glued && token.number().is_some());
    (one_of(capitals), opt(digit))
        .map(|(word, digit)| format!("{}{}", word.text, digit.map_or("", |token| token.text)))
        .parse_next(input)
}

impl From<SizedNumbers> for Draft {
    fn from(numbers: SizedNumbers) -> Self {
        Self {
            numbers,
            each: None,
            plus: None,
            about: false,
            each_of: Vec::new(),
        }
    }
}

impl Draft {
    /// So many skeins.
    fn skeins(number: f64, span: std::ops::Range<usize>) -> Self {
        let range = NumberRange::one(number, span);
        SizedNumbers::one(range, CountedUnit::Skeins).into()
    }
}
