//! The question and its answer.

mod correct;
mod form;
mod request;

use super::{
    body::Body,
    fields::{chance_form, is_chance_asked, pattern_number},
    layout::Layout,
    links::query_without,
    preferences::Preferences,
    refusal::{ErrorPage, Refusal},
    state::AppState,
};
use crate::{
    app::{self, AppError, CheckAnswer, FindAnswer, FormData, PatternChoice, Records},
    report::{Page, Render, Style, places},
};
use axum::{extract::State, response::Response};
use request::Question;
use std::sync::Arc;

/// The page with the question.
pub(super) async fn front(
    State(state): State<Arc<AppState>>,
    prefs: Preferences,
    sent: FormData,
) -> Result<Response, ErrorPage> {
    let patterns = state.read(app::pattern_choices).await??;
    let locked = state.access.is_some();
    let form = form::question(&patterns).filled(&sent);
    let mut body = Body::default();
    body.heading("What yarn would do?");
    body.form(&form);
    body.part("Something else?");
    body.said("Will it last, a ball without a label, another gauge, how many skeins, a sheet for a pattern of your own:");
    body.links(&[("/questions".to_owned(), "More questions")]);
    Ok(Layout::new("Ask", "/", &prefs).locked(locked).ok(body))
}

/// An answer; or why there is none, with the patterns to choose from then.
struct Outcome {
    patterns: Vec<PatternChoice>,
    answer: Result<Answer, Refusal>,
}

/// An answer about one yarn, or the best of many for each part of a pattern.
enum Answer {
    One(Box<CheckAnswer>),
    Several(Vec<FindAnswer>),
}

/// The answer, or the question again with what is wrong with it.
pub(super) async fn answer(
    State(state): State<Arc<AppState>>,
    prefs: Preferences,
    sent: FormData,
) -> Result<Response, ErrorPage> {
    let typed = sent.clone();
    let outcome = state.read(move |records| outcome(records, &sent)).await??;
    Ok(match outcome.answer {
        Ok(answer) => answer_page(answer, &typed, &prefs)?,
        Err(refused) => again(refused, &outcome.patterns, &typed, &prefs),
    })
}

fn outcome(records: &Records, typed: &FormData) -> Result<Outcome, AppError> {
    let chosen = match pattern_number(typed) {
        Some(number) => app::pattern_choice(records, number)?,
        None => Vec::new(),
    };
    let answer = answer_of(records, &chosen, typed);
    // All of them are shown only where the question is asked again.
    let patterns = match &answer {
        Ok(_) => Vec::new(),
        Err(_) => app::pattern_choices(records)?,
    };
    Ok(Outcome { patterns, answer })
}

fn answer_of(
    records: &Records,
    patterns: &[PatternChoice],
    typed: &FormData,
) -> Result<Answer, Refusal> {
    Ok(match request::question(typed, patterns)? {
        Question::One(request) => Answer::One(Box::new(app::check(records, &request)?)),
        Question::Best(request) => Answer::Several(app::find(records, &request)?),
    })
}

fn answer_page(
    answer: Answer,
    typed: &FormData,
    prefs: &Preferences,
) -> Result<Response, ErrorPage> {
    let mut body = Body::default();
    let style = form::question(&[]).style(prefs);
    let title = match answer {
        Answer::One(answer) => {
            body.written(&answer.page(&style));
            format!("{} for {}", answer.candidate.title, answer.pattern)
        }
        Answer::Several(answers) => several(&answers, &mut body, &style),
    };
    offer_chance(typed, &mut body);
    body.part_at("correct", "Ask again");
    body.hint("Printed, this page is the answer alone, on one side.");
    correct::form(typed, &mut body)?;
    body.links(&[(
        format!("/?{}", query_without(typed, &[])),
        "Change the question",
    )]);
    Ok(Layout::new(&title, "/", prefs).ok(body))
}

/// The chance of running out is told only to those who ask for it.
fn offer_chance(typed: &FormData, body: &mut Body) {
    body.part_at("running-out", "The chance of running out");
    body.hint(match is_chance_asked(typed) {
        true => "It stands above, and what it counts with under Working. Choose ‘Not asked’ to leave it out.",
        false => "It is not counted unless you ask. What is taken as uncertain is then named, each with its basis.",
    });
    body.form(&chance_form(typed));
}

fn several(answers: &[FindAnswer], body: &mut Body, style: &Style) -> String {
    let title = match answers {
        [one] => format!("Yarns for {}", one.pattern),
        _ => {
            let title = "Yarns for each part of the pattern";
            body.heading(title);
            title.to_owned()
        }
    };
    let pages: Vec<Page> = answers.iter().map(|answer| answer.page(style)).collect();
    let pictures: Vec<String> = (1..).zip(answers).map(|(n, one)| places(one, n)).collect();
    body.drawn(&pages, &pictures);
    title
}

fn again(
    refused: Refusal,
    patterns: &[PatternChoice],
    typed: &FormData,
    prefs: &Preferences,
) -> Response {
    let corrected = correct::is_corrected(typed);
    let form = match corrected {
        true => correct::as_typed(typed),
        false => form::question(patterns).filled(typed),
    };
    let rest = query_without(typed, &["yarn", "offered"]);
    let refused = refused.linked(|name| format!("/answer?{rest}&offered=one&yarn={name}"));
    let (status, found) = refused.found(&form.style(prefs));
    let (form, told) = form.marked(found);
    let mut body = Body::default();
    body.faults(&told);
    body.heading(if corrected {
        "Correct what was read"
    } else {
        "What yarn would do?"
    });
    body.form(&form);
    Layout::new("Ask", "/", prefs).page(status, body)
}
