//! Yarn counts: `2/14 Nm`, `tex 120/2`, `20/2 NeC`, `R 240 tex/2`.
//!
//! In indirect systems the smaller number counts the singles. Worsted and
//! metric counts print it first, cotton counts last (common practice); where
//! the order says otherwise and neither number is above 12, nobody can tell.

use super::{
    length_mass::unit_word,
    reading::{Note, ReadResult, Reading, Refusal},
    token::{
        ParseResult, Tokens, Words, any_word, exact, longest_of, sign_or_word, symbol, word, words,
    },
};
use crate::measure::{
    MeasureError, YarnCount,
    units::{COUNT_SYSTEMS, CountSystem, Counts},
};
use std::ops::Range;
use winnow::{
    Parser,
    combinator::{alt, not, opt, peek, preceded},
};

/// No knitting yarn is commonly plied of more singles.
const MOST_PLIES: f64 = 12.0;

/// How many times the smaller number the larger is, where only it can count.
/// Common practice, no source.
const FAR: f64 = 4.0;

/// What is allowed, with examples.
pub const COUNT_ALLOWED: &str = "`2/14 Nm`, `tex 120/2`, `20/2 Ne` or `3/15 worsted count`";

/// Systems of several words.
const LONG_NAMES: &[(CountSystem, Words)] = &[
    (CountSystem::Worsted, words! { worsted count }),
    (CountSystem::Cotton, words! { cotton count }),
    (CountSystem::Metric, words! { metric count }),
    (CountSystem::Linen, words! { linen lea }),
    (CountSystem::YorkshireSkein, words! { yorkshire skein }),
];

/// Materials that are counted in their own system: `8/2 cotton`. Silk is none: spun
/// silk is counted in hanks as cotton is, of the plied yarn or of its singles, and
/// sold by metric counts, too (common practice, no source).
const MATERIALS: &[(CountSystem, Words)] = &[
    (CountSystem::Cotton, words! { cotton }),
    (CountSystem::Worsted, words! { worsted }),
    (CountSystem::Linen, words! { linen }),
];

/// Numbers of a count as written.
#[derive(Clone, Copy)]
enum CountNumbers {
    /// One.
    Single(f64),
    /// `a/b`.
    Pair(f64, f64),
    /// `a x b`: number of a single, then singles.
    Times(f64, f64),
    /// `R a / b`: number of the plied yarn, then singles.
    Resultant(f64, f64),
    /// `b ply a`: number of a single or of the plied yarn, then singles.
    SingleOrResultant(f64, f64),
}

use CountNumbers::{Pair, Resultant, Single, SingleOrResultant, Times};

/// A count with its system. `CC 1` is a contrast colour, not a cotton count.
pub fn count(input: &mut Tokens<'_>) -> ParseResult<ReadResult<YarnCount>> {
    let short_key = peek(word(words! { cc })).parse_next(input).is_ok();
    let system_first = (system, numbers)
        .map(|(system, numbers)| (numbers, system))
        .verify(|(numbers, _)| !short_key || !matches!(numbers, Single(_)));
    let plies_last = (exact, system, symbol("×"), exact)
        .map(|(single, system, _, plies)| (Times(single, plies), system));
    let ((numbers, system), span) = alt((
        resultant,
        beside_plies,
        system_first,
        plies_last,
        (numbers, system),
        (pair.verify(is_no_share), material),
    ))
    .with_span()
    .parse_next(input)?;
    not(unit_word).parse_next(input)?;
    Ok(resolve(numbers, system, &span))
}

fn resultant(input: &mut Tokens<'_>) -> ParseResult<(CountNumbers, CountSystem)> {
    let plies = opt(preceded(symbol("/×"), exact));
    (word(words! { r }), exact, system, plies)
        .map(|(_, number, system, plies)| (Resultant(number, plies.unwrap_or(1.0)), system))
        .parse_next(input)
}

