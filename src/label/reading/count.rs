//! Yarn counts: `2/14 Nm`, `tex 120/2`, `20/2 NeC`, `R 240 tex/2`.
//!
//! In indirect systems the smaller number counts the singles. Worsted and
//! metric counts print it first, cotton counts last (common practice); where
//! the order says otherwise and neither number is above 12, nobody can tell.

use super::{Note, Outcome, Parsed, Reading, Refusal, Tokens, span_of, stream};
use crate::measure::{
    MeasureError, YarnCount,
    units::{COUNT_SYSTEMS, CountSystem, Counts},
};
use std::ops::Range;
use winnow::{
    Parser,
    combinator::{alt, opt, preceded},
};

/// No knitting yarn is commonly plied of more singles.
const MOST_PLIES: f64 = 12.0;

/// How many times the smaller number the larger is, where only it can count.
/// Common practice, no source.
const FAR: f64 = 4.0;

/// What is allowed, with examples.
pub const COUNT_ALLOWED: &str = "`2/14 Nm`, `tex 120/2`, `20/2 Ne` or `3/15 worsted count`";

/// Numbers of a count as written.
#[derive(Clone, Copy)]
enum Numbers {
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

/// A count with its system. `CC 1` is a contrast colour, not a cotton count.
pub fn count(input: &mut Tokens<'_>) -> Parsed<Outcome<YarnCount>> {
    let short_key = stream::word(&["cc"]).parse_next(&mut input.clone()).is_ok();
    let ((numbers, system), pieces) = stream::with_pieces(|input| {
        alt((
            resultant,
            beside_plies,
            (system, numbers)
                .map(|(system, numbers)| (numbers, system))
                .verify(|(numbers, _)| !short_key || !matches!(numbers, Numbers::Single(_))),
            (stream::exact, system, stream::symbol("×"), stream::exact)
                .map(|(single, system, _, plies)| (Numbers::Times(single, plies), system)),
            (numbers, system),
            (pair.verify(is_no_share), material),
        ))
        .parse_next(input)
    })
    .parse_next(input)?;
    match super::unit_word(&mut input.clone()).is_ok() {
        true => Err(winnow::error::EmptyError),
        false => Ok(settle(numbers, system, span_of(pieces))),
    }
}

fn resultant(input: &mut Tokens<'_>) -> Parsed<(Numbers, CountSystem)> {
    stream::word(&["r"]).parse_next(input)?;
    let number = stream::exact(input)?;
    let system = system(input)?;
    let plies = opt(preceded(stream::symbol("/×"), stream::exact)).parse_next(input)?;
    Ok((Numbers::Resultant(number, plies.unwrap_or(1.0)), system))
}

/// `2 ply 18 Nm`, `Nm 18, 2-ply`: nothing says what the number counts.
fn beside_plies(input: &mut Tokens<'_>) -> Parsed<(Numbers, CountSystem)> {
    let ((number, system), plies) = alt((
        (plies, between, one).map(|(plies, (), one)| (one, plies)),
        (one, between, plies).map(|(one, (), plies)| (one, plies)),
    ))
    .parse_next(input)?;
    opt(stream::symbol(")")).parse_next(input)?;
    Ok((Numbers::SingleOrResultant(number, plies), system))
}

fn between(input: &mut Tokens<'_>) -> Parsed<()> {
    opt(stream::symbol(",;:-(=")).void().parse_next(input)
}

fn plies(input: &mut Tokens<'_>) -> Parsed<f64> {
    let plies = stream::exact
        .verify(|plies: &f64| *plies > 1.0)
        .parse_next(input)?;
    opt(stream::symbol("-")).parse_next(input)?;
    stream::word(&["ply", "plies", "fold", "fach", "fadig"]).parse_next(input)?;
    Ok(plies)
}

fn one(input: &mut Tokens<'_>) -> Parsed<(f64, CountSystem)> {
    alt((
        (stream::exact, system),
        (system, stream::exact).map(|(system, number)| (number, system)),
    ))
    .parse_next(input)
}

fn numbers(input: &mut Tokens<'_>) -> Parsed<Numbers> {
    let numbers = alt((
        pair,
        (stream::exact, stream::symbol("×"), stream::exact)
            .map(|(single, _, plies)| Numbers::Times(single, plies)),
        stream::exact.map(Numbers::Single),
    ))
    .parse_next(input)?;
    opt(stream::word(&["s"])).parse_next(input)?;
    Ok(numbers)
}

fn pair(input: &mut Tokens<'_>) -> Parsed<Numbers> {
    let pair = (stream::exact, stream::symbol("/"), stream::exact).parse_next(input)?;
    opt(stream::word(&["s"])).parse_next(input)?;
    Ok(Numbers::Pair(pair.0, pair.2))
}

fn system(input: &mut Tokens<'_>) -> Parsed<CountSystem> {
    let found = alt((
        stream::phrase("worsted count").value(CountSystem::Worsted),
        stream::phrase("cotton count").value(CountSystem::Cotton),
        stream::phrase("metric count").value(CountSystem::Metric),
        stream::phrase("linen lea").value(CountSystem::Linen),
        stream::phrase("yorkshire skein").value(CountSystem::YorkshireSkein),
        stream::any_word.verify_map(named),
    ))
    .parse_next(input)?;
    opt(alt((
        stream::word(&["count", "nr", "no"]).void(),
        stream::symbol(":=").void(),
    )))
    .parse_next(input)?;
    Ok(found)
}

fn named(word: &str) -> Option<CountSystem> {
    COUNT_SYSTEMS
        .iter()
        .find(|unit| unit.written.contains(&word))
        .map(|unit| unit.system)
}

/// Numbers that sum to 100 are shares of a blend, and `3/4` may be one.
fn is_no_share(numbers: &Numbers) -> bool {
    match numbers {
        Numbers::Pair(a, b) => (a + b - 100.0).abs() > 1e-9 && (a >= b || *b > 4.0),
        _ => true,
    }
}

/// A material that is counted in its own system: `8/2 cotton`. Silk is none: spun
/// silk is counted in hanks as cotton is, of the plied yarn or of its singles, and
/// sold by metric counts, too (common practice, no source).
fn material(input: &mut Tokens<'_>) -> Parsed<CountSystem> {
    let system = stream::any_word
        .verify_map(|word| match word {
            "cotton" => Some(CountSystem::Cotton),
            "worsted" => Some(CountSystem::Worsted),
            "linen" => Some(CountSystem::Linen),
            _ => None,
        })
        .parse_next(input)?;
    opt(stream::word(&["count"])).parse_next(input)?;
    Ok(system)
}

fn settle(numbers: Numbers, system: CountSystem, span: Range<usize>) -> Outcome<YarnCount> {
    let refuse = |why: String| Refusal::new(span.clone(), why, COUNT_ALLOWED);
    let ((single, plies), note) = single_and_plies(numbers, system).map_err(&refuse)?;
    let plies = whole(plies).ok_or_else(|| {
        refuse(format!(
            "{plies} is no number of singles: 1 to 255 are read"
        ))
    })?;
    YarnCount::new(single, plies, system)
        .map(|value| Reading {
            value,
            notes: note
                .map(|message| Note {
                    span: span.clone(),
                    message,
                })
                .into_iter()
                .collect(),
        })
        .map_err(|_: MeasureError| refuse("no yarn has such a count".to_owned()))
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

fn single_and_plies(numbers: Numbers, system: CountSystem) -> Result<Singles, String> {
    let direct = matches!(system.counts(), Counts::GramsPerMetre(_));
    match numbers {
        Numbers::Single(single) => Ok(((single, 1.0), None)),
        Numbers::Times(single, plies) => Ok(((single, plies), None)),
        Numbers::Resultant(number, plies) if direct => Ok(((number / plies, plies), None)),
        Numbers::Resultant(number, plies) => Ok(((number * plies, plies), None)),
        Numbers::Pair(a, b) => pair_of(a, b, direct || cotton_like(system)),
        Numbers::SingleOrResultant(number, plies) => Err(format!(
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
    match sure || by_size.0 >= FAR * by_size.1 {
        true if sure => Ok((by_size, None)),
        true => Ok((
            by_size,
            Some(format!(
                "read as {} singles of number {}, since the other way round is no yarn",
                by_size.1, by_size.0
            )),
        )),
        false => Err(format!(
            "it may be {} singles of number {}, or {} singles of number {}",
            by_order.1, by_order.0, by_size.1, by_size.0
        )),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::label::reading::lex;

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
