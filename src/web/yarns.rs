//! Yarns: listed, looked at, added, edited, removed; their names while one types.

use super::{
    body::Body,
    fields::field_of,
    form::{Field, Form, Group, Kind},
    kept_record::{KeptRecord, Saved, flash, form_page, keep},
    layout::Layout,
    links::encoded,
    list::{List, PAGE},
    preferences::Preferences,
    refusal::ErrorPage,
    state::AppState,
};
use crate::{
    app::{self, AppError, FormData, KeptFields, Records},
    report::{ListEntry, Notice, Render, lot_entry, swatch_entry, yarn_entry},
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
    let style = prefs.style();
    Ok(list.page(&text, &page, |yarn| yarn_entry(yarn, &style), &prefs))
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
    let style = prefs.style();
    let mut body = Body::default();
    flash(&state, &sent, &mut body);
    body.written(&view.yarn.page(&style));
    let name = view.yarn.0.title();
    let title = encoded(&name);
    body.links(&[
        (format!("/?offered=one&yarn={title}"), "Ask about it"),
        (format!("/yarns/{number}/edit"), "Edit"),
        (format!("/stock/buy?yarn={title}"), "Enter a purchase"),
        (format!("/yarns/{number}/swatches/new"), "Keep a swatch"),
    ]);
    body.part("In stock");
    let lots: Vec<ListEntry> = view.lots.iter().map(|lot| lot_entry(lot, &style)).collect();
    if lots.is_empty() {
        body.said("None of it.");
    } else {
        body.entries(&lots, "/stock/", "");
    }
    body.part("Swatches");
    let swatches: Vec<ListEntry> = view.swatches.iter().map(swatch_entry).collect();
    if swatches.is_empty() {
        body.said("No swatch of it is kept yet.");
    } else {
        body.entries(&swatches, "/swatches/", "/edit");
    }
    Ok(Layout::new(&name, HERE, &prefs).ok(body))
}

/// A yarn in its form.
pub(super) struct YarnRecord;

impl KeptRecord for YarnRecord {
    const HERE: &'static str = HERE;
    const PATH: &'static str = HERE;
    const WHAT: &'static str = "";
    const REMOVE: Option<&'static str> = Some("Remove this yarn");

    fn form(action: String) -> Form {
        let fields = app::yarn_fields().iter().map(field_of).collect();
        Form::post("yarn", action, "Keep").with(Group::plain(fields))
    }

    fn kept(records: &Records, number: i64) -> Result<KeptFields, AppError> {
        app::yarn_to_edit(records, number)
    }

    fn save(records: &mut Records, read: (i64, i64), typed: &FormData) -> Saved {
        saved(records, Some(read), typed)
    }

    fn remove(records: &mut Records, number: i64) -> Result<String, AppError> {
        app::remove_yarn_numbered(records, number)?;
        Ok(HERE.to_owned())
    }
}

fn saved(records: &mut Records, read: Option<(i64, i64)>, typed: &FormData) -> Saved {
    let (number, change) = app::save_yarn(records, read, typed)?;
    Ok((format!("{HERE}/{number}"), change))
}

fn new_form() -> Form {
    YarnRecord::form("/yarns/new".to_owned())
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
    let reader =
        Form::get("read", "/yarns/new", "Fill the fields from it").with(Group::plain(vec![read]));
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
        body.told(notice.page(&prefs.style()));
    }
    body.form(&new_form().filled(&typed));
    Ok(Layout::new("Add a yarn", HERE, &prefs).ok(body))
}

pub(super) async fn add(
    State(state): State<Arc<AppState>>,
    prefs: Preferences,
    typed: FormData,
) -> Result<Response, ErrorPage> {
    let sent = typed.clone();
    let kept = keep(&state, &prefs, move |records| saved(records, None, &sent)).await?;
    Ok(kept.unwrap_or_else(|error| {
        let form = new_form().filled(&typed);
        form_page(("Add a yarn", HERE), &prefs, form, Some(&error), |_| ())
    }))
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
