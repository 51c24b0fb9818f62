//! A count of the shelves, which goes on from scan to scan and ends with its differences.

use super::{
    body::Body,
    error_page::ErrorPage,
    form::{Field, Form, Head, Kind},
    kept_record::refused_form,
    refusal::Refusal,
    sent_once::Done,
    shop::{HERE, scan_fields, which},
    visit::{PageResult, Visit},
};
use crate::{
    app::{self, AppError, CountSession, FormData, KeptCount, Records},
    report::{Page, Render, Role, count_rest, count_title, count_words, session_line_words},
};
use axum::extract::Path;

pub(super) const COUNT: (&str, &str) = ("Count the shelves", "/stock/count");

/// The counts that are under way, and a form that begins one.
pub(super) async fn counts(visit: Visit) -> PageResult {
    let under_way = visit.read(app::counts_under_way).await?;
    let mut body = visit.body();
    body.heading(COUNT.0);
    body.text("Scan ball after ball, or type how many there are of each. Everything stays in your records until the count ends, so you can close the page and go on later.");
    if !under_way.is_empty() {
        body.part("Under way");
        let words: Vec<String> = under_way.iter().map(count_words).collect();
        let links = under_way.iter().map(|it| path_of(it.number));
        let links = links.zip(&words).map(|(to, words)| (to, words.as_str()));
        body.links(&links.collect::<Vec<_>>());
    }
    let place = Field::new(
        "place",
        "Place",
        "As in: window. If empty: all places",
        Kind::Line,
    );
    let form = Form::get("begin", COUNT.1, "Begin a count").once();
    body.form(&form.with(Head::None, vec![place]));
    Ok(visit.page((COUNT.0, HERE), body))
}

fn path_of(number: i64) -> String {
    format!("{}/{number}", COUNT.1)
}

fn done(next: String, told: Option<Page>) -> Done {
    let change = None;
    Done { next, told, change }
}

pub(super) async fn begin_count(visit: Visit, typed: FormData) -> PageResult {
    let beginning = |records: &mut Records, typed: &FormData| {
        let number = app::begin_count(records, typed.filled("place").as_deref())?;
        Ok::<_, AppError>(done(path_of(number), None))
    };
    Ok(visit.once(&typed, beginning).await??)
}

pub(super) async fn count(visit: Visit, Path(number): Path<i64>) -> PageResult {
    count_page(&visit, number, &FormData::default(), None).await
}

/// Lines that have a button which takes them out again.
const LAST_LINES: usize = 8;

async fn count_page(
    visit: &Visit,
    number: i64,
    typed: &FormData,
    refused: Option<Refusal>,
) -> PageResult {
    let session = visit.read(move |records| app::count_session(records, number));
    let session = session.await?;
    let title = count_words(&session.count);
    let form = scan_form(&session.count, typed, refused.as_ref());
    let (status, form, mut body) = refused_form(visit, form, refused);
    body.heading(&title);
    body.form(&form);
    if session.lines.is_empty() {
        body.text("Nothing is counted yet.");
    } else {
        last_lines(&mut body, &session);
        body.part(&count_title(&session.so_far));
        body.report(&count_rest(&session.so_far, &visit.style()));
        body.form(&book_form(&session));
    }
    body.form(&drop_form(number));
    Ok(visit.page_of(status, (&title, HERE), body))
}

fn scan_form(count: &KeptCount, typed: &FormData, refused: Option<&Refusal>) -> Form {
    let mut fields = scan_fields(typed, refused);
    let amount = Field::new(
        "amount",
        "How much",
        "As in: 6, or 2 balls + 30 g. If empty: 1",
        Kind::Line,
    );
    let held = refused.map_or("", |_| typed.text("amount"));
    fields.push(amount.holding(held));
    Form::get("scan", path_of(count.number), "Count it")
        .once()
        .with(Head::None, fields)
        .replaced(&[("yarn", "which")])
}

fn last_lines(body: &mut Body, session: &CountSession) {
    body.part("Counted last");
    for line in session.lines.iter().take(LAST_LINES) {
        body.text(&session_line_words(line));
        let form = Form::get("take", path_of(session.count.number), "Undo this line").once();
        body.form(&Form {
            id: format!("take-{}", line.number),
            ..form.hidden("take", line.number)
        });
    }
}

fn book_form(session: &CountSession) -> Form {
    let label = match session.so_far.differences().next() {
        Some(_) => "Record the differences",
        None => "End the count",
    };
    Form::get("book", path_of(session.count.number), label)
        .once()
        .hidden("do", "book")
}

fn drop_form(number: i64) -> Form {
    let sure = Field::new("sure", "Yes, record nothing", "", Kind::Tick);
    Form::get("drop", path_of(number), "End the count without recording")
        .once()
        .hidden("do", "drop")
        .with(Head::Folded("Give this count up".to_owned()), vec![sure])
}

/// Adds to a count, takes a line out, records the differences, or gives it up.
pub(super) async fn change_count(
    visit: Visit,
    Path(number): Path<i64>,
    typed: FormData,
) -> PageResult {
    if typed.text("do") == "drop" && typed.filled("sure").is_none() {
        let said = "The count goes on: tick `Yes, record nothing` and send again to end it.";
        return Err(ErrorPage::wrong(said));
    }
    let style = visit.style();
    let changing = move |records: &mut Records, typed: &FormData| {
        let here = || path_of(number);
        if let Some(line) = typed.number("take") {
            app::take_from_count(records, number, line)?;
            return Ok(done(here(), None));
        }
        match typed.text("do") {
            "book" => {
                let count = app::book_count(records, number)?;
                Ok(done(COUNT.1.to_owned(), Some(count.page(&style))))
            }
            "drop" => {
                app::drop_count(records, number)?;
                let mut page = Page::default();
                page.text(Role::Plain, "The count has ended. Nothing was recorded.");
                Ok(done(COUNT.1.to_owned(), Some(page)))
            }
            _ => {
                let amount = typed.filled("amount");
                app::add_to_count(records, number, &which(typed)?, amount.as_deref())?;
                Ok::<_, AppError>(done(here(), None))
            }
        }
    };
    match visit.once(&typed, changing).await? {
        Ok(done) => Ok(done),
        Err(error) => count_page(&visit, number, &typed, Some(error.into())).await,
    }
}
