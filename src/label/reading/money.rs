//! Amounts of money: `£6.50`, `12,95 €`, `6.50 GBP`.

use super::{Note, Number, Outcome, Parsed, Reading, Refusal, Tokens, span_of, stream};
use crate::measure::Money;
use iso_currency::Currency;
use rust_decimal::Decimal;
use std::{ops::Range, str::FromStr};
use winnow::{
    Parser,
    combinator::{alt, not, opt},
    token::any,
};

/// What is allowed, with examples.
pub const MONEY_ALLOWED: &str = "`6.50 GBP`, `12,95 EUR` or `£6.50`";

/// A currency as written, and the note it needs.
#[derive(Clone, Copy)]
enum Sign {
    Sure(Currency),
    Several(Currency, &'static str),
    Krone,
    Pence,
}

/// Money with its currency before or after it.
pub fn money(input: &mut Tokens<'_>) -> Parsed<Outcome<Money>> {
    let ((sign, digits), pieces) = stream::with_pieces(|input| {
        alt((
            (sign, digits, opt((no_cents, not(digits)))).map(|(sign, digits, _)| (sign, digits)),
            (digits, opt(no_cents), sign).map(|(digits, _, sign)| (sign, digits)),
        ))
        .parse_next(input)
    })
    .parse_next(input)?;
    Ok(settle(sign, digits, span_of(pieces)))
}

/// `12.-`, `12,-`: no cents, as Swiss and Nordic shops print it.
fn no_cents(input: &mut Tokens<'_>) -> Parsed<()> {
    (opt(stream::symbol(".,")), stream::symbol("-–—"))
        .void()
        .parse_next(input)
}

fn digits<'t>(input: &mut Tokens<'t>) -> Parsed<(&'t Number, &'t str)> {
    any.verify_map(|token: &'t super::Token<'t>| Some((token.number()?, token.text)))
        .parse_next(input)
}

fn sign(input: &mut Tokens<'_>) -> Parsed<Sign> {
    alt((dollar_of_a_country, symbol, code)).parse_next(input)
}

fn dollar_of_a_country(input: &mut Tokens<'_>) -> Parsed<Sign> {
    let country = stream::any_word
        .verify_map(|word| match word {
            "us" => Some(Currency::USD),
            "a" | "au" => Some(Currency::AUD),
            "c" | "ca" | "cad" => Some(Currency::CAD),
            "nz" => Some(Currency::NZD),
            _ => None,
        })
        .parse_next(input)?;
    stream::symbol("$").parse_next(input)?;
    Ok(Sign::Sure(country))
}

fn symbol(input: &mut Tokens<'_>) -> Parsed<Sign> {
    stream::symbol("£€$¥₹₩₽₺₴")
        .map(|sign| match sign {
            '£' => Sign::Sure(Currency::GBP),
            '€' => Sign::Sure(Currency::EUR),
            '₹' => Sign::Sure(Currency::INR),
            '₩' => Sign::Sure(Currency::KRW),
            '₽' => Sign::Sure(Currency::RUB),
            '₺' => Sign::Sure(Currency::TRY),
            '₴' => Sign::Sure(Currency::UAH),
            '$' => Sign::Several(Currency::USD, "US, Canadian, Australian and other dollars"),
            _ => Sign::Several(Currency::JPY, "yen and yuan"),
        })
        .parse_next(input)
}

fn code(input: &mut Tokens<'_>) -> Parsed<Sign> {
    any.verify_map(|token: &super::Token<'_>| {
        let word = token.word()?;
        match word {
            "euro" | "euros" => Some(Sign::Sure(Currency::EUR)),
            "sterling" => Some(Sign::Sure(Currency::GBP)),
            "yen" => Some(Sign::Sure(Currency::JPY)),
            "kr" => Some(Sign::Krone),
            "p" | "pence" => Some(Sign::Pence),
            "dollar" | "dollars" => Some(Sign::Several(
                Currency::USD,
                "US, Canadian, Australian and other dollars",
            )),
            _ if word.len() == 3 => Currency::from_code(&word.to_uppercase()).map(Sign::Sure),
            _ => None,
        }
    })
    .parse_next(input)
    .and_then(|sign| {
        opt(stream::symbol(".")).parse_next(input)?;
        Ok(sign)
    })
}

fn settle(sign: Sign, (number, text): (&Number, &str), span: Range<usize>) -> Outcome<Money> {
    let refuse = |why: &str| Refusal::new(span.clone(), why, MONEY_ALLOWED);
    let (currency, several) = match sign {
        Sign::Sure(currency) => (currency, None),
        Sign::Several(currency, which) => (currency, Some(which)),
        Sign::Pence => (Currency::GBP, None),
        Sign::Krone => {
            return Err(refuse(
                "`kr` is Danish, Norwegian, Swedish or Icelandic money",
            ));
        }
    };
    let exact = exact(number, text, currency)
        .ok_or_else(|| refuse("its mark before three digits may part thousands or decimals"))?;
    let amount = match sign {
        Sign::Pence => exact / Decimal::ONE_HUNDRED,
        _ => exact,
    };
    let notes = several.map(|which| Note {
        span: span.clone(),
        message: format!("the sign stands for {which}: {} is taken", currency.code()),
    });
    Ok(Reading {
        value: Money { amount, currency },
        notes: notes.into_iter().collect(),
    })
}

