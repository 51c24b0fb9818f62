//! A pattern at a gauge that is not its own: what each size comes out at, which
//! size or which counts to knit instead, and what that takes.

mod measured;
mod needs;
mod sizes;
mod tendency;

use super::{
    AppError, InputReader, QuestionRequest, Records,
    question::{Asked, candidate::Candidate, own_gauge, resolve},
    strictness::margin,
};
use crate::{
    label::cells,
    measure::{Gauge, NeedleSize, Over},
    quantity::GaugeRatio,
    record::{Multiple, Pattern, StatedGauge},
    report::{GaugeReport, Style, gauge_words, working_sentences},
    words::number,
};
use measured::{Measured, of_swatch, of_typed};
use sizes::Resized;

/// A pattern and a gauge, as typed.
#[derive(Debug, Clone, Default)]
pub struct GaugeRequest {
    /// Name of a kept pattern.
    pub pattern: String,
    /// A kept yarn whose swatch counts.
    pub swatch_of: Option<String>,
    /// The needle of that swatch, where several are kept.
    pub needle: Option<String>,
    /// A gauge, where no kept swatch is meant.
    pub own_gauge: Option<String>,
    /// The yarn that a typed gauge is of.
    pub yarn: Option<String>,
    /// Key of the only yarn role that is asked about.
    pub role: Option<String>,
    /// The only size that is asked about.
    pub size: Option<String>,
    /// Margin beyond the need.
    pub margin: Option<String>,
    /// Whether the own tendency against labels stands in for a swatch.
    pub own_tendency: bool,
}

/// What the pattern comes to at that gauge.
pub fn gauge(records: &Records, request: &GaugeRequest) -> Result<GaugeReport, AppError> {
    let pattern = records.pattern_named(&request.pattern)?.record;
    let mut reader = InputReader::default();
    let asked = resolve(&mut reader, &question(request), Some(&pattern))?;
    let needle = reader.optional("needle", request.needle.as_deref(), cells::needle);
    let own = reader.optional("own-gauge", request.own_gauge.as_deref(), cells::gauge);
    let mut asked = reader.checked(asked)?;
    asked.own_gauge = own.map(|own| own_gauge(own, &asked.roles));
    let stated = pattern_gauge(&pattern, &mut asked.warnings)?;
    let yarn = request.swatch_of.as_ref().or(request.yarn.as_ref());
    let candidate = yarn
        .map(|yarn| records.candidate(yarn, false, &mut reader))
        .transpose()?;
    let tendency = tendency::tendency(&records.store()?.reader()?)?;
    let used = request.own_tendency.then_some(&tendency);
    let measured = measured(&asked, candidate.as_ref(), &stated, needle, used)?;
    asked.warnings.extend(Style::default().notes(&reader.notes));
    let multiple = pattern.multiple.as_ref().map(|multiple| multiple.value);
    let resized = Resized {
        sizes: &pattern.sizes,
        pattern: &stated.gauge,
        own: &measured.gauge,
        ratio: GaugeRatio::between(&measured.gauge, &stated.gauge)
            .ok_or_else(|| AppError::Usage("the two gauges cannot be compared".to_owned()))?,
        multiple: multiple.unwrap_or(Multiple::ANY),
        growth: measured.growth.as_ref().map(|found| found.growth),
    };
    let mut report = GaugeReport {
        pattern: pattern.name.to_string(),
        pattern_gauge: gauge_words(&stated.gauge),
        tendency: tendency::line(&tendency, measured.tendency_used),
        ..answer(&asked, candidate.as_ref(), &measured, &resized)?
    };
    let mut working = Vec::new();
    margin(
        &mut reader,
        request.margin.as_deref(),
        Some(&pattern),
        &mut working,
    );
    report
        .working
        .extend(working_sentences(&working, &Style::default()));
    report.warnings.extend(unknown(&pattern, resized.ratio));
    Ok(report)
}

