//! The own gauge: typed, of a kept swatch, or expected from label and habit.

use crate::{
    app::{AppError, GaugeFault, InputReader, question::candidate::Candidate},
    measure::{Gauge, Interval, NeedleSize, Over},
    quantity::{OwnTendency, WashGrowth, own_tendency},
    record::{FlatOrRound, StatedGauge, Stitch, Swatch, YarnFacts},
    store::Reader,
};

/// The own gauge after washing, and where it comes from.
#[derive(Debug, Clone)]
pub struct OwnGauge {
    /// After washing, as far as that can be known.
    pub gauge: Gauge,
    /// Where it comes from.
    pub source: GaugeSource,
    /// What washing did to swatches of the yarn.
    pub growth: Option<Growth>,
    /// Where the swatch was not worked as the pattern is.
    pub differences: Vec<SwatchDifference>,
}

/// Where an own gauge comes from.
#[derive(Debug, Clone)]
pub enum GaugeSource {
    /// It was typed.
    Given {
        /// Whether it was counted after washing, where that is said.
        washed: Option<bool>,
    },
    /// A kept swatch.
    Swatch {
        /// The yarn.
        yarn: String,
        /// Its needle.
        needle: NeedleSize,
        /// The day it was measured.
        measured_on: String,
        /// Whether it was counted after washing.
        washed: bool,
        /// How many swatches it was chosen from.
        of: usize,
    },
    /// The gauge of the label times the own tendency: expected, not measured.
    Label {
        /// The yarn.
        yarn: String,
        /// What the label's gauge is multiplied by.
        factor: f64,
    },
}

impl GaugeSource {
    /// Whether it is only expected, of a label and the own tendency.
    pub fn is_expected(&self) -> bool {
        matches!(self, Self::Label { .. })
    }

    /// Whether it was counted before washing.
    fn is_unwashed(&self) -> bool {
        matches!(
            self,
            Self::Given {
                washed: Some(false)
            } | Self::Swatch { washed: false, .. }
        )
    }
}

/// What washing did to swatches of the yarn.
#[derive(Debug, Clone, Copy)]
pub struct Growth {
    /// The mean of those swatches.
    pub growth: WashGrowth,
    /// How many they are.
    pub swatches: usize,
    /// The gauge before washing that it was applied to.
    pub applied_to: Option<Gauge>,
}

/// Where a swatch was not worked as the pattern is.
#[derive(Debug, Clone)]
pub enum SwatchDifference {
    /// In another stitch; stockinette where none is stated.
    Stitch {
        /// Of the swatch.
        swatch: Option<Stitch>,
        /// Of the pattern's gauge.
        pattern: Option<Stitch>,
    },
    /// Flat instead of in the round, or the other way.
    FlatOrRound {
        /// The swatch.
        swatch: FlatOrRound,
        /// The pattern.
        pattern: FlatOrRound,
    },
    /// With another number of strands.
    Strands {
        /// Held in the swatch.
        swatch: u8,
        /// Held in the pattern.
        pattern: u8,
    },
}

impl OwnGauge {
    /// Whether it was counted before washing and no swatch says what washing does.
    pub fn is_unwashed(&self) -> bool {
        self.source.is_unwashed() && self.growth.is_none()
    }

    /// A gauge as counted, with what washing did to swatches of the yarn: applied to
    /// one from before washing, told beside one from after it.
    fn new(counted: Gauge, source: GaugeSource, growth: Option<Growth>) -> Result<Self, AppError> {
        let applied = growth.filter(|_| source.is_unwashed());
        let gauge = applied.map_or(Ok(counted), |it| it.growth.washed(&counted))?;
        let applied_to = applied.map(|_| counted);
        Ok(Self {
            gauge,
            growth: growth.map(|it| Growth { applied_to, ..it }),
            source,
            differences: Vec::new(),
        })
    }

    /// A gauge as typed, of `candidate` where that is named.
    pub(super) fn given(
        typed: &StatedGauge,
        candidate: Option<&Candidate>,
    ) -> Result<Self, AppError> {
        let swatches = candidate.map_or(&[][..], |candidate| &candidate.swatches);
        let washed = typed.washed;
        let source = GaugeSource::Given { washed };
        Self::new(typed.gauge, source, growth(swatches, None))
    }

    /// The gauge of a kept swatch of the yarn: in the pattern's stitch before any
    /// other, washed before unwashed, of those the one kept last. Without one, that
    /// of the label, where the own tendency may stand in.
    pub(super) fn of_yarn(
        reader: &mut InputReader,
        candidate: &Candidate,
        pattern: (&StatedGauge, u8),
        needle: Option<NeedleSize>,
        tendency: Option<&OwnTendency>,
    ) -> Result<Option<Self>, AppError> {
        let on_needle = |swatch: &&Swatch| needle.is_none_or(|needle| swatch.needle == needle);
        let swatches: Vec<&Swatch> = candidate.swatches.iter().filter(on_needle).collect();
        let in_stitch =
            |swatch: &Swatch| Stitch::is_same(stitch(swatch), pattern.0.stitch.as_ref());
        let best = swatches
            .iter()
            .max_by_key(|swatch| (in_stitch(swatch), swatch.after.is_some()));
        if let Some(swatch) = best {
            let own = Self::of_swatch(candidate, swatch, swatches.len())?;
            let differences = differences(swatch, pattern);
            return Ok(own.map(|own| Self { differences, ..own }));
        }
        let expected = tendency.and_then(|it| of_label(candidate, it).transpose());
        if expected.is_none() {
            let none = GaugeFault::NoSwatch {
                yarn: candidate.title.clone(),
                is_strand: !candidate.ends.is_empty(),
                needle,
            };
            reader.fault("own-gauge", none);
        }
        expected.transpose()
    }

