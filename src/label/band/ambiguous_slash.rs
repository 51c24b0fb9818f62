//! Two numbers with a slash, of which only one was understood: `22/30 sts` may
//! be a range, two sizes, or stitches and rows. Half of it is no fact.

use super::scan::{Item, Part};
use crate::label::token::Token;
use std::ops::Range;

const WHY: &str = "two numbers with a stroke may be a range, two sizes or a fraction; \
                   write a range as `22-24`, and each of two by itself";

/// The parts, where half of two numbers was taken for a gauge, needles or a class both left.
pub fn without_halves(parts: Vec<Part>, tokens: &[Token<'_>]) -> Vec<Part> {
    let mut whole: Vec<Part> = Vec::with_capacity(parts.len());
    for part in parts {
        let both = whole.last().and_then(|last| both(last, &part, tokens));
        match (both, whole.last_mut()) {
            (Some(span), Some(last)) => *last = Part::Left(span, WHY),
            _ => whole.push(part),
        }
    }
    whole
}

/// The bytes of both parts, where one is half of what the other was taken from.
fn both(a: &Part, b: &Part, tokens: &[Token<'_>]) -> Option<Range<usize>> {
    let halves = is_left(a) && is_counted(b) || is_counted(a) && is_left(b);
    let (a, b) = (a.span(), b.span());
    let slashed = halves && is_slash_between(a.end, b.start, tokens);
    slashed.then_some(a.start..b.end)
}

fn is_left(part: &Part) -> bool {
    matches!(part, Part::Left(..) | Part::Unknown(..))
}

fn is_counted(part: &Part) -> bool {
    matches!(
        part.item(),
        Some(Item::Gauge(_) | Item::GaugeOnNeedles(_) | Item::Tool(_) | Item::Class(_))
    )
}

/// Whether nothing stands between but a slash, with a number on either side.
fn is_slash_between(end: usize, start: usize, tokens: &[Token<'_>]) -> bool {
    let at = tokens.partition_point(|token| token.span.end <= end);
    let Some([before, slash, after]) = tokens.get(at.saturating_sub(1)..=at + 1) else {
        return false;
    };
    let numbers = before.number().is_some() && after.number().is_some();
    slash.is('/') && numbers && before.span.end == end && after.span.start == start
}
