//! A gauge with what is said about it: stitch, flat or round, washed, strands.

mod counts;
mod detail;

pub use counts::{is_gauge_word, lone_rows};

use super::{
    needles::{Tool, tool},
    range::NumberRange,
    reading::{Note, ReadResult, Reading, Refusal},
    token::{ParseResult, Tokens, Words, word, words},
};
use crate::{
    measure::{Gauge, Interval},
    record::{FlatOrRound, StatedGauge},
};
use counts::{GaugeCounts, gauge_counts, joined_over};
use detail::{GaugeDetail, detail, detail_before};
use std::ops::Range;
use winnow::{
    Parser,
    combinator::{opt, repeat},
};

/// What is allowed, with examples.
pub const GAUGE_ALLOWED: &str = "`22 sts x 30 rows / 10 cm` or `5.5 sts/in`";

/// Words between the counts and the needles.
const ON: Words = words! { on, with, using, mit, avec, con, com, pa, med, met, op, na, на };

/// Rows to a stitch that any knitting has: plain fabric 1.2 to 1.5, garter stitch
/// and brioche about 2. Common practice, no source.
const ROWS_TO_A_STITCH: (f64, f64) = (0.7, 3.0);

/// More stitches or rows are not counted over one length; common practice, no source.
const MOST_COUNTED: f64 = 500.0;

/// A gauge with what is said about it.
pub fn gauge(input: &mut Tokens<'_>) -> ParseResult<ReadResult<StatedGauge>> {
    let before = repeat(0..3, detail_before);
    let behind = repeat(0..8, detail);
    let parts: ((Vec<GaugeDetail>, _, Vec<GaugeDetail>), _) = (before, gauge_counts, behind)
        .with_span()
        .parse_next(input)?;
    let ((before, counts, behind), span) = parts;
    Ok(resolve(&counts, behind.into_iter().chain(before), &span))
}

/// A gauge with its needles before its length or before its stitch.
#[derive(Debug, Clone)]
pub struct GaugeOnNeedles {
    /// The gauge.
    pub gauge: StatedGauge,
    /// The needles, or why they are not taken.
    pub tool: ReadResult<Tool>,
    /// Bytes of the needles.
    pub tool_span: Range<usize>,
}

/// `22 sts x 30 rows on 4 mm needles = 10 cm`, `22 sts = 10 cm on 4 mm in rib`.
pub fn gauge_on_needles(input: &mut Tokens<'_>) -> ParseResult<ReadResult<GaugeOnNeedles>> {
    let whole = |input: &mut Tokens<'_>| {
        let mut counts = gauge_counts(input)?;
        let mut details: Vec<GaugeDetail> = repeat(0..3, detail).parse_next(input)?;
        opt(word(ON)).parse_next(input)?;
        let tool = tool.with_span().parse_next(input)?;
        let least = usize::from(counts.over.is_some());
        if counts.over.is_none() {
            counts.over = Some(joined_over(input)?);
        }
        let more: Vec<GaugeDetail> = repeat(least..8, detail).parse_next(input)?;
        details.extend(more);
        Ok((counts, tool, details))
    };
    let ((counts, (tool, tool_span), details), span) = whole.with_span().parse_next(input)?;
    let gauge = resolve(&counts, details, &span);
    let on_needles = |gauge| GaugeOnNeedles {
        gauge,
        tool,
        tool_span,
    };
    Ok(gauge.map(|gauge| gauge.map(on_needles)))
}

fn resolve(
    counts: &GaugeCounts,
    details: impl IntoIterator<Item = GaugeDetail>,
    span: &Range<usize>,
) -> ReadResult<StatedGauge> {
    if counts.crochet {
        let why = "it counts crochet stitches, which are no knitting gauge";
        return Err(Refusal::new(
            span.clone(),
            why,
            "a gauge counted in knitting",
        ));
    }
    let stitches = interval(&counts.stitches)?;
    let rows = counts.rows.as_ref().map(interval).transpose()?;
    let gauge = Gauge::new(stitches, rows, counts.over)
        .map_err(|error| Refusal::new(span.clone(), error, GAUGE_ALLOWED))?;
    let mut stated = StatedGauge::bare(gauge);
    if counts.rounds {
        stated.worked = Some(FlatOrRound::InTheRound);
    }
    for detail in details {
        detail.say_of(&mut stated);
    }
    let notes = notes(counts, &stated.gauge).into_iter().flatten();
    Ok(Reading::new(
        stated,
        notes.map(|note| Note::new(span, note)),
    ))
}

/// Three decimals are decimals, since nobody counts thousands.
fn interval(range: &NumberRange) -> Result<Interval<f64>, Refusal> {
    let mut likely = range.readings(None);
    likely.retain(|(_, high)| *high <= MOST_COUNTED);
    let (low, high) = match likely.as_slice() {
        [one] => *one,
        _ => range.ends(None, "")?,
    };
    Interval::between(low, high)
        .map_err(|error| Refusal::new(range.span.clone(), error, GAUGE_ALLOWED))
}

fn notes(counts: &GaugeCounts, gauge: &Gauge) -> [Option<&'static str>; 3] {
    let over = "it does not say over what length the stitches are counted";
    let unlikely = "the rows do not go with the stitches (most knitting has 1 to 2 rows to a stitch): check both";
    [
        counts
            .guessed
            .then_some("two bare numbers: read as stitches and rows"),
        counts.over.is_none().then_some(over),
        (!has_likely_rows(gauge)).then_some(unlikely),
    ]
}

/// Whether some fabric has these rows beside these stitches.
fn has_likely_rows(gauge: &Gauge) -> bool {
    let (low, high) = ROWS_TO_A_STITCH;
    let stitches = gauge.stitches();
    gauge.rows().is_none_or(|rows| {
        rows.high() >= low * stitches.low() && rows.low() <= high * stitches.high()
    })
}

#[cfg(test)]
mod tests {
    use crate::label::{
        band::read_band,
        cells::{self, written},
    };

    #[test]
    fn a_gauge_is_read_alike_in_a_cell_and_on_a_band() {
        for (text, gauge) in [
            ("22 sts x 30 rows / 10 cm", Some("22 sts x 30 rows / 10 cm")),
            ("22-24 sts = 4 in", Some("22-24 sts / 4 in")),
            ("5.5 sts/in", Some("5.5 sts / 1 in")),
            ("10 cm = 22 m 30 R", Some("22 sts x 30 rows / 10 cm")),
            ("22 x 30", Some("22 sts x 30 rows")),
            (
                "22 sts / 10 cm in garter stitch",
                Some("22 sts / 10 cm, garter stitch"),
            ),
            ("St st: 22 sts / 10 cm", Some("22 sts / 10 cm, stockinette")),
            (
                "22 sts 30 rnds / 10 cm",
                Some("22 sts x 30 rows / 10 cm, in the round"),
            ),
            (
                "22 sts / 10 cm, not blocked",
                Some("22 sts / 10 cm, before washing"),
            ),
            (
                "22 sts / 10 cm held double",
                Some("22 sts / 10 cm, 2 strands"),
            ),
            ("22 sc / 10 cm", None),
            ("7/8 sts", None),
            ("22 m", None),
        ] {
            let cell = cells::gauge(text)
                .ok()
                .map(|read| written::gauge(&read.value));
            assert_eq!(cell.as_deref(), gauge, "{text}");
            let band = read_band(text).facts.gauge;
            let band = band.map(|gauge| written::gauge(&gauge.value));
            assert_eq!(band.as_deref(), gauge, "{text}");
        }
    }
}
