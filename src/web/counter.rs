//! The counter of a shop: one page for a queue of customers. Pattern and size stay,
//! the field for the label waits for the next scan, and the answers before stay below
//! the newest, so that two yarns can be compared. Without script it is a plain form.

use super::{
    ask::names_in,
    body::Body,
    fields::{pattern_choice, with_pattern},
    form::{Field, Form, Head, Kind},
    kept_record::marked_form,
    links::{encoded, query_without},
    refusal::{FieldError, Refusal},
    visit::{PageResult, Visit},
};
use crate::{
    app::{
        self, AppError, CheckAnswer, CheckRequest, FindRequest, FormData, PatternChoice, Records,
        from_form,
    },
    report::{Page, Render},
};
use axum::http::StatusCode;

const HERE: &str = "/counter";
const TITLE: &str = "At the counter";
/// What there is to do, which names the field.
const SCAN: &str = "Scan a ball, or type its barcode or name";
/// The field of the yarns that stay below the newest, one a line, and how many do.
const BEFORE: &str = "before";
const MOST_BEFORE: usize = 4;
/// How many others are offered where one will not work, of all roles together.
const MOST_OTHERS: usize = 3;

/// What there is to show.
struct Queue {
    patterns: Vec<PatternChoice>,
    /// The answer about the newest, where one is asked about.
    newest: Option<Result<Newest, Refusal>>,
    /// Those before, which are left out where they are no longer known.
    before: Vec<CheckAnswer>,
}

struct Newest {
    answer: CheckAnswer,
    /// Names of others, where it will not work.
    others: Vec<String>,
}

pub(super) async fn page(visit: Visit, sent: FormData) -> PageResult {
    let queue = visit.answer(&sent, look_up).await?;
    let (found, newest) = match queue.newest {
        None => (Vec::new(), None),
        Some(Ok(newest)) => (Vec::new(), Some(newest)),
        Some(Err(refusal)) => (refused(refusal, &sent, &visit), None),
    };
    let is_refused = !found.is_empty();
    let status = match is_refused {
        true => StatusCode::UNPROCESSABLE_ENTITY,
        false => StatusCode::OK,
    };
    let form = form(&queue.patterns, &sent, is_refused);
    let style = form.style(&visit.prefs);
    let (form, mut body) = marked_form(&visit, form, found);
    body.heading(TITLE);
    if queue.patterns.is_empty() {
        body.text("The counter answers for a pattern. You have no patterns here yet.");
        body.links(&[("/patterns/new", "Add a pattern")]);
        return Ok(visit.page((TITLE, HERE), body));
    }
    body.form(&form);
    let pages = newest.iter().map(|newest| &newest.answer);
    let pages: Vec<Page> = pages
        .chain(&queue.before)
        .map(|answer| answer.page(&style))
        .collect();
    let others = newest.iter().map(|newest| offer_others(newest, &sent));
    let answers = newest.iter().map(|newest| &newest.answer);
    let names = answers.chain(&queue.before);
    let names: Vec<_> = names.flat_map(names_in).collect();
    if !pages.is_empty() {
        body.stack(&pages, others.collect(), &names);
    }
    Ok(visit.page_of(status, (TITLE, HERE), body))
}

fn look_up(records: &Records, typed: &FormData) -> Result<Queue, AppError> {
    let patterns = app::pattern_choices(records)?;
    let ask = |yarn: &str| check(records, &patterns, typed, yarn);
    let newest = typed.filled("yarn").map(|yarn| {
        let answer = ask(&yarn)?;
        let others = others(records, &patterns, typed, &answer)?;
        Ok(Newest { answer, others })
    });
    let before = typed.text(BEFORE).lines().take(MOST_BEFORE);
    let before = before.filter(|yarn| *yarn != typed.text("yarn").trim());
    let before = before.filter_map(|yarn| ask(yarn).ok()).collect();
    Ok(Queue {
        patterns,
        newest,
        before,
    })
}

fn check(
    records: &Records,
    patterns: &[PatternChoice],
    typed: &FormData,
    yarn: &str,
) -> Result<CheckAnswer, Refusal> {
    let mut fields = question(typed, patterns)?;
    fields.set("yarn", yarn);
    let request: CheckRequest = from_form(&fields)?;
    Ok(app::check(records, &request)?)
}

/// The pattern and the size that are asked about.
fn question(typed: &FormData, patterns: &[PatternChoice]) -> Result<FormData, Refusal> {
    if typed.filled("pattern").is_none() {
        let said = "no pattern is chosen: choose the customer's pattern and size";
        return Err(FieldError::new("pattern", said).into());
    }
    let asked = [("pattern", typed.text("pattern"))].into_iter().collect();
    Ok(with_pattern(&asked, patterns)?)
}

