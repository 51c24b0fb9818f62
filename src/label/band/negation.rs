//! Words that turn a fact round: `no wool`, `wool-free`, `mohair look`, `not for
//! children`, `heavier than DK`. What a yarn is not is no fact about what it is.

use super::scan::{Item, Part, Scan};
use crate::{
    label::{
        fibre::{family, fibre_phrase},
        token::{ParseResult, Token, Tokens, Words, says_nothing, skip, symbol, word, words},
    },
    trade::{Family, Fibre, FibreGroup, fibre_of_word},
};
use std::ops::Range;
use winnow::{
    Parser,
    combinator::{alt, not, opt, peek, preceded, terminated},
};

const IS_NOT: &str = "it says what the yarn is not; write what it is";
/// Why a fibre that is denied is no part of the blend.
pub const HOLDS_NOT: &str = "it says what the yarn must not hold, so it is no part of the blend";
const COMPARED: &str = "a comparison is no weight class; write the class, or metres and grams";
const LOOKS: &str = "it names what the yarn is like or how to treat it; write what it is made of";

const STRAND: &str = "it names another strand, which is held with this yarn";

/// Said alone, that no animal fibre is wanted.
const VEGAN: Words = words! { vegan, vegane, vegano, vegansk, veganistisch, weganska };
/// Words that deny what follows.
const NOT: Words = words! {
    nor, noch, ni, no, not, non, never, without, isnt, vegan, imitation, faux, mock, nicht,
    kein, keine, keinen, ohne, sans, pas, sin, senza, zonder, geen, uden, uten, utan, ikke,
    inte, ej, sem, ilman, bez, nie, без, не,
};
/// Words that deny what follows with one of [`OF`].
const FREE: Words = words! { free, frei };
const OF: Words = words! { of, from, von };
const OR: Words = words! { or, oder, ou, o, eller };
/// Words that may stand between a denial and what it denies.
const BETWEEN: Words =
    words! { any, suitable, meant, intended, made, held, from, contain, include, have };
/// Words that compare what follows with the yarn.
const THAN: Words = words! { than, als, que, enn, like };
/// Words that make a fibre before them something else, where no share is stated.
const LOOK: Words = words! {
    free, like, look, feel, touch, effect, style, finish, imitation, substitute, alternative,
    cycle, programme, program, setting, mode, detergent, soap,
};
/// `no synthetics`, `free from animal fibres`, `plastic-free`.
pub fn denied_family(input: &mut Tokens<'_>) -> ParseResult<FibreGroup> {
    let free_of = (word(FREE), word(OF)).void();
    let negative = (alt((free_of, word(NOT).void())), skip(0..3, word(BETWEEN)));
    let free = (opt(symbol("-")), word(FREE));
    let vegan = (word(VEGAN), not(peek(fibre_phrase))).value(Family::Animal);
    alt((preceded(negative, family), terminated(family, free), vegan))
        .map(FibreGroup::Family)
        .parse_next(input)
}

