//! What the knitted thing is for and how close it sits, in words.

use crate::{
    label::reading::{Parsed, Tokens, phrase, word},
    record::{Fit, Purpose},
};
use winnow::{
    Parser,
    combinator::{alt, opt},
    error::EmptyError,
};

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
