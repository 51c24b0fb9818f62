//! Fibres with their shares: `75% wool 25% nylon`, `75/25 wool/nylon`,
//! `laine 60 acrylique 40`; and fibres that are only guessed at.

mod phrase;

use super::{
    length_mass::unit_word,
    reading::{Note, ReadResult, Reading, Refusal},
    token::{
        ParseResult, Tokens, Words, exact, is_sign, joined, longest_of, one_of, require,
        sign_or_word, skip, skip_fillers, symbol, text_of, word, words,
    },
};
use crate::{
    record::{Blend, BlendPart, FibreName},
    trade::{Family, FibreGroup, names_material},
    words::number,
};
pub use phrase::fibre_phrase;
use phrase::{FibrePhrase, fibre_beside_share};
use std::ops::Range;
use winnow::{
    Parser,
    combinator::{alt, delimited, not, opt, preceded, separated},
};

/// What is allowed, with examples.
pub const BLEND_ALLOWED: &str = "`75% wool, 25% nylon`";

/// How far shares may lie from 100 without `%` signs, points.
const NEAR_100: f64 = 3.0;

/// The most pieces of text that name one material.
const MOST_MATERIAL: usize = 8;

const PERCENT: Words = words! { percent, pct, prozent };
const AND: Words = words! { and, und, et, y, e, en, og, och, ja, with, mit, i, a, и, ve };
const BLENDED: Words = words! { blend, mix, mixture, mischung, melange, rich };
/// Words that make any fibre after them a guess.
const GUESS: Words = words! {
    mostly, mainly, probably, maybe, possibly, perhaps, unknown, mystery, feels, some
};
const FIBRE: Words = words! { fibre, fiber, fibres, fibers, yarn };
const BURNT: Words = words! { burns, burn, burned, burnt, burning };

/// A blend and what its words say beside the shares.
#[derive(Debug, Clone, PartialEq)]
pub struct StatedBlend {
    /// The blend.
    pub blend: Blend,
    /// Whether the words say that it was treated for the machine.
    pub superwash: bool,
    /// Whether no share was stated.
    pub bare: bool,
}

/// Fibres, each with its share where that is stated.
struct Shares {
    parts: Vec<(Option<f64>, FibrePhrase)>,
    /// Whether they are named as the whole of the yarn.
    sure: bool,
}

/// Fibres with shares, or one without.
pub fn blend(input: &mut Tokens<'_>) -> ParseResult<ReadResult<StatedBlend>> {
    let shares = alt((ratio, ratio_last, share_first, share_last, bare))
        .with_span()
        .map(|(shares, span)| resolve(shares, &span));
    alt((doubtful.map(Err), shares)).parse_next(input)
}

/// Words behind a blend that name a fibre or a build of which nothing is known here:
/// `, fun fur`.
pub fn material_beside(input: &mut Tokens<'_>) -> ParseResult<Note> {
    let word = one_of(|token| token.word().is_some() || is_sign(token));
    let words = skip(1..=MOST_MATERIAL, word).take().with_span();
    let (words, span) = preceded(skip_fillers, words).parse_next(input)?;
    let text = text_of(words);
    require(names_material(&text))?;
    let message = format!("`{text}` is not known: saved beside the fibres, not compared");
    Ok(Note::new(&span, message))
}

/// A number that may be a share, and whether it is said to be one.
fn percent(input: &mut Tokens<'_>) -> ParseResult<(f64, bool)> {
    let before = opt(symbol("%")).parse_next(input)?;
    let (share, sign) = (exact, opt(sign_or_word("%", PERCENT))).parse_next(input)?;
    if before.is_some() {
        return require(sign.is_none()).map(|()| (share, true));
    }
    if sign.is_none() {
        not(unit_word).parse_next(input)?;
    }
    Ok((share, sign.is_some()))
}

fn between(input: &mut Tokens<'_>) -> ParseResult<()> {
    skip(0..3, sign_or_word(",;:/+&-|·", AND)).parse_next(input)
}

/// `75/25 wool/nylon`.
fn ratio(input: &mut Tokens<'_>) -> ParseResult<Shares> {
    let numbers = ratio_numbers(input)?;
    let phrases = joined((numbers.len(), numbers.len()), fibre_phrase, between)(input)?;
    Ok(paired(numbers, phrases))
}

