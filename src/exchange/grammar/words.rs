//! Words that mean one thing: washing, construction, purpose, fit, strands.

use crate::{
    measure::reading::{
        Outcome, Parsed, Refusal, Token, Tokens, exact, longest, phrase, plain, span_of, symbol,
        with_pieces, word,
    },
    record::{Care, Fit, Purpose},
    trade::Construction,
};
use winnow::{
    Parser,
    combinator::{alt, opt, repeat},
    error::EmptyError,
    token::any,
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

/// A construction, and the number of plies where it is given with it.
pub fn construction(input: &mut Tokens<'_>) -> Parsed<(Construction, Option<u8>)> {
    alt((plied, single_ply, named)).parse_next(input)
}

/// `3 plied`, `plied from 3`, `3-ply construction`, `3 strands plied`.
fn plied(input: &mut Tokens<'_>) -> Parsed<(Construction, Option<u8>)> {
    let plies = alt((
        (
            small_number,
            opt(symbol("-")),
            word(&["ply"]),
            opt(symbol("-,")),
            word(&[
                "construction",
                "structure",
                "twist",
                "twisted",
                "plied",
                "yarn-construction",
            ]),
        )
            .map(|found| found.0),
        (
            small_number,
            opt(symbol("-")),
            opt(word(&["strand", "strands"])),
            word(&["plied", "fold"]),
        )
            .map(|found| found.0),
        (
            word(&["plied"]),
            opt(word(&["from", "of", "x"])),
            small_number,
        )
            .map(|found| found.2),
    ))
    .parse_next(input)?;
    Ok((Construction::Plied, Some(plies)))
}

fn single_ply(input: &mut Tokens<'_>) -> Parsed<(Construction, Option<u8>)> {
    alt((
        phrase("single ply"),
        phrase("single plied"),
        phrase("singles yarn"),
        phrase("singles"),
        phrase("single strand"),
        phrase("unplied"),
    ))
    .parse_next(input)?;
    Ok((Construction::Single, Some(1)))
}

const NAMES: &[(&str, Construction)] = &[
    ("plied", Construction::Plied),
    ("twisted", Construction::Plied),
    ("gezwirnt", Construction::Plied),
    ("retors", Construction::Plied),
    ("cabled", Construction::Cabled),
    ("cable plied", Construction::Cabled),
    ("single", Construction::Single),
    ("dochtgarn", Construction::Single),
    ("chainette", Construction::Chainette),
    ("chain", Construction::Chainette),
    ("i cord", Construction::Chainette),
    ("icord", Construction::Chainette),
    ("tube", Construction::Chainette),
    ("tubular", Construction::Chainette),
    ("chain plied", Construction::Plied),
    ("blown", Construction::Blown),
    ("blow yarn", Construction::Blown),
    ("brushed", Construction::Brushed),
    ("geburstet", Construction::Brushed),
    ("boucle", Construction::Boucle),
    ("bouclé", Construction::Boucle),
    ("loop", Construction::Boucle),
    ("looped", Construction::Boucle),
    ("slub", Construction::Slub),
    ("slubby", Construction::Slub),
    ("thick and thin", Construction::Slub),
    ("tape", Construction::Tape),
    ("ribbon", Construction::Tape),
];

fn named(input: &mut Tokens<'_>) -> Parsed<(Construction, Option<u8>)> {
    let here = input.clone();
    let left = |name: &'static str| {
        let mut trial = here.clone();
        phrase(name)
            .parse_next(&mut trial)
            .ok()
            .map(|()| trial.len())
    };
    let (_, name, construction) = NAMES
        .iter()
        .filter_map(|(name, construction)| left(name).map(|left| (left, *name, *construction)))
        .min_by_key(|(left, _, _)| *left)
        .ok_or(EmptyError)?;
    phrase(name).parse_next(input)?;
    opt(word(&["construction", "yarn", "structure"])).parse_next(input)?;
    Ok((construction, None))
}

