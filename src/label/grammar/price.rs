//! Prices: `£6.50/50g`, `12,95 €`, `$9 per skein`.

use crate::{
    label::reading::{
        Dual, Outcome, Parsed, Reading, Refusal, Tokens, any_word, dual, exact, is_skein_word,
        money, span_of, symbol, unit_word, with_pieces, word,
    },
    measure::{
        Length, Mass, Money,
        units::{Dimension, Unit},
    },
    record::{Price, PriceBasis},
};
use rust_decimal::Decimal;
use winnow::{
    Parser,
    combinator::{alt, opt, preceded},
};

/// What is allowed, with examples.
pub const PRICE_ALLOWED: &str = "`6.50 GBP`, `12,95 EUR per skein` or `£6.50/50 g`";

#[derive(Clone)]
enum Basis {
    Skein,
    Unit(&'static Unit),
    Stated(Box<Dual>),
}

/// A price and what it buys; a skein where nothing is said.
pub fn price(input: &mut Tokens<'_>) -> Parsed<Outcome<Price>> {
    let ((several, money, basis), pieces) = with_pieces(|input| {
        let several = opt((exact, word(&["for", "fur", "pour", "x"]))).parse_next(input)?;
        opt((
            word(&[
                "price", "rrp", "preis", "prix", "precio", "prezzo", "prijs", "pris", "cost",
                "costs", "at",
            ]),
            opt(symbol(":=")),
        ))
        .parse_next(input)?;
        let money = money(input)?;
        let several = several.is_some() || opt(for_several).parse_next(input)?.is_some();
        Ok((several, money, opt(basis).parse_next(input)?))
    })
    .parse_next(input)?;
    if several {
        let why = "it is the price of several together";
        return Ok(Err(Refusal::new(span_of(pieces), why, PRICE_ALLOWED)));
    }
    Ok(money.and_then(|money| settle(money, basis, span_of(pieces))))
}

/// `for 8 balls`, `/ 10 skeins`.
fn for_several(input: &mut Tokens<'_>) -> Parsed<()> {
    alt((
        symbol("/").void(),
        word(&["for", "fur", "pour", "per"]).void(),
    ))
    .parse_next(input)?;
    exact
        .verify(|count: &f64| *count != 1.0)
        .parse_next(input)?;
    any_word
        .verify(|word: &str| is_skein_word(word))
        .void()
        .parse_next(input)
}

fn basis(input: &mut Tokens<'_>) -> Parsed<Basis> {
    let per = |input: &mut Tokens<'_>| {
        opt(symbol("(")).parse_next(input)?;
        alt((
            symbol("/").void(),
            word(&["per", "pro", "par", "por", "je", "for", "a", "al", "the"]).void(),
        ))
        .parse_next(input)?;
        opt(word(&["a", "the", "one"]))
            .parse_next(input)
            .map(|_| ())
    };
    let basis = alt((
        preceded(
            per,
            alt((
                dual.map(|dual| Basis::Stated(Box::new(dual))),
                unit_word.map(Basis::Unit),
                any_word
                    .verify(|word: &str| is_skein_word(word))
                    .value(Basis::Skein),
            )),
        ),
        word(&["each", "ea", "stuck"]).value(Basis::Skein),
        (
            word(&["a"]),
            any_word.verify(|word: &str| is_skein_word(word)),
        )
            .value(Basis::Skein),
    ))
    .parse_next(input)?;
    opt(symbol(")")).parse_next(input)?;
    Ok(basis)
}

fn settle(
    money: Reading<Money>,
    basis: Option<Basis>,
    span: std::ops::Range<usize>,
) -> Outcome<Price> {
    let refuse = |why: String| Refusal::new(span.clone(), why, PRICE_ALLOWED);
    if money.value.amount <= Decimal::ZERO {
        return Err(refuse("a price of nothing is no price".to_owned()));
    }
    let mut notes = money.notes;
    let (dimension, value) = match basis {
        None | Some(Basis::Skein) => {
            let per = PriceBasis::Skein;
            return Ok(Reading {
                value: Price {
                    money: money.value,
                    per,
                },
                notes,
            });
        }
        Some(Basis::Unit(unit)) => (unit.dimension, unit.factor),
        Some(Basis::Stated(dual)) => {
            let settled = dual.settle()?;
            notes.extend(settled.notes);
            (dual.dimension(), settled.value.one()?)
        }
    };
    let per = match dimension {
        Dimension::Length => Length::metres(value).map(PriceBasis::Length),
        Dimension::Mass => Mass::grams(value).map(PriceBasis::Mass),
    };
    let per = per.map_err(|error| refuse(error.to_string()))?;
    Ok(Reading {
        value: Price {
            money: money.value,
            per,
        },
        notes,
    })
}