/// The parts of the report that follow from the two gauges.
fn answer(
    asked: &Asked,
    candidate: Option<&Candidate>,
    measured: &Measured,
    resized: &Resized<'_>,
) -> Result<GaugeReport, AppError> {
    let warnings = asked.warnings.iter().chain(&measured.warnings);
    Ok(GaugeReport {
        yarn: candidate.map(|candidate| candidate.title.clone()),
        own_gauge: gauge_words(&measured.gauge),
        source: measured.source.clone(),
        stitch_ratio: resized.ratio.stitches,
        row_ratio: resized.ratio.rows,
        sizes: resized.lines(&asked.places())?,
        skeins: needs::lines(asked, candidate, resized)?,
        growth: measured.growth.as_ref().map(measured::Growth::line),
        margin_percent: asked.margin.as_percent(),
        working: reckoned(measured, resized.ratio),
        warnings: warnings.cloned().collect(),
        ..GaugeReport::default()
    })
}

fn question(request: &GaugeRequest) -> QuestionRequest {
    QuestionRequest {
        pattern: Some(request.pattern.clone()),
        role: request.role.clone(),
        size: request.size.clone(),
        margin: request.margin.clone(),
        ..QuestionRequest::default()
    }
}

/// The pattern's gauge; one that does not say over what length counts as over
/// 10 cm, with a warning.
fn pattern_gauge(pattern: &Pattern, warnings: &mut Vec<String>) -> Result<StatedGauge, AppError> {
    let Some(stated) = pattern.gauge.as_ref().map(|gauge| gauge.value.clone()) else {
        return Err(AppError::Usage(format!(
            "pattern {} states no gauge: add `gauge = \"22 sts x 30 rows / 10 cm\"` to its file and import it with --update",
            pattern.name
        )));
    };
    if stated.gauge.over().is_none() {
        warnings.push("The pattern's gauge does not say over what length: 10 cm is taken; over 4 in the sizes would be 1.6 % larger.".to_owned());
    }
    let gauge: Gauge = stated.gauge.or_over(Over::centimetres(10.0)?);
    Ok(StatedGauge { gauge, ..stated })
}

fn measured(
    asked: &Asked,
    candidate: Option<&Candidate>,
    pattern: &StatedGauge,
    needle: Option<NeedleSize>,
    tendency: Option<&crate::quantity::OwnTendency>,
) -> Result<Measured, AppError> {
    let strands = asked.roles.first().map_or(1, |role| role.wanted.strands);
    match (&asked.own_gauge, candidate) {
        (Some(typed), candidate) => of_typed(typed, candidate),
        (None, Some(candidate)) => of_swatch(candidate, pattern, strands, needle, tendency),
        (None, None) => Err(AppError::Usage(
            "say which gauge: --swatch-of YARN, or --own-gauge GAUGE".to_owned(),
        )),
    }
}

/// How the answer was reckoned, a sentence each.
fn reckoned(measured: &Measured, ratio: GaugeRatio) -> Vec<String> {
    let rows = ratio.rows.map_or_else(
        || "; rows are not known of both, so the yarn goes with the stitches".to_owned(),
        |rows| format!(", of rows {}", number(rows, 4)),
    );
    let mut told = measured.notes.clone();
    told.push(format!(
        "Own gauge / pattern's gauge: of stitches {}{rows}.",
        number(ratio.stitches, 4)
    ));
    told.push(format!(
        "Yarn per area goes with sqrt(stitches x rows) per area (plain-knit geometry), here {}: counts reworked take so many times the need, counts kept 1 / so many.",
        number(ratio.of_yarn(), 4)
    ));
    told
}

/// What of the sizes cannot be said, and why.
fn unknown(pattern: &Pattern, ratio: GaugeRatio) -> Vec<String> {
    let no_rows = ratio.rows.is_none().then(|| {
        "Heights and row counts are not reckoned: one of the gauges states no rows. Work to the pattern's lengths by tape.".to_owned()
    });
    let no_width = pattern
        .sizes
        .iter()
        .any(|size| size.width.is_none() && size.cast_on.is_none())
        .then(|| "A size without width and cast-on in the pattern is left open.".to_owned());
    no_rows.into_iter().chain(no_width).collect()
}
