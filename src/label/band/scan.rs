//! Takes a text from left to right, the most specific grammar first. Two numbers with a
//! slash of which only one was understood are left: `22/30 sts` may be a range, two
//! sizes, or stitches and rows, and half of it is no fact.

use super::{
    labels::{bare_count, gtin, lone_baby, lot, negative, shade, unplaced, with_names_of_shades},
    negation::{denied_family, without_denied},
    pair::unit_first,
};
use crate::{
    label::{
        amount::{StatedAmount, amount},
        care::{care, heat},
        class::{class_in_text, published_class},
        construction::{construction, strands_held, wraps},
        count::count,
        fibre::{StatedBlend, blend},
        gauge::{GaugeOnNeedles, gauge, gauge_on_needles, lone_rows},
        grist::per_unit,
        length_mass::{DualMeasure, dual},
        needles::{Tool, hook_letter, hook_number, needle_number, tool},
        price::price,
        purpose::{fit, loose_fit, purpose},
        range::NumberRange,
        reading::{ReadResult, Reading},
        token::{Number, ParseResult, Token, TokenKind, Tokens, is_sign, says_nothing, span_of},
    },
    measure::{Grist, YarnCount},
    record::{Care, Classes, Fit, Price, Purpose, StatedGauge},
    trade::{Construction, FibreGroup, Gtin, GtinError},
};
use std::{collections::HashMap, ops::Range};
use winnow::{Parser, stream::Stream};

/// One thing that the text says.
#[derive(Debug, Clone)]
pub enum Item {
    /// A length or a mass.
    Measured(DualMeasure),
    /// A yarn count.
    Count(YarnCount),
    /// A length to one unit of mass.
    Grist(Grist),
    /// A gauge.
    Gauge(StatedGauge),
    /// A gauge with its needles in the middle.
    GaugeOnNeedles(Box<GaugeOnNeedles>),
    /// Quantities whose units stand first.
    UnitFirst(Vec<DualMeasure>),
    /// Needles or a hook.
    Tool(Tool),
    /// A price.
    Price(Price),
    /// Fibres.
    Blend(StatedBlend),
    /// Weight classes.
    Class(Classes),
    /// A construction, and plies.
    Construction(Construction, Option<u8>),
    /// Washing.
    Care(Care),
    /// The temperature of a wash that is not named.
    WashHeat,
    /// Rows without stitches.
    LoneRows,
    /// A family of fibres that is not there.
    Denied(FibreGroup),
    /// What it is for.
    Purpose(Purpose),
    /// How close it sits.
    Fit(Fit),
    /// The same, where a thing is named.
    LooseFit(Fit),
    /// An amount.
    Amount(StatedAmount),
    /// Wraps per inch.
    Wraps(NumberRange),
    /// Strands held together.
    Strands(u8),
    /// An article number.
    Gtin(Result<Gtin, GtinError>),
    /// A shade.
    Shade(Option<String>),
    /// A dye lot.
    Lot(Option<String>),
}

