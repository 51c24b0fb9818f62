//! Swatches of a yarn: kept, edited, removed.

use super::{
    error_page::ErrorPage,
    form::{Field, Form, Group, Kind},
    links::redirect,
    pages::{done, edit_again, form_page, removal, sure},
    preferences::Preferences,
    state::AppState,
};
use crate::app::{self, FormData, Swatched};
use axum::{
    extract::{Path, State},
    response::Response,
};
use std::sync::Arc;

const HERE: &str = "/yarns";

fn form(action: String) -> Form {
    let gauge = "As in: 21 sts x 28 rows / 10 cm, garter, flat";
    Form::post("swatch", action, "Keep").with(Group::plain(vec![
        Field::line("needle", "Needle", "As in: 4 mm, or US 6").needed(),
        Field::line("before", "Gauge before washing", gauge),
        Field::line(
            "after",
            "Gauge after washing",
            "As in: 20 sts x 28 rows / 10 cm",
        ),
        Field::new("notes", "Notes", "", Kind::Area(3)),
    ]))
}

fn swatched(sent: &FormData) -> Swatched {
    Swatched {
        yarn: String::new(),
        needle: sent.text("needle").to_owned(),
        before: sent.filled("before"),
        after: sent.filled("after"),
        notes: sent.text("notes").to_owned(),
    }
}

pub(super) async fn new(
    State(state): State<Arc<AppState>>,
    Path(yarn): Path<i64>,
    prefs: Preferences,
) -> Result<Response, ErrorPage> {
    let title = title(&state, yarn).await?;
    let form = form(format!("/yarns/{yarn}/swatches/new"));
    Ok(form_page((&title, HERE), &prefs, form, None, |_| ()))
}

async fn title(state: &Arc<AppState>, yarn: i64) -> Result<String, ErrorPage> {
    let kept = state
        .read(move |records| app::yarn_to_edit(records, yarn))
        .await??;
    Ok(format!("A swatch of {}", kept.title))
}

pub(super) async fn add(
    State(state): State<Arc<AppState>>,
    Path(yarn): Path<i64>,
    prefs: Preferences,
    sent: FormData,
) -> Result<Response, ErrorPage> {
    let typed = swatched(&sent);
    let kept = state
        .write(move |records| app::save_swatch(records, yarn, None, &typed))
        .await?;
    match kept {
        Ok(notice) => done(&state, &format!("/yarns/{yarn}"), notice),
        Err(error) => {
            let title = title(&state, yarn).await?;
            let form = form(format!("/yarns/{yarn}/swatches/new")).filled(&sent);
            Ok(form_page(
                (&title, HERE),
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
    let (_, kept) = state
        .read(move |records| app::swatch_to_edit(records, number))
        .await??;
    let form = form(format!("/swatches/{number}/edit"))
        .hidden("version", kept.version)
        .filled(&kept.typed);
    let remove = removal(format!("/swatches/{number}/remove"), "Remove this swatch");
    let title = format!("Edit a swatch of {}", kept.title);
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
    let typed = swatched(&sent);
    let version = sent.number("version").unwrap_or_default();
    let (yarn, kept) = state
        .read(move |records| app::swatch_to_edit(records, number))
        .await??;
    let saved = state
        .write(move |records| app::save_swatch(records, yarn, Some((number, version)), &typed))
        .await?;
    let error = match saved {
        Ok(notice) => return done(&state, &format!("/yarns/{yarn}"), notice),
        Err(error) => error,
    };
    let title = format!("Edit a swatch of {}", kept.title);
    let known = (kept.version, &kept.typed);
    let form = |version| form(format!("/swatches/{number}/edit")).hidden("version", version);
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
    let yarn = state
        .write(move |records| {
            let (yarn, _) = app::swatch_to_edit(records, number)?;
            app::remove_swatch(records, number).map(|_| yarn)
        })
        .await??;
    Ok(redirect(&format!("/yarns/{yarn}")))
}
