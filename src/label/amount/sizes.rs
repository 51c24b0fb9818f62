//! Numbers for one size or several, with their unit: `6 (7, 8)`, `6-7-8-9`,
//! `XS/S 7 M 8 L 9`, `S (M, L): 5 (6, 7)`.
//!
//! Two numbers with a dash are a range, three or more are sizes.

use crate::{
    label::{
        length_mass::unit_word,
        range::{NumberRange, number_range},
        token::{
            Number, ParseResult, Token, TokenKind, Tokens, Words, one_of, require, skein_word,
            skip, symbol, text_of, upcoming, word, words,
        },
    },
    measure::units::Unit,
};
use winnow::{
    Parser,
    combinator::{alt, not, opt, peek, preceded, repeat, terminated},
    error::EmptyError,
};

/// The most sizes that one list is read for: patterns have up to some twenty.
pub const MOST_SIZES: usize = 30;

/// What numbers count.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum CountedUnit {
    /// Skeins.
    Skeins,
    /// A unit of length or mass.
    Unit(&'static Unit),
    /// Not said.
    Unstated,
}

/// The number of one size.
#[derive(Debug, Clone, PartialEq)]
pub struct SizedNumber {
    /// The size's name, where given.
    pub size: Option<String>,
    /// The number.
    pub range: NumberRange,
}

/// Numbers with what they count.
#[derive(Debug, Clone, PartialEq)]
pub struct SizedNumbers {
    /// One a size.
    pub entries: Vec<SizedNumber>,
    /// What they count.
    pub unit: CountedUnit,
    /// Why the list may be read in two ways.
    pub unclear: Option<String>,
}

/// A number of a list, with the signs before it. It borrows all: a list is read at
/// every number of a text, and mostly is none.
struct Item<'t> {
    joins: &'t [Token<'t>],
    number: &'t Number,
    token: &'t Token<'t>,
    unit: Option<CountedUnit>,
}

impl Item<'_> {
    /// The signs before the number.
    fn joins(&self) -> impl Iterator<Item = char> {
        self.joins.iter().filter_map(|token| match token.kind {
            TokenKind::Symbol(sign) => Some(sign),
            _ => None,
        })
    }
}

impl SizedNumbers {
    /// One number.
    pub fn one(range: NumberRange, unit: CountedUnit) -> Self {
        Self {
            entries: vec![SizedNumber { size: None, range }],
            unit,
            unclear: None,
        }
    }

    /// Whether no number is a range.
    pub fn is_exact(&self) -> bool {
        self.entries.iter().all(|entry| entry.range.high.is_none())
    }

    /// Whether every number has the name of its size.
    pub fn is_named(&self) -> bool {
        self.entries.iter().all(|entry| entry.size.is_some())
    }
}

/// Numbers for sizes, or one number, with a unit; a list may lack it.
pub fn sized_numbers(input: &mut Tokens<'_>) -> ParseResult<SizedNumbers> {
    let single = (terminated(number_range, opt(symbol("-"))), counted_unit)
        .map(|(range, unit)| SizedNumbers::one(range, unit));
    alt((named, headed, list, single)).parse_next(input)
}

/// What numbers count: skeins, or a unit.
fn counted_unit(input: &mut Tokens<'_>) -> ParseResult<CountedUnit> {
    let unit = alt((
        skein_word.value(CountedUnit::Skeins),
        unit_word.map(CountedUnit::Unit),
    ));
    preceded(opt(word(words! { full, whole })), unit).parse_next(input)
}

/// `XS/S 7 M 8 L 9 XL 10 balls`, `34in 6 balls, 36in 7 balls`.
fn named(input: &mut Tokens<'_>) -> ParseResult<SizedNumbers> {
    let found: Vec<(SizedNumber, Option<CountedUnit>)> =
        repeat(2..=MOST_SIZES, named_number).parse_next(input)?;
    let units = || found.iter().filter_map(|(_, unit)| *unit);
    let unit = units().next_back().unwrap_or(CountedUnit::Unstated);
    let entries: Vec<SizedNumber> = found.iter().map(|(entry, _)| entry.clone()).collect();
    let begins = |of: fn(char) -> bool| {
        let mut sizes = entries.iter().filter_map(|entry| entry.size.as_deref());
        sizes.any(|size| size.starts_with(|c: char| c.is_ascii_digit()) && size.ends_with(of))
    };
    require(unit != CountedUnit::Unstated || !begins(|c| c.is_ascii_digit()))?;
    require(unit == CountedUnit::Skeins || !begins(|c| "nm\"".contains(c)))?;
    Ok(SizedNumbers {
        entries,
        unit,
        unclear: None,
    })
}

fn named_number(input: &mut Tokens<'_>) -> ParseResult<(SizedNumber, Option<CountedUnit>)> {
    let (size, range) = (size_label, number_range).parse_next(input)?;
    let unit = preceded(not((size_label, number_range)), counted_unit);
    let unit = opt(unit).parse_next(input)?;
    skip(0..2, symbol(",;/|")).parse_next(input)?;
    let size = Some(size);
    Ok((SizedNumber { size, range }, unit))
}

