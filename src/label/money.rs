//! Money: `£6.50`, `6.50 GBP`, `12,95 €`, `12.- CHF`, `95p`.

use super::{
    gauge::is_gauge_word,
    length_mass::unit_word,
    needles::NEEDLE_WORDS,
    reading::{Note, ReadResult, Reading, Refusal},
    token::{
        Number, ParseResult, Token, TokenKind, Tokens, any_word, here, one_of, skein_word, symbol,
        word, words,
    },
};
use crate::{
    measure::{Money, units::unit},
    words::by_word,
};
use iso_currency::Currency;
use rust_decimal::Decimal;
use std::{collections::HashMap, ops::Range, str::FromStr, sync::LazyLock};
use winnow::{
    Parser,
    combinator::{alt, not, opt, terminated},
};

/// What is allowed, with examples.
pub(super) const MONEY_ALLOWED: &str = "`6.50 GBP`, `12,95 EUR` or `£6.50`";

/// Words on labels that in capitals are codes of currencies, too: these count only
/// beside cents.
const WORDS_IN_CAPITALS: &[&str] = &["ALL", "TOP", "CUP", "PEN", "MOP"];
/// A currency as written, and the note it needs.
#[derive(Clone, Copy)]
pub(super) enum CurrencySign {
    Sure(Currency),
    Several(Currency, &'static str),
    Krone,
    Pence,
}

use CurrencySign::{Krone, Pence, Several, Sure};

const DOLLARS: CurrencySign = Several(Currency::USD, "US, Canadian, Australian and other dollars");

/// Signs and names of currencies.
const CURRENCIES: &[(CurrencySign, &[&str])] = &[
    (Sure(Currency::GBP), &["£", "sterling"]),
    (Sure(Currency::EUR), &["€", "euro", "euros"]),
    (Sure(Currency::INR), &["₹"]),
    (Sure(Currency::KRW), &["₩"]),
    (Sure(Currency::RUB), &["₽", "руб", "рублеи"]),
    (Sure(Currency::TRY), &["₺", "tl"]),
    (Sure(Currency::UAH), &["₴"]),
    (Sure(Currency::PLN), &["zł", "zl", "zloty", "złotych"]),
    (Sure(Currency::CZK), &["kc"]),
    (Sure(Currency::JPY), &["yen", "円"]),
    (Several(Currency::JPY, "yen and yuan"), &["¥"]),
    (DOLLARS, &["$", "dollar", "dollars"]),
    (Krone, &["kr"]),
];

/// Money with its currency before or after it.
pub(super) fn money(input: &mut Tokens<'_>) -> ParseResult<ReadResult<Money>> {
    let whole = || opt((no_cents, not(digits)));
    let sign_first = (sign, digits, whole()).map(|(sign, digits, _)| (sign, digits));
    let code_first = (code, digits, whole(), not(counted))
        .map(|(code, digits, ..)| (code, digits))
        .verify(is_no_other_word);
    let sign_last =
        (digits, opt(no_cents), alt((sign, pence))).map(|(digits, _, sign)| (sign, digits));
    let code_last = (digits, opt(no_cents), code)
        .map(|(digits, _, code)| (code, digits))
        .verify(is_no_other_word);
    let named = |(code, digits): (&str, _)| {
        let currency = Currency::from_code(code)?;
        Some((Sure(currency), digits))
    };
    let ((sign, digits), span) = alt((
        sign_first,
        sign_last,
        alt((code_first, code_last)).verify_map(named),
    ))
    .with_span()
    .parse_next(input)?;
    Ok(in_currency(sign, digits, &span))
}

/// `12.-`, `12,-`: no cents, as Swiss and Nordic shops print it.
fn no_cents(input: &mut Tokens<'_>) -> ParseResult<()> {
    (opt(symbol(".,")), symbol("-–—")).void().parse_next(input)
}

pub(super) fn digits<'t>(input: &mut Tokens<'t>) -> ParseResult<(&'t Number, &'t str)> {
    here.verify_map(|token: &'t Token<'t>| Some((token.number()?, token.text)))
        .parse_next(input)
}

fn sign(input: &mut Tokens<'_>) -> ParseResult<CurrencySign> {
    let country = any_word.verify_map(|word| match word {
        "us" => Some(Currency::USD),
        "a" | "au" => Some(Currency::AUD),
        "c" | "ca" | "cad" => Some(Currency::CAD),
        "nz" => Some(Currency::NZD),
        _ => None,
    });
    let dollar_of_a_country = terminated(country, symbol("$")).map(Sure);
    let named = terminated(here.verify_map(currency_named), opt(symbol(".")));
    alt((dollar_of_a_country, named)).parse_next(input)
}