    fn of_swatch(
        candidate: &Candidate,
        swatch: &Swatch,
        of: usize,
    ) -> Result<Option<Self>, AppError> {
        let before = swatch.before.as_ref().map(|before| before.gauge);
        let Some(counted) = swatch.after.or(before) else {
            return Ok(None);
        };
        let source = GaugeSource::Swatch {
            yarn: candidate.title.clone(),
            needle: swatch.needle,
            measured_on: swatch.measured_on.clone(),
            washed: swatch.after.is_some(),
            of,
        };
        let growth = growth(std::slice::from_ref(swatch), None)
            .or_else(|| growth(&candidate.swatches, Some(swatch.needle)));
        Self::new(counted, source, growth).map(Some)
    }
}

fn stitch(swatch: &Swatch) -> Option<&Stitch> {
    swatch.before.as_ref()?.stitch.as_ref()
}

fn differences(swatch: &Swatch, (pattern, strands): (&StatedGauge, u8)) -> Vec<SwatchDifference> {
    let before = swatch.before.as_ref();
    let stitches = (stitch(swatch), pattern.stitch.as_ref());
    let other_stitch =
        (!Stitch::is_same(stitches.0, stitches.1)).then(|| SwatchDifference::Stitch {
            swatch: stitches.0.cloned(),
            pattern: stitches.1.cloned(),
        });
    let ways = before.and_then(|before| before.worked).zip(pattern.worked);
    let worked = ways
        .filter(|(swatch, pattern)| swatch != pattern)
        .map(|(swatch, pattern)| SwatchDifference::FlatOrRound { swatch, pattern });
    let held = swatch.strands();
    let other_strands = (held != strands).then_some(SwatchDifference::Strands {
        swatch: held,
        pattern: strands,
    });
    [other_stitch, worked, other_strands]
        .into_iter()
        .flatten()
        .collect()
}

/// The label's gauge x the own tendency; rows are assumed to follow the stitches.
fn of_label(candidate: &Candidate, tendency: &OwnTendency) -> Result<Option<OwnGauge>, AppError> {
    let Some(label) = candidate.facts.gauge.as_ref() else {
        return Ok(None);
    };
    let label = label.value.gauge.or_over(Over::centimetres(10.0)?);
    let factor = tendency.factor();
    let gauge = Gauge::new(
        label.stitches().map(|count| count * factor),
        label.rows().map(|rows| rows.map(|count| count * factor)),
        label.over(),
    )?;
    let yarn = candidate.title.clone();
    OwnGauge::new(gauge, GaugeSource::Label { yarn, factor }, None).map(Some)
}

/// Mean growth of the swatches measured before and after washing: of those on
/// `needle` where there are any, else of all.
fn growth(swatches: &[Swatch], needle: Option<NeedleSize>) -> Option<Growth> {
    let of = |swatch: &Swatch| WashGrowth::between(&swatch.before.as_ref()?.gauge, &swatch.after?);
    let on_needle = swatches
        .iter()
        .filter(|swatch| needle.is_some_and(|needle| swatch.needle == needle));
    let mut used: Vec<WashGrowth> = on_needle.filter_map(of).collect();
    if used.is_empty() {
        used = swatches.iter().filter_map(of).collect();
    }
    Some(Growth {
        growth: WashGrowth::mean(&used)?,
        swatches: used.len(),
        applied_to: None,
    })
}

/// The tendency over the washed swatches in stockinette whose yarn has a label
/// gauge, of as many strands as the label speaks of.
pub(super) fn tendency(reader: &Reader<'_>) -> Result<OwnTendency, AppError> {
    let ten = Over::centimetres(10.0)?;
    let mut pairs = Vec::new();
    for id in reader.swatched_yarns()? {
        let facts = reader.yarn(id)?.record.facts;
        for kept in reader.swatches_of(id)? {
            pairs.extend(own_and_label(&kept.record, &facts, ten));
        }
    }
    Ok(own_tendency(&pairs))
}

/// Stitches per metre of a swatch, and of the label.
fn own_and_label(swatch: &Swatch, facts: &YarnFacts, ten: Over) -> Option<(f64, Interval<f64>)> {
    let label = &facts.gauge.as_ref()?.value;
    let before = swatch.before.as_ref();
    let held = swatch.strands();
    let plain = before.is_none_or(|before| before.is_stockinette()) && label.is_stockinette();
    if !plain || held != label.strands.unwrap_or(1) {
        return None;
    }
    let own = swatch.after?.or_over(ten).stitches_per_metre()?;
    let label = label.gauge.or_over(ten).stitches_per_metre()?;
    Some((own.middle(), label))
}
