//! What the knitted thing is for and how close it sits, in words.

use super::token::{ParseResult, Tokens, longest_of, phrases, word, words};
use crate::record::{Fit, Purpose};
use winnow::{
    Parser,
    combinator::{alt, opt, terminated},
};

const PURPOSES: &[(Purpose, &[&str])] = &[
    (
        Purpose::HotPad,
        words! {
            hot pad, hot pads, hotpad, hotpads, pot holder, pot holders, potholder, potholders,
            oven glove, oven gloves, oven mitt, oven mitts, trivet, trivets, topflappen,
            manique, maniques, grytlapp, grytlappar, grytekluter, grydelapper, pannenlap,
            pannenlappen, tea cosy, pan holder, pot stand,
        },
    ),
    (
        Purpose::ChildNightwear,
        words! {
            childs nightwear, childrens nightwear, kids nightwear, child nightwear, nightwear,
            sleepwear, pyjamas, pajamas, pyjama, nightgown, nightdress, nightie, childrens
            sleepwear, childs sleepwear, childs pyjamas, childrens pyjamas, kids pyjamas, kids
            pajamas, childs pajamas, childrens pajamas,
        },
    ),
    (
        Purpose::Baby,
        words! {
            for baby, for a baby, for babies, baby blanket, baby hat, baby cardigan, baby
            jacket, baby clothes, baby garment, baby bonnet, baby booties, baby sweater, baby
            jumper, newborn, layette, preemie, infant, babies, for newborn, baby socks, baby
            shawl, baby dress,
        },
    ),
    (
        Purpose::Child,
        words! {
            child, childs, children, childrens, kids, for kids, childs garment, childs sweater,
            childs jumper, childs cardigan, toddler, childrens clothes,
        },
    ),
    (
        Purpose::Accessory,
        words! {
            accessory, accessories, hat, hats, scarf, scarves, shawl, shawls, socks, mittens,
            gloves, cowl, beanie, bag, bags, mitts, accessoire,
        },
    ),
    (
        Purpose::Home,
        words! {
            home, blanket, blankets, cushion, cushions, afghan blanket, throw, dishcloth,
            washcloth, homeware, pillow, rug yarn project,
        },
    ),
    (
        Purpose::Garment,
        words! {
            garment, garments, sweater, sweaters, jumper, jumpers, cardigan, cardigans,
            pullover, pullovers, vest, dress, jacket, top, tee, skirt, clothes,
        },
    ),
];

const FITS: &[(Fit, &[&str])] = &[
    (
        Fit::Fitted,
        words! { close fitting, close fitted, tight fitting, negative ease, fitted, snug },
    ),
    (
        Fit::Relaxed,
        words! { loose fitting, relaxed, loose, oversized },
    ),
    (Fit::Unfitted, words! { unfitted, not fitted }),
];

/// What the thing is for.
pub fn purpose(input: &mut Tokens<'_>) -> ParseResult<Purpose> {
    longest_of(phrases(PURPOSES), input)
}

/// A purpose where only `baby` or a purpose's own name may stand.
pub fn purpose_alone(input: &mut Tokens<'_>) -> ParseResult<Purpose> {
    alt((purpose, word(&["baby"]).value(Purpose::Baby))).parse_next(input)
}

/// `fitted`, `relaxed`, `unfitted`.
pub fn fit(input: &mut Tokens<'_>) -> ParseResult<Fit> {
    let named = |input: &mut Tokens<'_>| longest_of(phrases(FITS), input);
    terminated(named, opt(word(&["fit"]))).parse_next(input)
}