fn currency_named(token: &Token<'_>) -> Option<CurrencySign> {
    static CURRENCIES_BY_WORD: LazyLock<HashMap<&str, CurrencySign>> = LazyLock::new(|| {
        let rows = CURRENCIES.iter();
        by_word(rows.flat_map(|(sign, names)| names.iter().map(|name| (*name, *sign))))
    });
    let found = match &token.kind {
        TokenKind::Symbol(sign) => CURRENCIES_BY_WORD.get(&*sign.encode_utf8(&mut [0; 4])),
        TokenKind::Word(word) => CURRENCIES_BY_WORD.get(word.as_str()),
        TokenKind::Number(_) => None,
    };
    found.copied()
}

/// A code of three letters, in capitals: `TRY`, and not `try`.
fn code<'t>(input: &mut Tokens<'t>) -> ParseResult<&'t str> {
    here.verify_map(|token: &'t Token<'t>| {
        let code = token.text.trim_end_matches('.');
        let capitals = code.len() == 3 && code.bytes().all(|b| b.is_ascii_uppercase());
        let unit = token.word().is_some_and(|word| unit(word).is_some());
        (capitals && !unit).then_some(code)
    })
    .parse_next(input)
}

/// Whether a code that is a word, too, stands beside cents.
fn is_no_other_word((code, (_, text)): &(&str, (&Number, &str))) -> bool {
    !WORDS_IN_CAPITALS.contains(code) || has_cents(text)
}

/// `95p`, `95 pence`; `18 p.` are stitches.
fn pence(input: &mut Tokens<'_>) -> ParseResult<CurrencySign> {
    let letter = |token: &Token<'_>| token.glued && matches!(token.text, "p" | "P");
    alt((one_of(letter).void(), word(words! { pence }).void()))
        .value(Pence)
        .parse_next(input)
}

pub(super) fn in_currency(
    sign: CurrencySign,
    (number, text): (&Number, &str),
    span: &Range<usize>,
) -> ReadResult<Money> {
    let refuse = |why: &str| Refusal::new(span.clone(), why, MONEY_ALLOWED);
    let (currency, several) = match sign {
        Sure(currency) => (currency, None),
        Several(currency, which) => (currency, Some(which)),
        Pence => (Currency::GBP, None),
        Krone => {
            return Err(refuse(
                "`kr` is Danish, Norwegian, Swedish or Icelandic money",
            ));
        }
    };
    let exact = to_the_last_digit(number, text, currency)
        .ok_or_else(|| refuse("its mark before three digits may separate thousands or decimals"))?;
    let amount = match sign {
        Pence => exact / Decimal::ONE_HUNDRED,
        _ => exact,
    };
    let note = several.map(|which| {
        let taken = currency.code();
        Note::new(span, format!("the sign can mean {which}: assumed {taken}"))
    });
    Ok(Reading::new(Money { amount, currency }, note))
}

/// The number to the last digit. Three decimals are read only of a currency
/// that has them.
fn to_the_last_digit(number: &Number, text: &str, currency: Currency) -> Option<Decimal> {
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

pub(super) fn is_code(word: &str) -> bool {
    Currency::from_code(word).is_some() && unit(&word.to_lowercase()).is_none()
}

/// Whether two digits stand behind the last mark: `6,50`.
pub(super) fn has_cents(text: &str) -> bool {
    let part = text.rsplit_once(['.', ',']).map(|(_, part)| part);
    part.is_some_and(|part| part.len() == 2 && part.bytes().all(|b| b.is_ascii_digit()))
}

/// A word that says what the number before it counts, so that none before the number
/// is a currency: `TRY 4 MM`.
pub(super) fn counted(input: &mut Tokens<'_>) -> ParseResult<()> {
    let counts = |word: &&str| is_gauge_word(word) || NEEDLE_WORDS.contains(word) || *word == "ply";
    alt((
        unit_word.void(),
        any_word.verify(counts).void(),
        skein_word.void(),
        symbol("%×°").void(),
    ))
    .parse_next(input)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::label::token::lex;

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
        for text in [
            "£1,250", "49 kr", "6⅓ EUR", "6.50", "TRY 4 MM", "24 ALL", "2 KGS", "4 try",
        ] {
            assert_eq!(read(text), None, "{text}");
        }
    }
}