/// `wool/nylon 75/25`.
fn ratio_last(input: &mut Tokens<'_>) -> ParseResult<Shares> {
    let phrases = joined((2, 6), fibre_phrase, between)(input)?;
    let numbers =
        delimited(opt(symbol(",:(")), ratio_numbers, opt(symbol(")"))).parse_next(input)?;
    require(numbers.len() == phrases.len())?;
    Ok(paired(numbers, phrases))
}

fn ratio_numbers(input: &mut Tokens<'_>) -> ParseResult<Vec<f64>> {
    let share = |input: &mut Tokens<'_>| percent(input).map(|(share, _)| share);
    let numbers: Vec<f64> = joined((2, 6), share, symbol("/-:"))(input)?;
    require(is_whole(numbers.iter().sum()))?;
    Ok(numbers)
}

fn is_whole(sum: f64) -> bool {
    (sum - 100.0).abs() <= NEAR_100 + 1e-9
}

fn paired(numbers: Vec<f64>, phrases: Vec<FibrePhrase>) -> Shares {
    Shares {
        parts: numbers.into_iter().map(Some).zip(phrases).collect(),
        sure: true,
    }
}

/// `75% wool, 25% nylon`.
fn share_first(input: &mut Tokens<'_>) -> ParseResult<Shares> {
    let mut signed_before = false;
    let part = |input: &mut Tokens<'_>| {
        let (share, signed) = percent(input)?;
        let of = opt(sign_or_word("%", words! { of, de, di }));
        let phrase = preceded(of, fibre_beside_share).parse_next(input)?;
        require(signed || !signed_before || phrase.is_known())?;
        signed_before |= signed;
        Ok((share, signed, phrase))
    };
    listed(joined((1, 10), part, between)(input)?)
}

/// `wool 75%, nylon 25%`. A name before `75% wool 25% nylon` is no fibre: the
/// first must be known, and no fibre may be left without a share.
fn share_last(input: &mut Tokens<'_>) -> ParseResult<Shares> {
    let part = |input: &mut Tokens<'_>| {
        let phrase = fibre_beside_share(input)?;
        let (share, signed) =
            delimited(opt(symbol(":=-(")), percent, opt(symbol(")"))).parse_next(input)?;
        Ok((share, signed, phrase))
    };
    let parts = joined((1, 10), part, between)(input)?;
    not(fibre_phrase).parse_next(input)?;
    require(
        parts
            .first()
            .is_some_and(|(_, _, phrase)| phrase.is_known()),
    )?;
    listed(parts)
}

/// Shares without `%` must make a whole, and one of the fibres must be known.
/// Beside shares with `%` a number without it counts something else, unless a
/// known fibre follows.
fn listed(parts: Vec<(f64, bool, FibrePhrase)>) -> ParseResult<Shares> {
    let signed = parts.iter().any(|(_, signed, _)| *signed);
    let stray =
        |(_, with_sign, phrase): &(f64, bool, FibrePhrase)| !with_sign && !phrase.is_known();
    require(!signed || !parts.iter().any(stray))?;
    let sum: f64 = parts.iter().map(|(share, _, _)| share).sum();
    let known = parts.iter().any(|(_, _, phrase)| phrase.is_known());
    require(known && (signed || is_whole(sum)))?;
    let parts = parts.into_iter();
    Ok(Shares {
        parts: parts
            .map(|(share, _, phrase)| (Some(share), phrase))
            .collect(),
        sure: true,
    })
}

/// Fibres without any share; before a colon they head what follows: `Laine : ...`.
fn bare(input: &mut Tokens<'_>) -> ParseResult<Shares> {
    let phrases = joined((1, 6), fibre_phrase, between)(input)?;
    not(symbol(":")).parse_next(input)?;
    let blended = opt(preceded(opt(symbol("-")), word(BLENDED))).parse_next(input)?;
    let unsure = opt(symbol("?")).parse_next(input)?;
    Ok(Shares {
        parts: phrases.into_iter().map(|phrase| (None, phrase)).collect(),
        sure: blended.is_none() && unsure.is_none(),
    })
}

