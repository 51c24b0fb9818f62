//! Several leftovers in one piece.

use super::{
    calculator_page::{CalculatorPage, QUESTIONS},
    gauge::hint_of,
};
use crate::{
    app::{self, FormData, PatternChoice, Records, StripesAnswer, StripesRequest},
    web::{
        fields::{pattern_choice, with_pattern},
        form::Form,
        refusal::Refusal,
        visit::{PageResult, Visit},
    },
};

const PAGE: CalculatorPage = CalculatorPage {
    title: "Are these leftovers enough?",
    here: QUESTIONS,
    intro: "Several yarns of your stash in one piece, as in stripes: what they hold together, and whether each of them works.",
    links: &[],
};

pub(super) async fn page(visit: Visit, sent: FormData) -> PageResult {
    let place = ("/stripes", "yarns");
    PAGE.about_pattern((&visit, &sent), place, form, answer)
        .await
}

fn answer(
    records: &Records,
    patterns: &[PatternChoice],
    typed: &FormData,
) -> Result<StripesAnswer, Refusal> {
    let fields = with_pattern(typed, patterns)?;
    let request: StripesRequest = app::from_form(&fields)?;
    Ok(app::stripes(records, &request)?)
}

fn form(patterns: &[PatternChoice]) -> Form {
    Form::asking::<StripesRequest>("stripes", "/stripes", "Count them")
        .replaced(&[("size", "pattern")])
        .change("pattern", |field| {
            field.lead = "Either";
            field.label = "The pattern and size".to_owned();
            field.hint = hint_of(patterns).to_owned();
            field.kind = pattern_choice("Choose one", patterns, true);
        })
        .change("wants", |field| field.lead = "Or")
}
