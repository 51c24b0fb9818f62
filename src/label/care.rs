//! How a yarn may be washed, in words.

use super::{
    reading::{ReadResult, Reading, Refusal},
    token::{ParseResult, Tokens, exact, longest_of, phrases, require, skip, symbol, word, words},
};
use crate::record::Care;
use winnow::{
    Parser,
    combinator::{alt, opt, terminated},
};

/// What is allowed, with examples.
pub const CARE_ALLOWED: &str = "`machine wash`, `hand wash`, `dry clean` or `30 C`";

const WAYS: &[(Care, &[&str])] = &[
    (
        Care::DryClean,
        words! {
            dry clean, dry clean only, dry cleaning, dryclean, chemische reinigung, nettoyage a
            sec, lavado en seco, lavaggio a secco,
        },
    ),
    (
        Care::HandWash,
        words! {
            hand wash, hand wash only, handwash, hand washing, wash by hand, handwasche, lavage
            a la main, laver a la main, lavado a mano, lavar a mano, lavare a mano, lavaggio a
            mano, lavar a mao, handwas, handvask, handvatt, handtvatt, kasinpesu,
        },
    ),
    (
        Care::MachineWash,
        words! {
            machine wash, machine washable, machine wash cold, machine wash warm, machine wash
            cool, washing machine, superwash, sw, maschinenwasche, maschinenwaschbar, lavable en
            machine, lavage en machine, lavage machine, lavado a maquina, lavabile in lavatrice,
            lavatrice, machinewas, maskinvask, maskintvatt, konepesu, machine, easy care,
            easycare,
        },
    ),
];
const NOT: &[&str] = words! { not, no, non, nicht, ne, dont, never, cannot, pas };
const WASH: &[&str] = words! { wash, washable, waschen, vask, tvatt };
/// Words behind a way of washing that say how.
const HOW: &[&str] = words! { at, only, cold, warm, cool, cycle, gentle, delicate, wool };

/// `machine wash`, `superwash`, `hand wash`, `30°C`; what a label forbids says
/// not what it allows.
pub fn care(input: &mut Tokens<'_>) -> ParseResult<ReadResult<Care>> {
    let allowed = allowed.map(|care| Ok(Reading::plain(care)));
    alt((forbidden.map(Err), allowed)).parse_next(input)
}

fn way(input: &mut Tokens<'_>) -> ParseResult<Care> {
    longest_of(phrases(WAYS), input)
}

fn forbidden(input: &mut Tokens<'_>) -> ParseResult<Refusal> {
    let not = (opt(word(&["do", "bitte"])), word(NOT), opt(symbol("-")));
    let ((), span) = (not, opt(word(&["be", "to", "pas"])), way)
        .void()
        .with_span()
        .parse_next(input)?;
    Ok(Refusal::new(
        span,
        "it says how the yarn may not be washed",
        format!("how it may be: {CARE_ALLOWED}"),
    ))
}

fn allowed(input: &mut Tokens<'_>) -> ParseResult<Care> {
    let at = opt(word(&["at", "bei", "to", "cool", "warm"]));
    let heat = (opt((word(WASH), at)), degrees).value(Care::MachineWash);
    let how = skip(0..4, alt((degrees, word(HOW).void())));
    terminated(alt((way, heat)), how).parse_next(input)
}

/// `30°C`, `40 °`, `30 C`.
fn degrees(input: &mut Tokens<'_>) -> ParseResult<()> {
    let value = exact(input)?;
    let sign = (symbol("°"), opt(word(&["c"]))).void();
    alt((sign, word(&["c", "grad", "degrees"]).void())).parse_next(input)?;
    require((20.0..=95.0).contains(&value))
}