fn resolve(shares: Shares, span: &Range<usize>) -> ReadResult<StatedBlend> {
    let parts = &shares.parts;
    let bare = parts.iter().any(|(share, _)| share.is_none());
    let refuse = |why: String| Refusal::new(span.clone(), why, BLEND_ALLOWED);
    if bare && (parts.len() > 1 || !shares.sure) {
        return Err(refuse("the shares of the fibres are missing".to_owned()));
    }
    if let Some(both) = parts
        .iter()
        .find_map(|(_, phrase)| phrase.shared_code.clone())
    {
        return Err(refuse(both));
    }
    let superwash = parts.iter().any(|(_, phrase)| phrase.superwash);
    let of_fibres = parts.iter().flat_map(|(_, phrase)| phrase.notes.clone());
    let mut notes: Vec<Note> = of_fibres.chain(sum_note(bare, &shares, span)).collect();
    notes.sort_by_key(|note| note.span.start);
    let parts = shares.parts.into_iter().map(|(share, phrase)| BlendPart {
        fibre: phrase.fibre,
        percent: share.unwrap_or(100.0),
    });
    let blend = Blend::new(parts.collect()).map_err(|error| refuse(error.to_string()))?;
    let value = StatedBlend {
        blend,
        superwash,
        bare,
    };
    Ok(Reading { value, notes })
}

fn sum_note(bare: bool, shares: &Shares, span: &Range<usize>) -> Option<Note> {
    let sum: f64 = shares.parts.iter().filter_map(|(share, _)| *share).sum();
    let message = match shares.parts.first() {
        Some((_, phrase)) if bare => format!("no share given: assumed 100 % {}", phrase.fibre),
        _ if (sum - 100.0).abs() > 1e-6 => format!(
            "the shares add up to {} %: used as printed, because labels may be 3 points off",
            number(sum, 2)
        ),
        _ => return None,
    };
    Some(Note::new(span, message))
}

/// Fibres that are only guessed at: `mostly wool?`, `burns like hair`.
fn doubtful(input: &mut Tokens<'_>) -> ParseResult<Refusal> {
    let (why, span) = alt((
        burnt.value("a burn test is only a first indication of the fibre, and dangerous"),
        guessed.value("this is a guess; only a sure fibre counts"),
    ))
    .with_span()
    .parse_next(input)?;
    let allowed = format!("{BLEND_ALLOWED}, or nothing if you do not know");
    Ok(Refusal::new(span, why, allowed))
}

fn burnt(input: &mut Tokens<'_>) -> ParseResult<()> {
    let unknown = (
        word(words! { unknown, mystery }),
        opt(word(FIBRE)),
        opt(symbol(",;:-")),
    );
    let what = opt(word(words! { hair, paper, plastic, wool, says }));
    let like = (word(words! { like, as, test }), what);
    (opt(unknown), word(BURNT), opt(like))
        .void()
        .parse_next(input)
}

fn guessed(input: &mut Tokens<'_>) -> ParseResult<()> {
    const SILENT: Words = words! { like, a, fibre, fiber, fibres, fibers, blend, mix };
    let silent = skip(0..3, sign_or_word(",:", SILENT));
    let blend = opt(word(words! { blend, mix, mixture }));
    (
        word(GUESS),
        silent,
        opt(fibre_phrase),
        blend,
        opt(symbol("?")),
    )
        .void()
        .parse_next(input)
}

/// What is allowed, with examples.
pub const GROUPS_ALLOWED: &str =
    "fibres or families, as in `wool, mohair`, `animal`, `plant`, `synthetic` or `latex`";

const BETWEEN: Words = words! { and, or, nor, und, oder, et, ou, y, o, e, og, en };
const FAMILIES: &[(Family, Words)] = &[
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
    longest_of(FAMILIES).parse_next(input)
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

#[cfg(test)]
mod tests {
    use crate::label::{band::read_band, cells};

    #[test]
    fn fibres_are_read_alike_in_a_cell_and_on_a_band() {
        for (text, blend) in [
            ("75% wool, 25% nylon", Some("75% wool, 25% nylon")),
            ("75/25 wool/nylon", Some("75% wool, 25% nylon")),
            ("wool/nylon 75/25", Some("75% wool, 25% nylon")),
            ("laine 60 acrylique 40", Some("60% wool, 40% acrylic")),
            ("100% extra fine superwash merino wool", Some("100% wool")),
            ("100% bamboo", Some("100% viscose")),
            ("viscose from bamboo", Some("100% viscose")),
            ("cotton", Some("100% cotton")),
            ("wool and nylon", None),
            ("wool blend", None),
            ("mostly wool?", None),
            ("burns like hair", None),
        ] {
            let cell = cells::blend(text).ok().map(|read| read.value.to_string());
            assert_eq!(cell.as_deref(), blend, "{text}");
            let band = read_band(text).facts.blend;
            let band = band.map(|blend| blend.value.to_string());
            assert_eq!(band.as_deref(), blend, "{text}");
        }
    }
}
