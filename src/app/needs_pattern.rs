//! Needs that were reckoned, as a pattern file that can be imported.

use super::{
    AppError, NeedsRequest,
    heard::Heard,
    needs::{Reckoned, reckoned},
};
use crate::{
    files::{needs_file::NeedsYarn, pattern_file::write_pattern},
    label::cells::{self, Step},
    record::{Fit, Need, Pattern, PatternYarn, Printed, Purpose, Size},
    report::{NeedsLine, NeedsReport},
    words::number,
};

/// What a pattern file must say and a file of samples does not; as typed.
#[derive(Debug, Clone, Default)]
pub struct WhatFor {
    /// What the pattern is for.
    pub purpose: String,
    /// How close it sits.
    pub fit: String,
}

/// What a pattern may be for.
pub fn purposes() -> [&'static str; 7] {
    Purpose::ALL.map(Purpose::name)
}

/// How close a thing may sit.
pub fn fits() -> [&'static str; 3] {
    Fit::ALL.map(Fit::name)
}

/// The text of a pattern file with the needs of every size and yarn as they are
/// to be stated, and the report that they are from.
pub fn needs_pattern(
    request: &NeedsRequest,
    what_for: &WhatFor,
) -> Result<(String, NeedsReport), AppError> {
    let mut heard = Heard::default();
    let purpose = heard.value("--purpose", cells::purpose(&what_for.purpose))?;
    let fit = heard.value("--fit", cells::fit(&what_for.fit))?;
    let reckoned = reckoned(request)?;
    let pattern = pattern(&reckoned, purpose, fit)?;
    Ok((write_pattern(&pattern), reckoned.report))
}

fn pattern(reckoned: &Reckoned, purpose: Purpose, fit: Fit) -> Result<Pattern, AppError> {
    let file = &reckoned.file;
    let sizes = file.sizes.iter().map(|name| Size {
        name: name.clone(),
        width: None,
        height: None,
        cast_on: None,
        rows: None,
    });
    let yarns = file.yarns.iter().map(|yarn| role(reckoned, yarn));
    let pattern = Pattern {
        name: file.pattern.clone(),
        purpose,
        fit,
        gauge: file.gauge.clone(),
        multiple: None,
        care: None,
        tolerance: None,
        margin_included: Some(reckoned.report.margin_percent > 0.0),
        sizes: sizes.collect(),
        yarns: yarns.collect::<Result<_, AppError>>()?,
        notes: notes(&reckoned.report),
    };
    Ok(pattern.checked()?)
}

fn notes(report: &NeedsReport) -> String {
    format!(
        "The needs are reckoned from what was knitted and weighed, with a margin of {} %.",
        number(report.margin_percent, 2)
    )
}

fn role(reckoned: &Reckoned, yarn: &NeedsYarn) -> Result<PatternYarn, AppError> {
    let lines = reckoned.report.needs.iter();
    let needs = lines
        .filter(|line| line.yarn == yarn.key.as_str())
        .map(|line| need(line, reckoned.stated.step, yarn));
    Ok(PatternYarn {
        key: yarn.key.clone(),
        called: yarn.called.clone(),
        reference: yarn.facts.clone(),
        strands: 1,
        needs: needs.collect::<Result<_, AppError>>()?,
    })
}

/// What is to be stated, in the unit that it was rounded up in. It is read again,
/// so that the file says what the report says.
fn need(line: &NeedsLine, step: Step, yarn: &NeedsYarn) -> Result<Printed<Need>, AppError> {
    let text = match step {
        Step::Length(_) => format!("{} m", number(line.stated_m, 2)),
        Step::Mass(_) => format!("{} g", number(line.stated_g, 2)),
    };
    let needs = Heard::default().value("need", cells::needs(&text, &yarn.facts))?;
    match needs.as_slice() {
        [(_, need)] => Ok(Printed::new(text, *need)),
        _ => Err(AppError::Refused(format!(
            "the need `{text}` of size {} cannot be stated: choose another step",
            line.size
        ))),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::files::pattern_file::read_pattern;

    const WEIGHED: &[u8] = include_bytes!("../../sample-stash/weighed.toml");

    fn of(step: &str, margin: &str) -> (Pattern, NeedsReport) {
        let request = NeedsRequest {
            file: "weighed.toml".to_owned(),
            bytes: WEIGHED.to_vec(),
            margin: Some(margin.to_owned()),
            step: Some(step.to_owned()),
        };
        let what_for = WhatFor {
            purpose: "garment".to_owned(),
            fit: "relaxed".to_owned(),
        };
        let (text, report) = needs_pattern(&request, &what_for).unwrap();
        (read_pattern("p", text.as_bytes()).unwrap().pattern, report)
    }

    #[test]
    fn the_file_reads_back_to_what_the_report_states() {
        for (step, margin) in [("10 m", "10 %"), ("50 yd", "0 %"), ("25 g", "5 %")] {
            let (pattern, report) = of(step, margin);
            assert_eq!(pattern.margin_included, Some(margin != "0 %"));
            assert_eq!(pattern.sizes.len(), 3);
            assert!(pattern.gauge.is_some());
            let yarn = &pattern.yarns[0];
            let grist = yarn.reference.grist();
            for (need, line) in yarn.needs.iter().zip(&report.needs) {
                let metres = need.value.in_metres(grist).unwrap().unwrap();
                let off = metres.buy_for.as_metres() - line.stated_m;
                assert!(off.abs() < 0.006, "{step}: {off}");
            }
        }
    }

    #[test]
    fn what_it_is_for_is_asked_not_guessed() {
        let what_for = WhatFor::default();
        let error = needs_pattern(&NeedsRequest::default(), &what_for).unwrap_err();
        assert!(error.to_string().starts_with("--purpose"), "{error}");
    }
}
