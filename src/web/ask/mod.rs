//! The question and its answer.

mod correct;
mod form;
mod request;

use super::{
    body::Body,
    fields::{chance_form, is_chance_asked, pattern_number},
    kept_record::refused_form,
    layout::Layout,
    links::query_without,
    refusal::Refusal,
    visit::{PageResult, Visit},
};
use crate::{
    app::{self, AppError, CheckAnswer, FindAnswer, FormData, PatternChoice, Records},
    report::{Page, Render, Style, places},
};
use axum::{http::StatusCode, response::Response};
use request::Question;

/// The page with the question.
pub(super) async fn front(visit: Visit, sent: FormData) -> PageResult {
    let patterns = visit.read(app::pattern_choices).await?;
    let mut body = visit.body();
    body.heading("Which yarn will work?");
    body.form(&form::question(&patterns).filled(&sent));
    body.part("Something else?");
    body.text("How far will it go, a ball without a label, another gauge, how many balls, a sheet for your own pattern:");
    body.links(&[("/questions", "More questions")]);
    let mut layout = Layout::new("Ask", "/", &visit.prefs);
    layout.locked = visit.state.sessions.is_some();
    Ok(layout.page(StatusCode::OK, body))
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
pub(super) async fn answer(visit: Visit, sent: FormData) -> PageResult {
    let outcome = visit.answer(&sent, outcome).await?;
    Ok(match outcome.answer {
        Ok(answer) => answer_page(&visit, answer, &sent)?,
        Err(refused) => again(&visit, refused, &outcome.patterns, &sent),
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

fn answer_page(visit: &Visit, answer: Answer, typed: &FormData) -> PageResult {
    let mut body = visit.body();
    let style = form::question(&[]).style(&visit.prefs);
    let title = match answer {
        Answer::One(answer) => {
            body.report(&answer.page(&style));
            format!("{} for {}", answer.candidate.title, answer.pattern)
        }
        Answer::Several(answers) => several(&answers, &mut body, &style),
    };
    offer_chance(typed, &mut body);
    body.part_at("correct", "Ask again");
    body.hint("Printed, this page is the answer alone, on one side.");
    correct::form(typed, &mut body)?;
    let again = format!("/?{}", query_without(typed, &[]));
    body.links(&[(again, "Change the question")]);
    Ok(visit.page((&title, "/"), body))
}

/// The chance of running out is told only to those who ask for it.
fn offer_chance(typed: &FormData, body: &mut Body) {
    body.part_at("running-out", "The chance of running out");
    body.hint(if is_chance_asked(typed) {
        "The chance is above; how it was worked out is at the end of the answer. Choose ‘Not asked’ to leave it out."
    } else {
        "Ask for it here. The answer then lists everything that was assumed."
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
    body.reports(&pages, &pictures);
    title
}

fn again(
    visit: &Visit,
    refused: Refusal,
    patterns: &[PatternChoice],
    typed: &FormData,
) -> Response {
    let (heading, form) = if correct::is_corrected(typed) {
        ("Correct what was read", correct::as_typed(typed))
    } else {
        let form = form::question(patterns).filled(typed);
        ("Which yarn will work?", form)
    };
    let rest = query_without(typed, &["yarn", "offered"]);
    let refused = refused.linked(|name| format!("/answer?{rest}&offered=one&yarn={name}"));
    let (status, form, mut body) = refused_form(visit, form, Some(refused));
    body.heading(heading);
    body.form(&form);
    visit.page_of(status, ("Ask", "/"), body)
}
