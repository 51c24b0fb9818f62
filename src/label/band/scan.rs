//! Takes a text from left to right, the most specific grammar first.

use super::{
    denied::without_denied,
    labels::{self, mapped, sure},
    strokes::without_halves,
};
use crate::{
    label::grammar::{
        amount::{self, Wanted},
        class::{class_in_text, published},
        fibres::{Fibres, fibres},
        gauge::{OnNeedles, gauge, gauge_on_needles},
        grist::per_unit,
        needles::{Tool, hook_letter, needle_number, tool},
        price::price,
        unit_first::unit_first,
        words,
    },
    label::reading::{
        Dual, NumberRange, Outcome, Parsed, Token, Tokens, count, dual, is_sign, says_nothing,
        span_of,
    },
    measure::{Grist, YarnCount},
    record::{Care, Classes, Fit, Price, Purpose, StatedGauge},
    trade::{Construction, Gtin, GtinError},
};
use std::ops::Range;
use winnow::stream::Stream;

/// One thing that the text says.
#[derive(Debug, Clone)]
pub enum Item {
    /// A length or a mass.
    Measured(Dual),
    /// A yarn count.
    Count(YarnCount),
    /// A length to one unit of mass.
    Grist(Grist),
    /// A gauge.
    Gauge(StatedGauge),
    /// A gauge with its needles in the middle.
    GaugeOnNeedles(Box<OnNeedles>),
    /// Quantities whose units stand first.
    UnitFirst(Vec<Dual>),
    /// Needles or a hook.
    Tool(Tool),
    /// A price.
    Price(Price),
    /// Fibres.
    Fibres(Fibres),
    /// Weight classes.
    Class(Classes),
    /// A construction, and plies.
    Construction(Construction, Option<u8>),
    /// Washing.
    Care(Care),
    /// What it is for.
    Purpose(Purpose),
    /// How close it sits.
    Fit(Fit),
    /// An amount.
    Amount(Wanted),
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
    Found(Box<Outcome<Item>>, Range<usize>),
    /// Pieces that no grammar knows.
    Left(Range<usize>, &'static str),
}

impl Part {
    /// Its bytes.
    pub fn span(&self) -> &Range<usize> {
        match self {
            Self::Found(_, span) | Self::Left(span, _) => span,
        }
    }
}

type Grammar = fn(&mut Tokens<'_>) -> Parsed<Outcome<Item>>;

/// In this order at every place; the first that fits is taken.
const GRAMMARS: &[Grammar] = &[
    |input| {
        labels::gtin(input)
            .map(Item::Gtin)
            .map(crate::label::reading::plain)
    },
    |input| sure(labels::lot, Item::Lot)(input),
    |input| sure(labels::shade, Item::Shade)(input),
    |input| {
        gauge_on_needles(input).map(|found| mapped(found, |on| Item::GaugeOnNeedles(Box::new(on))))
    },
    |input| gauge(input).map(|found| mapped(found, Item::Gauge)),
    |input| price(input).map(|found| mapped(found, Item::Price)),
    |input| sure(hook_letter, |()| Item::Tool(Tool::Hook))(input),
    |input| published(input).map(|found| mapped(found, Item::Class)),
    labels::unplaced,
    |input| tool(input).map(|found| mapped(found, Item::Tool)),
    |input| needle_number(input).map(|found| mapped(found, Item::Tool)),
    |input| count(input).map(|found| mapped(found, Item::Count)),
    |input| per_unit(input).map(|found| mapped(found, Item::Grist)),
    |input| fibres(input).map(|found| mapped(found, Item::Fibres)),
    |input| words::care(input).map(|found| mapped(found, Item::Care)),
    |input| {
        sure(words::construction, |(construction, plies)| {
            Item::Construction(construction, plies)
        })(input)
    },
    |input| words::wraps(input).map(|range| crate::label::reading::plain(Item::Wraps(range))),
    |input| sure(words::strands_held, Item::Strands)(input),
    |input| class_in_text(input).map(|found| mapped(found, Item::Class)),
    |input| sure(words::purpose, Item::Purpose)(input),
    |input| sure(words::fit, Item::Fit)(input),
    |input| amount::amount(input).map(|found| mapped(found, Item::Amount)),
    |input| {
        dual(input)
            .map(Item::Measured)
            .map(crate::label::reading::plain)
    },
    |input| sure(unit_first, Item::UnitFirst)(input),
    labels::bare_count,
    labels::lone_baby,
];

/// Every part of the text, in order; joining words and signs are dropped.
pub fn scan(tokens: &[Token<'_>]) -> Vec<Part> {
    let mut input = Tokens::new(tokens);
    let mut parts = Vec::new();
    let mut free = true;
    while let Some(token) = input.peek_token() {
        let rest = input.peek_slice(input.len());
        if let Some(outcome) = at(&mut input, free) {
            let taken = rest.len() - input.len();
            parts.push(Part::Found(
                Box::new(outcome),
                span_of(rest.get(..taken).unwrap_or(rest)),
            ));
        } else {
            input.next_token();
            if !says_nothing(token) {
                parts.push(Part::Left(token.span.clone(), why_left(token)));
            }
        }
        free = is_sign(token);
    }
    without_denied(without_halves(parts, tokens), tokens)
}

/// What stands here. A minus counts as one only where no number precedes it.
fn at(input: &mut Tokens<'_>, free: bool) -> Option<Outcome<Item>> {
    let start = input.checkpoint();
    let before = input.len();
    let minus: Grammar = labels::negative;
    let first = free.then_some(&minus);
    for grammar in first.into_iter().chain(GRAMMARS) {
        match grammar(input) {
            Ok(outcome) if input.len() < before => return Some(outcome),
            _ => {}
        }
        input.reset(&start);
    }
    None
}

fn why_left(token: &Token<'_>) -> &'static str {
    use crate::label::reading::{Kind, Number};
    match &token.kind {
        Kind::Number(Number::Refused(_)) => {
            "a damaged or unusual number; write it plainly, such as `4.5`"
        }
        Kind::Number(_) => {
            "a number without a word or unit that says what it counts; write its unit beside it"
        }
        Kind::Word(_) => {
            "not a fact about a yarn that is known here; leave it out or put it in the notes"
        }
        Kind::Symbol('?') => {
            "a question mark: a guess is not taken for a fact; leave it out where the value is sure"
        }
        Kind::Symbol(_) => "a sign that says nothing here; leave it out",
    }
}

/// Adjacent parts that were left for one reason are one.
pub fn merged(parts: Vec<(Range<usize>, String)>, text: &str) -> Vec<(Range<usize>, String)> {
    let mut merged: Vec<(Range<usize>, String)> = Vec::new();
    for (span, why) in parts {
        match merged.last_mut() {
            Some((last, reason)) if span.start < last.end => {
                last.end = last.end.max(span.end);
                if *reason != why {
                    *reason = format!("{reason}; {why}");
                }
            }
            Some((last, reason)) if *reason == why && is_gap(text.get(last.end..span.start)) => {
                last.end = span.end;
            }
            _ => merged.push((span, why)),
        }
    }
    merged
}

fn is_gap(between: Option<&str>) -> bool {
    between.is_some_and(|between| between.trim().is_empty())
}
