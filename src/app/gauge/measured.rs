//! The own gauge: typed, of a kept swatch, or expected from label and habit.

use super::super::{AppError, question::candidate::Candidate};
use crate::{
    measure::{Gauge, NeedleSize, Over},
    quantity::{OwnTendency, WashGrowth},
    record::{StatedGauge, Stitch, Swatch},
    report::{GrowthLine, gauge_words},
    words::number,
};

/// The own gauge after washing, and how it was come by.
#[derive(Debug)]
pub(super) struct Measured {
    pub(super) gauge: Gauge,
    pub(super) source: String,
    pub(super) growth: Option<Growth>,
    pub(super) tendency_used: bool,
    pub(super) notes: Vec<String>,
    pub(super) warnings: Vec<String>,
}

/// What washing did to swatches of the yarn.
#[derive(Debug)]
pub(super) struct Growth {
    pub(super) growth: WashGrowth,
    pub(super) source: String,
    /// The gauge before washing that it was applied to.
    pub(super) applied_to: Option<Gauge>,
}

impl Growth {
    /// As a line of the report.
    pub(super) fn line(&self) -> GrowthLine {
        GrowthLine {
            across: self.growth.across,
            along: self.growth.along,
            source: self.source.clone(),
            applied_to: self.applied_to.as_ref().map(gauge_words),
        }
    }
}

impl Measured {
    fn new(gauge: Gauge, source: String) -> Self {
        Self {
            gauge,
            source,
            growth: None,
            tendency_used: false,
            notes: Vec::new(),
            warnings: Vec::new(),
        }
    }

    /// Expects the growth of the yarn's swatches of a gauge before washing.
    fn washed(mut self, swatches: &[Swatch], needle: Option<NeedleSize>) -> Result<Self, AppError> {
        match growth(swatches, needle) {
            Some(found) => {
                let before = self.gauge;
                self.gauge = found.growth.washed(&before)?;
                self.growth = Some(Growth {
                    applied_to: Some(before),
                    ..found
                });
            }
            None => self.warnings.push(
                "This gauge was counted before washing, and no swatch of the yarn is kept before and after: wash it, dry it and count again.".to_owned(),
            ),
        }
        Ok(self)
    }
}

/// A gauge as typed, of `candidate` where that is named.
pub(super) fn of_typed(
    typed: &StatedGauge,
    candidate: Option<&Candidate>,
) -> Result<Measured, AppError> {
    if typed.gauge.over().is_none() {
        return Err(AppError::Usage(
            "--own-gauge does not say over what length: add `/ 10 cm` or `/ 4 in`".to_owned(),
        ));
    }
    let mut measured = Measured::new(typed.gauge, "the gauge you gave".to_owned());
    let swatches = candidate.map_or(&[][..], |candidate| &candidate.swatches);
    match typed.washed {
        Some(false) => return measured.washed(swatches, None),
        Some(true) => {}
        None => measured.notes.push(
            "The gauge you gave is taken as counted after washing; write `before washing` where it was not.".to_owned(),
        ),
    }
    measured.growth = growth(swatches, None);
    Ok(measured)
}

/// The gauge of a kept swatch of the yarn: in the pattern's stitch before any
/// other, washed before unwashed, of those the one kept last.
pub(super) fn of_swatch(
    candidate: &Candidate,
    pattern: &StatedGauge,
    strands: u8,
    needle: Option<NeedleSize>,
    tendency: Option<&OwnTendency>,
) -> Result<Measured, AppError> {
    let on_needle = |swatch: &&Swatch| needle.is_none_or(|needle| swatch.needle == needle);
    let swatches: Vec<&Swatch> = candidate.swatches.iter().filter(on_needle).collect();
    let in_stitch = |swatch: &Swatch| Stitch::is_same(stitch(swatch), pattern.stitch.as_ref());
    let best = swatches
        .iter()
        .max_by_key(|swatch| (in_stitch(swatch), swatch.after.is_some()));
    let Some(swatch) = best else {
        return of_label(candidate, needle, tendency);
    };
    let source = format!(
        "your swatch of {} on {} mm, {}",
        candidate.title,
        number(swatch.needle.as_millimetres(), 2),
        swatch.measured_on
    );
    let mut measured = chosen(swatch, &candidate.swatches, source)?;
    measured.warnings.extend(differs(swatch, pattern, strands));
    if swatches.len() > 1 {
        measured.notes.push(format!(
            "{} swatches of it are kept: one in the pattern's stitch goes before others, a washed one before unwashed ones, then the one kept last. Choose the needle with --needle.",
            swatches.len()
        ));
    }
    Ok(measured)
}

