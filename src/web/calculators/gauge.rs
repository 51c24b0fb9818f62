//! My gauge is not the pattern's.

use super::calculator_page::{CalculatorPage, QUESTIONS, in_its_field};
use crate::{
    app::{self, FormData, GaugeAnswer, GaugeRequest, PatternChoice, Records},
    web::{
        fields::{HELD_WITH, held_with, pattern_choice, with_each_held, with_pattern},
        form::Form,
        refusal::Refusal,
        visit::{PageResult, Visit},
    },
};

/// The fields in which yarns are named.
const YARNS: [&str; 3] = ["yarn", HELD_WITH[0], HELD_WITH[1]];

const PAGE: CalculatorPage = CalculatorPage {
    title: "My gauge is not the pattern's",
    here: QUESTIONS,
    intro: "How big each size comes out, which size or counts to knit instead, and how much yarn you need.",
    links: &[],
};

pub(super) async fn page(visit: Visit, sent: FormData) -> PageResult {
    let place = ("/gauge", "yarn");
    PAGE.about_pattern((&visit, &sent), place, form, answer)
        .await
}

/// One choice stands for pattern and size, and the yarn's swatches count where no
/// gauge is written beside its name.
fn answer(
    records: &Records,
    patterns: &[PatternChoice],
    typed: &FormData,
) -> Result<GaugeAnswer, Refusal> {
    let mut fields = with_pattern(typed, patterns)?;
    if typed.filled("own-gauge").is_none() {
        fields.set("swatch-of", typed.text("yarn"));
        fields.set("yarn", "");
    }
    let mut request: GaugeRequest = app::from_form(&fields)?;
    request.held_with = held_with(typed);
    let answer = app::gauge(records, &request);
    answer.map_err(|error| in_its_field(error.into(), typed, ("/gauge", &YARNS)))
}

fn form(patterns: &[PatternChoice]) -> Form {
    with_each_held(Form::asking::<GaugeRequest>("gauge", "/gauge", "Show my sizes"))
        .replaced(&[("swatch-of", "yarn"), ("size", "pattern")])
        .change("pattern", |field| {
            field.label = "The pattern and size".to_owned();
            field.hint = hint_of(patterns).to_owned();
            field.kind = pattern_choice("Choose one", patterns, true);
        })
        .change("yarn", |field| {
            field.label = "The yarn you knit with".to_owned();
            field.hint = "Your swatches of it count, unless you write a gauge below. Leave it empty for any yarn.".to_owned();
        })
}

/// What stands below a list of patterns.
pub(super) fn hint_of(patterns: &[PatternChoice]) -> &'static str {
    if patterns.is_empty() {
        "You have no patterns yet: add one under Patterns first."
    } else {
        ""
    }
}
