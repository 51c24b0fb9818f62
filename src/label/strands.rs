//! Strands held together and wraps per inch.

use super::{
    range::{NumberRange, number_range},
    token::{
        ParseResult, Tokens, longest_of, phrases, sign_or_word, skip, small_number, symbol, word,
        words,
    },
};
use winnow::{
    Parser,
    combinator::{alt, delimited, opt, preceded, terminated},
};

/// How many strands a word behind `held` counts.
const TIMES: &[(u8, &[&str])] = &[
    (1, words! { single, singly }),
    (2, words! { double, doubled, twice }),
    (3, words! { triple, tripled }),
    (4, words! { quadruple }),
];
/// Words that count strands by themselves.
const ALONE: &[(u8, &[&str])] = &[
    (
        2,
        words! {
            doubled, dubbelt, doppelfadig, doppelt, double stranded, double strand, double strands
        },
    ),
    (3, words! { triple stranded, triple strand, triple strands }),
];
const STRANDS: &[&str] = words! { strands, ends, threads };

/// `held double`, `2 strands together`, `hold three strands`.
pub fn strands_held(input: &mut Tokens<'_>) -> ParseResult<u8> {
    let hold = word(&["held", "hold", "holding"]);
    let together = || opt(word(&["together"]));
    let times = |input: &mut Tokens<'_>| longest_of(phrases(TIMES), input);
    let alone = |input: &mut Tokens<'_>| longest_of(phrases(ALONE), input);
    let used = word(&[
        "held", "hold", "holding", "used", "using", "knit", "knitted",
    ]);
    let strand = alt((word(STRANDS), word(&["strand"])));
    let strands = (word(STRANDS), opt(word(&["held"])), together());
    let one_strand = (word(&["strand"]), word(&["held", "together"]));
    skip(0..3, word(&["with", "worked"])).parse_next(input)?;
    alt((
        preceded((used, opt(word(&["yarn"]))), times),
        delimited(hold, small_number, (strand, together())),
        terminated(small_number, strands),
        terminated(small_number, one_strand),
        alone,
    ))
    .parse_next(input)
}

/// `wpi 13`, `13 wpi`, `13 wraps per inch`.
pub fn wraps(input: &mut Tokens<'_>) -> ParseResult<NumberRange> {
    let unit_first = preceded((wraps_per_inch, opt(symbol(":="))), number_range);
    alt((unit_first, terminated(number_range, wraps_per_inch))).parse_next(input)
}

fn wraps_per_inch(input: &mut Tokens<'_>) -> ParseResult<()> {
    let per_inch = (sign_or_word("/", &["per"]), word(&["inch", "in"]));
    alt((
        word(&["wpi"]).void(),
        (word(&["wraps", "wrap"]), per_inch).void(),
    ))
    .parse_next(input)
}
