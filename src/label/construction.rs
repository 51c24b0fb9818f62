//! How a yarn is built, strands held together and wraps per inch, in words.

use super::{
    range::{NumberRange, number_range},
    token::{
        ParseResult, Tokens, Words, longest, longest_of, sign_or_word, skip, small_number, symbol,
        word, words,
    },
};
use crate::trade::Construction;
use winnow::{
    Parser,
    combinator::{alt, delimited, not, opt, preceded, terminated},
};

/// What is allowed, with examples.
pub const CONSTRUCTION_ALLOWED: &str = "`plied`, `3 plied`, `cabled`, `single`, `roving`, `chainette`, `blown`, `tape`, `ribbon`, `boucle`, `slub`, `chenille`, `velvet`, `eyelash` or `brushed`";

const NAMES: &[(Construction, Words)] = &[
    (
        Construction::Plied,
        words! {
            plied, twisted, gezwirnt, retors, retorcido, ritorto, getwijnd, tvinnad, tvinnet,
            kerrattu, chain plied,
        },
    ),
    (
        Construction::Cabled,
        words! { cabled, cable plied, kabliert, cablato },
    ),
    (Construction::Single, words! { single, dochtgarn }),
    (
        Construction::Roving,
        words! {
            roving, pencil roving, unspun, vorgarn, meche, mecha, stoppino, lontwol, forgarn,
            hahtuvalanka,
        },
    ),
    (
        Construction::Chainette,
        words! {
            chainette, chain, i cord, icord, tube, tubular, kettengarn, schlauchgarn, catenella,
            cadeneta,
        },
    ),
    (
        Construction::Blown,
        words! { blown, blow yarn, geblasen, souffle, soffiato, soplado },
    ),
    (
        Construction::Tape,
        words! { tape, bandgarn, bandchengarn, fettuccia, trapillo },
    ),
    (
        Construction::Ribbon,
        words! { ribbon, ruban, cinta, nastro, lintgaren, nauhalanka },
    ),
    (
        Construction::Boucle,
        words! {
            boucle, boucles, bouclette, loop, looped, schlingengarn, frise, bucle,
            bukleelanka,
        },
    ),
    (
        Construction::Slub,
        words! { slub, slubby, thick and thin, flammengarn, flamme, fiammato, flameado },
    ),
    (
        Construction::Chenille,
        words! { chenille, chenillegarn, ciniglia, chenilla, sjenilje, seniljelanka },
    ),
    (
        Construction::Velvet,
        words! {
            velvet, velour, velours, samtgarn, velluto, terciopelo, veludo, fluweel,
            fløyel, fløjl, sammet, sammetti, samettilanka,
        },
    ),
    (
        Construction::Eyelash,
        words! { eyelash, fransengarn, wimperngarn, ripsilanka },
    ),
    (
        Construction::Brushed,
        words! {
            brushed, geburstet, gratte, grattee, spazzolato, cepillado, geborsteld, borstad,
            børstet, harjattu,
        },
    ),
];
const SINGLE: Words = words! {
    single ply, single plied, singles yarn, singles, single strand, unplied
};
/// Words behind `3-ply` that make it a construction and no class.
const BUILT: Words = words! { construction, structure, twist, twisted, plied };
const FOLD: Words = words! { fach, draads, tradet, trads, tradig };
const TWISTED: Words = words! { verzwirnt, gezwirnt, getwijnd, tvinnet };
const KNITTED: Words = words! { stricken, gestrickt, verstrickt };

/// A construction, and the number of plies where it is given with it.
pub fn construction(input: &mut Tokens<'_>) -> ParseResult<(Construction, Option<u8>)> {
    let single = longest(SINGLE).value((Construction::Single, Some(1)));
    let plied = plied.map(|plies| (Construction::Plied, Some(plies)));
    alt((plied, folded, single, named.map(|named| (named, None)))).parse_next(input)
}

/// `3 plied`, `plied from 3`, `3-ply construction`, `3 strands plied`.
fn plied(input: &mut Tokens<'_>) -> ParseResult<u8> {
    let hyphen = || opt(symbol("-"));
    let ply = (
        hyphen(),
        word(words! { ply }),
        opt(symbol("-,")),
        word(BUILT),
    );
    let strands = (
        hyphen(),
        opt(word(words! { strand, strands })),
        word(words! { plied, fold }),
    );
    let plied_from = (word(words! { plied }), opt(word(words! { from, of, x })));
    alt((
        terminated(small_number, ply),
        terminated(small_number, strands),
        preceded(plied_from, small_number),
    ))
    .parse_next(input)
}

/// `4-fach`, `4fach verzwirnt`, `4-draads`, `3-trådet`: how many threads are
/// twisted; unlike `4 ply` no name of a class. `4-fach verstrickt` may count strands.
fn folded(input: &mut Tokens<'_>) -> ParseResult<(Construction, Option<u8>)> {
    let behind = (
        opt(symbol("-")),
        word(FOLD),
        opt(word(TWISTED)),
        not(word(KNITTED)),
    );
    terminated(small_number, behind)
        .map(|plies| match plies {
            1 => (Construction::Single, Some(1)),
            plies => (Construction::Plied, Some(plies)),
        })
        .parse_next(input)
}

fn named(input: &mut Tokens<'_>) -> ParseResult<Construction> {
    let found = longest_of(NAMES).parse_next(input)?;
    opt(word(words! { construction, yarn, structure })).parse_next(input)?;
    Ok(found)
}

/// How many strands a word behind `held` counts.
const TIMES: &[(u8, Words)] = &[
    (1, words! { single, singly }),
    (2, words! { double, doubled, twice }),
    (3, words! { triple, tripled }),
    (4, words! { quadruple }),
];
/// Words that count strands by themselves.
const ALONE: &[(u8, Words)] = &[
    (
        2,
        words! {
            doubled, dubbelt, doppelfadig, doppelt, double stranded, double strand, double strands
        },
    ),
    (3, words! { triple stranded, triple strand, triple strands }),
];
const STRANDS: Words = words! { strands, ends, threads };

/// `held double`, `2 strands together`, `hold three strands`.
pub fn strands_held(input: &mut Tokens<'_>) -> ParseResult<u8> {
    let hold = word(words! { held, hold, holding });
    let together = || opt(word(words! { together }));
    let times = longest_of(TIMES);
    let alone = longest_of(ALONE);
    let used = word(words! { held, hold, holding, used, using, knit, knitted });
    let strand = alt((word(STRANDS), word(words! { strand })));
    let strands = (word(STRANDS), opt(word(words! { held })), together());
    let one_strand = (word(words! { strand }), word(words! { held, together }));
    skip(0..3, word(words! { with, worked })).parse_next(input)?;
    alt((
        preceded((used, opt(word(words! { yarn }))), times),
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
    let per_inch = (sign_or_word("/", words! { per }), word(words! { inch, in }));
    alt((
        word(words! { wpi }).void(),
        (word(words! { wraps, wrap }), per_inch).void(),
    ))
    .parse_next(input)
}
