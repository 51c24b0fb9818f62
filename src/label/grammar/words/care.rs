//! How a yarn may be washed, in words.

use crate::{
    label::reading::{
        Outcome, Parsed, Refusal, Tokens, exact, longest, plain, span_of, symbol, with_pieces, word,
    },
    record::Care,
};
use winnow::{
    Parser,
    combinator::{alt, opt, repeat},
    error::EmptyError,
};

const MACHINE: &[&str] = &[
    "machine wash",
    "machine washable",
    "machine wash cold",
    "machine wash warm",
    "machine wash cool",
    "washing machine",
    "superwash",
    "sw",
    "maschinenwasche",
    "maschinenwaschbar",
    "lavable en machine",
    "lavage en machine",
    "lavage machine",
    "lavado a maquina",
    "lavabile in lavatrice",
    "lavatrice",
    "machinewas",
    "maskinvask",
    "maskintvatt",
    "konepesu",
    "machine",
    "easy care",
    "easycare",
];
const HAND: &[&str] = &[
    "hand wash",
    "hand wash only",
    "handwash",
    "hand washing",
    "wash by hand",
    "handwasche",
    "lavage a la main",
    "laver a la main",
    "lavado a mano",
    "lavar a mano",
    "lavare a mano",
    "lavaggio a mano",
    "lavar a mao",
    "handwas",
    "handvask",
    "handvatt",
    "handtvatt",
    "kasinpesu",
    "handvask",
];
const DRY: &[&str] = &[
    "dry clean",
    "dry clean only",
    "dry cleaning",
    "dryclean",
    "chemische reinigung",
    "nettoyage a sec",
    "lavado en seco",
    "lavaggio a secco",
];

/// `machine wash`, `superwash`, `hand wash`, `30°C`; what a label forbids says
/// not what it allows.
pub fn care(input: &mut Tokens<'_>) -> Parsed<Outcome<Care>> {
    alt((forbidden.map(Err), allowed.map(plain))).parse_next(input)
}

fn forbidden(input: &mut Tokens<'_>) -> Parsed<Refusal> {
    let ((), pieces) = with_pieces(|input| {
        opt(word(&["do", "bitte"])).parse_next(input)?;
        word(&[
            "not", "no", "non", "nicht", "ne", "dont", "never", "cannot", "pas",
        ])
        .parse_next(input)?;
        opt(symbol("-")).parse_next(input)?;
        opt(word(&["be", "to", "pas"])).parse_next(input)?;
        alt((longest(MACHINE), longest(HAND), longest(DRY)))
            .void()
            .parse_next(input)
    })
    .parse_next(input)?;
    Ok(Refusal::new(
        span_of(pieces),
        "it says how the yarn may not be washed",
        "how it may be: `machine wash`, `hand wash`, `dry clean` or `30 C`",
    ))
}

fn allowed(input: &mut Tokens<'_>) -> Parsed<Care> {
    let heat = (
        opt((
            word(&["wash", "washable", "waschen", "vask", "tvatt"]),
            opt(word(&["at", "bei", "to", "cool", "warm"])),
        )),
        degrees,
    );
    let care = alt((
        longest(DRY).value(Care::DryClean),
        longest(HAND).value(Care::HandWash),
        longest(MACHINE).value(Care::MachineWash),
        heat.value(Care::MachineWash),
    ))
    .parse_next(input)?;
    let more = word(&[
        "at", "only", "cold", "warm", "cool", "cycle", "gentle", "delicate", "wool",
    ]);
    repeat::<_, _, (), _, _>(0..4, alt((degrees, more.void()))).parse_next(input)?;
    Ok(care)
}

/// `30°C`, `40 °`, `30 C`.
fn degrees(input: &mut Tokens<'_>) -> Parsed<()> {
    let value = exact(input)?;
    alt((
        (symbol("°"), opt(word(&["c"]))).void(),
        word(&["c", "grad", "degrees"]).void(),
    ))
    .parse_next(input)?;
    match (20.0..=95.0).contains(&value) {
        true => Ok(()),
        false => Err(EmptyError),
    }
}
