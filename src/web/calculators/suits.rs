//! The other way round: the patterns that a yarn would work for, and what could replace
//! it where patterns call for it.

use super::calculator_page::{CalculatorPage, QUESTIONS, look_up};
use crate::{
    app::{self, AppError, FormData, Records, ReplaceRequest, SuitsRequest},
    report::Render,
    web::{
        form::Form,
        refusal::Refusal,
        visit::{PageResult, Visit},
    },
};

const SUITS: CalculatorPage = CalculatorPage {
    title: "Which of my patterns is this yarn for?",
    here: QUESTIONS,
    intro: "Each of your patterns is judged for one yarn, and your stash counted for each size.",
    links: &[],
};

const REPLACE: CalculatorPage = CalculatorPage {
    title: "What could replace this yarn?",
    here: QUESTIONS,
    intro: "A yarn is discontinued: the best of your stash and of your other yarns, for each pattern that calls for it.",
    links: &[],
};

pub(super) async fn suits(visit: Visit, sent: FormData) -> PageResult {
    let form = Form::asking::<SuitsRequest>("suits", "/suits", "Find patterns");
    let answer = |records: &Records, typed: &FormData| {
        app::suits(records, &app::from_form::<SuitsRequest>(typed)?)
    };
    show(&SUITS, (&visit, &sent), ("/suits", form), answer).await
}

pub(super) async fn replace(visit: Visit, sent: FormData) -> PageResult {
    let form = Form::asking::<ReplaceRequest>("replace", "/replace", "Find others");
    let answer = |records: &Records, typed: &FormData| {
        app::replace(records, &app::from_form::<ReplaceRequest>(typed)?)
    };
    show(&REPLACE, (&visit, &sent), ("/replace", form), answer).await
}

/// The answer with a link at the name of each pattern.
async fn show<A: Render + Send + 'static>(
    page: &CalculatorPage,
    (visit, sent): (&Visit, &FormData),
    (path, form): (&str, Form),
    answer: fn(&Records, &FormData) -> Result<A, AppError>,
) -> PageResult {
    let found = visit.answer(sent, move |records, typed| {
        look_up(records, typed, |records, _, typed| {
            answer(records, typed).map_err(Refusal::from)
        })
    });
    let (patterns, answer) = found.await?;
    let link = |name: &str| format!("{path}?asked=yes&yarn={name}");
    let answer = answer.map(|answer| answer.map_err(|refusal| refusal.linked(link)));
    let links = patterns.iter().map(|pattern| {
        let link = format!("/patterns/{}", pattern.number);
        (pattern.name.clone(), link)
    });
    let names: Vec<(String, String)> = links.collect();
    Ok(page.show(visit, sent, (form, &names), answer, |_| ()))
}
