//! The fields of an answer to `gauge`. Lengths of fabric and yarn are in metres;
//! what is not known is `null`.

use super::words;
use crate::{
    app::{GaugeAnswer, Growth, NeedAtGauge, SizeAtGauge},
    measure::Length,
    quantity::{FinishedSize, Purchase},
    report::{
        SWATCH_LINE, Style,
        gauge_change::keep_name,
        gauge_words,
        in_hand::InHandFields,
        json::{fields_of, list},
    },
};

fields_of! {
    /// A pattern at a gauge that is not its own.
    GaugeFields(answer: &GaugeAnswer, style: &Style) {
        /// The pattern.
        pattern: String = answer.pattern.clone(),
        /// What skeins are counted in; `null` for the pattern's own yarn.
        yarn: Option<String> = answer.yarn.clone(),
        /// The pattern's gauge.
        pattern_gauge: String = gauge_words(&answer.pattern_gauge),
        /// Your gauge.
        own_gauge: String = gauge_words(&answer.own.gauge),
        /// Where your gauge comes from.
        source: String = words::source(&answer.own.source),
        /// Own / pattern's stitches per length.
        stitch_ratio: f64 = answer.ratio.stitches,
        /// Own / pattern's rows per length, where both are known.
        row_ratio: Option<f64> = answer.ratio.rows,
        /// What stays as the pattern says: `size`, `counts` or `stitches`.
        keep: &'static str = keep_name(answer.reading.keep),
        /// Whether nobody said so.
        keep_assumed: bool = answer.reading.is_assumed,
        /// Each size.
        sizes: Vec<SizeFields> = list(&answer.sizes, SizeFields::of),
        /// What each size needs of each yarn.
        skeins: Vec<NeedFields> = list(&answer.needs, NeedFields::of),
        /// What the yarn in hand is enough for, with `--have`.
        #[serde(skip_serializing_if = "Option::is_none")]
        in_hand: Option<InHandFields> = answer.in_hand.as_ref().map(InHandFields::of),
        /// What washing does to the fabric.
        growth: Option<GrowthFields> = answer.own.growth.as_ref().map(GrowthFields::of),
        /// How your swatches compare with their labels.
        tendency: TendencyFields = TendencyFields::of(answer, style),
        /// Spare yarn that is counted in, in percent.
        margin_percent: f64 = answer.margin.as_percent(),
        /// How it was worked out.
        working: Vec<String> = words::working(answer, style),
        /// What was noticed in what was typed.
        warnings: Vec<String> = words::warnings(answer, style),
        /// That only a washed swatch proves it.
        swatch: &'static str = SWATCH_LINE,
    }
}

fields_of! {
    /// One size at your gauge.
    SizeFields(size: &SizeAtGauge) where instead = size.instead.as_ref(); {
        /// The size.
        size: String = size.name.clone(),
        /// Stitches of the pattern.
        stitches: Option<u32> = size.intended.counts.stitches,
        /// Rows of the pattern.
        rows: Option<u32> = size.intended.counts.rows,
        /// What it is meant to measure.
        wanted: Measures = Measures::of(&size.intended.size),
        /// What it measures with all counts of the pattern.
        counts_kept: Measures = Measures::of(&size.counts_kept),
        /// What it measures with the stitches of the pattern alone.
        stitches_kept: Measures = Measures::of(&size.stitches_kept),
        /// The size whose counts come nearest in width.
        knit_instead: Option<String> = instead.map(|(name, _)| name.clone()),
        /// What that one measures.
        instead: Option<Measures> = instead.map(|(_, comes_out)| Measures::of(comes_out)),
        /// Stitches that keep the size, rounded to the multiple.
        to_stitches: Option<u32> = size.reworked.stitches,
        /// Rows that keep the size.
        to_rows: Option<u32> = size.reworked.rows,
        /// What these counts measure.
        reworked: Measures = Measures::of(&size.size_kept),
        /// What to measure before washing.
        before_washing: Option<Measures> = size.before_washing.as_ref().map(Measures::of),
    }
}

fields_of! {
    /// Width and height.
    Measures(size: &FinishedSize) {
        /// Width in metres.
        width_m: Option<f64> = size.width.map(Length::as_metres),
        /// Height in metres.
        height_m: Option<f64> = size.height.map(Length::as_metres),
    }
}

fields_of! {
    /// What one size needs of one yarn, for each way to knit it.
    NeedFields(need: &NeedAtGauge) {
        /// The size.
        size: String = need.size.clone(),
        /// Key of the pattern's yarn.
        yarn: String = need.yarn.clone(),
        /// Which of the yarns held together, with `--held-with`.
        #[serde(skip_serializing_if = "Option::is_none")]
        held: Option<String> = need.held.as_ref().map(|held| held.title.clone()),
        /// At the pattern's gauge.
        at_pattern_gauge: AmountFields = AmountFields::of(&need.at_pattern_gauge),
        /// With all counts of the pattern.
        counts_kept: AmountFields = AmountFields::of(&need.counts_kept),
        /// With the stitches of the pattern, worked until it measures.
        stitches_kept: AmountFields = AmountFields::of(&need.stitches_kept),
        /// With counts that keep the size.
        size_kept: AmountFields = AmountFields::of(&need.size_kept),
        /// With the counts of the size to knit instead.
        instead: Option<AmountFields> = need.instead.as_ref().map(AmountFields::of),
    }
}

fields_of! {
    /// How much yarn.
    AmountFields(bought: &Purchase) {
        /// Metres of yarn needed, all strands, without spare.
        need_m: f64 = bought.need.buy_for.as_metres(),
        /// Whole skeins to buy, spare included.
        skeins: u32 = bought.skeins,
    }
}

fields_of! {
    /// What washing does to the fabric.
    GrowthFields(growth: &Growth) {
        /// Width after / before washing.
        across: f64 = growth.growth.across,
        /// Height after / before washing, where it is known.
        along: Option<f64> = growth.growth.along,
        /// Where that comes from.
        source: String = words::growth_source(growth),
        /// The gauge before washing that it was applied to.
        applied_to: Option<String> = growth.applied_to.as_ref().map(gauge_words),
    }
}

fields_of! {
    /// Own gauge / label's gauge of your swatches.
    TendencyFields(answer: &GaugeAnswer, style: &Style) where tendency = &answer.tendency; {
        /// How many swatches.
        swatches: u32 = tendency.swatches,
        /// Their mean.
        mean_ratio: Option<f64> = tendency.mean_ratio(),
        /// The same nearer to 1 while swatches are few.
        factor: f64 = tendency.factor(),
        /// Whether your gauge rests on it.
        used: bool = answer.own.source.is_expected(),
        /// All of it in a sentence.
        text: String = words::tendency(answer, style),
    }
}
