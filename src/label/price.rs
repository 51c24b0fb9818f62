//! Money and prices: `£6.50`, `6.50 GBP`; `£6.50/50g`, `12,95 €`, `$9 per skein`.

use super::{
    gauge::is_gauge_word,
    length_mass::{DualMeasure, dual, is_yarn_unit, unit_word},
    needles::NEEDLE_WORDS,
    reading::{Note, ReadResult, Reading, Refusal},
    token::{
        Number, ParseResult, Token, TokenKind, Tokens, Words, any_word, exact, here, one_of,
        require, sign_or_word, skein_word, symbol, word, words,
    },
};
use crate::{
    measure::{
        Length, Mass, Money,
        units::{Dimension, Unit, unit},
    },
    record::{Price, PriceBasis},
    words::by_word,
};
use iso_currency::Currency;
use rust_decimal::Decimal;
use std::{collections::HashMap, ops::Range, str::FromStr, sync::LazyLock};
use winnow::{
    Parser,
    combinator::{alt, not, opt, preceded, terminated},
};

/// What is allowed, with examples.
pub const PRICE_ALLOWED: &str = "`6.50 GBP`, `12,95 EUR per skein` or `£6.50/50 g`";

/// The same for money without what it buys.
const MONEY_ALLOWED: &str = "`6.50 GBP`, `12,95 EUR` or `£6.50`";

/// Words that say that a price follows.
const PRICE_WORDS: Words = words! {
    price, rrp, preis, prix, precio, prezzo, prijs, pris, cost, costs, at
};
/// Money where a price is told, else a mass.
const POUNDS: Words = words! { pound, pounds };
/// Words on labels that in capitals are codes of currencies, too: these count only
/// beside cents.
const WORDS_IN_CAPITALS: &[&str] = &["ALL", "TOP", "CUP", "PEN", "MOP"];
/// Words between a price and what it buys.
const PER: Words = words! { per, pro, par, por, je, for, a, al, the };

/// A currency as written, and the note it needs.
#[derive(Clone, Copy)]
enum CurrencySign {
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

fn is_code(word: &str) -> bool {
    Currency::from_code(word).is_some() && unit(&word.to_lowercase()).is_none()
}

/// Whether two digits stand behind the last mark: `6,50`.
fn has_cents(text: &str) -> bool {
    let part = text.rsplit_once(['.', ',']).map(|(_, part)| part);
    part.is_some_and(|part| part.len() == 2 && part.bytes().all(|b| b.is_ascii_digit()))
}

/// A word that says what the number before it counts, so that none before the number
/// is a currency: `TRY 4 MM`.
fn counted(input: &mut Tokens<'_>) -> ParseResult<()> {
    let counts = |word: &&str| is_gauge_word(word) || NEEDLE_WORDS.contains(word) || *word == "ply";
    alt((
        unit_word.void(),
        any_word.verify(counts).void(),
        skein_word.void(),
        symbol("%×°").void(),
    ))
    .parse_next(input)
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

/// Money with its currency before or after it.
fn money(input: &mut Tokens<'_>) -> ParseResult<ReadResult<Money>> {
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

fn digits<'t>(input: &mut Tokens<'t>) -> ParseResult<(&'t Number, &'t str)> {
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

fn in_currency(
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