/// `XS`, `M:`, a size of figures, which wants its colon, as in `34:`, or a measure of
/// the body: `34in`.
fn size_label(input: &mut Tokens<'_>) -> ParseResult<String> {
    let of_body = |unit: &&Unit| matches!(unit.symbol, "in" | "cm");
    let measure = (figures, unit_word.verify(of_body)).take().map(text_of);
    alt((
        terminated(size_name, opt(symbol(":=-"))),
        terminated(figures, symbol(":")),
        terminated(measure, opt(symbol(":=-"))),
    ))
    .parse_next(input)
}

fn figures(input: &mut Tokens<'_>) -> ParseResult<String> {
    one_of(Token::is_digits)
        .map(|token: &Token<'_>| token.text.to_owned())
        .parse_next(input)
}

/// `S (M, L): 5 (6, 7) balls`, `34 (36, 38): 7 (8, 9) balls`.
fn headed(input: &mut Tokens<'_>) -> ParseResult<SizedNumbers> {
    let size = |input: &mut Tokens<'_>| alt((size_name, figures)).parse_next(input);
    let further = || preceded(skip(1..3, symbol("(),[]-;")), size);
    if peek(size_name).parse_next(input).is_err() {
        // Most figures of a text head nothing: looked at before they are copied.
        let colon = (skip(0..2, symbol(")]=-")), symbol(":"));
        peek((figures, skip(1..MOST_SIZES, further()), colon)).parse_next(input)?;
    }
    let first = size(input)?;
    let more: Vec<String> = repeat(1..MOST_SIZES, further()).parse_next(input)?;
    skip(0..3, symbol(")]:=-")).parse_next(input)?;
    let mut numbers = list(input)?;
    require(numbers.entries.len() == more.len() + 1)?;
    let sizes = std::iter::once(first).chain(more);
    for (entry, size) in numbers.entries.iter_mut().zip(sizes) {
        entry.size = Some(size);
    }
    Ok(numbers)
}

/// `6 (7, 8, 9) skeins`, `6-7-8 balls`, `600 m (700 m, 800 m)`.
fn list(input: &mut Tokens<'_>) -> ParseResult<SizedNumbers> {
    let first = item(&[], input)?;
    let more: Vec<Item<'_>> = repeat(1..MOST_SIZES, next_item).parse_next(input)?;
    let items: Vec<Item<'_>> = std::iter::once(first).chain(more).collect();
    let closes: Vec<char> = repeat(0..3, symbol(")]-")).parse_next(input)?;
    let behind = opt(counted_unit).parse_next(input)?;
    let mut inner = items.iter().filter_map(|item| item.unit);
    let unit = behind.or_else(|| inner.clone().next());
    require(inner.all(|inner| Some(inner) == unit))?;
    require(is_of_sizes(&items, unit) && !opens_something_else(&items, &closes))?;
    require(!is_before_a_list(&items))?;
    Ok(arranged(items, unit.unwrap_or(CountedUnit::Unstated)))
}

fn next_item<'t>(input: &mut Tokens<'t>) -> ParseResult<Item<'t>> {
    if is_number_next(input) {
        return item(&[], input);
    }
    let signs = skip(1..4, symbol("(),[]-/;")).take();
    let joins = alt((signs, symbol(":").take())).parse_next(input)?;
    item(joins, input)
}

fn item<'t>(joins: &'t [Token<'t>], input: &mut Tokens<'t>) -> ParseResult<Item<'t>> {
    let token = one_of(|token| token.number().is_some()).parse_next(input)?;
    let unit = match is_number_next(input) {
        true => None,
        false => opt(counted_unit).parse_next(input)?,
    };
    Ok(Item {
        joins,
        number: token.number().ok_or(EmptyError)?,
        token,
        unit,
    })
}

fn is_number_next(input: &Tokens<'_>) -> bool {
    upcoming(input, 0).is_some_and(|token| token.number().is_some())
}

