//! The question and its answer.

mod correct;
mod form;

use super::{
    body::Body,
    fields::{chance_form, is_chance_asked, pattern_number},
    kept_record::refused_form,
    layout::Layout,
    links::{encoded, query_without, yarn_link},
    refusal::{FieldError, Refusal, perhaps},
    visit::{PageResult, Visit},
};
use crate::{
    app::{
        self, AppError, CandidateAnswer, CheckAnswer, FindAnswer, FormData, PatternChoice, Records,
    },
    report::{Render, Style, find_page, in_full_name, yarns_asked},
};
use axum::{http::StatusCode, response::Response};
use form::Question;

/// The page with the question.
pub(super) async fn front(visit: Visit, sent: FormData) -> PageResult {
    let patterns = visit.read(app::pattern_choices).await?;
    let mut body = visit.body();
    body.heading(form::TITLE);
    body.form(&form::question(&patterns).filled(&sent));
    body.part("Something else?");
    body.links(&[
        ("/counter", "At the counter"),
        ("/last", "How far will it go?"),
        ("/skeins", "How many skeins?"),
        ("/gauge", "My gauge is not the pattern's"),
        ("/unlabelled", "A ball without a label"),
        ("/sheet", "A materials sheet"),
        ("/questions", "All tools"),
    ]);
    let mut layout = Layout::new(form::TITLE, "/", &visit.prefs);
    layout.locked = visit.state.sessions.is_some();
    Ok(layout.page(StatusCode::OK, body))
}

/// An answer, or why there is none, with the patterns to choose from.
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
        Ok(answer) => answer_page(&visit, answer, &outcome.patterns, &sent)?,
        Err(refused) => again(&visit, refused, &outcome.patterns, &sent),
    })
}

fn outcome(records: &Records, typed: &FormData) -> Result<Outcome, AppError> {
    let chosen = match pattern_number(typed) {
        Some(number) => app::pattern_choice(records, number)?,
        None => Vec::new(),
    };
    let answer = answer_of(records, &chosen, typed);
    let patterns = app::pattern_choices(records)?;
    Ok(Outcome { patterns, answer })
}

fn answer_of(
    records: &Records,
    patterns: &[PatternChoice],
    typed: &FormData,
) -> Result<Answer, Refusal> {
    Ok(match form::read(typed, patterns)? {
        Question::One(request) => Answer::One(Box::new(app::check(records, &request)?)),
        Question::Best(request) => Answer::Several(app::find_with_map(records, &request)?),
    })
}

fn answer_page(
    visit: &Visit,
    answer: Answer,
    patterns: &[PatternChoice],
    typed: &FormData,
) -> PageResult {
    let mut body = Body::default();
    let style = form::question(&[]).style(&visit.prefs);
    let pattern = pattern_number(typed);
    let linked = |name: &str| pattern.map(|n| (name.to_owned(), format!("/patterns/{n}")));
    let title = match answer {
        Answer::One(answer) => {
            let names = names_in(&answer).into_iter().chain(linked(&answer.pattern));
            let names: Vec<_> = names.collect();
            body.linked(&answer.page(&style), &names);
            format!("{} for {}", yarns_asked(&answer), answer.pattern)
        }
        Answer::Several(answers) => {
            let pattern = answers.first().and_then(|one| linked(&one.pattern));
            several(&answers, pattern, typed, (&mut body, &style))
        }
    };
    let question = asked_again(patterns, typed)?;
    let mut page = visit.body();
    page.beside(body, question);
    Ok(visit.page((&title, "/"), page))
}

/// The question beside its answer: what was read of a text, else what was chosen.
fn asked_again(patterns: &[PatternChoice], typed: &FormData) -> Result<Body, AppError> {
    let mut body = Body::default();
    body.part_at("again", "Ask again");
    if correct::is_read(typed) {
        correct::form(typed, &mut body)?;
        let again = format!("/?{}", query_without(typed, &[]));
        body.links(&[(again, "Change the question")]);
    } else {
        body.form(&form::question(patterns).filled(typed));
    }
    offer_chance(typed, &mut body);
    body.hint("Printed, this page is the answer alone, on one side.");
    Ok(body)
}

/// The chance of running out is shown only to those who ask for it.
fn offer_chance(typed: &FormData, body: &mut Body) {
    body.part_at("running-out", "The chance of running out");
    body.hint(if is_chance_asked(typed) {
        "The chance is above; how it was worked out is at the end of the answer. Choose ‘Not asked’ to leave it out."
    } else {
        "Ask for it here. The answer then lists everything that was assumed."
    });
    body.form(&chance_form(typed));
}

