//! Needle sizes: `4 mm`, `3.25-3.75 mm`, `US 6`, `4mm (old 8)`, `size 10½`.
//!
//! Millimetres count. A number of an unnamed system counts only where it
//! means one size in all of them.

mod size;

use super::{
    range::number_range,
    reading::{Clash, Note, ReadResult, Reading, Refusal},
    token::{
        ParseResult, Tokens, Words, any_word, number, require, sign_or_word, skip, symbol, word,
        words,
    },
};
use crate::{
    measure::{Interval, NeedleSize},
    record::Needles,
    trade::{NeedleSystem, hook_size, is_needle_size, needle_sizes},
    words::{number as shown, or_list},
};
use size::{METRIC_WORDS, NeedleStatement, SIZE_WORDS, needle_label, next_statement, statement};
pub use size::{NEEDLE_WORDS, numbers_a_needle};
use std::ops::Range;
use winnow::{
    Parser,
    combinator::{alt, not, opt, preceded, repeat, terminated},
};

/// What is allowed, with examples.
pub const NEEDLES_ALLOWED: &str = "`4 mm`, `3.25-3.75 mm`, `US 6` or `old UK 8`";

const HOOK_WORDS: Words = words! {
    hook, hooks, crochet, hakelnadel, crochetage, heklenal, haaknaald, virknal, haeklenal,
    hæklenal, uncinetto, ganchillo, szydełko, szydełkiem, крючок, hacek, tıg, かき針, カキ針,
};
/// Words before a size that say nothing of it.
const LEADS: Words = words! {
    knitting, knit, recommended, pair, of, on, na, 参考使用針, 使用針, 適正針, 標準針,
};

/// Needles, or a hook, as written.
#[derive(Debug, Clone, PartialEq)]
pub enum Tool {
    /// Needles.
    Needles(Needles),
    /// A hook: recognised, not taken for needles.
    Hook,
}

/// Needles or a hook.
pub fn tool(input: &mut Tokens<'_>) -> ParseResult<ReadResult<Tool>> {
    let ((before, first, more, behind), span) =
        (lead, statement, repeat(0..4, next_statement), tail)
            .with_span()
            .parse_next(input)?;
    let more: Vec<NeedleStatement> = more;
    if before || behind {
        return Ok(Ok(Reading::plain(Tool::Hook)));
    }
    let statements: Vec<NeedleStatement> = std::iter::once(first).chain(more).collect();
    Ok(resolve(&statements, &span))
}

/// Words before the size; true where one is of hooks.
fn lead(input: &mut Tokens<'_>) -> ParseResult<bool> {
    let silent = alt((
        word(NEEDLE_WORDS).void(),
        word(LEADS).void(),
        (word(SIZE_WORDS), symbol(":=")).void(),
        symbol(":=").void(),
    ));
    let hook = terminated(word(HOOK_WORDS), not(word(NEEDLE_WORDS)));
    let said: Vec<bool> =
        repeat(0..4, alt((hook.value(true), silent.value(false)))).parse_next(input)?;
    Ok(said.contains(&true))
}

/// Words behind the size; true where one is of hooks.
fn tail(input: &mut Tokens<'_>) -> ParseResult<bool> {
    let silent = alt((
        word(NEEDLE_WORDS).void(),
        word(METRIC_WORDS).void(),
        sign_or_word(")", words! { knitting }),
    ));
    let said: Vec<bool> = repeat(
        0..4,
        alt((word(HOOK_WORDS).value(true), silent.value(false))),
    )
    .parse_next(input)?;
    Ok(said.contains(&true))
}

/// The size in millimetres; the other statements are compared with it.
fn resolve(statements: &[NeedleStatement], span: &Range<usize>) -> ReadResult<Tool> {
    let refuse = |why: String| Refusal::new(span.clone(), why, NEEDLES_ALLOWED);
    let metric = statements
        .iter()
        .filter_map(NeedleStatement::in_millimetres);
    let metric: Vec<(f64, f64)> = metric
        .map(|range| range.ends(None, ""))
        .collect::<Result<_, Refusal>>()?;
    let (low, high) = if metric.is_empty() {
        agreed(statements)
    } else {
        spanned(&metric)
    }
    .map_err(refuse)?;
    let end = |mm: f64| NeedleSize::millimetres(mm).map_err(|error| refuse(error.to_string()));
    let needles =
        Interval::between(end(low)?, end(high)?).map_err(|error| refuse(error.to_string()))?;
    let mut notes = compared(statements, (low, high), span);
    notes.extend(paired(statements, (low, high), span));
    Ok(Reading::new(Tool::Needles(needles), notes))
}