/// Whether one quantity stands before a bracket that does not close behind the
/// number in it, as in `100 g (3 light)`.
fn opens_something_else(items: &[Item<'_>], closes: &[char]) -> bool {
    matches!(items, [Item { unit: Some(_), .. }, Item { joins, unit: None, .. }]
        if joins.iter().any(|join| join.is('(')) && !closes.contains(&')'))
}

/// Whether a quantity stands before a list that opens later: `50 g, 450 (500) g`.
fn is_before_a_list(items: &[Item<'_>]) -> bool {
    let opens = |item: &Item<'_>| item.joins().any(|join| matches!(join, '(' | '['));
    matches!(items, [Item { unit: Some(_), .. }, second, more @ ..]
        if !opens(second) && more.iter().any(opens))
}

/// Whether these numbers are sizes, and not two numbers side by side.
fn is_of_sizes(items: &[Item<'_>], unit: Option<CountedUnit>) -> bool {
    let joins: Vec<char> = items.iter().flat_map(Item::joins).collect();
    let bracket = joins.iter().any(|join| matches!(join, '(' | '['));
    let spaces = items
        .iter()
        .skip(1)
        .filter(|item| item.joins.is_empty())
        .count();
    let units = items.iter().filter(|item| item.unit.is_some()).count();
    let numbers = items.len();
    let dash_pair = numbers == 2 && joins == ['-'];
    let fraction = numbers == 2 && joins == ['/'];
    let spaced = spaces > 0 && (numbers < 3 || unit.is_none() || !bracket && spaces + 1 < numbers);
    let unit_last = units == 1 && items.last().is_some_and(|item| item.unit.is_some());
    let shared = unit_last || units == 0 && unit.is_some();
    let skeins = unit == Some(CountedUnit::Skeins);
    let list = bracket || numbers > 2 || skeins || shared;
    let complete = units == 0 || units == numbers || bracket || numbers > 2 || shared;
    let unit_first = units == 1 && items.first().is_some_and(|item| item.unit.is_some());
    let colons = joins.iter().filter(|join| **join == ':').count();
    let some_colons = colons > 0 && !(skeins && numbers > 2 && colons == joins.len());
    let mixed = joins.contains(&',') && joins.contains(&'/') || some_colons;
    let other = dash_pair || spaced || fraction && !skeins || !bracket && (unit_first || mixed);
    !other && list && complete
}

/// Dashes beside commas make ranges, dashes alone make sizes.
fn arranged(items: Vec<Item<'_>>, unit: CountedUnit) -> SizedNumbers {
    let joins: Vec<char> = items.iter().flat_map(Item::joins).collect();
    let ranges = joins.contains(&',') && joins.contains(&'-');
    let unclear = unclear(&items, &joins, unit);
    let mut entries: Vec<SizedNumber> = Vec::with_capacity(items.len());
    for item in items {
        let joined = ranges && item.joins().eq(['-']);
        match entries.last_mut() {
            Some(entry) if joined && entry.range.high.is_none() => {
                entry.range.high = Some(item.number.clone());
                entry.range.span.end = item.token.span.end;
            }
            _ => entries.push(SizedNumber {
                size: None,
                range: NumberRange {
                    low: item.number.clone(),
                    high: None,
                    span: item.token.span.clone(),
                },
            }),
        }
    }
    SizedNumbers {
        entries,
        unit,
        unclear,
    }
}

fn unclear(items: &[Item<'_>], joins: &[char], unit: CountedUnit) -> Option<String> {
    if joins == ['/'] {
        return Some("two numbers with a stroke may be two sizes or a range".to_owned());
    }
    let bracket = joins.iter().any(|join| matches!(join, '(' | '['));
    let dashes = joins.iter().filter(|join| **join == '-').count();
    if bracket && !joins.contains(&',') && joins.first() == Some(&'-') && dashes > 1 {
        return Some("dashes and brackets together may be sizes or ranges".to_owned());
    }
    let in_bracket = unit == CountedUnit::Skeins && bracket;
    let glued = items
        .iter()
        .find(|item| in_bracket && item.token.text.contains(','))?;
    Some(format!(
        "`{}` may be one number or two sizes; put a space after a comma between sizes",
        glued.token.text
    ))
}

/// Names of sizes, in capitals.
const SIZE_NAMES: Words = words! { xxs, xs, s, m, l, xl, xxl, xxxl, sm, med, lg };

/// `XS`, `M`, `2XL`, `XS/S`, `2/3XL`.
fn size_name(input: &mut Tokens<'_>) -> ParseResult<String> {
    let digit = terminated(one_of(is_one_digit), symbol("/"));
    let slashed = (digit, size_pair).map(|(digit, rest)| format!("{}/{rest}", digit.text));
    alt((slashed, size_pair)).parse_next(input)
}

/// `XS`, or `XS/S`.
fn size_pair(input: &mut Tokens<'_>) -> ParseResult<String> {
    (size_part, opt(preceded(symbol("/-"), size_part)))
        .map(|(first, second)| match second {
            Some(second) => format!("{first}/{second}"),
            None => first,
        })
        .parse_next(input)
}

fn size_part(input: &mut Tokens<'_>) -> ParseResult<String> {
    let digit = opt(one_of(is_one_digit)).parse_next(input)?;
    let letters = one_of(|token| {
        token.is_word(SIZE_NAMES) && token.is_capitalised() && (digit.is_none() || token.glued)
    })
    .parse_next(input)?;
    Ok(format!(
        "{}{}",
        digit.map_or("", |token| token.text),
        letters.text
    ))
}

fn is_one_digit(token: &Token<'_>) -> bool {
    token.text.len() == 1 && token.number().is_some()
}
