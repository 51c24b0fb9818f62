//! What is said about a gauge beside its counts: stitch, flat or round, washed,
//! strands.

use crate::{
    label::{
        construction::strands_held,
        token::{
            ParseResult, Tokens, Words, any_word, longest, longest_of, require, sign_or_word, skip,
            small_number, symbol, text_of, word, words,
        },
    },
    record::{FlatOrRound, StatedGauge, Stitch},
};
use winnow::{
    Parser,
    combinator::{alt, opt, preceded, terminated},
};

/// One thing said about a gauge.
#[derive(Debug, Clone)]
pub enum GaugeDetail {
    /// The stitch.
    Stitch(Stitch),
    /// Flat or round.
    FlatOrRound(FlatOrRound),
    /// Washed or not.
    Washed(bool),
    /// Strands held.
    Strands(u8),
    /// A word that says nothing more.
    Nothing,
}

const WORKED: &[(FlatOrRound, Words)] = &[
    (
        FlatOrRound::InTheRound,
        words! { in the round, the round, circular, in rounds },
    ),
    (
        FlatOrRound::Flat,
        words! { worked flat, flat, back and forth },
    ),
];

const STOCKINETTE: Words = words! {
    stockinette, stockinette stitch, stockinette st, stocking stitch, st st, stst, stocking st,
    plain knit, glatt rechts, glatt re, jersey, jersey endroit, maglia rasata, punto jersey,
    meia, tricotsteek, glatstrik, glattstrikk, slatstickning, sileaa neuletta,
};
/// Stitch patterns with a name of their own.
const STITCH_PATTERNS: Words = words! {
    stranded, garter, rib, ribbing, cable, cables, cabled, lace, moss, seed, brioche, fisherman,
    fair isle, colourwork, colorwork, linen, slip, mosaic, basketweave, krausrippen, kraus
    rechts, mousse, twisted, double, half fisherman, intarsia, pattern,
};
/// Of these the ones that are a stitch only with one of [`SUFFIXES`] behind them.
const NEED_SUFFIX: Words = words! { linen, double, slip, lace, twisted };
const SUFFIXES: Words = words! {
    stitch pattern, stitch, st, pattern, rib, panel, knitting, colourwork, colorwork
};

/// Words between what is said.
const BETWEEN: Words = words! { in, and, over, on, worked, using, en, im, i, when };

/// Before the counts only a stitch with its own name stands: `St st: 22 sts`.
pub fn detail_before(input: &mut Tokens<'_>) -> ParseResult<GaugeDetail> {
    let stitch = alt((stockinette, other_stitch)).map(GaugeDetail::Stitch);
    terminated(stitch, symbol(":=-")).parse_next(input)
}

/// One thing said behind the counts.
pub fn detail(input: &mut Tokens<'_>) -> ParseResult<GaugeDetail> {
    let nothing = word(words! { square, gauge, tension, swatch });
    let detail = alt((
        longest_of(WORKED).map(GaugeDetail::FlatOrRound),
        washed.map(GaugeDetail::Washed),
        strands.map(GaugeDetail::Strands),
        alt((stockinette, other_stitch, spelt_stitch)).map(GaugeDetail::Stitch),
        nothing.value(GaugeDetail::Nothing),
    ));
    let between = skip(0..3, sign_or_word(",;(.", BETWEEN));
    preceded(between, terminated(detail, opt(symbol(")")))).parse_next(input)
}

/// `after wet blocking`, `unblocked`, `not washed`, `wet-blocked`.
fn washed(input: &mut Tokens<'_>) -> ParseResult<bool> {
    let when = alt((
        word(words! { after }).value(true),
        word(words! { before }).value(false),
    ));
    let done = || word(words! { blocked, washed });
    let hyphen = || opt(symbol("-"));
    let not_done = (word(words! { un, not }), hyphen(), done());
    alt((
        (
            when,
            opt(word(words! { wet })),
            word(words! { blocking, washing, block, wash }),
        )
            .map(|(after, ..)| after),
        alt((word(words! { unblocked, unwashed }).void(), not_done.void())).value(false),
        (opt(word(words! { wet })), hyphen(), done()).value(true),
    ))
    .parse_next(input)
}

fn strands(input: &mut Tokens<'_>) -> ParseResult<u8> {
    let with_strands = (
        word(words! { with }),
        small_number,
        word(words! { strands, strand, ends, threads }),
        opt(word(words! { held })),
        opt(word(words! { together })),
    );
    let one_strand = (small_number.verify(|n| *n == 1), word(words! { strand }));
    alt((
        strands_held,
        with_strands.map(|(_, strands, ..)| strands),
        one_strand.value(1),
    ))
    .parse_next(input)
}

fn stockinette(input: &mut Tokens<'_>) -> ParseResult<Stitch> {
    longest(STOCKINETTE)
        .value(Stitch::Stockinette)
        .parse_next(input)
}

/// A named stitch pattern.
fn other_stitch(input: &mut Tokens<'_>) -> ParseResult<Stitch> {
    let ((name, suffix), tokens) = (longest(STITCH_PATTERNS), opt(longest(SUFFIXES)))
        .with_taken()
        .parse_next(input)?;
    require(suffix.is_some() || !NEED_SUFFIX.contains(name))?;
    let text: Vec<&str> = tokens.iter().map(|token| token.text).collect();
    Ok(Stitch::named(&text.join(" ")))
}

/// Up to four words that end in `stitch` or `pattern`.
fn spelt_stitch(input: &mut Tokens<'_>) -> ParseResult<Stitch> {
    const ENDS: Words = words! { stitch, st, pattern, rib, colourwork };
    let other = any_word.verify(|word: &str| !ENDS.contains(word));
    (skip(0..4, other), word(ENDS))
        .take()
        .map(|tokens| Stitch::named(&text_of(tokens)))
        .parse_next(input)
}

impl GaugeDetail {
    /// Says it of `gauge`.
    pub fn say_of(self, gauge: &mut StatedGauge) {
        match self {
            Self::Stitch(stitch) => gauge.stitch = Some(stitch),
            Self::FlatOrRound(worked) => gauge.worked = Some(worked),
            Self::Washed(washed) => gauge.washed = Some(washed),
            Self::Strands(strands) => gauge.strands = Some(strands),
            Self::Nothing => {}
        }
    }
}
