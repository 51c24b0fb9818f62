//! Patterns: listed, looked at, edited as the text of their file.

use super::{
    body::Body,
    error_page::ErrorPage,
    field_errors::FieldError,
    files::{download, file_of},
    form::{Field, Form, Group, Kind},
    layout::Layout,
    links::encoded,
    links::redirect,
    pages::{done, edit_again, faulty_page, flash, form_page, removal, sure},
    preferences::Preferences,
    state::AppState,
};
use crate::{
    app::{self, AppError, Entry, FormData, PatternChoice},
    report::{Report, sizes_as_patterns_write_them},
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
    let entries: Vec<Entry> = kept
        .iter()
        .filter(|pattern| crate::words::fold(&pattern.name).contains(&wanted))
        .map(entry)
        .collect();
    let mut body = Body::default();
    flash(&state, &sent, &mut body, &prefs);
    body.heading("Patterns");
    body.links(&[("/patterns/new".to_owned(), "Add a pattern")]);
    body.form(&super::pages::search(HERE, "Name", &text));
    match entries.is_empty() {
        true if kept.is_empty() => body.said("No pattern is kept yet: add one."),
        true => body.said("No pattern is called that."),
        false => body.entries(&entries, "/patterns/", "", prefs.yards),
    }
    Ok(Layout::new("Patterns", HERE, &prefs).ok(body))
}

fn entry(pattern: &PatternChoice) -> Entry {
    let sizes = match pattern.sizes.as_slice() {
        [] => "no sizes".to_owned(),
        [one] => one.clone(),
        sizes => format!("sizes {}", sizes_as_patterns_write_them(sizes)),
    };
    let yarns = if pattern.yarns.len() == 1 {
        "yarn"
    } else {
        "yarns"
    };
    Entry {
        number: pattern.number,
        title: pattern.name.clone(),
        words: format!(
            "{}; {sizes}; {yarns} {}",
            pattern.purpose,
            pattern.yarns.join(", ")
        ),
    }
}

pub(super) async fn show(
    State(state): State<Arc<AppState>>,
    Path(number): Path<i64>,
    prefs: Preferences,
    sent: FormData,
) -> Result<Response, ErrorPage> {
    let (name, notice) = state
        .read(move |records| {
            let name = app::pattern_to_edit(records, number)?.name;
            let notice = app::show_pattern(records, &name)?;
            Ok::<_, AppError>((name, notice))
        })
        .await??;
    let mut body = Body::default();
    flash(&state, &sent, &mut body, &prefs);
    body.pages(vec![notice.page()], prefs.yards);
    body.links(&[
        (format!("/?pattern={number}"), "Ask what yarn would do"),
        (format!("/sheet?pattern={number}"), "Make a materials sheet"),
        (format!("/gauge?pattern={number}"), "My gauge is another"),
        (format!("/lint?pattern={number}"), "Look it over"),
        (format!("/patterns/{number}/edit"), "Edit"),
        (format!("/patterns/{number}/file"), "As a pattern file"),
    ]);
    Ok(Layout::new(&name, HERE, &prefs).ok(body))
}

fn form(action: String, version: Option<i64>) -> Form {
    let text = Field::new(
        "table",
        "The pattern as text",
        "One line for each thing that the pattern says; the example shows how.",
        Kind::Area(24),
    );
    let form = Form::post("pattern", action, "Keep").with(Group::plain(vec![text.needed()]));
    match version {
        Some(version) => form.hidden("version", version),
        None => form,
    }
}

fn sending() -> Form {
    let file = Field::new(
        "file",
        "A pattern file",
        "Its text is shown in the form, to be looked over.",
        Kind::File,
    );
    Form {
        upload: true,
        ..Form::post("send", "/patterns/upload", "Send the file").with(Group::plain(vec![file]))
    }
}

fn new_page(text: &str, prefs: &Preferences, refused: Option<&AppError>) -> Response {
    let mut form = form("/patterns/new".to_owned(), None);
    if let Some(field) = form
        .groups
        .iter_mut()
        .flat_map(|group| &mut group.fields)
        .next()
    {
        field.value = text.to_owned();
    }
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
    sent: FormData,
) -> Result<Response, ErrorPage> {
    let text = sent.text("table").to_owned();
    let kept = state
        .write(move |records| app::save_pattern(records, None, &text))
        .await?;
    match kept {
        Ok((number, notice)) => done(&state, &format!("/patterns/{number}"), notice),
        Err(error) => Ok(new_page(sent.text("table"), &prefs, Some(&error))),
    }
}

pub(super) async fn edit(
    State(state): State<Arc<AppState>>,
    Path(number): Path<i64>,
    prefs: Preferences,
) -> Result<Response, ErrorPage> {
    let kept = state
        .read(move |records| app::pattern_to_edit(records, number))
        .await??;
    let typed = [("table", kept.text)].into_iter().collect();
    let form = form(format!("/patterns/{number}/edit"), Some(kept.version)).filled(&typed);
    let remove = removal(format!("/patterns/{number}/remove"), "Remove this pattern");
    let title = format!("Edit {}", kept.name);
    Ok(form_page((&title, HERE), &prefs, form, None, |body| {
        body.form(&remove);
    }))
}

pub(super) async fn save(
    State(state): State<Arc<AppState>>,
    Path(number): Path<i64>,
    prefs: Preferences,
    sent: FormData,
) -> Result<Response, ErrorPage> {
    let text = sent.text("table").to_owned();
    let version = sent.number("version").unwrap_or_default();
    let saved = state
        .write(move |records| app::save_pattern(records, Some((number, version)), &text))
        .await?;
    let error = match saved {
        Ok((number, notice)) => return done(&state, &format!("/patterns/{number}"), notice),
        Err(error) => error,
    };
    let kept = state
        .read(move |records| app::pattern_to_edit(records, number))
        .await??;
    let title = format!("Edit {}", kept.name);
    let text = [("the pattern", kept.text)].into_iter().collect();
    let known = (kept.version, &text);
    let form = |version| form(format!("/patterns/{number}/edit"), Some(version));
    Ok(edit_again(
        (&title, HERE),
        &prefs,
        &error,
        known,
        &sent,
        form,
    ))
}

pub(super) async fn remove(
    State(state): State<Arc<AppState>>,
    Path(number): Path<i64>,
    sent: FormData,
) -> Result<Response, ErrorPage> {
    sure(&sent)?;
    state
        .write(move |records| app::remove_pattern_numbered(records, number))
        .await??;
    Ok(redirect(HERE))
}

pub(super) async fn file(
    State(state): State<Arc<AppState>>,
    Path(number): Path<i64>,
) -> Result<Response, ErrorPage> {
    let kept = state
        .read(move |records| app::pattern_to_edit(records, number))
        .await??;
    let name = format!("{}.toml", encoded(&kept.name));
    Ok(download(
        "application/toml; charset=utf-8",
        &name,
        kept.text.into_bytes(),
    ))
}