/// `needles 8` in English: a number without a system.
pub fn needle_number(input: &mut Tokens<'_>) -> ParseResult<ReadResult<Tool>> {
    let lead = (
        word(words! { needle, needles, ndl, ndls }),
        opt(symbol(":#")),
    );
    let ((number, value), span) = preceded(lead, needle_label).with_span().parse_next(input)?;
    Ok(resolve(&[NeedleStatement::Unnamed(number, value)], &span))
}

/// A hook letter such as `G-6`, `H/8`, `I-9`, before or after `hook`.
pub fn hook_letter(input: &mut Tokens<'_>) -> ParseResult<()> {
    let before = opt(word(HOOK_WORDS)).parse_next(input)?;
    let letter = any_word.verify(|word: &str| hook_size(word).is_some());
    let in_millimetres = (symbol("("), number_range, word(words! { mm }), symbol(")"));
    (
        opt(word(words! { size })),
        letter,
        opt((symbol("-/"), number)),
        opt(in_millimetres),
    )
        .void()
        .parse_next(input)?;
    let after = opt(word(HOOK_WORDS)).parse_next(input)?;
    require(before.or(after).is_some())
}

/// `szydełko 3,5`, `かぎ針 4/0号`: a hook and its number.
pub fn hook_number(input: &mut Tokens<'_>) -> ParseResult<()> {
    let sign = skip(0..3, sign_or_word(":#", SIZE_WORDS));
    let japanese = any_word.verify(|word: &str| word.starts_with('号'));
    let size = (number, opt((symbol("/-"), number)), opt(japanese));
    (word(HOOK_WORDS), sign, size, not(any_word))
        .void()
        .parse_next(input)
}

/// Needles, where a hook is none.
pub fn only_needles(input: &mut Tokens<'_>) -> ParseResult<ReadResult<Needles>> {
    let lettered = alt((hook_letter, hook_number)).map(|()| Ok(Reading::plain(Tool::Hook)));
    let (tool, span) = alt((lettered, tool, needle_number))
        .with_span()
        .parse_next(input)?;
    let why = "it is a crochet hook, not a needle";
    Ok(tool.and_then(|tool| {
        tool.try_map(|tool| match tool {
            Tool::Needles(needles) => Ok(needles),
            Tool::Hook => Err(Refusal::new(span, why, NEEDLES_ALLOWED)),
        })
    }))
}

impl NeedleStatement {
    /// Every range in millimetres it may mean, with the words for each.
    fn meanings(&self) -> Vec<(f64, f64, String)> {
        match self {
            Self::Millimetres(range) | Self::Pair(range) => range
                .readings(None)
                .into_iter()
                .map(|(low, high)| (low, high, "mm".to_owned()))
                .collect(),
            Self::Numbered(system, low, high) => numbered_meanings(*system, low, high.as_deref()),
            Self::Unnamed(number, value) => {
                let mut all = numbered_meanings(NeedleSystem::Us, number, None);
                all.extend(numbered_meanings(NeedleSystem::OldUk, number, None));
                if is_needle_size(*value) {
                    all.push((*value, *value, format!("{number} mm")));
                }
                all
            }
        }
    }
}

fn numbered_meanings(
    system: NeedleSystem,
    low: &str,
    high: Option<&str>,
) -> Vec<(f64, f64, String)> {
    let numbers = std::iter::once(low).chain(high);
    let mut ends: Vec<f64> = numbers
        .flat_map(|number| needle_sizes(system, number))
        .collect();
    ends.sort_by(f64::total_cmp);
    let words = |mm: f64| format!("{} {low} ({} mm)", system.name(), shown(mm, 2));
    match (high, ends.as_slice()) {
        (None, several) => several.iter().map(|mm| (*mm, *mm, words(*mm))).collect(),
        (Some(_), [low, .., high]) => vec![(*low, *high, String::new())],
        _ => Vec::new(),
    }
}

