//! What a needle size as written may mean in millimetres.

use super::size::NeedleStatement;
use crate::{
    label::reading::{Clash, Note},
    trade::{NeedleSystem, is_needle_size, needle_sizes},
    words::{number as shown, or_list},
};
use std::ops::Range;

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
