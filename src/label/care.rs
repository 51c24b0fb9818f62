//! How a yarn may be washed, in words.

use super::{
    reading::{Note, ReadResult, Reading, Refusal},
    token::{
        ParseResult, Tokens, Words, any_word, exact, longest_of, require, skip, symbol, word, words,
    },
};
use crate::record::Care;
use std::ops::RangeInclusive;
use winnow::{
    Parser,
    combinator::{alt, delimited, not, opt, terminated},
};

/// What is allowed, with examples.
pub const CARE_ALLOWED: &str = "`machine wash`, `hand wash` or `dry clean`";

const WAYS: &[(Care, Words)] = &[
    (
        Care::DryClean,
        words! {
            dry clean, dry clean only, dry cleaning, dryclean, chemische reinigung, nettoyage a
            sec, lavado en seco, lavaggio a secco, czyszczenie chemiczne, pranie chemiczne,
            chemicke cisteni, химчистка, kuru temizleme, トライクリーニンク,
        },
    ),
    (
        Care::HandWash,
        words! {
            hand wash, hand wash only, handwash, hand washing, wash by hand, handwasche, lavage
            a la main, laver a la main, lavado a mano, lavar a mano, lavare a mano, lavaggio a
            mano, lavar a mao, handwas, handvask, handvatt, handtvatt, kasinpesu, a la main, a
            mano, a mao, lavable a mano, lavable a la main, lavabile a mano, handvasche, von hand, von hand waschen, recznie, prac recznie, pranie
            reczne, rucni prani, prat rucne, prat v ruce, rucne, ручная стирка, стирать вручную,
            стирать руками, вручную, elde yıkama, elde yıkayınız, elde yıka, elde, 手洗い,
        },
    ),
    (
        Care::MachineWash,
        words! {
            machine wash, machine washable, machine wash cold, machine wash warm, machine wash
            cool, washing machine, superwash, sw, maschinenwasche, maschinenwaschbar, lavable en
            machine, lavage en machine, lavage machine, lavado a maquina, lavabile in lavatrice,
            lavatrice, machinewas, maskinvask, maskintvatt, konepesu, machine, easy care,
            easycare, pranie w pralce, prac w pralce, w pralce, prani v pracce, prat v pracce, машинная
            стирка, стирать в машине, makinede yıkama, makinede yıkanabilir, 洗濯機, wollwaschgang,
        },
    ),
];
const NOT: Words = words! { not, no, non, nicht, ne, dont, never, cannot, pas, nie, не };
const WASH: Words = words! {
    wash, washable, waschen, vask, tvatt, lavage, laver, lavado, lavar, lavare, lavaggio, lavable,
    was, wassen, pranie, prac, prani, prat, стирка, стирать, yıkama, pesu,
};
const AT: Words = words! { at, bei, to, cool, warm, a, en, w, v, при, op, ved, i };
/// What is washed so hot or so cool, degrees Celsius.
const HEATS: RangeInclusive<f64> = 20.0..=95.0;
/// Why a temperature is no way of washing.
pub const HEAT: &str = "a temperature does not say whether to wash by hand or by machine";
/// Words behind a way of washing that say how.
const HOW: Words = words! {
    at, only, cold, warm, cool, cycle, gentle, delicate, wool, bei, w, v, при, max, ved, op, til,
};

/// A bare temperature where only washing is given. Earlier versions took it for a
/// machine wash, so that their exports hold it.
pub fn heat_alone(input: &mut Tokens<'_>) -> ParseResult<ReadResult<Care>> {
    let span = heat.span().parse_next(input)?;
    let message = format!("{HEAT}: taken as a machine wash; write {CARE_ALLOWED} to be sure");
    Ok(Ok(Reading::new(
        Care::MachineWash,
        [Note::new(&span, message)],
    )))
}

/// `machine wash`, `superwash`, `hand wash`; what a label forbids says not what it
/// allows, and a temperature alone not how.
pub fn care(input: &mut Tokens<'_>) -> ParseResult<ReadResult<Care>> {
    let allowed = allowed.map(|care| Ok(Reading::plain(care)));
    let heat = heat
        .with_span()
        .map(|((), span)| Err(Refusal::new(span, HEAT, CARE_ALLOWED)));
    alt((forbidden.map(Err), allowed, heat)).parse_next(input)
}

/// `30°C`, `wash at 30`: by hand or in a machine, it says not.
pub fn heat(input: &mut Tokens<'_>) -> ParseResult<()> {
    let at = || opt(word(AT));
    let plain = exact.verify(|heat: &f64| HEATS.contains(heat)).void();
    let wash = (word(WASH), at(), alt((degrees, plain))).void();
    terminated(alt((wash, degrees)), not((opt(symbol(",;")), way))).parse_next(input)
}

fn way(input: &mut Tokens<'_>) -> ParseResult<Care> {
    longest_of(WAYS).parse_next(input)
}

fn forbidden(input: &mut Tokens<'_>) -> ParseResult<Refusal> {
    let not = (opt(word(words! { do, bitte })), word(NOT), opt(symbol("-")));
    let ((), span) = (not, opt(word(words! { be, to, pas, wolno })), way)
        .void()
        .with_span()
        .parse_next(input)?;
    Ok(Refusal::new(
        span,
        "it says how not to wash the yarn",
        format!("how to wash it: {CARE_ALLOWED}"),
    ))
}

fn allowed(input: &mut Tokens<'_>) -> ParseResult<Care> {
    let before = opt((degrees, opt(symbol(",;"))));
    let round = exact.verify(|heat: &f64| HEATS.contains(heat) && heat % 10.0 == 0.0);
    let bare = (round, not(alt((any_word.void(), symbol("%×/").void())))).void();
    let how = skip(0..4, alt((degrees, bare, word(HOW).void())));
    delimited(before, way, how).parse_next(input)
}

/// `30°C`, `40 °`, `30 C`.
fn degrees(input: &mut Tokens<'_>) -> ParseResult<()> {
    let value = exact(input)?;
    let sign = (symbol("°"), opt(word(words! { c }))).void();
    alt((sign, word(words! { c, grad, degrees }).void())).parse_next(input)?;
    require(HEATS.contains(&value))
}
