//! Several leftovers in one piece.

use super::{
    calculator_page::{CalculatorPage, QUESTIONS, look_up},
    gauge::hint_of,
};
use crate::{
    app::{self, FormData, PatternChoice, Records, StripesAnswer, StripesRequest},
    web::{
        fields::{pattern_choice, pattern_link, with_pattern},
        form::Form,
        links::query_without,
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
    let found = visit.answer(&sent, |records, typed| look_up(records, typed, answer));
    let (patterns, answer) = found.await?;
    let rest = query_without(&sent, &["yarns"]);
    let link = |name: &str| format!("/stripes?{rest}&yarns={name}");
    let answer = answer.map(|answer| answer.map_err(|refusal| refusal.linked(link)));
    let names: Vec<_> = pattern_link(&sent, &patterns).into_iter().collect();
    Ok(PAGE.show(&visit, &sent, (form(&patterns), &names), answer, |_| ()))
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