/// Yarns that would work where this one will not: those in the stash, else any.
fn others(
    records: &Records,
    patterns: &[PatternChoice],
    typed: &FormData,
    answer: &CheckAnswer,
) -> Result<Vec<String>, Refusal> {
    if answer.is_usable() {
        return Ok(Vec::new());
    }
    let mut fields = question(typed, patterns)?;
    fields.set("top", MOST_OTHERS.to_string());
    for source in ["stash", "catalogue"] {
        fields.set("from", source);
        let request: FindRequest = from_form(&fields)?;
        let found = app::find(records, &request)?;
        let found = found.iter().flat_map(|answer| &answer.candidates);
        let usable = found.filter(|found| found.is_usable());
        let names: Vec<String> = usable.map(|found| found.candidate.title.clone()).collect();
        if !names.is_empty() {
            return Ok(names);
        }
    }
    Ok(Vec::new())
}

/// Links to others that would work, one tap each.
fn offer_others(newest: &Newest, sent: &FormData) -> Body {
    let mut body = Body::default();
    let rest = query_without(&with_newest_before(sent), &["yarn"]);
    let names = first_of_each(newest.others.iter().map(String::as_str), MOST_OTHERS);
    let link = |name| (format!("{HERE}?{rest}&yarn={}", encoded(name)), name);
    let links: Vec<(String, &str)> = names.into_iter().map(link).collect();
    if !links.is_empty() {
        body.text("These would work instead:");
        body.links(&links);
    }
    body
}

/// What is wrong, with the way on: what was perhaps meant, or the label of a yarn
/// whose barcode is not known.
fn refused(refusal: Refusal, sent: &FormData, visit: &Visit) -> Vec<FieldError> {
    let rest = query_without(sent, &["yarn"]);
    let refusal = refusal.linked(|name| format!("{HERE}?{rest}&yarn={name}"));
    let yarn = sent.text("yarn").trim().to_owned();
    let is_barcode = yarn.len() >= 8 && yarn.bytes().all(|byte| byte.is_ascii_digit());
    let is_unknown = matches!(&refusal, Refusal::App(AppError::Unknown { .. }, _));
    let (_, mut found) = refusal.found(&visit.style());
    if is_barcode && is_unknown {
        let said = format!("no yarn here has the barcode {yarn}");
        let mut fault = FieldError::new("yarn", said);
        let read = format!("/yarns/new?gtin={yarn}");
        fault.links = vec![(read, "Read its label".to_owned())];
        found = vec![fault];
    }
    found
}

/// The yarns before with the newest at their head; the oldest goes.
fn with_newest_before(sent: &FormData) -> FormData {
    let newest = sent.text("yarn").trim();
    let yarns = std::iter::once(newest).chain(sent.text(BEFORE).lines());
    let yarns = first_of_each(yarns.filter(|yarn| !yarn.is_empty()), MOST_BEFORE);
    kept(sent, yarns.join("\n"))
}

/// What stays from one customer to the next.
fn kept(sent: &FormData, before: String) -> FormData {
    let pattern = sent.text("pattern").to_owned();
    [("pattern", pattern), (BEFORE, before)]
        .into_iter()
        .collect()
}

/// The first of these names, each once.
fn first_of_each<'n>(names: impl Iterator<Item = &'n str>, most: usize) -> Vec<&'n str> {
    let mut first: Vec<&str> = Vec::new();
    for name in names {
        if first.len() < most && !first.contains(&name) {
            first.push(name);
        }
    }
    first
}

/// The form. Its field is empty and has the keyboard, so that the next scan is typed
/// into it; what was refused is put back and selected by the script.
fn form(patterns: &[PatternChoice], sent: &FormData, is_refused: bool) -> Form {
    let (kept, typed) = match is_refused {
        true => (kept(sent, sent.text(BEFORE).to_owned()), sent.text("yarn")),
        false => (with_newest_before(sent), ""),
    };
    let pattern = pattern_choice("Choose one", patterns, true);
    let fields = vec![
        Field::new("pattern", "Pattern", "", pattern),
        Field::new("yarn", SCAN, "", Kind::Scan(typed.to_owned())),
    ];
    let form = Form::get("counter", HERE, "Check").with(Head::None, fields);
    let form = form.filled(&kept);
    match kept.filled(BEFORE) {
        Some(before) => form.hidden(BEFORE, before),
        None => form,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_newest_goes_before_the_others_and_the_oldest_goes() {
        let sent = [("pattern", "1"), ("yarn", "e"), ("before", "d\nc\nb\na")];
        let next = with_newest_before(&sent.into_iter().collect());
        assert_eq!(next.text(BEFORE), "e\nd\nc\nb");
        assert_eq!(next.text("pattern"), "1");
    }

    #[test]
    fn a_yarn_that_is_asked_about_again_stands_once() {
        let sent = [("yarn", "a"), ("before", "b\na")];
        let next = with_newest_before(&sent.into_iter().collect());
        assert_eq!(next.text(BEFORE), "a\nb");
    }
}