/// Links to the yarns that an answer names and that are in the records.
pub(super) fn names_in(answer: &CheckAnswer) -> Vec<(String, String)> {
    let instead = answer.roles.iter().flat_map(|role| &role.instead);
    let named = instead.map(|found| &found.candidate);
    let asked = answer
        .yarns
        .iter()
        .flat_map(|yarn| match yarn.ends.as_slice() {
            [] => std::slice::from_ref(yarn),
            ends => ends,
        });
    let kept = asked.chain(named).filter(|candidate| candidate.kept);
    kept.map(|candidate| yarn_link(&candidate.title)).collect()
}

fn several(
    answers: &[FindAnswer],
    pattern: Option<(String, String)>,
    typed: &FormData,
    (body, style): (&mut Body, &Style),
) -> String {
    let found = answers.iter().flat_map(|one| {
        let found = one.candidates.iter().chain(&one.without_grist);
        found.map(move |found| (one, found))
    });
    let in_full = found.clone().map(|(one, found)| {
        let role = (answers.len() > 1).then_some(one.role.as_str());
        (in_full_name(found), in_full_link(found, role, typed))
    });
    let found = found.flat_map(|(_, found)| found.each_yarn());
    let found = found.map(|found| found.candidate.title.as_str());
    let mapped = answers.iter().filter_map(|one| one.map.as_ref());
    let mapped = mapped.flat_map(|map| map.yarns.iter().map(|yarn| yarn.title.as_str()));
    let names = found.chain(mapped).map(yarn_link);
    let names = names.chain(pattern).chain(in_full);
    body.linked(&find_page(answers, style), &names.collect::<Vec<_>>());
    let pattern = answers.first().map_or("", |one| one.pattern.as_str());
    format!("Yarns for {pattern}")
}

/// A name that is not known belongs to the field in which it stands.
fn named_for_a_colour(refused: Refusal, typed: &FormData) -> Refusal {
    let each = typed.filled(form::WITH);
    match (refused, each) {
        (Refusal::App(error, _), Some(each)) => {
            let Some(name) = error.yarn_in_doubt().filter(|name| each.contains(*name)) else {
                return error.into();
            };
            let rest = query_without(typed, &[form::WITH]);
            let links = perhaps(&error, |meant| {
                let each = encoded(&each).replacen(&encoded(name), meant, 1);
                format!("/answer?{rest}&{}={each}", form::WITH)
            });
            let fault = FieldError::new(form::WITH, error.to_string());
            Refusal::Page(FieldError { links, ..fault })
        }
        (refused, _) => refused,
    }
}

/// Fields that say which yarn is asked about.
const YARN_FIELDS: [&str; 3] = ["yarn", "second-yarn", "third-yarn"];

/// Fields of a list that an answer about one of it does without.
const LIST_FIELDS: [&str; 5] = ["offered", "together", "band", "strands", form::WITH];

/// The same question about what one line of a list holds.
fn in_full_link(found: &CandidateAnswer, role: Option<&str>, typed: &FormData) -> String {
    let ends = match found.candidate.ends.as_slice() {
        [] => std::slice::from_ref(&found.candidate),
        ends => ends,
    };
    let strands = ends.iter().flat_map(|end| {
        let held = usize::from(end.strands_held());
        std::iter::repeat_n(encoded(&end.title), held)
    });
    let yarns = YARN_FIELDS.iter().zip(strands);
    let yarns: String = yarns
        .map(|(field, yarn)| format!("&{field}={yarn}"))
        .collect();
    let strands = match found.plan.strands {
        1 => String::new(),
        n => format!("&strands={n}"),
    };
    let of = role.map(|key| format!("&for={}", encoded(key)));
    let mut left_out = [&YARN_FIELDS[..], &LIST_FIELDS[..]].concat();
    left_out.extend(of.as_ref().map(|_| "for"));
    let rest = query_without(typed, &left_out);
    format!(
        "/answer?{rest}&offered=one{yarns}{strands}{}",
        of.unwrap_or_default()
    )
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
        (form::TITLE, form)
    };
    let refused = named_for_a_colour(refused, typed);
    let rest = query_without(typed, &["yarn", "offered"]);
    let refused = refused.linked(|name| format!("/answer?{rest}&offered=one&yarn={name}"));
    let (status, form, mut body) = refused_form(visit, form, Some(refused));
    body.heading(heading);
    body.form(&form);
    visit.page_of(status, (form::TITLE, "/"), body)
}
