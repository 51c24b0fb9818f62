//! A gauge with what is said about it: stitch, flat or round, washed, strands.

use super::{
    gauge_words::{Said, about, about_before},
    needles::{Tool, tool},
};
use crate::{
    label::reading::{
        Counted, Note, NumberRange, Outcome, Parsed, Reading, Refusal, Token, Tokens, ahead,
        counted, over_after, span_of, with_pieces, word,
    },
    measure::{Gauge, Interval, Over},
    record::{StatedGauge, Worked},
};
use std::ops::Range;
use winnow::{
    Parser,
    combinator::{opt, repeat},
    error::EmptyError,
};

/// What is allowed, with examples.
pub const GAUGE_ALLOWED: &str = "`22 sts x 30 rows / 10 cm` or `5.5 sts/in`";

/// A gauge with what is said about it.
pub fn gauge(input: &mut Tokens<'_>) -> Parsed<Outcome<StatedGauge>> {
    let ((counted, said), pieces) = with_pieces(|input| {
        let before: Vec<Said> = repeat(0..3, about_before).parse_next(input)?;
        let counted = counted(input)?;
        let mut said: Vec<Said> = repeat(0..8, about).parse_next(input)?;
        said.extend(before);
        Ok((counted, said))
    })
    .parse_next(input)?;
    Ok(settle(&counted, said, span_of(pieces)))
}

/// A gauge with its needles before its length or before its stitch.
#[derive(Debug, Clone)]
pub struct OnNeedles {
    /// The gauge.
    pub gauge: StatedGauge,
    /// The needles, or why they are not taken.
    pub tool: Outcome<Tool>,
    /// Bytes of the needles.
    pub tool_span: Range<usize>,
}

/// `22 sts x 30 rows on 4 mm needles = 10 cm`, `22 sts = 10 cm on 4 mm in rib`.
pub fn gauge_on_needles(input: &mut Tokens<'_>) -> Parsed<Outcome<OnNeedles>> {
    let ((counted, tool, tool_span, said), pieces) = with_pieces(|input| {
        let mut counted = counted(input)?;
        let mut said: Vec<Said> = repeat(0..3, about).parse_next(input)?;
        opt(word(ON)).parse_next(input)?;
        let (tool, pieces) = with_pieces(tool).parse_next(input)?;
        let least = usize::from(counted.over.is_some());
        if counted.over.is_none() {
            counted.over = Some(length_behind(input)?);
        }
        let more: Vec<Said> = repeat(least..8, about).parse_next(input)?;
        said.extend(more);
        Ok((counted, tool, span_of(pieces), said))
    })
    .parse_next(input)?;
    Ok(
        settle(&counted, said, span_of(pieces)).map(|reading| Reading {
            value: OnNeedles {
                gauge: reading.value,
                tool,
                tool_span,
            },
            notes: reading.notes,
        }),
    )
}

fn length_behind(input: &mut Tokens<'_>) -> Parsed<Over> {
    let joined = |token: &Token<'_>| token.is('=') || token.word().is_some();
    match ahead(input).is_some_and(joined) {
        true => over_after(input),
        false => Err(EmptyError),
    }
}

/// Words between the counts and the needles.
const ON: &[&str] = &[
    "on", "with", "using", "mit", "avec", "con", "com", "pa", "med", "met", "op",
];

fn settle(counted: &Counted, said: Vec<Said>, span: Range<usize>) -> Outcome<StatedGauge> {
    if counted.crochet {
        let why = "it counts crochet stitches, which are no knitting gauge";
        return Err(Refusal::new(span, why, "a gauge counted in knitting"));
    }
    let refuse = |error: crate::measure::MeasureError| {
        Refusal::new(span.clone(), error.to_string(), GAUGE_ALLOWED)
    };
    let stitches = interval(&counted.stitches)?;
    let rows = counted.rows.as_ref().map(interval).transpose()?;
    let gauge = Gauge::new(stitches, rows, counted.over).map_err(refuse)?;
    let mut stated = StatedGauge::bare(gauge);
    if counted.rounds {
        stated.worked = Some(Worked::InTheRound);
    }
    said.into_iter().for_each(|said| stated.take(said));
    let mut notes = notes(counted);
    notes.extend(unlikely(&stated.gauge));
    let notes = notes.into_iter().map(|message| Note {
        span: span.clone(),
        message,
    });
    Ok(Reading {
        value: stated,
        notes: notes.collect(),
    })
}

/// Rows to a stitch that any knitting has: plain fabric 1.2 to 1.5, garter stitch
/// and brioche about 2. Common practice, no source.
const ROWS_TO_A_STITCH: (f64, f64) = (0.7, 3.0);

/// A word about rows that no fabric has beside these stitches.
fn unlikely(gauge: &Gauge) -> Option<String> {
    let (stitches, rows) = (gauge.stitches(), gauge.rows()?);
    let (low, high) = ROWS_TO_A_STITCH;
    let likely = rows.high() >= low * stitches.low() && rows.low() <= high * stitches.high();
    (!likely).then(|| {
        "the rows do not go with the stitches (most knitting has 1 to 2 rows to a stitch): check both"
            .to_owned()
    })
}

fn interval(range: &NumberRange) -> Result<Interval<f64>, Refusal> {
    let (low, high) = range.settled(None)?;
    Interval::between(low, high)
        .map_err(|error| Refusal::new(range.span.clone(), error.to_string(), GAUGE_ALLOWED))
}

fn notes(counted: &Counted) -> Vec<String> {
    let guessed = counted
        .guessed
        .then_some("two bare numbers: read as stitches and rows");
    let over = counted
        .over
        .is_none()
        .then_some("the length that the stitches are counted over is not stated");
    guessed.into_iter().chain(over).map(str::to_owned).collect()
}

impl StatedGauge {
    fn take(&mut self, said: Said) {
        match said {
            Said::Stitch(stitch) => self.stitch = Some(stitch),
            Said::Worked(worked) => self.worked = Some(worked),
            Said::Washed(washed) => self.washed = Some(washed),
            Said::Strands(strands) => self.strands = Some(strands),
            Said::Nothing => {}
        }
    }
}