/// The number to the last digit. Three decimals are read only of a currency
/// that has them.
fn exact(number: &Number, text: &str, currency: Currency) -> Option<Decimal> {
    let plain =
        |c: char| c.is_ascii_digit() || !(c.is_alphanumeric() || matches!(c, '/' | '-' | ' '));
    match number {
        Number::One(value) if !text.chars().all(plain) => of_fraction(*value),
        Number::Either { mark, .. } if currency.exponent() == Some(3) => decimal(text, Some(*mark)),
        Number::One(_) => decimal(text, decimal_mark(text)),
        _ => None,
    }
}

/// `6½`: the value of a fraction that is a whole number of hundredths.
fn of_fraction(value: f64) -> Option<Decimal> {
    let text = value.to_string();
    let decimals = text.split_once('.').map_or(0, |(_, part)| part.len());
    (decimals <= 2)
        .then(|| Decimal::from_str(&text).ok())
        .flatten()
}

/// The mark that parts decimals in a number of one meaning: the only one, or
/// the last where it differs from the one before. Apostrophes part thousands.
fn decimal_mark(text: &str) -> Option<char> {
    let marks: Vec<char> = text.chars().filter(|c| !c.is_ascii_digit()).collect();
    let is_point = |mark: char| matches!(mark, '.' | ',');
    match marks.as_slice() {
        [only] => Some(*only).filter(|mark| is_point(*mark)),
        [.., before, last] if before != last => Some(*last).filter(|mark| is_point(*mark)),
        _ => None,
    }
}

fn decimal(text: &str, mark: Option<char>) -> Option<Decimal> {
    let plain = match mark.and_then(|mark| text.rsplit_once(mark)) {
        Some((whole, part)) => format!("{}.{part}", digits_of(whole)),
        None => digits_of(text),
    };
    Decimal::from_str(&plain).ok()
}

fn digits_of(text: &str) -> String {
    text.chars().filter(char::is_ascii_digit).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::label::reading::lex;

    fn read(text: &str) -> Option<String> {
        let tokens = lex(text);
        let outcome = money(&mut Tokens::new(&tokens)).ok()?;
        outcome.ok().map(|reading| reading.value.to_string())
    }

    #[test]
    fn money_is_read_to_the_last_digit() {
        for (text, money) in [
            ("£6.50", "6.50 GBP"),
            ("12,95 €", "12.95 EUR"),
            ("1.250,00 €", "1250.00 EUR"),
            ("$1,250.50", "1250.50 USD"),
            ("CHF 1'250", "1250.00 CHF"),
            ("1,234,567 yen", "1234567 JPY"),
            ("95p", "0.95 GBP"),
            ("6½ EUR", "6.50 EUR"),
            ("6 1/2 EUR", "6.50 EUR"),
            ("6-1/2 EUR", "6.50 EUR"),
            ("1.250 KWD", "1.250 KWD"),
            ("1.255 KWD", "1.255 KWD"),
            // Found by fuzzing: three decimals would not be read back.
            ("100½p", "1.0050 GBP"),
            ("1.0050 GBP", "1.0050 GBP"),
            ("NZ$ 14", "14.00 NZD"),
            ("US$ 14", "14.00 USD"),
            ("A$ 14", "14.00 AUD"),
            ("C$ 14", "14.00 CAD"),
            ("CA$ 14", "14.00 CAD"),
            ("₹ 450", "450.00 INR"),
            ("₩ 9000", "9000 KRW"),
            ("₽ 450", "450.00 RUB"),
            ("₺ 90", "90.00 TRY"),
            ("₴ 90", "90.00 UAH"),
            ("¥ 900", "900 JPY"),
            ("6 euros", "6.00 EUR"),
            ("6 sterling", "6.00 GBP"),
            ("6 dollars", "6.00 USD"),
            ("12.- CHF", "12.00 CHF"),
            ("CHF 12.-", "12.00 CHF"),
            ("CHF 12,-", "12.00 CHF"),
        ] {
            assert_eq!(read(text).as_deref(), Some(money), "{text}");
        }
    }

    #[test]
    fn money_that_may_mean_two_things_is_not_taken() {
        for text in ["£1,250", "49 kr", "6⅓ EUR", "6.50"] {
            assert_eq!(read(text), None, "{text}");
        }
    }
}