/// `2 ply 18 Nm`, `Nm 18, 2-ply`: nothing says what the number counts.
fn beside_plies(input: &mut Tokens<'_>) -> ParseResult<(CountNumbers, CountSystem)> {
    let between = || opt(symbol(",;:-(="));
    let ((number, system), plies) = alt((
        (plies, between(), one).map(|(plies, _, one)| (one, plies)),
        (one, between(), plies).map(|(one, _, plies)| (one, plies)),
    ))
    .parse_next(input)?;
    opt(symbol(")")).parse_next(input)?;
    Ok((SingleOrResultant(number, plies), system))
}

fn plies(input: &mut Tokens<'_>) -> ParseResult<f64> {
    let several = exact.verify(|plies: &f64| *plies > 1.0);
    (
        several,
        opt(symbol("-")),
        word(words! { ply, plies, fold, fach, fadig }),
    )
        .map(|(plies, _, _)| plies)
        .parse_next(input)
}

fn one(input: &mut Tokens<'_>) -> ParseResult<(f64, CountSystem)> {
    alt((
        (exact, system),
        (system, exact).map(|(system, number)| (number, system)),
    ))
    .parse_next(input)
}

fn numbers(input: &mut Tokens<'_>) -> ParseResult<CountNumbers> {
    let times = (exact, symbol("×"), exact).map(|(single, _, plies)| Times(single, plies));
    let numbers = alt((pair, times, exact.map(Single))).parse_next(input)?;
    opt(word(words! { s })).parse_next(input)?;
    Ok(numbers)
}

fn pair(input: &mut Tokens<'_>) -> ParseResult<CountNumbers> {
    (exact, symbol("/"), exact, opt(word(words! { s })))
        .map(|(a, _, b, _)| Pair(a, b))
        .parse_next(input)
}

fn system(input: &mut Tokens<'_>) -> ParseResult<CountSystem> {
    let long_name = longest_of(LONG_NAMES);
    let found = alt((long_name, any_word.verify_map(named))).parse_next(input)?;
    opt(sign_or_word(":=", words! { count, nr, no })).parse_next(input)?;
    Ok(found)
}

fn named(word: &str) -> Option<CountSystem> {
    let mut systems = COUNT_SYSTEMS.iter();
    let found = systems.find(|unit| unit.written.contains(&word))?;
    Some(found.system)
}

/// Numbers that sum to 100 are shares of a blend, and `3/4` may be one.
fn is_no_share(numbers: &CountNumbers) -> bool {
    match numbers {
        Pair(a, b) => (a + b - 100.0).abs() > 1e-9 && (a >= b || *b > 4.0),
        _ => true,
    }
}

fn material(input: &mut Tokens<'_>) -> ParseResult<CountSystem> {
    let system = longest_of(MATERIALS).parse_next(input)?;
    opt(word(words! { count })).parse_next(input)?;
    Ok(system)
}

fn resolve(
    numbers: CountNumbers,
    system: CountSystem,
    span: &Range<usize>,
) -> ReadResult<YarnCount> {
    let refuse = |why: String| Refusal::new(span.clone(), why, COUNT_ALLOWED);
    let ((single, plies), note) = single_and_plies(numbers, system).map_err(&refuse)?;
    let plies = whole(plies).ok_or_else(|| {
        refuse(format!(
            "{plies} is not a possible number of singles: only 1 to 255 are"
        ))
    })?;
    let value = YarnCount::new(single, plies, system)
        .map_err(|_: MeasureError| refuse("no yarn has such a count".to_owned()))?;
    Ok(Reading::new(value, note.map(|note| Note::new(span, note))))
}

#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "a whole number from 1 to 255, checked just before"
)]
fn whole(plies: f64) -> Option<u8> {
    ((1.0..=255.0).contains(&plies) && plies.fract() == 0.0).then_some(plies as u8)
}

/// The number of a single and how many, with what is to be said about them.
type Singles = ((f64, f64), Option<String>);

