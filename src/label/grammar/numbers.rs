//! Numbers for one size or several, with their unit: `6 (7, 8)`, `6-7-8-9`,
//! `XS/S 7 M 8 L 9`, `S (M, L): 5 (6, 7)`.
//!
//! Two numbers with a dash are a range, three or more are sizes.

use super::amount_forms::skein_word;
use super::sized::{headed, named};
use crate::{
    label::reading::{
        Number, NumberRange, Parsed, Token, Tokens, number_range, span_of, symbol, unit_word,
        with_pieces, word,
    },
    measure::units::Unit,
};
use winnow::{
    Parser,
    combinator::{alt, opt, repeat},
    error::EmptyError,
    token::any,
};

/// What the numbers count.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Of {
    /// Skeins.
    Skeins,
    /// A unit of length or mass.
    Unit(&'static Unit),
    /// Not said.
    Nothing,
}

/// The number of one size.
#[derive(Debug, Clone, PartialEq)]
pub struct Entry {
    /// The size's name, where given.
    pub size: Option<String>,
    /// The number.
    pub range: NumberRange,
}

/// Numbers with what they count.
#[derive(Debug, Clone, PartialEq)]
pub struct Counted {
    /// One a size.
    pub entries: Vec<Entry>,
    /// What they count.
    pub of: Of,
    /// Why the list may be read in two ways.
    pub unclear: Option<String>,
}

struct Item {
    joins: Vec<char>,
    number: Number,
    text: String,
    span: std::ops::Range<usize>,
    unit: Option<Of>,
}

impl Counted {
    /// One number.
    pub fn one(range: NumberRange, of: Of) -> Self {
        Self {
            entries: vec![Entry { size: None, range }],
            of,
            unclear: None,
        }
    }

    /// Whether it is one number and no range.
    pub fn is_one(&self) -> bool {
        self.entries.iter().all(|entry| entry.range.high.is_none())
    }
}

/// Numbers for sizes, or one number, with a unit; a list may lack it.
pub fn counted(input: &mut Tokens<'_>) -> Parsed<Counted> {
    alt((named, headed, list, single)).parse_next(input)
}

fn single(input: &mut Tokens<'_>) -> Parsed<Counted> {
    let range = number_range(input)?;
    opt(symbol("-")).parse_next(input)?;
    let of = unit(input)?;
    Ok(Counted::one(range, of))
}

/// What numbers count: skeins, or a unit.
pub fn unit(input: &mut Tokens<'_>) -> Parsed<Of> {
    opt(word(&["full", "whole"])).parse_next(input)?;
    alt((skein_word.value(Of::Skeins), unit_word.map(Of::Unit))).parse_next(input)
}

/// `6 (7, 8, 9) skeins`, `6-7-8 balls`, `600 m (700 m, 800 m)`.
pub fn list(input: &mut Tokens<'_>) -> Parsed<Counted> {
    let first = item(Vec::new(), input)?;
    let more: Vec<Item> = repeat(1..60, |input: &mut Tokens<'_>| {
        let joins: Vec<char> = repeat(0..4, symbol("(),[]-/;")).parse_next(input)?;
        let colon = match joins.is_empty() {
            true => opt(symbol(":")).parse_next(input)?,
            false => None,
        };
        item(joins.into_iter().chain(colon).collect(), input)
    })
    .parse_next(input)?;
    let items: Vec<Item> = std::iter::once(first).chain(more).collect();
    let closes: Vec<char> = repeat(0..3, symbol(")]-")).parse_next(input)?;
    let of = opt(unit).parse_next(input)?;
    let inner: Vec<Of> = items.iter().filter_map(|item| item.unit).collect();
    let same = inner.iter().all(|unit| Some(unit) == inner.first());
    let of = of.or(inner.first().copied());
    let mixed = !inner.is_empty() && of.as_ref() != inner.first();
    match same && !mixed && stands(&items, of) && !opens_something_else(&items, &closes) {
        true => Ok(arranged(items, of.unwrap_or(Of::Nothing))),
        false => Err(EmptyError),
    }
}

