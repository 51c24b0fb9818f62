//! Prices, money and what it buys: `£6.50/50 g`, `12,95 €`, `$9 per skein`.

use super::{
    length_mass::{DualMeasure, dual, is_yarn_unit, unit_word},
    money::{CurrencySign::Sure, counted, digits, has_cents, in_currency, is_code, money},
    reading::{Note, ReadResult, Reading, Refusal},
    token::{
        ParseResult, Tokens, Words, any_word, exact, require, sign_or_word, skein_word, symbol,
        word, words,
    },
};
use crate::{
    measure::{
        Length, Mass, Money,
        units::{Dimension, Unit},
    },
    record::{Price, PriceBasis},
};
use iso_currency::Currency;
use rust_decimal::Decimal;
use std::ops::Range;
use winnow::{
    Parser,
    combinator::{alt, not, opt, preceded, terminated},
};

/// What is allowed, with examples.
pub const PRICE_ALLOWED: &str = "`6.50 GBP`, `12,95 EUR per skein` or `£6.50/50 g`";

/// Words that say that a price follows.
const PRICE_WORDS: Words = words! {
    price, rrp, preis, prix, precio, prezzo, prijs, pris, cost, costs, at
};
/// Money where a price is given, else a mass.
const POUNDS: Words = words! { pound, pounds };
/// Words between a price and what it buys.
const PER: Words = words! { per, pro, par, por, je, for, a, al, the };

/// What a price buys, as written.
#[derive(Clone)]
enum StatedBasis {
    Skein,
    Unit(&'static Unit),
    Measured(Box<DualMeasure>),
}

/// A price and what it buys; a skein where nothing is said. One without a currency is
/// recognised and refused.
pub fn price(input: &mut Tokens<'_>) -> ParseResult<ReadResult<Price>> {
    let pounds = |input: &mut Tokens<'_>| in_pounds(input, false);
    alt((in_a_currency, pounds, without_currency.map(Err))).parse_next(input)
}

/// A price where only one may stand: also `5 pounds`.
pub fn price_alone(input: &mut Tokens<'_>) -> ParseResult<ReadResult<Price>> {
    alt((price, |input: &mut Tokens<'_>| in_pounds(input, true))).parse_next(input)
}

/// `price 5 pounds a ball`: without a word that says so it may be a mass.
fn in_pounds(input: &mut Tokens<'_>, alone: bool) -> ParseResult<ReadResult<Price>> {
    let lead = opt((word(PRICE_WORDS), opt(symbol(":="))));
    let pounds = terminated(digits, word(POUNDS)).with_span();
    let ((lead, (digits, of_money), basis), span) =
        (lead, pounds, opt(basis)).with_span().parse_next(input)?;
    require(alone || lead.is_some())?;
    let money = in_currency(Sure(Currency::GBP), digits, &of_money);
    Ok(money.and_then(|money| resolve(money, basis, &span)))
}

fn in_a_currency(input: &mut Tokens<'_>) -> ParseResult<ReadResult<Price>> {
    let several_for = opt((exact, word(words! { for, fur, pour, x })));
    let lead = opt((word(PRICE_WORDS), opt(symbol(":="))));
    let ((several, _, money, for_several, basis), span) =
        (several_for, lead, money, opt(for_several), opt(basis))
            .with_span()
            .parse_next(input)?;
    if several.is_some() || for_several.is_some() {
        let why = "it is the price of several together";
        return Ok(Err(Refusal::new(span, why, PRICE_ALLOWED)));
    }
    Ok(money.and_then(|money| resolve(money, basis, &span)))
}

/// `price 6.50`, `6.50 per ball`, `6,50/50 g`.
fn without_currency(input: &mut Tokens<'_>) -> ParseResult<Refusal> {
    let lead = word(PRICE_WORDS).verify(|word: &str| word != "at");
    let led = (lead, opt(symbol(":=")), digits, not(counted), opt(basis)).void();
    let bought = basis.verify(|basis| match basis {
        StatedBasis::Measured(dual) => is_yarn_unit(dual.first.unit),
        StatedBasis::Unit(unit) => is_yarn_unit(unit),
        StatedBasis::Skein => true,
    });
    let cents = || digits.verify(|(_, text)| has_cents(text));
    let in_cents = (cents(), bought).void();
    let small = || any_word.verify(|word: &str| is_code(&word.to_uppercase()));
    let in_small_letters = alt(((cents(), small()).void(), (small(), cents()).void()));
    let in_small_letters = terminated(in_small_letters, not(counted));
    let without = "a price without its currency";
    let (why, span) = alt((
        led.value(without),
        in_cents.value(without),
        in_small_letters.value("the code of a currency is written in capitals"),
    ))
    .with_span()
    .parse_next(input)?;
    Ok(Refusal::new(span, why, PRICE_ALLOWED))
}

/// `for 8 balls`, `/ 10 skeins`.
fn for_several(input: &mut Tokens<'_>) -> ParseResult<()> {
    let several = exact.verify(|count: &f64| *count != 1.0);
    (
        sign_or_word("/", words! { for, fur, pour, per }),
        several,
        skein_word,
    )
        .void()
        .parse_next(input)
}

fn basis(input: &mut Tokens<'_>) -> ParseResult<StatedBasis> {
    let per = (
        opt(symbol("(")),
        sign_or_word("/", PER),
        opt(word(words! { a, the, one })),
    );
    let stated = alt((
        dual.map(|dual| StatedBasis::Measured(Box::new(dual))),
        unit_word.map(StatedBasis::Unit),
        skein_word.value(StatedBasis::Skein),
    ));
    let one_skein = alt((
        word(words! { each, ea, stuck }).void(),
        (word(words! { a }), skein_word).void(),
    ));
    let basis = alt((preceded(per, stated), one_skein.value(StatedBasis::Skein)));
    terminated(basis, opt(symbol(")"))).parse_next(input)
}

fn resolve(
    money: Reading<Money>,
    basis: Option<StatedBasis>,
    span: &Range<usize>,
) -> ReadResult<Price> {
    if money.value.amount <= Decimal::ZERO {
        let why = "a price of 0 is not a price";
        return Err(Refusal::new(span.clone(), why, PRICE_ALLOWED));
    }
    let mut notes = Vec::new();
    let money = money.note_in(&mut notes);
    let per = per(basis, span, &mut notes)?;
    Ok(Reading {
        value: Price { money, per },
        notes,
    })
}

fn per(
    basis: Option<StatedBasis>,
    span: &Range<usize>,
    notes: &mut Vec<Note>,
) -> Result<PriceBasis, Refusal> {
    let (dimension, value) = match basis {
        None | Some(StatedBasis::Skein) => return Ok(PriceBasis::Skein),
        Some(StatedBasis::Unit(unit)) => (unit.dimension, unit.factor),
        Some(StatedBasis::Measured(dual)) => {
            (dual.dimension(), dual.magnitude()?.note_in(notes).one()?)
        }
    };
    match dimension {
        Dimension::Length => Length::metres(value).map(PriceBasis::Length),
        Dimension::Mass => Mass::grams(value).map(PriceBasis::Mass),
    }
    .map_err(|error| Refusal::new(span.clone(), error, PRICE_ALLOWED))
}