fn chosen(swatch: &Swatch, all: &[Swatch], source: String) -> Result<Measured, AppError> {
    let before = swatch.before.as_ref().map(|before| before.gauge);
    match (swatch.after, before) {
        (Some(after), _) => {
            let mut measured = Measured::new(after, format!("{source}, after washing"));
            measured.growth = growth(std::slice::from_ref(swatch), None)
                .or_else(|| growth(all, Some(swatch.needle)));
            Ok(measured)
        }
        (None, Some(before)) => Measured::new(before, format!("{source}, before washing"))
            .washed(all, Some(swatch.needle)),
        (None, None) => Err(AppError::Usage(
            "the swatch states no gauge: keep it again with --before or --after".to_owned(),
        )),
    }
}

fn stitch(swatch: &Swatch) -> Option<&Stitch> {
    swatch.before.as_ref()?.stitch.as_ref()
}

/// Where the swatch was not worked as the pattern is.
fn differs(swatch: &Swatch, pattern: &StatedGauge, strands: u8) -> Vec<String> {
    let mut told = Vec::new();
    if !Stitch::is_same(stitch(swatch), pattern.stitch.as_ref()) {
        let name = |stitch: Option<&Stitch>| {
            stitch
                .map_or("stockinette (none is stated)", Stitch::name)
                .to_owned()
        };
        told.push(format!(
            "The swatch is in {}, the pattern's gauge in {}: swatch in the pattern's stitch.",
            name(stitch(swatch)),
            name(pattern.stitch.as_ref())
        ));
    }
    let before = swatch.before.as_ref();
    let ways = before.and_then(|before| before.worked).zip(pattern.worked);
    if let Some((mine, theirs)) = ways.filter(|(mine, theirs)| mine != theirs) {
        told.push(format!(
            "The swatch was worked {}, the pattern is worked {}: gauge can differ between the two.",
            mine.name(),
            theirs.name()
        ));
    }
    let held = before.and_then(|before| before.strands).unwrap_or(1);
    if held != strands {
        told.push(format!(
            "The swatch holds {}, the pattern {strands}: swatch with as many.",
            crate::words::count_of(f64::from(held), "strand")
        ));
    }
    told
}

/// The label's gauge x the own tendency, only where that was asked for.
fn of_label(
    candidate: &Candidate,
    needle: Option<NeedleSize>,
    tendency: Option<&OwnTendency>,
) -> Result<Measured, AppError> {
    let label = candidate
        .facts
        .gauge
        .as_ref()
        .map(|gauge| gauge.value.gauge);
    let on = needle.map_or_else(String::new, |needle| {
        format!(" on {} mm", number(needle.as_millimetres(), 2))
    });
    let (Some(label), Some(tendency)) = (label, tendency) else {
        return Err(AppError::Usage(format!(
            "no swatch of {}{on} is kept: keep one with `swatch add`, give --own-gauge, or let its label and your tendency stand in with --own-tendency",
            candidate.title
        )));
    };
    let label = label.or_over(Over::centimetres(10.0)?);
    let factor = tendency.factor();
    let gauge = Gauge::new(
        label.stitches().map(|count| count * factor),
        label.rows().map(|rows| rows.map(|count| count * factor)),
        label.over(),
    )?;
    let mut measured = Measured::new(
        gauge,
        format!(
            "expected: the label gauge of {} x {} (your tendency)",
            candidate.title,
            number(factor, 4)
        ),
    );
    measured.tendency_used = true;
    measured
        .notes
        .push("The tendency is one of stitches; rows are taken to follow it.".to_owned());
    measured.warnings.push(
        "This gauge is expected from a label, not measured: swatch before you rely on it."
            .to_owned(),
    );
    Ok(measured)
}

/// Mean growth of the swatches measured before and after washing: of those on
/// `needle` where there are any, else of all.
fn growth(swatches: &[Swatch], needle: Option<NeedleSize>) -> Option<Growth> {
    let both: Vec<(&Swatch, WashGrowth)> = swatches
        .iter()
        .filter_map(|swatch| {
            let growth = WashGrowth::between(&swatch.before.as_ref()?.gauge, &swatch.after?)?;
            Some((swatch, growth))
        })
        .collect();
    let on_needle: Vec<WashGrowth> = both
        .iter()
        .filter(|(swatch, _)| needle.is_some_and(|needle| swatch.needle == needle))
        .map(|(_, growth)| *growth)
        .collect();
    let used = match on_needle.is_empty() {
        true => both.iter().map(|(_, growth)| *growth).collect(),
        false => on_needle,
    };
    let count = f64::from(u32::try_from(used.len()).ok()?);
    Some(Growth {
        growth: WashGrowth::mean(&used)?,
        source: format!(
            "{} measured before and after",
            crate::words::count_of(count, "swatch")
        ),
        applied_to: None,
    })
}
