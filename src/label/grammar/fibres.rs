//! Fibres with their shares: `75% wool 25% nylon`, `75/25 wool/nylon`,
//! `laine 60 acrylique 40`.

use super::{
    fibre_doubt::doubtful,
    fibre_phrase::{Phrase, phrase},
};
use crate::{
    label::reading::{
        Note, Outcome, Parsed, Reading, Refusal, Tokens, exact, parted, span_of, symbol, unit_word,
        with_pieces, word,
    },
    record::{Blend, BlendPart, FibreName},
    words::number,
};
use std::ops::Range;
use winnow::{
    Parser,
    combinator::{alt, opt, preceded, repeat},
    error::EmptyError,
};

/// What is allowed, with examples.
pub const BLEND_ALLOWED: &str = "`75% wool, 25% nylon`";

/// How far shares may lie from 100 without `%` signs, points.
const NEAR_100: f64 = 3.0;

/// A blend and what its words say beside the shares.
#[derive(Debug, Clone, PartialEq)]
pub struct Fibres {
    /// The blend.
    pub blend: Blend,
    /// Whether the words say that it was treated for the machine.
    pub superwash: bool,
    /// Whether no share was stated.
    pub bare: bool,
}

struct Shares {
    parts: Vec<(Option<f64>, Phrase)>,
    signed: bool,
}

/// Fibres with shares, or one without.
pub fn fibres(input: &mut Tokens<'_>) -> Parsed<Outcome<Fibres>> {
    let (outcome, _) = with_pieces(|input| {
        alt((doubtful, |input: &mut Tokens<'_>| {
            shares(input).map(|(shares, span)| settle(shares, span))
        }))
        .parse_next(input)
    })
    .parse_next(input)?;
    Ok(outcome)
}

fn shares(input: &mut Tokens<'_>) -> Parsed<(Shares, Range<usize>)> {
    let (shares, pieces) = with_pieces(|input| {
        alt((ratio, ratio_last, share_first, share_last, bare)).parse_next(input)
    })
    .parse_next(input)?;
    Ok((shares, span_of(pieces)))
}

fn percent(input: &mut Tokens<'_>) -> Parsed<(f64, bool)> {
    let share = exact(input)?;
    let signed = opt(alt((
        symbol("%").void(),
        word(&["percent", "pct", "prozent"]).void(),
    )))
    .parse_next(input)?;
    match signed.is_none() && unit_word(&mut input.clone()).is_ok() {
        true => Err(EmptyError),
        false => Ok((share, signed.is_some())),
    }
}

fn parting(input: &mut Tokens<'_>) -> Parsed<()> {
    repeat(
        0..3,
        alt((
            symbol(",;:/+&-|·").void(),
            word(&[
                "and", "und", "et", "y", "e", "en", "og", "och", "ja", "with", "mit",
            ])
            .void(),
        )),
    )
    .parse_next(input)
}

/// `75/25 wool/nylon`.
fn ratio(input: &mut Tokens<'_>) -> Parsed<Shares> {
    let numbers = ratio_numbers(input)?;
    let phrases: Vec<Phrase> = parted(numbers.len(), numbers.len(), phrase, parting)(input)?;
    Ok(paired(numbers, phrases))
}

/// `wool/nylon 75/25`.
fn ratio_last(input: &mut Tokens<'_>) -> Parsed<Shares> {
    let phrases: Vec<Phrase> = parted(2, 6, phrase, parting)(input)?;
    opt(symbol(",:(")).parse_next(input)?;
    let numbers = ratio_numbers(input)?;
    opt(symbol(")")).parse_next(input)?;
    match numbers.len() == phrases.len() {
        true => Ok(paired(numbers, phrases)),
        false => Err(EmptyError),
    }
}

fn ratio_numbers(input: &mut Tokens<'_>) -> Parsed<Vec<f64>> {
    let share = |input: &mut Tokens<'_>| percent(input).map(|(share, _)| share);
    let numbers: Vec<f64> = parted(2, 6, share, |input| symbol("/-:")(input).map(|_| ()))(input)?;
    let whole = (numbers.iter().sum::<f64>() - 100.0).abs() <= NEAR_100 + 1e-9;
    if whole { Ok(numbers) } else { Err(EmptyError) }
}

fn paired(numbers: Vec<f64>, phrases: Vec<Phrase>) -> Shares {
    Shares {
        parts: numbers.into_iter().map(Some).zip(phrases).collect(),
        signed: true,
    }
}

/// `75% wool, 25% nylon`.
fn share_first(input: &mut Tokens<'_>) -> Parsed<Shares> {
    let mut signed_before = false;
    let part = |input: &mut Tokens<'_>| {
        let (share, signed) = percent(input)?;
        opt(word(&["of", "de", "di", "%"])).parse_next(input)?;
        let phrase = super::fibre_phrase::phrase_beside_share(input)?;
        if signed_before && !signed && !phrase.is_known() {
            return Err(EmptyError);
        }
        signed_before |= signed;
        Ok((share, signed, phrase))
    };
    listed(parted(1, 10, part, parting)(input)?)
}

