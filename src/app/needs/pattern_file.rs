//! Needs that were computed, as a pattern file that can be imported.

use super::{NeedsAnswer, NeedsError, NeedsPatternRequest, NeedsRequest, YarnNeed, computed};
use crate::{
    app::{AppError, FaultKind, InputReader, input::is_given},
    files::{
        needs_file::{NeedsFile, NeedsYarn},
        pattern_file::write_pattern,
    },
    label::cells::{self, Step},
    record::{Fit, Need, Pattern, PatternYarn, Printed, Purpose, Size},
    words::number,
};

/// What a pattern may be for.
pub fn purposes() -> [&'static str; Purpose::ALL.len()] {
    Purpose::ALL.map(Purpose::name)
}

/// How close a thing may sit.
pub fn fits() -> [&'static str; 3] {
    Fit::ALL.map(Fit::name)
}

impl NeedsPatternRequest {
    /// Refuses what says nothing where no pattern file is asked for.
    pub fn refuse_unused(&self) -> Result<(), AppError> {
        let mut reader = InputReader::default();
        for (field, text) in [("purpose", &self.purpose), ("fit", &self.fit)] {
            if is_given(text) {
                reader.fault(field, FaultKind::OnlyWith("pattern"));
            }
        }
        reader.check()
    }
}

/// The text of a pattern file with the needs of every size and yarn as they are
/// to be stated, and the answer that they are from; `note` words what the file says
/// of that.
pub fn needs_pattern(
    request: &NeedsRequest,
    stated: &NeedsPatternRequest,
    note: impl Fn(&NeedsAnswer) -> String,
) -> Result<(String, NeedsAnswer), AppError> {
    let mut reader = InputReader::default();
    let purpose = reader.required("purpose", &stated.purpose, cells::purpose);
    let fit = reader.required("fit", &stated.fit, cells::fit);
    let (file, answer) = computed(reader, request)?;
    let (purpose, fit) = InputReader::default().checked(purpose.zip(fit))?;
    let notes = note(&answer);
    let pattern = pattern(file, &answer, (purpose, fit), notes)?;
    Ok((write_pattern(&pattern), answer))
}

fn pattern(
    file: NeedsFile,
    answer: &NeedsAnswer,
    (purpose, fit): (Purpose, Fit),
    notes: String,
) -> Result<Pattern, AppError> {
    let sizes = file.sizes.into_iter().map(|name| Size {
        name,
        width: None,
        height: None,
        cast_on: None,
        rows: None,
    });
    let yarns = file.yarns.iter().map(|yarn| role(answer, yarn));
    let pattern = Pattern {
        name: file.pattern,
        purpose,
        fit,
        gauge: file.gauge,
        multiple: None,
        care: None,
        tolerance: None,
        margin_included: Some(answer.stated.margin.as_fraction() > 0.0),
        sizes: sizes.collect(),
        yarns: yarns.collect::<Result<_, AppError>>()?,
        notes,
    };
    Ok(pattern.checked()?)
}

fn role(answer: &NeedsAnswer, yarn: &NeedsYarn) -> Result<PatternYarn, AppError> {
    let of_yarn = answer
        .needs
        .iter()
        .filter(|need| need.yarn == yarn.key.as_str());
    let needs = of_yarn.map(|need| stated_need(need, answer.stated.step, yarn));
    Ok(PatternYarn {
        key: yarn.key.clone(),
        called: yarn.called.clone(),
        reference: yarn.facts.clone(),
        strands: 1,
        held_with: None,
        needs: needs.collect::<Result<_, AppError>>()?,
    })
}

/// What is to be stated, in the unit that it was rounded up in. It is read again,
/// so that the file says what the answer says.
fn stated_need(need: &YarnNeed, step: Step, yarn: &NeedsYarn) -> Result<Printed<Need>, AppError> {
    let (amount, unit) = match step {
        Step::Length(_) => (need.stated_m, "m"),
        Step::Mass(_) => (need.stated_g, "g"),
    };
    let text = [number(amount, 2), unit.to_owned()].join(" ");
    let read = cells::needs(&text, &yarn.facts).map(|reading| reading.value);
    match read.as_deref() {
        Ok([(_, read)]) => Ok(Printed::new(text, *read)),
        _ => {
            let size = need.size.clone();
            Err(NeedsError::NotStated { need: text, size }.into())
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{app::SourceFile, files::pattern_file::read_pattern};

    const WEIGHED: &[u8] = include_bytes!("../../../sample-stash/weighed.toml");

    fn of(step: &str, margin: &str) -> (Pattern, NeedsAnswer) {
        let request = NeedsRequest {
            file: SourceFile {
                name: "weighed.toml".to_owned(),
                bytes: WEIGHED.to_vec(),
            },
            margin: Some(margin.to_owned()),
            step: Some(step.to_owned()),
        };
        let stated = NeedsPatternRequest {
            purpose: Some("garment".to_owned()),
            fit: Some("relaxed".to_owned()),
        };
        let note = |_: &NeedsAnswer| "computed".to_owned();
        let (text, answer) = needs_pattern(&request, &stated, note).unwrap();
        (read_pattern("p", text.as_bytes()).unwrap().pattern, answer)
    }

    #[test]
    fn the_file_reads_back_to_what_the_answer_states() {
        for (step, margin) in [("10 m", "10 %"), ("50 yd", "0 %"), ("25 g", "5 %")] {
            let (pattern, answer) = of(step, margin);
            assert_eq!(pattern.margin_included, Some(margin != "0 %"));
            assert_eq!(pattern.sizes.len(), 3);
            assert!(pattern.gauge.is_some());
            let yarn = &pattern.yarns[0];
            let grist = yarn.reference.grist();
            for (need, line) in yarn.needs.iter().zip(&answer.needs) {
                let metres = need.value.in_metres(grist).unwrap().unwrap();
                let off = metres.buy_for.as_metres() - line.stated_m;
                assert!(off.abs() < 0.006, "{step}: {off}");
            }
        }
    }

    #[test]
    fn what_it_is_for_is_asked_not_guessed() {
        let stated = NeedsPatternRequest::default();
        let error = needs_pattern(&NeedsRequest::default(), &stated, |_| String::new());
        let Err(AppError::Faults(faults)) = error else {
            panic!("{error:?}")
        };
        let fields: Vec<&str> = faults.iter().map(|fault| fault.field.as_str()).collect();
        assert_eq!(fields, ["purpose", "fit"]);
    }
}