#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "a whole number from 1 to 24, checked just before"
)]
fn small(value: f64) -> Option<u8> {
    ((1.0..=24.0).contains(&value) && value.fract() == 0.0).then_some(value as u8)
}

/// A whole number from 1 to 24, in digits or as a word.
pub fn small_number(input: &mut Tokens<'_>) -> Parsed<u8> {
    alt((exact, number_word))
        .verify_map(small)
        .parse_next(input)
}

/// `one` to `twelve`.
pub fn number_word(input: &mut Tokens<'_>) -> Parsed<f64> {
    const NUMBERS: [&str; 12] = [
        "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven",
        "twelve",
    ];
    any.verify_map(|token: &Token<'_>| {
        let word = token.word()?;
        let place = NUMBERS.iter().position(|known| *known == word)?;
        u8::try_from(place + 1).ok().map(f64::from)
    })
    .parse_next(input)
}

const PURPOSES: &[(Purpose, &[&str])] = &[
    (
        Purpose::HotPad,
        &[
            "hot pad",
            "hot pads",
            "hotpad",
            "hotpads",
            "pot holder",
            "pot holders",
            "potholder",
            "potholders",
            "oven glove",
            "oven gloves",
            "oven mitt",
            "oven mitts",
            "trivet",
            "trivets",
            "topflappen",
            "manique",
            "maniques",
            "grytlapp",
            "grytlappar",
            "grytekluter",
            "grydelapper",
            "pannenlap",
            "pannenlappen",
            "tea cosy",
            "pan holder",
            "pot stand",
        ],
    ),
    (
        Purpose::ChildNightwear,
        &[
            "childs nightwear",
            "childrens nightwear",
            "kids nightwear",
            "child nightwear",
            "nightwear",
            "sleepwear",
            "pyjamas",
            "pajamas",
            "pyjama",
            "nightgown",
            "nightdress",
            "nightie",
            "childrens sleepwear",
            "childs sleepwear",
            "childs pyjamas",
            "childrens pyjamas",
            "kids pyjamas",
            "kids pajamas",
            "childs pajamas",
            "childrens pajamas",
        ],
    ),
    (
        Purpose::Baby,
        &[
            "for baby",
            "for a baby",
            "for babies",
            "baby blanket",
            "baby hat",
            "baby cardigan",
            "baby jacket",
            "baby clothes",
            "baby garment",
            "baby bonnet",
            "baby booties",
            "baby sweater",
            "baby jumper",
            "newborn",
            "layette",
            "preemie",
            "infant",
            "babies",
            "for newborn",
            "baby socks",
            "baby shawl",
            "baby dress",
        ],
    ),
    (
        Purpose::Child,
        &[
            "child",
            "childs",
            "children",
            "childrens",
            "kids",
            "for kids",
            "childs garment",
            "childs sweater",
            "childs jumper",
            "childs cardigan",
            "toddler",
            "childrens clothes",
        ],
    ),
    (
        Purpose::Accessory,
        &[
            "accessory",
            "accessories",
            "hat",
            "hats",
            "scarf",
            "scarves",
            "shawl",
            "shawls",
            "socks",
            "mittens",
            "gloves",
            "cowl",
            "beanie",
            "bag",
            "bags",
            "mitts",
            "accessoire",
        ],
    ),
    (
        Purpose::Home,
        &[
            "home",
            "blanket",
            "blankets",
            "cushion",
            "cushions",
            "afghan blanket",
            "throw",
            "dishcloth",
            "washcloth",
            "homeware",
            "pillow",
            "rug yarn project",
        ],
    ),
    (
        Purpose::Garment,
        &[
            "garment",
            "garments",
            "sweater",
            "sweaters",
            "jumper",
            "jumpers",
            "cardigan",
            "cardigans",
            "pullover",
            "pullovers",
            "vest",
            "dress",
            "jacket",
            "top",
            "tee",
            "skirt",
            "clothes",
        ],
    ),
];