/// `wool 75%, nylon 25%`. A name before `75% wool 25% nylon` is no fibre: the
/// first must be known, and no fibre may be left without a share.
fn share_last(input: &mut Tokens<'_>) -> Parsed<Shares> {
    let part = |input: &mut Tokens<'_>| {
        let phrase = super::fibre_phrase::phrase_beside_share(input)?;
        opt(symbol(":=-(")).parse_next(input)?;
        let (share, signed) = percent(input)?;
        opt(symbol(")")).parse_next(input)?;
        Ok((share, signed, phrase))
    };
    let parts = parted(1, 10, part, parting)(input)?;
    let known = parts
        .first()
        .is_some_and(|(_, _, phrase)| phrase.is_known());
    let left_over = phrase(&mut input.clone()).is_ok();
    match known && !left_over {
        true => listed(parts),
        false => Err(EmptyError),
    }
}

/// Shares without `%` must make a whole, and one of the fibres must be known.
/// Beside shares with `%` a number without it counts something else, unless a
/// known fibre follows.
fn listed(parts: Vec<(f64, bool, Phrase)>) -> Parsed<Shares> {
    let signed = parts.iter().any(|(_, signed, _)| *signed);
    let stray = |(_, with_sign, phrase): &(f64, bool, Phrase)| !with_sign && !phrase.is_known();
    if signed && parts.iter().any(stray) {
        return Err(EmptyError);
    }
    let sum: f64 = parts.iter().map(|(share, _, _)| share).sum();
    let known = parts.iter().any(|(_, _, phrase)| phrase.is_known());
    match known && (signed || (sum - 100.0).abs() <= NEAR_100 + 1e-9) {
        true => Ok(Shares {
            signed: true,
            parts: parts
                .into_iter()
                .map(|(share, _, phrase)| (Some(share), phrase))
                .collect(),
        }),
        false => Err(EmptyError),
    }
}

/// Fibres without any share.
fn bare(input: &mut Tokens<'_>) -> Parsed<Shares> {
    let phrases: Vec<Phrase> = parted(1, 6, phrase, parting)(input)?;
    let blended = opt(preceded(
        opt(symbol("-")),
        word(&["blend", "mix", "mixture", "mischung", "melange", "rich"]),
    ))
    .parse_next(input)?;
    let unsure = opt(symbol("?")).parse_next(input)?;
    Ok(Shares {
        parts: phrases.into_iter().map(|phrase| (None, phrase)).collect(),
        signed: blended.is_none() && unsure.is_none(),
    })
}

fn settle(shares: Shares, span: Range<usize>) -> Outcome<Fibres> {
    let bare = shares.parts.iter().any(|(share, _)| share.is_none());
    let refuse = |why: String| Refusal::new(span.clone(), why, BLEND_ALLOWED);
    if bare && (shares.parts.len() > 1 || !shares.signed) {
        return Err(refuse("the shares of the fibres are not stated".to_owned()));
    }
    if let Some(both) = shares
        .parts
        .iter()
        .find_map(|(_, phrase)| phrase.shared_code.clone())
    {
        return Err(refuse(both));
    }
    let sum: f64 = shares.parts.iter().filter_map(|(share, _)| *share).sum();
    let mut notes: Vec<Note> = shares
        .parts
        .iter()
        .flat_map(|(_, phrase)| phrase.notes.clone())
        .collect();
    let superwash = shares.parts.iter().any(|(_, phrase)| phrase.superwash);
    notes.extend(sum_note(bare, sum, &shares, span.clone()));
    let parts = shares.parts.into_iter().map(|(share, phrase)| BlendPart {
        fibre: phrase.fibre,
        percent: share.unwrap_or(100.0),
    });
    let blend = Blend::new(parts.collect()).map_err(|error| refuse(error.to_string()))?;
    notes.sort_by_key(|note| note.span.start);
    Ok(Reading {
        value: Fibres {
            blend,
            superwash,
            bare,
        },
        notes,
    })
}

fn sum_note(bare: bool, sum: f64, shares: &Shares, span: Range<usize>) -> Option<Note> {
    let message = match shares.parts.first() {
        Some((_, phrase)) if bare => format!("no share is stated: 100 % {} is taken", phrase.fibre),
        _ if (sum - 100.0).abs() > 1e-6 => format!(
            "the shares sum to {} %: kept as printed, since labels may be 3 points off",
            number(sum, 2)
        ),
        _ => return None,
    };
    Some(Note { span, message })
}

impl Phrase {
    /// Whether its fibre is in the table.
    fn is_known(&self) -> bool {
        matches!(self.fibre, FibreName::Known(_))
    }
}
