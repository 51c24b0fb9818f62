//! Fibres that are only guessed at: `mostly wool?`, `burns like hair`.

use super::{
    fibre_phrase::phrase,
    fibres::{BLEND_ALLOWED, Fibres},
};
use crate::label::reading::{Outcome, Parsed, Refusal, Tokens, span_of, symbol, with_pieces, word};
use winnow::{
    Parser,
    combinator::{alt, opt, repeat},
};

/// Words that make any fibre after them a guess, and the burn test.
pub fn doubtful(input: &mut Tokens<'_>) -> Parsed<Outcome<Fibres>> {
    let (why, pieces) =
        with_pieces(|input| alt((burnt, guessed)).parse_next(input)).parse_next(input)?;
    Ok(Err(Refusal::new(
        span_of(pieces),
        why,
        format!("{BLEND_ALLOWED}, or nothing where it is not known"),
    )))
}

fn burnt(input: &mut Tokens<'_>) -> Parsed<&'static str> {
    opt((
        word(&["unknown", "mystery"]),
        opt(word(&["fibre", "fiber", "fibres", "fibers", "yarn"])),
        opt(symbol(",;:-")),
    ))
    .parse_next(input)?;
    word(&["burns", "burn", "burned", "burnt", "burning"]).parse_next(input)?;
    opt((
        word(&["like", "as", "test"]),
        opt(word(&["hair", "paper", "plastic", "wool", "says"])),
    ))
    .parse_next(input)?;
    Ok("a burn test is only a first indication of the fibre, and dangerous")
}

fn guessed(input: &mut Tokens<'_>) -> Parsed<&'static str> {
    word(&[
        "mostly", "mainly", "probably", "maybe", "possibly", "perhaps", "unknown", "mystery",
        "feels", "some",
    ])
    .parse_next(input)?;
    repeat::<_, _, (), _, _>(
        0..3,
        alt((
            word(&[
                "like", "a", "fibre", "fiber", "fibres", "fibers", "blend", "mix",
            ])
            .void(),
            symbol(",:").void(),
        )),
    )
    .parse_next(input)?;
    opt(phrase).parse_next(input)?;
    opt(word(&["blend", "mix", "mixture"])).parse_next(input)?;
    opt(symbol("?")).parse_next(input)?;
    Ok("a guess at the fibre is not taken for a fact")
}