/// What the thing is for.
pub fn purpose(input: &mut Tokens<'_>) -> Parsed<Purpose> {
    let here = input.clone();
    let left = |name: &'static str| {
        let mut trial = here.clone();
        phrase(name)
            .parse_next(&mut trial)
            .ok()
            .map(|()| trial.len())
    };
    let (_, name, purpose) = PURPOSES
        .iter()
        .flat_map(|(purpose, names)| names.iter().map(|name| (*name, *purpose)))
        .filter_map(|(name, purpose)| left(name).map(|left| (left, name, purpose)))
        .min_by_key(|(left, _, _)| *left)
        .ok_or(EmptyError)?;
    phrase(name).parse_next(input)?;
    Ok(purpose)
}

/// A purpose where only `baby` or a purpose's own name may stand.
pub fn purpose_alone(input: &mut Tokens<'_>) -> Parsed<Purpose> {
    alt((purpose, word(&["baby"]).value(Purpose::Baby))).parse_next(input)
}

/// `fitted`, `relaxed`, `unfitted`.
pub fn fit(input: &mut Tokens<'_>) -> Parsed<Fit> {
    let fit = alt((
        alt((
            phrase("close fitting"),
            phrase("close fitted"),
            phrase("tight fitting"),
            phrase("negative ease"),
            phrase("fitted"),
            phrase("snug"),
        ))
        .value(Fit::Fitted),
        alt((
            phrase("loose fitting"),
            phrase("relaxed"),
            phrase("loose"),
            phrase("oversized"),
        ))
        .value(Fit::Relaxed),
        alt((phrase("unfitted"), phrase("not fitted"))).value(Fit::Unfitted),
    ))
    .parse_next(input)?;
    opt(word(&["fit"])).parse_next(input)?;
    Ok(fit)
}

/// `held double`, `2 strands together`, `hold three strands`.
pub fn strands_held(input: &mut Tokens<'_>) -> Parsed<u8> {
    repeat::<_, _, (), _, _>(0..3, word(&["with", "worked"])).parse_next(input)?;
    alt((
        (
            word(&["held", "hold", "holding", "used", "knit", "knitted"]),
            opt(word(&["yarn"])),
            how_often,
        )
            .map(|found| found.1.map_or(found.2, |_| found.2)),
        (
            word(&["held", "hold", "holding"]),
            small_number,
            word(&["strands", "ends", "strand", "threads"]),
            opt(word(&["together"])),
        )
            .map(|found| found.1),
        (
            small_number,
            word(&["strands", "ends", "threads"]),
            opt(word(&["held"])),
            opt(word(&["together"])),
        )
            .map(|found| found.0),
        (small_number, word(&["strand"]), word(&["held", "together"])).map(|found| found.0),
        (word(&["doubled", "dubbelt", "doppelfadig", "doppelt"])).value(2),
        (
            word(&["double", "triple"]),
            word(&["stranded", "strand", "strands"]),
        )
            .map(|(times, _)| if times == "triple" { 3 } else { 2 }),
    ))
    .parse_next(input)
}

fn how_often(input: &mut Tokens<'_>) -> Parsed<u8> {
    alt((
        word(&["double", "doubled", "twice"]).value(2),
        word(&["triple", "tripled"]).value(3),
        word(&["quadruple"]).value(4),
        word(&["single", "singly"]).value(1),
    ))
    .parse_next(input)
}

/// `wpi 13`, `13 wpi`, `13 wraps per inch`.
pub fn wraps(input: &mut Tokens<'_>) -> Parsed<crate::measure::reading::NumberRange> {
    use crate::measure::reading::number_range;
    let wpi = |input: &mut Tokens<'_>| {
        alt((
            word(&["wpi"]).void(),
            (
                word(&["wraps", "wrap"]),
                alt((word(&["per"]).void(), symbol("/").void())),
                word(&["inch", "in"]),
            )
                .void(),
        ))
        .parse_next(input)
    };
    alt((
        (wpi, opt(symbol(":=")), number_range).map(|found| found.2),
        (number_range, wpi).map(|found| found.0),
    ))
    .parse_next(input)
}