/// A part of the text, recognised or not.
#[derive(Debug)]
pub enum Part {
    /// Something recognised, and its bytes.
    Found(Box<ReadResult<Item>>, Range<usize>),
    /// Recognised, and not taken.
    Left(Range<usize>, &'static str),
    /// Pieces that no grammar knows.
    Unknown(Range<usize>, &'static str),
}

/// What a text was taken apart into.
#[derive(Debug)]
pub struct Scan {
    /// Its parts, in order.
    pub parts: Vec<Part>,
    /// What it says is not there.
    pub denied: Vec<FibreGroup>,
}

impl Part {
    /// What was recognised and taken.
    pub fn item(&self) -> Option<&Item> {
        match self {
            Self::Found(found, _) => found.as_ref().as_ref().ok().map(|reading| &reading.value),
            Self::Left(..) | Self::Unknown(..) => None,
        }
    }

    /// Its bytes.
    pub fn span(&self) -> &Range<usize> {
        match self {
            Self::Found(_, span) | Self::Left(span, _) | Self::Unknown(span, _) => span,
        }
    }
}

/// What a grammar gives for a band.
type ItemResult = ParseResult<ReadResult<Item>>;

type Grammar = fn(&mut Tokens<'_>) -> ItemResult;

/// In this order at every place; the first that fits counts.
const GRAMMARS: &[Grammar] = &[
    |input| sure(input, gtin, Item::Gtin),
    |input| sure(input, lot, Item::Lot),
    |input| sure(input, shade, Item::Shade),
    |input| {
        read(input, gauge_on_needles, |on| {
            Item::GaugeOnNeedles(Box::new(on))
        })
    },
    |input| read(input, gauge, Item::Gauge),
    |input| read(input, price, Item::Price),
    |input| sure(input, hook_letter, |()| Item::Tool(Tool::Hook)),
    |input| read(input, published_class, Item::Class),
    |input| unplaced.map(Err).parse_next(input),
    |input| read(input, tool, Item::Tool),
    |input| read(input, needle_number, Item::Tool),
    |input| sure(input, hook_number, |()| Item::Tool(Tool::Hook)),
    |input| read(input, count, Item::Count),
    |input| read(input, per_unit, Item::Grist),
    |input| read(input, blend, Item::Blend),
    |input| sure(input, denied_family, Item::Denied),
    |input| sure(input, heat, |()| Item::WashHeat),
    |input| read(input, care, Item::Care),
    |input| {
        sure(input, construction, |(built, plies)| {
            Item::Construction(built, plies)
        })
    },
    |input| sure(input, wraps, Item::Wraps),
    |input| sure(input, strands_held, Item::Strands),
    |input| read(input, class_in_text, Item::Class),
    |input| sure(input, purpose, Item::Purpose),
    |input| sure(input, fit, Item::Fit),
    |input| sure(input, loose_fit, Item::LooseFit),
    |input| read(input, amount, Item::Amount),
    |input| sure(input, dual, Item::Measured),
    |input| sure(input, unit_first, Item::UnitFirst),
    |input| sure(input, lone_rows, |()| Item::LoneRows),
    |input| bare_count.map(Err).parse_next(input),
    |input| lone_baby.map(Err).parse_next(input),
];

/// An item of a grammar that may refuse what it recognised.
fn read<T>(
    input: &mut Tokens<'_>,
    grammar: impl Fn(&mut Tokens<'_>) -> ParseResult<ReadResult<T>>,
    item: impl Fn(T) -> Item,
) -> ItemResult {
    Ok(grammar(input)?.map(|reading| reading.map(item)))
}

/// An item of a grammar that takes all that it recognises.
fn sure<T>(
    input: &mut Tokens<'_>,
    grammar: impl Fn(&mut Tokens<'_>) -> ParseResult<T>,
    item: impl Fn(T) -> Item,
) -> ItemResult {
    Ok(Ok(Reading::plain(item(grammar(input)?))))
}

/// Which grammars a piece of text begins nothing of, learnt while reading: most words of
/// a text begin nothing, and stand in it again and again. A grammar that failed and looked
/// at no further piece fails wherever that piece stands.
#[derive(Debug, Default)]
pub struct Beginnings {
    /// By the piece as written: a bit for each grammar where it stands apart from the
    /// one before it, and where it is glued to it.
    none_of: HashMap<Box<str>, (u32, u32)>,
}

/// Longer pieces, bytes, and more of them, are not worth their room.
const MOST_LEARNT: usize = 40;
const MOST_PIECES: usize = 20_000;

/// Numbers and signs in a row, with no word behind so many, say nothing of a yarn: a list
/// of thirty sizes has some sixty. Each would be tried as the beginning of a list.
const MOST_WITHOUT_A_WORD: usize = 80;

const _: () = assert!(GRAMMARS.len() <= 32);

impl Beginnings {
    fn none_of(&self, token: &Token<'_>) -> u32 {
        match self.none_of.get(token.text) {
            Some((_, glued)) if token.glued => *glued,
            Some((apart, _)) => *apart,
            None => 0,
        }
    }

    fn learn(&mut self, token: &Token<'_>, none_of: u32) {
        if token.text.len() > MOST_LEARNT || self.none_of.len() >= MOST_PIECES {
            return;
        }
        let (apart, glued) = self.none_of.entry(token.text.into()).or_default();
        *(if token.glued { glued } else { apart }) = none_of;
    }
}

/// Every part of the text, in order; joining words and signs are dropped.
pub fn scan(tokens: &[Token<'_>], beginnings: &mut Beginnings) -> Scan {
    let mut input = Tokens::new(tokens);
    let mut parts = Vec::new();
    let mut free = true;
    let mut row_end = 0;
    while let Some(token) = input.peek_token() {
        let rest = input.peek_slice(input.len());
        let place = tokens.len() - rest.len();
        if place >= row_end {
            row_end = place + rest.iter().take_while(|next| next.word().is_none()).count();
        }
        let is_read = row_end - place <= MOST_WITHOUT_A_WORD;
        let found = is_read.then(|| item_here(&mut input, free, beginnings));
        if let Some(found) = found.flatten() {
            let taken = rest.len() - input.len();
            let span = span_of(rest.get(..taken).unwrap_or(rest));
            parts.push(Part::Found(Box::new(found), span));
        } else {
            input.next_token();
            if !says_nothing(token) {
                let (span, why) = (token.span.clone(), why_left(token));
                parts.push(match token.number() {
                    Some(Number::Refused(_)) => Part::Left(span, why),
                    _ => Part::Unknown(span, why),
                });
            }
        }
        free = is_sign(token);
    }
    without_denied(
        with_names_of_shades(without_halves(parts, tokens), tokens),
        tokens,
    )
}

/// What is next. A minus counts as one only where no number precedes it.
fn item_here(
    input: &mut Tokens<'_>,
    free: bool,
    beginnings: &mut Beginnings,
) -> Option<ReadResult<Item>> {
    let (token, next) = match input.peek_slice(input.len()) {
        [token, next, ..] => (token, Some(next)),
        [token] => (token, None),
        [] => return None,
    };
    let negative = free.then(|| found_by(|input| negative.map(Err).parse_next(input), input));
    if let Some(found) = negative.flatten() {
        return Some(found);
    }
    let known = beginnings.none_of(token);
    let mut none_of = known;
    let mut found = None;
    for (bit, grammar) in (0..).map(|place| 1 << place).zip(GRAMMARS) {
        if known & bit != 0 {
            continue;
        }
        next.map(Token::take_look);
        found = found_by(*grammar, input);
        if found.is_some() {
            break;
        }
        if next.is_some_and(|next| !next.take_look()) {
            none_of |= bit;
        }
    }
    if none_of != known {
        beginnings.learn(token, none_of);
    }
    found
}

/// What a grammar takes here, if anything.
fn found_by(grammar: Grammar, input: &mut Tokens<'_>) -> Option<ReadResult<Item>> {
    let start = input.checkpoint();
    let before = input.len();
    match grammar(input) {
        Ok(found) if input.len() < before => Some(found),
        _ => {
            input.reset(&start);
            None
        }
    }
}

fn why_left(token: &Token<'_>) -> &'static str {
    match &token.kind {
        TokenKind::Number(Number::Refused(_)) => {
            "a damaged or unusual number; write it plainly, such as `4.5`"
        }
        TokenKind::Number(_) => "it has no unit, such as `m`, `yd` or `g`",
        TokenKind::Word(_) => "not understood; leave it out or put it in the notes",
        TokenKind::Symbol('?') => {
            "a question mark means a guess; leave it out if the value is sure"
        }
        TokenKind::Symbol(_) => "a sign that says nothing here; leave it out",
    }
}

const WHY: &str = "two numbers with a stroke may be a range, two sizes or a fraction; \
                   write a range as `22-24`, and each of two by itself";

/// The parts, where half of two numbers was taken for a gauge, needles or a class both left.
pub fn without_halves(parts: Vec<Part>, tokens: &[Token<'_>]) -> Vec<Part> {
    let mut whole: Vec<Part> = Vec::with_capacity(parts.len());
    for part in parts {
        let both = whole.last().and_then(|last| both(last, &part, tokens));
        match (both, whole.last_mut()) {
            (Some(span), Some(last)) => *last = Part::Left(span, WHY),
            _ => whole.push(part),
        }
    }
    whole
}

/// The bytes of both parts, where one is half of what the other was taken from.
fn both(a: &Part, b: &Part, tokens: &[Token<'_>]) -> Option<Range<usize>> {
    let halves = is_left(a) && is_counted(b) || is_counted(a) && is_left(b);
    let (a, b) = (a.span(), b.span());
    let slashed = halves && is_slash_between(a.end, b.start, tokens);
    slashed.then_some(a.start..b.end)
}

fn is_left(part: &Part) -> bool {
    matches!(part, Part::Left(..) | Part::Unknown(..))
}

fn is_counted(part: &Part) -> bool {
    matches!(
        part.item(),
        Some(Item::Gauge(_) | Item::GaugeOnNeedles(_) | Item::Tool(_) | Item::Class(_))
    )
}

/// Whether nothing stands between but a slash, with a number on either side.
fn is_slash_between(end: usize, start: usize, tokens: &[Token<'_>]) -> bool {
    let at = tokens.partition_point(|token| token.span.end <= end);
    let Some([before, slash, after]) = tokens.get(at.saturating_sub(1)..=at + 1) else {
        return false;
    };
    let numbers = before.number().is_some() && after.number().is_some();
    slash.is('/') && numbers && before.span.end == end && after.span.start == start
}