/// The parts, where what is denied or only compared with is left, together with the
/// words that do so.
pub fn without_denied(parts: Vec<Part>, tokens: &[Token<'_>]) -> Scan {
    let mut denied = Vec::new();
    let mut kept: Vec<Part> = Vec::with_capacity(parts.len());
    for part in parts {
        let within = |outer: &Part| outer.span().end >= part.span().end;
        if matches!(kept.last(), Some(outer @ Part::Left(..)) if within(outer)) {
            continue;
        }
        let also = kept.last().and_then(|last| denied_too(last, &part, tokens));
        match also.or_else(|| denial(&part, tokens)) {
            Some((span, why)) => {
                if why == HOLDS_NOT {
                    denied.extend(fibres_in(part.span(), tokens).map(FibreGroup::Fibre));
                }
                while kept
                    .last()
                    .is_some_and(|last| last.span().start >= span.start)
                {
                    kept.pop();
                }
                kept.push(Part::Left(span, why));
            }
            None => kept.push(part),
        }
    }
    Scan {
        parts: kept,
        denied,
    }
}

/// The fibres that the words of these bytes name.
fn fibres_in(span: &Range<usize>, tokens: &[Token<'_>]) -> impl Iterator<Item = &'static Fibre> {
    let from = tokens.partition_point(|token| token.span.end <= span.start);
    let within = |token: &&Token<'_>| token.span.start < span.end;
    let within = tokens
        .get(from..)
        .unwrap_or_default()
        .iter()
        .take_while(within);
    let found: Vec<_> = within
        .filter_map(|token| fibre_of_word(token.word()?))
        .collect();
    found.into_iter()
}

/// `no wool or nylon`: what follows a denial with `or` between is denied, too.
fn denied_too(last: &Part, part: &Part, tokens: &[Token<'_>]) -> Option<Denial> {
    let Part::Left(denied, why @ (IS_NOT | HOLDS_NOT)) = last else {
        return None;
    };
    let or = tokens.get(tokens.partition_point(|token| token.span.end <= denied.end))?;
    let joined = or.is_word(OR) && or.span.end <= part.span().start;
    (joined && can_be_denied(part.item()?)).then(|| (denied.start..part.span().end, *why))
}

/// The bytes that are left, and why.
type Denial = (Range<usize>, &'static str);

fn denial(part: &Part, tokens: &[Token<'_>]) -> Option<Denial> {
    let span = part.span();
    let (before, rest) = tokens.split_at(tokens.partition_point(|t| t.span.end <= span.start));
    let refused = || {
        let refused = matches!(part, Part::Found(found, _) if found.is_err());
        refused && fibres_in(span, tokens).next().is_some()
    };
    let Some(item) = part.item() else {
        let (start, denies) = denial_before(before).filter(|_| refused())?;
        return denies.then_some((start..span.end, HOLDS_NOT));
    };
    if let Some((start, why)) = denied_before(item, before) {
        return Some((start..span.end, why));
    }
    let (own, after) = rest.split_at(rest.partition_point(|token| token.span.start < span.end));
    let look = after.iter().take(2).find(|token| !token.is('-'))?;
    let why = match item {
        _ if own.last().is_some_and(ends_sentence) => return None,
        Item::Blend(blend) if blend.bare && look.is_word(FREE) => HOLDS_NOT,
        Item::Blend(blend) if blend.bare && look.is_word(LOOK) => LOOKS,
        Item::Care(_) if look.is_word(FREE) => IS_NOT,
        _ => return None,
    };
    Some((span.start..look.span.end, why))
}

/// The word before the fillers in front of a part, and the filler behind it.
fn word_before<'t>(before: &'t [Token<'t>]) -> Option<(&'t Token<'t>, Option<&'t Token<'t>>)> {
    let at = before.len()
        - before
            .iter()
            .rev()
            .take(5)
            .position(|token| !is_silent(token))?;
    let word = before.get(at.checked_sub(1)?)?;
    (!ends_sentence(word)).then_some((word, before.get(at)))
}

/// Where the word before a part stands, and whether it denies.
fn denial_before(before: &[Token<'_>]) -> Option<(usize, bool)> {
    let (word, next) = word_before(before)?;
    let free = word.is_word(FREE) && next.is_some_and(|next| next.is_word(OF));
    Some((word.span.start, free || word.is_word(NOT)))
}

/// Where a denial before `item` begins, and why it is one.
fn denied_before(item: &Item, before: &[Token<'_>]) -> Option<(usize, &'static str)> {
    let (word, _) = word_before(before)?;
    let (start, denies) = denial_before(before)?;
    let why = match item {
        Item::Blend(_) if word.is_word(words! { like }) => LOOKS,
        Item::Blend(blend) if blend.bare && word.is_word(words! { strand }) => STRAND,
        Item::Class(_) if word.is_word(THAN) => COMPARED,
        Item::Blend(_) if denies => HOLDS_NOT,
        _ if can_be_denied(item) && denies => IS_NOT,
        _ => return None,
    };
    Some((start, why))
}

fn can_be_denied(item: &Item) -> bool {
    matches!(
        item,
        Item::Blend(_)
            | Item::Class(_)
            | Item::Purpose(_)
            | Item::Construction(..)
            | Item::Strands(_)
            | Item::Fit(_)
            | Item::Care(_)
    )
}

/// Whether it may stand between a denial and what is denied.
fn is_silent(token: &Token<'_>) -> bool {
    let parts = token.is_word(words! { and, or });
    token.is('-')
        || token.is_word(BETWEEN)
        || token.word().is_some() && says_nothing(token) && !parts
}

/// `Wool.` and then `Wash at 30`: what follows is said of something else.
fn ends_sentence(token: &Token<'_>) -> bool {
    token.word().is_some() && token.text.ends_with('.')
}