/// Without millimetres: the one size that every statement allows.
pub fn agreed(sizes: &[NeedleStatement]) -> Result<(f64, f64), String> {
    let Some((first, others)) = sizes.split_first() else {
        return Err("no size is stated".to_owned());
    };
    let first = first.meanings();
    let mut possible = first.clone();
    for size in others {
        let other = size.meanings();
        possible.retain(|(low, high, _)| other.iter().any(|(l, h, _)| l == low && h == high));
    }
    let mut ends: Vec<(f64, f64)> = possible
        .iter()
        .map(|(low, high, _)| (*low, *high))
        .collect();
    ends.dedup();
    match ends.as_slice() {
        [one] => Ok(*one),
        [] if first.is_empty() => Err("no needle has this number".to_owned()),
        [] => Err("the numbers name different needles".to_owned()),
        _ => {
            let words: Vec<String> = possible.into_iter().map(|(_, _, words)| words).collect();
            Err(format!("it may be {}", or_list(&words)))
        }
    }
}

/// From the least to the most of all that is stated in millimetres, where these may
/// be needles for one yarn: the most at most twice the least (common practice, no
/// source).
pub fn spanned(metric: &[(f64, f64)]) -> Result<(f64, f64), String> {
    let low = metric.iter().map(|(low, _)| *low).reduce(f64::min);
    let high = metric.iter().map(|(_, high)| *high).reduce(f64::max);
    match (low.zip(high), metric) {
        (Some(one), [_]) => Ok(one),
        (Some((low, high)), _) if high <= 2.0 * low => Ok((low, high)),
        _ => Err("the sizes are of different needles".to_owned()),
    }
}

/// A note where two pairs of needles are named.
pub fn paired(
    sizes: &[NeedleStatement],
    (low, high): (f64, f64),
    span: &Range<usize>,
) -> Option<Note> {
    let pair = sizes
        .iter()
        .any(|size| matches!(size, NeedleStatement::Pair(_)));
    let stated = sizes
        .iter()
        .filter_map(NeedleStatement::in_millimetres)
        .count();
    ((pair || stated > 1) && low < high).then(|| {
        let (low, high) = (shown(low, 2), shown(high, 2));
        Note::new(
            span,
            format!("two needles: used as {low} to {high} mm; write only the one for the gauge (in patterns mostly the larger)"),
        )
    })
}

/// Notes where another number does not mean the size in millimetres.
pub fn compared(
    sizes: &[NeedleStatement],
    (low, high): (f64, f64),
    span: &Range<usize>,
) -> Vec<Note> {
    let numbers = sizes.iter().filter(|size| size.in_millimetres().is_none());
    let doubtful = numbers.map(NeedleStatement::meanings).filter(|meanings| {
        let fits = meanings.iter().any(|(l, h, _)| *l <= high && *h >= low);
        !fits && !meanings.is_empty()
    });
    doubtful
        .map(|meanings| {
            let words: Vec<String> = meanings.into_iter().map(|(_, _, words)| words).collect();
            let (words, low) = (or_list(&words), shown(low, 2));
            Note::clash(
                Clash::Needles,
                span,
                format!("{words} is not {low} mm: used the millimetres"),
            )
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use crate::label::{band::read_band, cells};

    /// Ends in millimetres.
    fn of_cell(text: &str) -> Option<(f64, f64)> {
        let needles = cells::needles(text).ok()?.value;
        Some((
            needles.low().as_millimetres(),
            needles.high().as_millimetres(),
        ))
    }

    #[test]
    fn a_size_is_read_alike_in_a_cell_and_on_a_band() {
        for (text, ends) in [
            ("4 mm", Some((4.0, 4.0))),
            ("3.25-3.75 mm", Some((3.25, 3.75))),
            ("3 mm and 4 mm", Some((3.0, 4.0))),
            ("US 6", Some((4.0, 4.0))),
            ("US 6-8", Some((4.0, 5.0))),
            ("6 US", Some((4.0, 4.0))),
            ("old UK 8", Some((4.0, 4.0))),
            ("4mm (old 8)", Some((4.0, 4.0))),
            ("#2 (2.75 or 3.0?)", Some((2.75, 3.0))),
            ("Ø 5", Some((5.0, 5.0))),
            ("aiguilles 4-4,5", Some((4.0, 4.5))),
            ("size 8", None),
            ("4 mm hook", None),
            ("hook size G-6", None),
            ("3 mm / 8 mm", None),
        ] {
            assert_eq!(of_cell(text), ends, "{text}");
            let band = read_band(text).facts.needles;
            let both = cells::needles(text).ok().map(|read| read.value);
            assert_eq!(band.map(|needles| needles.value), both, "{text}");
        }
    }
}
