//! The fields of the answer to `gauge`, documented for programs.

use super::words;
use crate::{
    app::{GaugeAnswer, Growth, NeedAtGauge, SizeAtGauge},
    measure::Length,
    quantity::{FinishedSize, Purchase},
    report::{SWATCH_LINE, Style, gauge_change::keep_name, gauge_words},
};
use serde::Serialize;

/// Fields of the answer to `gauge`.
#[derive(Debug, Serialize)]
pub(super) struct GaugeFields<'a> {
    /// The pattern.
    pattern: &'a str,
    /// The yarn that skeins are counted in; the pattern's own where it is `null`.
    yarn: Option<&'a str>,
    /// The pattern's gauge, in words.
    pattern_gauge: String,
    /// The own gauge after washing, in words.
    own_gauge: String,
    /// Where the own gauge comes from.
    source: String,
    /// Own / pattern's stitches per length.
    stitch_ratio: f64,
    /// Own / pattern's rows per length.
    row_ratio: Option<f64>,
    /// What is kept at the own gauge: `stitches`, `counts` or `size`.
    keep: &'static str,
    /// Whether nobody said so.
    keep_assumed: bool,
    /// Each size.
    sizes: Vec<SizeFields<'a>>,
    /// What each size takes.
    skeins: Vec<NeedFields<'a>>,
    /// What washing does, where swatches of the yarn say.
    growth: Option<GrowthFields>,
    /// The own tendency against labels.
    tendency: TendencyFields,
    /// Margin bought beyond the need, %.
    margin_percent: f64,
    /// How the answer was come by.
    working: Vec<String>,
    /// What to know.
    warnings: Vec<String>,
    /// The line that ends every answer.
    swatch: &'static str,
}

/// Width and height, m.
#[derive(Debug, Serialize)]
struct Measures {
    /// Across.
    width_m: Option<f64>,
    /// Along.
    height_m: Option<f64>,
}

/// One size at the own gauge.
#[derive(Debug, Serialize)]
struct SizeFields<'a> {
    /// The size.
    size: &'a str,
    /// Cast-on of the pattern.
    stitches: Option<u32>,
    /// Rows of the pattern.
    rows: Option<u32>,
    /// What it is meant to measure.
    wanted: Measures,
    /// What it measures with all of the pattern's counts.
    counts_kept: Measures,
    /// What it measures with its stitch counts, lengths worked until they measure.
    stitches_kept: Measures,
    /// The size whose counts come nearest in width.
    knit_instead: Option<&'a str>,
    /// What that one measures.
    instead: Option<Measures>,
    /// Stitches that keep the size.
    to_stitches: Option<u32>,
    /// Rows that keep the size.
    to_rows: Option<u32>,
    /// What those measure, rounded to the multiple as they are.
    reworked: Measures,
    /// What to measure before washing, so that the wanted size comes out.
    before_washing: Option<Measures>,
}

/// A need and its skeins.
#[derive(Debug, Serialize)]
struct Amount {
    /// Strand metres, without the margin.
    need_m: f64,
    /// Skeins, with it.
    skeins: u32,
}

/// What one size takes of one yarn.
#[derive(Debug, Serialize)]
struct NeedFields<'a> {
    /// The size.
    size: &'a str,
    /// Key of the role.
    yarn: &'a str,
    /// At the pattern's gauge.
    at_pattern_gauge: Amount,
    /// With all of the pattern's counts at the own gauge.
    counts_kept: Amount,
    /// With its stitch counts, lengths worked until they measure.
    stitches_kept: Amount,
    /// With reworked counts.
    size_kept: Amount,
    /// With the counts of the size to knit instead.
    instead: Option<Amount>,
}

/// What washing does to the fabric.
#[derive(Debug, Serialize)]
struct GrowthFields {
    /// Width after / before.
    across: f64,
    /// Height after / before.
    along: Option<f64>,
    /// From which swatches.
    source: String,
    /// The gauge before washing to which it was applied.
    applied_to: Option<String>,
}

/// The own tendency against label gauges.
#[derive(Debug, Serialize)]
struct TendencyFields {
    /// Swatches behind it.
    swatches: u32,
    /// Own gauge / label gauge, mean.
    mean_ratio: Option<f64>,
    /// The same shrunk towards 1 while swatches are few.
    factor: f64,
    /// Whether the answer uses it.
    used: bool,
    /// The same as a sentence.
    text: String,
}

impl<'a> GaugeFields<'a> {
    pub(super) fn new(answer: &'a GaugeAnswer) -> Self {
        let style = Style::default();
        Self {
            pattern: &answer.pattern,
            yarn: answer.yarn.as_deref(),
            pattern_gauge: gauge_words(&answer.pattern_gauge),
            own_gauge: gauge_words(&answer.own.gauge),
            source: words::source(&answer.own.source),
            stitch_ratio: answer.ratio.stitches,
            row_ratio: answer.ratio.rows,
            keep: keep_name(answer.reading.keep),
            keep_assumed: answer.reading.is_assumed,
            sizes: answer.sizes.iter().map(size_fields).collect(),
            skeins: answer.needs.iter().map(need_fields).collect(),
            growth: answer.own.growth.as_ref().map(growth_fields),
            tendency: tendency_fields(answer, &style),
            margin_percent: answer.margin.as_percent(),
            working: words::working(answer, &style),
            warnings: words::warnings(answer, &style),
            swatch: SWATCH_LINE,
        }
    }
}

fn size_fields(size: &SizeAtGauge) -> SizeFields<'_> {
    let instead = size.instead.as_ref();
    SizeFields {
        size: &size.name,
        stitches: size.intended.counts.stitches,
        rows: size.intended.counts.rows,
        wanted: measures(&size.intended.size),
        counts_kept: measures(&size.counts_kept),
        stitches_kept: measures(&size.stitches_kept),
        knit_instead: instead.map(|(name, _)| name.as_str()),
        instead: instead.map(|(_, comes_out)| measures(comes_out)),
        to_stitches: size.reworked.stitches,
        to_rows: size.reworked.rows,
        reworked: measures(&size.size_kept),
        before_washing: size.before_washing.as_ref().map(measures),
    }
}

fn measures(size: &FinishedSize) -> Measures {
    Measures {
        width_m: size.width.map(Length::as_metres),
        height_m: size.height.map(Length::as_metres),
    }
}

fn need_fields(need: &NeedAtGauge) -> NeedFields<'_> {
    NeedFields {
        size: &need.size,
        yarn: &need.yarn,
        at_pattern_gauge: amount(&need.at_pattern_gauge),
        counts_kept: amount(&need.counts_kept),
        stitches_kept: amount(&need.stitches_kept),
        size_kept: amount(&need.size_kept),
        instead: need.instead.as_ref().map(amount),
    }
}

fn amount(bought: &Purchase) -> Amount {
    Amount {
        need_m: bought.need.buy_for.as_metres(),
        skeins: bought.skeins,
    }
}

fn growth_fields(growth: &Growth) -> GrowthFields {
    GrowthFields {
        across: growth.growth.across,
        along: growth.growth.along,
        source: words::growth_source(growth),
        applied_to: growth.applied_to.as_ref().map(gauge_words),
    }
}

fn tendency_fields(answer: &GaugeAnswer, style: &Style) -> TendencyFields {
    let tendency = &answer.tendency;
    TendencyFields {
        swatches: tendency.swatches,
        mean_ratio: tendency.mean_ratio(),
        factor: tendency.factor(),
        used: answer.own.source.is_expected(),
        text: words::tendency(answer, style),
    }
}
