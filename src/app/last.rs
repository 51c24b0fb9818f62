//! Whether what is left of a yarn lasts.

use super::{
    AppError,
    heard::Heard,
    row_course::{RowShape, above_zero, course, shape_words},
    together::{not_both, only_with},
    weighings::{Weighing, labelled},
};
use crate::{
    label::cells::{self, Step},
    measure::{Grist, Mass},
    quantity::{Doubt, Estimate, Measurement, RemainingYarn, RowUse},
    record::YarnFacts,
    report::{LastReport, Lasts, Range},
    words::number,
};

/// Weighings and rows; masses and lengths as typed.
#[derive(Debug, Clone, Default)]
pub struct LastRequest {
    /// Mass before.
    pub before: Option<String>,
    /// Mass on the label, where it was not weighed before.
    pub label: Option<String>,
    /// What a row takes now, where that is known otherwise.
    pub row_takes: Option<String>,
    /// Mass left now.
    pub left: String,
    /// Rows worked since `before`.
    pub rows: Option<f64>,
    /// Rows still to work.
    pub rows_left: Option<f64>,
    /// How they go on.
    pub shape: RowShape,
    /// Rows of a triangle that are done.
    pub rows_done: Option<f64>,
    /// Stitches in a row now.
    pub stitches: Option<f64>,
    /// Stitches gained or lost with each row.
    pub each: Option<f64>,
    /// What is kept for the bind-off.
    pub keep: Option<String>,
    /// Mass of the core that is weighed with the yarn.
    pub tare: Option<String>,
    /// Put-up or length per mass, for metres.
    pub put_up: Option<String>,
    /// Step of the scale.
    pub scale: Option<String>,
    /// What damp may change.
    pub damp: Option<String>,
}

/// What a row takes, how many rows remain, what is spare, where to stop.
pub fn last(request: &LastRequest) -> Result<LastReport, AppError> {
    agree(request)?;
    let mut heard = Heard::default();
    let weighing = Weighing::read(
        &mut heard,
        request.scale.as_deref(),
        request.damp.as_deref(),
    )?;
    let mut working = weighing.words();
    let put_up = heard.maybe("--put-up", request.put_up.as_deref(), cells::put_up)?;
    let grist = grist_of(put_up)?;
    let grams = |heard: &mut Heard, what: &str, text: Option<&str>| {
        let mass = heard.maybe(what, text, cells::mass)?;
        Ok::<f64, AppError>(mass.map_or(0.0, Mass::as_grams))
    };
    let core = grams(&mut heard, "--tare", request.tare.as_deref())?;
    let keep = grams(&mut heard, "--keep", request.keep.as_deref())?;
    let left = heard.value("--left", cells::mass(&request.left))?;
    if left.as_grams() <= core + keep {
        return Err(AppError::Usage(format!(
            "--left is {} g, and {} g of it are core or kept: nothing is left to knit with",
            number(left.as_grams(), 2),
            number(core + keep, 2)
        )));
    }
    let course = course(request)?;
    let taken = taken(request, &mut heard, &mut working, &weighing, core, grist)?;
    used_something(&taken, left)?;
    let remaining = RemainingYarn {
        taken,
        left: weighing.weighed(left, core),
        kept: core + keep,
        course,
    };
    working.extend(shape_words(request.shape));
    Ok(report(
        request,
        &remaining,
        grist,
        keep,
        working,
        heard.warnings,
    ))
}

/// Nothing that was typed is left unused.
fn agree(request: &LastRequest) -> Result<(), AppError> {
    let before = ("--before", request.before.is_some());
    let label = ("--label", request.label.is_some());
    let row_takes = ("--row-takes", request.row_takes.is_some());
    not_both(before, label)?;
    not_both(before, row_takes)?;
    not_both(label, row_takes)?;
    let changes = matches!(request.shape, RowShape::Crescent | RowShape::Yoke);
    let each = ("--each", request.each.is_some());
    only_with(each, ("a crescent or a yoke", changes), "choose the shape")?;
    let triangle = ("a triangle", request.shape == RowShape::Triangle);
    let done = ("--rows-done", request.rows_done.is_some());
    only_with(done, triangle, "choose the shape")
}

