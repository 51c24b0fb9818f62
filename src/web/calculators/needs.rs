//! Yarn for every size, from what was knitted and weighed.

use super::{
    calculator_page::{ASKED_FIELD, CalculatorPage, Outcome, wrong},
    text::{FIELD, Text, file_field, sending, text_of},
};
use crate::{
    app::{self, AppError, FormData, NeedsRequest, WhatFor},
    report::{Page, Report},
    web::{
        body::Body,
        error_page::ErrorPage,
        files::download,
        form::{Choice, Field, Form, Group, Head, Kind},
        labels::Labels,
        links::encoded,
        pages::done,
        preferences::Preferences,
        state::AppState,
    },
};
use axum::{
    extract::{Multipart, State},
    response::Response,
};
use std::sync::Arc;

const PAGE: CalculatorPage = CalculatorPage {
    title: "Yarn for every size, from what was weighed",
    intro: "You have knitted one size, or some pieces or swatches, and weighed them. With the measures of the pieces in every size, what each takes follows. Below stands a worked example: put your own figures in its place.",
    main: FIELD,
    links: &[("/needs/begin", "Begin with one piece, without a text")],
};

/// What such a text may look like.
const EXAMPLE: &str = include_str!("../../../sample-stash/weighed.toml");

pub(super) async fn open(prefs: Preferences) -> Response {
    let typed = [(FIELD, EXAMPLE)].into_iter().collect();
    let form = form().filled(&typed);
    let labels = Labels::of(&form);
    PAGE.page(&prefs, (form, &labels), Outcome::Nothing, |_| ())
}

pub(super) async fn reckon(prefs: Preferences, mut sent: Multipart) -> Result<Response, ErrorPage> {
    let (text, typed) = text_of(&mut sent).await?;
    let answer = answer(text, &typed);
    let form = form().filled(&typed);
    let labels = Labels::of(&form);
    Ok(
        PAGE.page(&prefs, (form, &labels), Outcome::new(answer), |body| {
            offer_pattern(body, &typed);
        }),
    )
}

fn answer(text: Option<Text>, typed: &FormData) -> Result<Page, AppError> {
    let Some(text) = text else {
        return Err(nothing());
    };
    let request = request(text.name, text.bytes, typed);
    Ok(app::needs(&request)?.page())
}

fn nothing() -> AppError {
    wrong(
        FIELD,
        "nothing is written: write samples and pieces, or send a file",
    )
}

fn request(file: String, bytes: Vec<u8>, typed: &FormData) -> NeedsRequest {
    NeedsRequest {
        file,
        bytes,
        margin: typed.filled("margin"),
        step: typed.filled("step"),
    }
}

/// The needs as a pattern: kept here, or as a file.
pub(super) async fn pattern(
    State(state): State<Arc<AppState>>,
    prefs: Preferences,
    sent: FormData,
) -> Result<Response, ErrorPage> {
    let bytes = sent.text(FIELD).as_bytes().to_vec();
    let request = request("The text".to_owned(), bytes, &sent);
    let what_for = WhatFor {
        purpose: sent.text("purpose").to_owned(),
        fit: sent.text("fit").to_owned(),
    };
    let (text, report) = match app::needs_pattern(&request, &what_for) {
        Ok(made) => made,
        Err(error) => return Ok(not_made(&prefs, &sent, error)),
    };
    if sent.text("as") == "file" {
        let name = format!("{}.toml", encoded(&report.pattern));
        let mime = "application/toml; charset=utf-8";
        return Ok(download(mime, &name, text.into_bytes()));
    }
    let kept = state
        .write(move |records| app::save_pattern(records, None, &text))
        .await?;
    match kept {
        Ok((number, notice)) => done(&state, &format!("/patterns/{number}"), notice),
        Err(error) => Ok(not_made(&prefs, &sent, error)),
    }
}

const PATTERN_PAGE: CalculatorPage = CalculatorPage {
    title: "The needs as a pattern",
    intro: "",
    main: "as",
    links: &[],
};

fn not_made(prefs: &Preferences, typed: &FormData, error: AppError) -> Response {
    let form = as_pattern(typed).filled(typed);
    let labels = Labels::of(&form);
    let outcome = Outcome::Refused(error, Vec::new());
    PATTERN_PAGE.page(prefs, (form, &labels), outcome, |_| ())
}

pub(super) fn offer_pattern(body: &mut Body, typed: &FormData) {
    body.part_at("pattern", "Take the needs as a pattern");
    body.hint(
        "Then every yarn can be held against it. The rest of the pattern is added in its text.",
    );
    body.form(&as_pattern(typed));
}

fn as_pattern(typed: &FormData) -> Form {
    let choose = |name: &str, label: &str, words: &[&str]| {
        let each = words.iter().map(|word| Choice::new(*word, *word));
        let choices = std::iter::once(Choice::new("", "Choose one")).chain(each);
        Field::new(name, label, "", Kind::Choose(choices.collect())).needed()
    };
    let how = Field::new(
        "as",
        "What to do with it",
        "",
        Kind::Radio(vec![
            ("kept", "Keep it among the patterns here"),
            ("file", "Save it as a pattern file"),
        ]),
    );
    let form = Form::post("as-pattern", "/needs/pattern", "Take it");
    let form = [FIELD, "margin", "step"]
        .into_iter()
        .fold(form, |form, name| form.hidden(name, typed.text(name)));
    form.with(Group::plain(vec![
        choose("purpose", "What it is for", &app::purposes()),
        choose("fit", "How close it sits", &app::fits()),
        how.holding("kept"),
    ]))
}

pub(super) fn form() -> Form {
    let text = Field::new(
        FIELD,
        "Samples and pieces",
        "What differs by size is a list in the order of the sizes. A piece is a rectangle, trapezoid, triangle, circle segment, tube or ring, or rows with their stitches.",
        Kind::Area(20),
    );
    let stated = vec![
        Field::line(
            "margin",
            "What to add to the needs",
            "What the text says, or 10 %, where it is empty",
        ),
        Field::line(
            "step",
            "What to round up to",
            "As in: 10 m, 50 yd or 25 g. What the text says, or 1 m, where it is empty.",
        ),
    ];
    sending(Form::post("needs", "/needs", "What does every size take?"))
        .hidden(ASKED_FIELD, "yes")
        .with(Group::plain(vec![text.needed(), file_field("Or a file")]))
        .with(Group::new(
            Head::Folded("Margin and rounding".to_owned()),
            stated,
        ))
}
