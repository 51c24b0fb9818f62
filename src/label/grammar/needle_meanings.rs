//! What a needle size as written may mean in millimetres.

use super::needle_sizes::Size;
use crate::{
    label::reading::Note,
    trade::{NeedleSystem, is_needle_size, needle_sizes},
    words::{number as shown, or_list},
};
use std::ops::Range;

impl Size {
    /// Every range in millimetres it may mean, with the words for each.
    fn meanings(&self) -> Vec<(f64, f64, String)> {
        match self {
            Self::Millimetres(range) | Self::Pair(range) => range
                .readings(None)
                .into_iter()
                .map(|(low, high)| (low, high, "mm".to_owned()))
                .collect(),
            Self::Numbered(system, low, high) => numbered_meanings(*system, low, high.as_deref()),
            Self::Unnamed {
                number,
                value,
                metric,
            } => {
                let mut all = numbered_meanings(NeedleSystem::Us, number, None);
                all.extend(numbered_meanings(NeedleSystem::OldUk, number, None));
                if *metric && is_needle_size(*value) {
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
    let mut ends = needle_sizes(system, low);
    ends.extend(
        high.map(|high| needle_sizes(system, high))
            .unwrap_or_default(),
    );
    ends.sort_by(f64::total_cmp);
    let words = |mm: f64| format!("{} {low} ({} mm)", system.name(), shown(mm, 2));
    match (high, ends.as_slice()) {
        (None, several) => several.iter().map(|mm| (*mm, *mm, words(*mm))).collect(),
        (Some(_), [low, .., high]) => vec![(*low, *high, String::new())],
        _ => Vec::new(),
    }
}

/// Without millimetres: the one size that every statement allows.
pub fn agreed(sizes: &[Size]) -> Result<(f64, f64), String> {
    let mut possible: Vec<(f64, f64, String)> =
        sizes.first().map(Size::meanings).unwrap_or_default();
    let first = possible.clone();
    for size in sizes.iter().skip(1) {
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
        [] if first.is_empty() => Err("no needle bears this number".to_owned()),
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
pub fn paired(sizes: &[Size], (low, high): (f64, f64), span: &Range<usize>) -> Option<Note> {
    let pair = sizes.iter().any(|size| matches!(size, Size::Pair(_)));
    let stated = sizes.iter().filter_map(Size::in_millimetres).count();
    ((pair || stated > 1) && low < high).then(|| Note {
        span: span.clone(),
        message: format!(
            "two needles: kept as {} to {} mm; write only the one that the gauge was knitted with (in patterns mostly the larger)",
            shown(low, 2),
            shown(high, 2)
        ),
    })
}

/// A note where another number does not mean the size in millimetres.
pub fn compared(sizes: &[Size], (low, high): (f64, f64), span: Range<usize>) -> Vec<Note> {
    let doubtful = sizes
        .iter()
        .filter(|size| size.in_millimetres().is_none())
        .filter_map(|size| {
            let meanings = size.meanings();
            let fits = meanings.iter().any(|(l, h, _)| *l <= high && *h >= low);
            let words: Vec<String> = meanings.into_iter().map(|(_, _, words)| words).collect();
            (!fits && !words.is_empty()).then(|| or_list(&words))
        });
    doubtful
        .map(|words| Note {
            span: span.clone(),
            message: format!(
                "{words} is not {} mm: the millimetres are taken",
                shown(low, 2)
            ),
        })
        .collect()
}
