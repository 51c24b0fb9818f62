//! Yarns: listed, looked at, added, edited, removed.

use super::{
    body::{Body, PAGE},
    error_page::ErrorPage,
    form::{Field, Form, Group, Head, Kind},
    layout::Layout,
    links::redirect,
    pages::{List, done, edit_again, field_of, flash, form_page, removal, sure},
    preferences::Preferences,
    state::AppState,
};
use crate::{
    app::{self, AppError, FormData},
    report::{Notice, Report},
};
use axum::{
    extract::{Path, State},
    http::header,
    response::{IntoResponse, Response},
};
use std::sync::Arc;

const HERE: &str = "/yarns";

pub(super) async fn list(
    State(state): State<Arc<AppState>>,
    prefs: Preferences,
    sent: FormData,
) -> Result<Response, ErrorPage> {
    let (text, from) = (sent.text("q").to_owned(), sent.number("from").unwrap_or(0));
    let wanted = text.clone();
    let page = state
        .read(move |records| app::browse_yarns(records, &wanted, from, PAGE))
        .await??;
    let list = List {
        heading: "Yarns",
        here: HERE,
        links: &[
            ("/yarns/new", "Add a yarn"),
            ("/yarns.csv", "All yarns as a table (CSV)"),
            ("/swatches.csv", "All swatches as a table (CSV)"),
        ],
        search: "Maker or name",
        empty: "No yarn is kept yet: add one, or take a table of them under Tables.",
        none: "No yarn is called anything like that.",
    };
    Ok(list.page(&text, &page, &prefs))
}

pub(super) async fn show(
    State(state): State<Arc<AppState>>,
    Path(number): Path<i64>,
    prefs: Preferences,
    sent: FormData,
) -> Result<Response, ErrorPage> {
    let view = state
        .read(move |records| app::view_yarn(records, number))
        .await??;
    let mut body = Body::default();
    flash(&state, &sent, &mut body, &prefs);
    body.pages(vec![view.notice.page()], prefs.yards);
    let title = super::links::encoded(&view.title);
    body.links(&[
        (format!("/?offered=one&yarn={title}"), "Ask about it"),
        (format!("/yarns/{number}/edit"), "Edit"),
        (format!("/stock/buy?yarn={title}"), "Enter a purchase"),
        (format!("/yarns/{number}/swatches/new"), "Keep a swatch"),
    ]);
    body.part("In stock");
    match view.lots.is_empty() {
        true => body.said("None of it."),
        false => body.entries(&view.lots, "/stock/", "", prefs.yards),
    }
    body.part("Swatches");
    match view.swatches.is_empty() {
        true => body.said("No swatch of it is kept yet."),
        false => body.entries(&view.swatches, "/swatches/", "/edit", prefs.yards),
    }
    Ok(Layout::new(&view.title, HERE, &prefs).ok(body))
}

/// The form of a yarn, new or kept.
fn form(action: &str, version: Option<i64>) -> Form {
    let fields = app::yarn_fields().iter().map(field_of).collect();
    let form = Form::post("yarn", action, "Keep").with(Group::plain(fields));
    match version {
        Some(version) => form.hidden("version", version),
        None => form,
    }
}

/// A form that was read from its pasted band, to be looked over.
fn from_band(text: &str) -> Result<(FormData, Vec<String>), AppError> {
    let read = app::read_fields(text)?;
    let mut typed = read.facts;
    typed.set("gtin", read.more.text("gtin"));
    typed.set("shades", read.more.text("shade"));
    for needed in ["length", "mass"] {
        if typed.text(needed).is_empty() && typed.text("count").is_empty() {
            typed.set(needed, "unknown");
        }
    }
    Ok((typed, read.notes))
}

pub(super) async fn new(prefs: Preferences, sent: FormData) -> Result<Response, ErrorPage> {
    let band = sent.text("band").to_owned();
    let mut read = Field::new(
        "band",
        "What the band says",
        "Write or paste it: the fields below are filled from it, to be looked over.",
        Kind::Area(2),
    );
    read.value = band.clone();
    let reader = Form::get("read", "/yarns/new", "Fill the fields from it")
        .with(Group::new(Head::None, vec![read]));
    let mut body = Body::default();
    body.heading("Add a yarn");
    body.form(&reader);
    let (typed, notes) = match band.trim() {
        "" => Default::default(),
        band => from_band(band)?,
    };
    if !notes.is_empty() {
        let notice = Notice {
            done: "Read from the band".to_owned(),
            warnings: notes,
            ..Notice::default()
        };
        body.told(notice.page(), prefs.yards);
    }
    body.form(&form("/yarns/new", None).filled(&typed));
    Ok(Layout::new("Add a yarn", HERE, &prefs).ok(body))
}

pub(super) async fn add(
    State(state): State<Arc<AppState>>,
    prefs: Preferences,
    sent: FormData,
) -> Result<Response, ErrorPage> {
    let typed = sent.clone();
    let kept = state
        .write(move |records| app::save_yarn(records, None, &sent))
        .await?;
    match kept {
        Ok((number, notice)) => done(&state, &format!("/yarns/{number}"), notice),
        Err(error) => {
            let form = form("/yarns/new", None).filled(&typed);
            Ok(form_page(
                ("Add a yarn", HERE),
                &prefs,
                form,
                Some(&error),
                |_| (),
            ))
        }
    }
}

pub(super) async fn edit(
    State(state): State<Arc<AppState>>,
    Path(number): Path<i64>,
    prefs: Preferences,
) -> Result<Response, ErrorPage> {
    let kept = state
        .read(move |records| app::yarn_to_edit(records, number))
        .await??;
    let action = format!("/yarns/{number}/edit");
    let form = form(&action, Some(kept.version)).filled(&kept.typed);
    let remove = removal(format!("/yarns/{number}/remove"), "Remove this yarn");
    let title = format!("Edit {}", kept.title);
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
    let typed = sent.clone();
    let version = sent.number("version").unwrap_or_default();
    let saved = state
        .write(move |records| app::save_yarn(records, Some((number, version)), &typed))
        .await?;
    let error = match saved {
        Ok((number, notice)) => return done(&state, &format!("/yarns/{number}"), notice),
        Err(error) => error,
    };
    let kept = state
        .read(move |records| app::yarn_to_edit(records, number))
        .await??;
    let title = format!("Edit {}", kept.title);
    let known = (kept.version, &kept.typed);
    let form = |version| form(&format!("/yarns/{number}/edit"), Some(version));
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
        .write(move |records| app::remove_yarn_numbered(records, number))
        .await??;
    Ok(redirect(HERE))
}

/// How many names are offered.
const SUGGESTED: usize = 8;

/// Names of yarns while one types.
pub(super) async fn suggest(
    State(state): State<Arc<AppState>>,
    sent: FormData,
) -> Result<Response, ErrorPage> {
    let text = sent.text("text").to_owned();
    let names = state
        .read(move |records| app::suggest_yarns(records, &text, SUGGESTED))
        .await??;
    let json = serde_json::to_string(&names)
        .map_err(|_| ErrorPage::failed("the names cannot be written; go on without"))?;
    Ok(([(header::CONTENT_TYPE, "application/json")], json).into_response())
}
