//! What is said about a gauge beside its counts: stitch, flat or round, washed,
//! strands.

use super::words::{small_number, strands_held};
use crate::{
    label::reading::{Parsed, Tokens, any_word, longest, phrase, symbol, with_pieces, word},
    record::{Stitch, Worked},
};
use winnow::{
    Parser,
    combinator::{alt, opt, repeat},
    error::EmptyError,
};

/// One thing said about a gauge.
#[derive(Debug, Clone)]
pub enum Said {
    /// The stitch.
    Stitch(Stitch),
    /// Flat or round.
    Worked(Worked),
    /// Washed or not.
    Washed(bool),
    /// Strands held.
    Strands(u8),
    /// A word that says nothing more.
    Nothing,
}

/// Before the counts only a stitch with its own name stands: `St st: 22 sts`.
pub fn about_before(input: &mut Tokens<'_>) -> Parsed<Said> {
    let said = alt((stockinette, other_stitch)).parse_next(input)?;
    symbol(":=-").parse_next(input)?;
    Ok(said)
}

/// One thing said behind the counts.
pub fn about(input: &mut Tokens<'_>) -> Parsed<Said> {
    repeat::<_, _, (), _, _>(
        0..3,
        alt((
            symbol(",;(.").void(),
            word(&[
                "in", "and", "over", "on", "worked", "using", "en", "im", "i", "when",
            ])
            .void(),
        )),
    )
    .parse_next(input)?;
    let said = alt((
        worked,
        washed,
        strands,
        stockinette,
        other_stitch,
        spelt_stitch,
        pattern_word,
    ))
    .parse_next(input)?;
    opt(symbol(")")).parse_next(input)?;
    Ok(said)
}

fn worked(input: &mut Tokens<'_>) -> Parsed<Said> {
    alt((
        alt((
            phrase("in the round"),
            phrase("the round"),
            phrase("circular"),
            phrase("in rounds"),
        ))
        .value(Said::Worked(Worked::InTheRound)),
        alt((
            phrase("worked flat"),
            phrase("flat"),
            phrase("back and forth"),
        ))
        .value(Said::Worked(Worked::Flat)),
    ))
    .parse_next(input)
}

fn washed(input: &mut Tokens<'_>) -> Parsed<Said> {
    let when = alt((word(&["after"]).value(true), word(&["before"]).value(false)));
    alt((
        (
            when,
            opt(word(&["wet"])),
            word(&["blocking", "washing", "block", "wash"]),
        )
            .map(|found| Said::Washed(found.0)),
        alt((
            word(&["unblocked", "unwashed"]).void(),
            (
                word(&["un", "not"]),
                opt(symbol("-")),
                word(&["blocked", "washed"]),
            )
                .void(),
        ))
        .value(Said::Washed(false)),
        (
            opt(word(&["wet"])),
            opt(symbol("-")),
            word(&["blocked", "washed"]),
        )
            .value(Said::Washed(true)),
    ))
    .parse_next(input)
}

fn strands(input: &mut Tokens<'_>) -> Parsed<Said> {
    alt((
        strands_held.map(Said::Strands),
        (
            word(&["with"]),
            small_number,
            word(&["strands", "strand", "ends", "threads"]),
            opt(word(&["held"])),
            opt(word(&["together"])),
        )
            .map(|found| Said::Strands(found.1)),
        (small_number.verify(|n| *n == 1), word(&["strand"])).value(Said::Strands(1)),
    ))
    .parse_next(input)
}

fn stockinette(input: &mut Tokens<'_>) -> Parsed<Said> {
    longest(&[
        "stockinette",
        "stockinette stitch",
        "stockinette st",
        "stocking stitch",
        "st st",
        "stst",
        "stocking st",
        "plain knit",
        "glatt rechts",
        "glatt re",
        "jersey",
        "jersey endroit",
        "maglia rasata",
        "punto jersey",
        "meia",
        "tricotsteek",
        "glatstrik",
        "glattstrikk",
        "slatstickning",
        "sileaa neuletta",
    ])
    .value(Said::Stitch(Stitch::Stockinette))
    .parse_next(input)
}

/// A named stitch pattern.
fn other_stitch(input: &mut Tokens<'_>) -> Parsed<Said> {
    const NAMES: &[&str] = &[
        "stranded",
        "garter",
        "rib",
        "ribbing",
        "cable",
        "cables",
        "cabled",
        "lace",
        "moss",
        "seed",
        "brioche",
        "fisherman",
        "fair isle",
        "colourwork",
        "colorwork",
        "linen",
        "slip",
        "mosaic",
        "basketweave",
        "krausrippen",
        "kraus rechts",
        "mousse",
        "twisted",
        "double",
        "half fisherman",
        "intarsia",
        "pattern",
    ];
    let (name, pieces) = with_pieces(|input| {
        let name = longest(NAMES).parse_next(input)?;
        let suffix = opt(alt((
            word(&[
                "stitch",
                "st",
                "pattern",
                "rib",
                "panel",
                "knitting",
                "colourwork",
                "colorwork",
            ])
            .void(),
            (word(&["stitch"]), word(&["pattern"])).void(),
        )))
        .parse_next(input)?;
        Ok((name, suffix.is_some()))
    })
    .parse_next(input)?;
    let lone = matches!(
        name,
        ("linen" | "double" | "slip" | "lace" | "twisted", false)
    );
    let text: Vec<&str> = pieces.iter().map(|token| token.text).collect();
    match lone {
        true => Err(EmptyError),
        false => Ok(Said::Stitch(Stitch::named(&text.join(" ")))),
    }
}

/// Up to four words that end in `stitch` or `pattern`.
fn spelt_stitch(input: &mut Tokens<'_>) -> Parsed<Said> {
    const ENDS: [&str; 5] = ["stitch", "st", "pattern", "rib", "colourwork"];
    let (_, pieces) = with_pieces(|input| {
        for _ in 0..4 {
            if ENDS.contains(&any_word(input)?) {
                return Ok(());
            }
        }
        Err(EmptyError)
    })
    .parse_next(input)?;
    Ok(Said::Stitch(Stitch::named(&super::amount::text_of(pieces))))
}

fn pattern_word(input: &mut Tokens<'_>) -> Parsed<Said> {
    any_word
        .verify(|word: &str| matches!(word, "square" | "gauge" | "tension" | "swatch"))
        .value(Said::Nothing)
        .parse_next(input)
}
