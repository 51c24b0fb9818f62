//! Patterns: listed, looked at, edited as the text of their file.

use super::{
    body::Body,
    form::{Field, Form, Group, Kind},
    form_data::file_of,
    kept_record::{KeptRecord, Saved, faulty_page, flash, form_page, keep},
    layout::Layout,
    links::{download, encoded},
    list::search,
    preferences::Preferences,
    refusal::{ErrorPage, FieldError, TEXT},
    state::AppState,
};
use crate::{
    app::{self, AppError, FormData, KeptFields, PATTERN_TEXT, Records},
    report::{ListEntry, Render, pattern_entry},
};
use axum::{
    extract::{Multipart, Path, State},
    http::StatusCode,
    response::Response,
};
use std::sync::Arc;

const HERE: &str = "/patterns";

pub(super) async fn list(
    State(state): State<Arc<AppState>>,
    prefs: Preferences,
    sent: FormData,
) -> Result<Response, ErrorPage> {
    let text = sent.text("q").to_owned();
    let wanted = crate::words::fold(&text);
    let kept = state.read(app::pattern_choices).await??;
    let entries: Vec<ListEntry> = kept
        .iter()
        .filter(|pattern| crate::words::fold(&pattern.name).contains(&wanted))
        .map(pattern_entry)
        .collect();
    let mut body = Body::default();
    flash(&state, &sent, &mut body);
    body.heading("Patterns");
    body.links(&[("/patterns/new".to_owned(), "Add a pattern")]);
    body.form(&search(HERE, "Name", &text));
    if kept.is_empty() {
        body.said("No pattern is kept yet: add one.");
    } else if entries.is_empty() {
        body.said("No pattern is called that.");
    } else {
        body.entries(&entries, "/patterns/", "");
    }
    Ok(Layout::new("Patterns", HERE, &prefs).ok(body))
}

pub(super) async fn show(
    State(state): State<Arc<AppState>>,
    Path(number): Path<i64>,
    prefs: Preferences,
    sent: FormData,
) -> Result<Response, ErrorPage> {
    let pattern = state
        .read(move |records| app::view_pattern(records, number))
        .await??;
    let mut body = Body::default();
    flash(&state, &sent, &mut body);
    body.written(&pattern.page(&prefs.style()));
    body.links(&[
        (format!("/?pattern={number}"), "Ask what yarn would do"),
        (format!("/sheet?pattern={number}"), "Make a materials sheet"),
        (format!("/gauge?pattern={number}"), "My gauge is another"),
        (format!("/lint?pattern={number}"), "Look it over"),
        (format!("/patterns/{number}/edit"), "Edit"),
        (format!("/patterns/{number}/file"), "As a pattern file"),
    ]);
    Ok(Layout::new(pattern.0.name.as_str(), HERE, &prefs).ok(body))
}

/// A pattern in its form: the text of its file.
pub(super) struct PatternRecord;

impl KeptRecord for PatternRecord {
    const HERE: &'static str = HERE;
    const PATH: &'static str = HERE;
    const WHAT: &'static str = "";
    const REMOVE: Option<&'static str> = Some("Remove this pattern");

    fn form(action: String) -> Form {
        let text = Field::new(
            PATTERN_TEXT,
            "The pattern as text",
            "One line for each thing that the pattern says; the example shows how.",
            Kind::Area(24),
        );
        Form::post("pattern", action, "Keep")
            .with(Group::plain(vec![text.needed()]))
            .replaced(&[(TEXT, PATTERN_TEXT)])
    }

    fn kept(records: &Records, number: i64) -> Result<KeptFields, AppError> {
        app::pattern_to_edit(records, number)
    }

    fn save(records: &mut Records, read: (i64, i64), typed: &FormData) -> Saved {
        saved(records, Some(read), typed)
    }

    fn remove(records: &mut Records, number: i64) -> Result<String, AppError> {
        app::remove_pattern_numbered(records, number)?;
        Ok(HERE.to_owned())
    }
}

fn saved(records: &mut Records, read: Option<(i64, i64)>, typed: &FormData) -> Saved {
    let (number, change) = app::save_pattern(records, read, typed.text(PATTERN_TEXT))?;
    Ok((format!("{HERE}/{number}"), change))
}

fn sending() -> Form {
    let file = Field::new(
        "file",
        "A pattern file",
        "Its text is shown in the form, to be looked over.",
        Kind::File,
    );
    let form = Form::post("send", "/patterns/upload", "Send the file").with_upload();
    form.with(Group::plain(vec![file]))
}

fn new_page(text: &str, prefs: &Preferences, refused: Option<&AppError>) -> Response {
    let typed = [(PATTERN_TEXT, text)].into_iter().collect();
    let form = PatternRecord::form("/patterns/new".to_owned()).filled(&typed);
    form_page(("Add a pattern", HERE), prefs, form, refused, |body| {
        body.part("From a file");
        body.form(&sending());
    })
}

/// What a new pattern may look like.
const EXAMPLE: &str = include_str!("../../sample-stash/patterns/hobplate.toml");

pub(super) async fn new(prefs: Preferences) -> Response {
    new_page(EXAMPLE, &prefs, None)
}

pub(super) async fn upload(prefs: Preferences, mut form: Multipart) -> Result<Response, ErrorPage> {
    let Some((_, bytes)) = file_of(&mut form, |_, _| ()).await? else {
        return Ok(nothing_sent(&prefs));
    };
    match String::from_utf8(bytes.to_vec()) {
        Ok(text) => Ok(new_page(&text.replace("\r\n", "\n"), &prefs, None)),
        Err(_) => Err(ErrorPage::wrong(
            "The file is no text in UTF-8: save it as UTF-8 and send it again.",
        )),
    }
}

fn nothing_sent(prefs: &Preferences) -> Response {
    let fault = FieldError::new("file", "no file was chosen: choose one and send again");
    let wrong = (StatusCode::UNPROCESSABLE_ENTITY, vec![fault]);
    faulty_page(
        ("A pattern from a file", HERE),
        prefs,
        sending(),
        wrong,
        |_| (),
    )
}

pub(super) async fn add(
    State(state): State<Arc<AppState>>,
    prefs: Preferences,
    typed: FormData,
) -> Result<Response, ErrorPage> {
    let sent = typed.clone();
    let kept = keep(&state, &prefs, move |records| saved(records, None, &sent)).await?;
    Ok(kept.unwrap_or_else(|error| new_page(typed.text(PATTERN_TEXT), &prefs, Some(&error))))
}

pub(super) async fn file(
    State(state): State<Arc<AppState>>,
    Path(number): Path<i64>,
) -> Result<Response, ErrorPage> {
    let kept = state
        .read(move |records| app::pattern_to_edit(records, number))
        .await??;
    let name = format!("{}.toml", encoded(&kept.title));
    Ok(download(
        "application/toml; charset=utf-8",
        &name,
        kept.typed.text(PATTERN_TEXT).as_bytes().to_vec(),
    ))
}