fn single_and_plies(numbers: CountNumbers, system: CountSystem) -> Result<Singles, String> {
    let direct = matches!(system.counts(), Counts::GramsPerMetre(_));
    match numbers {
        Single(single) => Ok(((single, 1.0), None)),
        Times(single, plies) => Ok(((single, plies), None)),
        Resultant(number, plies) if direct => Ok(((number / plies, plies), None)),
        Resultant(number, plies) => Ok(((number * plies, plies), None)),
        Pair(a, b) => pair_of(a, b, direct || cotton_like(system)),
        SingleOrResultant(number, plies) => Err(format!(
            "{number} may be the count of each of {plies} singles or of the plied yarn"
        )),
    }
}

/// Whether the number of singles is printed last.
fn cotton_like(system: CountSystem) -> bool {
    matches!(system, CountSystem::Cotton | CountSystem::Linen)
}

/// The number of a single and the singles of `a/b`. Against the order of the
/// system the larger number is the count where it is [`FAR`] times the smaller
/// or above [`MOST_PLIES`]: eight singles of number 2 are no yarn, while both
/// orders are in use. Between whole numbers that close nobody can tell.
fn pair_of(a: f64, b: f64, plies_last: bool) -> Result<Singles, String> {
    let by_order = if plies_last { (a, b) } else { (b, a) };
    let by_size = if a >= b { (a, b) } else { (b, a) };
    let sure = by_order == by_size || by_size.0 > MOST_PLIES;
    let (plies, single) = (by_size.1, by_size.0);
    if sure {
        return Ok((by_size, None));
    }
    if single < FAR * plies {
        return Err(format!(
            "it may be {} singles of number {}, or {plies} singles of number {single}",
            by_order.1, by_order.0
        ));
    }
    let note =
        format!("read as {plies} singles of number {single}, since the other way round is no yarn");
    Ok((by_size, Some(note)))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::label::token::lex;

    /// Number of a single, singles and how many notes.
    fn read(text: &str) -> Result<(f64, u8, usize), String> {
        let tokens = lex(text);
        let outcome = count(&mut Tokens::new(&tokens)).map_err(|_| "no count".to_owned())?;
        let reading = outcome.map_err(|refusal| refusal.why)?;
        let notes = reading.notes.len();
        Ok((reading.value.single(), reading.value.plies(), notes))
    }

    #[test]
    fn the_number_of_the_plied_yarn_is_shared_out_among_its_singles() {
        assert_eq!(read("R 7 Nm/2"), Ok((14.0, 2, 0)));
        assert_eq!(read("R 240 tex/2"), Ok((120.0, 2, 0)));
        assert_eq!(read("R 240 tex"), Ok((240.0, 1, 0)));
    }

    /// By hand: four times three is twelve.
    #[test]
    fn against_the_order_only_a_far_larger_number_counts() {
        assert_eq!(read("3/10 Nm"), Ok((10.0, 3, 0)));
        assert_eq!(read("12/3 Nm"), Ok((12.0, 3, 1)));
        assert!(read("10/3 Nm").is_err_and(|why| why.contains("it may be 10 singles")));
        assert_eq!(read("13/10 Nm"), Ok((13.0, 10, 0)));
    }

    #[test]
    fn beside_a_number_of_plies_a_count_may_be_that_of_either() {
        for text in [
            "2 ply 18 Nm",
            "Nm 18 2-fach",
            "tex 60 4-fold",
            "18 Nm, 2 ply",
            "2 ply - 18 Nm",
            "18 Nm (2 ply)",
        ] {
            assert!(
                read(text).is_err_and(|why| why.contains("the plied yarn")),
                "{text}"
            );
        }
        assert_eq!(read("1 ply 18 Nm"), Err("no count".to_owned()));
        assert_eq!(read("18 Nm"), Ok((18.0, 1, 0)));
    }
}
