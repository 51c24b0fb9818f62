//! Fibres and families by name: `wool`, `animal fibres`, `synthetics`, `latex`.

use super::phrase::fibre_phrase;
use crate::{
    label::token::{ParseResult, Tokens, longest_of, phrases, sign_or_word, skip, words},
    record::FibreName,
    trade::{Family, FibreGroup},
};
use winnow::{
    Parser,
    combinator::{alt, separated},
};

/// What is allowed, with examples.
pub const GROUPS_ALLOWED: &str =
    "fibres or families, as in `wool, mohair`, `animal`, `plant`, `synthetic` or `latex`";

const BETWEEN: &[&str] = words! { and, or, nor, und, oder, et, ou, y, o, e, og, en };
const FAMILIES: &[(Family, &[&str])] = &[
    (
        Family::Animal,
        words! { animal, animals, animal fibre, animal fibres, animal fiber, animal fibers, tierfasern },
    ),
    (
        Family::Plant,
        words! {
            plant, plants, plant fibre, plant fibres, plant fiber, plant fibers, vegetable fibres,
            pflanzenfasern, pflanzlich,
        },
    ),
    (
        Family::Regenerated,
        words! { regenerated, regenerated fibre, regenerated fibres, cellulosic, cellulosics },
    ),
    (
        Family::Synthetic,
        words! {
            synthetic, synthetics, synthetic fibre, synthetic fibres, synthetic fiber, synthetic
            fibers, man made fibres, plastic, kunstfaser, kunstfasern, synthetique, synthetiques,
        },
    ),
];

/// A family of fibres.
pub fn family(input: &mut Tokens<'_>) -> ParseResult<Family> {
    longest_of(phrases(FAMILIES), input)
}

/// `wool`, `animal`.
fn group(input: &mut Tokens<'_>) -> ParseResult<FibreGroup> {
    let fibre = fibre_phrase.verify_map(|phrase| match phrase.fibre {
        FibreName::Known(fibre) => Some(FibreGroup::Fibre(fibre)),
        FibreName::Other(_) => None,
    });
    alt((family.map(FibreGroup::Family), fibre)).parse_next(input)
}

/// `wool, mohair and animal`.
pub fn fibre_groups(input: &mut Tokens<'_>) -> ParseResult<Vec<FibreGroup>> {
    let between = skip(1..=2, sign_or_word(",;&+/", BETWEEN));
    separated(1.., group, between).parse_next(input)
}