fn item(joins: Vec<char>, input: &mut Tokens<'_>) -> Parsed<Item> {
    let (token, pieces) = with_pieces(|input: &mut Tokens<'_>| {
        any.verify(|token: &&Token<'_>| token.number().is_some())
            .parse_next(input)
    })
    .parse_next(input)?;
    let number = token.number().cloned().ok_or(EmptyError)?;
    let unit = opt(unit).parse_next(input)?;
    Ok(Item {
        joins,
        number,
        text: token.text.to_owned(),
        span: span_of(pieces),
        unit,
    })
}

/// Whether one quantity stands before a bracket that does not close behind the
/// number in it, as in `100 g (3 light)`.
fn opens_something_else(items: &[Item], closes: &[char]) -> bool {
    matches!(items, [Item { unit: Some(_), .. }, Item { joins, unit: None, .. }]
        if joins.contains(&'(') && !closes.contains(&')'))
}

/// Whether these numbers are sizes, and not two numbers side by side.
fn stands(items: &[Item], of: Option<Of>) -> bool {
    let joins: Vec<char> = items.iter().flat_map(|item| item.joins.clone()).collect();
    let bracket = joins.iter().any(|join| matches!(join, '(' | '['));
    let parted = items
        .iter()
        .skip(1)
        .filter(|item| item.joins.is_empty())
        .count();
    let units = items.iter().filter(|item| item.unit.is_some()).count();
    let numbers = items.len();
    let dash_pair = numbers == 2 && joins == ['-'];
    let fraction = numbers == 2 && joins == ['/'];
    let spaced = parted > 0 && (numbers < 3 || of.is_none() || !bracket && parted + 1 < numbers);
    let unit_last = units == 1 && items.last().is_some_and(|item| item.unit.is_some());
    let shared = unit_last || units == 0 && of.is_some();
    let list = bracket || numbers > 2 || of == Some(Of::Skeins) || shared;
    let complete = units == 0 || units == numbers || bracket || numbers > 2 || shared;
    let unit_first = units == 1 && items.first().is_some_and(|item| item.unit.is_some());
    let mixed = joins.contains(&',') && joins.contains(&'/') || joins.contains(&':');
    let other = dash_pair
        || spaced
        || fraction && of != Some(Of::Skeins)
        || !bracket && (unit_first || mixed);
    !other && list && complete
}

/// Dashes beside commas make ranges, dashes alone make sizes.
fn arranged(items: Vec<Item>, of: Of) -> Counted {
    let joins: Vec<char> = items.iter().flat_map(|item| item.joins.clone()).collect();
    let ranges = joins.contains(&',') && joins.contains(&'-');
    let unclear = unclear(&items, &joins, of);
    let mut entries: Vec<Entry> = Vec::with_capacity(items.len());
    for item in items {
        let joined = ranges && item.joins == ['-'];
        match entries
            .last_mut()
            .filter(|entry| joined && entry.range.high.is_none())
        {
            Some(entry) => {
                entry.range.high = Some(item.number);
                entry.range.span.end = item.span.end;
            }
            None => entries.push(Entry {
                size: None,
                range: NumberRange {
                    low: item.number,
                    high: None,
                    span: item.span,
                },
            }),
        }
    }
    Counted {
        entries,
        of,
        unclear,
    }
}

fn unclear(items: &[Item], joins: &[char], of: Of) -> Option<String> {
    if joins == ['/'] {
        return Some("two numbers with a stroke may be two sizes or a range".to_owned());
    }
    let bracket = joins.iter().any(|join| matches!(join, '(' | '['));
    let dashes = joins.iter().filter(|join| **join == '-').count();
    if bracket && !joins.contains(&',') && joins.first() == Some(&'-') && dashes > 1 {
        return Some("dashes and brackets together may be sizes or ranges".to_owned());
    }
    let glued = items
        .iter()
        .find(|item| of == Of::Skeins && bracket && item.text.contains(','))?;
    Some(format!(
        "`{}` may be one number or two sizes; put a space after a comma between sizes",
        glued.text
    ))
}