fn taken(
    request: &LastRequest,
    heard: &mut Heard,
    working: &mut Vec<String>,
    weighing: &Weighing,
    core: f64,
    grist: Option<Grist>,
) -> Result<RowUse, AppError> {
    if let Some(step) = heard.maybe("--row-takes", request.row_takes.as_deref(), cells::step)? {
        let grams = match (step, grist) {
            (Step::Mass(mass), _) => mass,
            (Step::Length(length), Some(grist)) => length.mass_at(grist)?,
            (Step::Length(_), None) => {
                return Err(AppError::Usage(
                    "--row-takes is a length: add --put-up, as in `--put-up \"230 m/100 g\"`"
                        .to_owned(),
                ));
            }
        };
        working.push("What a row takes is your own figure, taken as exact.".to_owned());
        return Ok(RowUse::Row(Measurement::exactly(grams.as_grams())));
    }
    let before = heard.maybe("--before", request.before.as_deref(), cells::mass)?;
    let label = heard.maybe("--label", request.label.as_deref(), cells::mass)?;
    let rows = request.rows.ok_or_else(|| {
        AppError::Usage("give --rows, the rows worked since it was weighed before".to_owned())
    });
    let before = match (before, label) {
        (Some(before), _) => weighing.weighed(before, core),
        (None, Some(label)) => {
            let (mut known, words) = labelled(label, core)?;
            known.doubts.push(Doubt::Within(
                weighing.damp.as_fraction() * label.as_grams(),
            ));
            working.push(words);
            known
        }
        (None, None) => {
            return Err(AppError::Usage(
                "give what it weighed before: --before, or --label where it was not weighed; or --row-takes".to_owned(),
            ));
        }
    };
    Ok(RowUse::Weighed {
        before,
        rows: above_zero("--rows", rows?)?,
    })
}

/// Length per mass of a put-up that was given for metres.
fn grist_of(put_up: Option<YarnFacts>) -> Result<Option<Grist>, AppError> {
    let Some(put_up) = put_up else {
        return Ok(None);
    };
    let grist = put_up.grist();
    grist.map(Some).ok_or_else(|| {
        AppError::Usage(
            "--put-up gives no length per mass: write both, as in `125 m/50 g`".to_owned(),
        )
    })
}

fn used_something(taken: &RowUse, left: Mass) -> Result<(), AppError> {
    match taken {
        RowUse::Weighed { before, .. } if before.value <= left.as_grams() => {
            Err(AppError::Usage(format!(
                "nothing was used: {} g before and {} g now",
                number(before.value, 2),
                number(left.as_grams(), 2)
            )))
        }
        _ => Ok(()),
    }
}

fn report(
    request: &LastRequest,
    remaining: &RemainingYarn,
    grist: Option<Grist>,
    keep: f64,
    mut working: Vec<String>,
    warnings: Vec<String>,
) -> LastReport {
    let rows = remaining.rows_left();
    let spare = request.rows_left.map(|rows| remaining.spare(rows));
    let metres = |grams: f64| grist.map(|grist| grams * grist.as_metres_per_gram());
    working.push(
        "Intervals hold the truth 95 times in 100 where the doubts named here are all there are."
            .to_owned(),
    );
    let done = (request.shape == RowShape::Triangle).then_some(remaining.course.now);
    let share = done
        .zip(request.rows_left)
        .map(|(done, left)| done / (done + left));
    LastReport {
        left_g: remaining.left.value - remaining.kept,
        left_m: metres(remaining.left.value - remaining.kept),
        keep_g: keep,
        row_now_g: remaining.row_now().value,
        row_now_m: metres(remaining.row_now().value),
        rows_remain: range(rows),
        stop_after_rows: rows.low.floor().max(0.0),
        ends_after_rows: remaining.course.ends_after(),
        rows_left: request.rows_left,
        takes_g: request.rows_left.map(|rows| remaining.takes(rows).value),
        takes_m: request
            .rows_left
            .and_then(|rows| metres(remaining.takes(rows).value)),
        spare_g: spare.map(range),
        spare_m: spare
            .zip(grist)
            .map(|(spare, grist)| range(spare).times(grist.as_metres_per_gram())),
        spare_rows: request.rows_left.map(|left| range(rows).less(left)),
        lasts: spare.map(|spare| match spare {
            spare if spare.low >= 0.0 => Lasts::Yes,
            spare if spare.high < 0.0 => Lasts::No,
            _ => Lasts::TooClose,
        }),
        rows_done_percent: share.map(|share| share * 100.0),
        yarn_done_percent: share.map(|share| share * share * 100.0),
        working,
        warnings,
    }
}

/// A figure with its interval, for a report.
pub(super) fn range(figure: Estimate) -> Range {
    Range {
        value: figure.value,
        low: figure.low,
        high: figure.high,
    }
}
