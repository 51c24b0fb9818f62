//! Tables in and out: a file is looked over row by row before anything of it is
//! taken; all that is kept of one kind is written as a file.

use super::{
    body::Body,
    form::{Field, Form, Group, Kind},
    form_data::file_of,
    kept_record::{done, flash},
    layout::Layout,
    links::download,
    preferences::Preferences,
    refusal::{ErrorPage, FieldError, status},
    state::{AppState, TableKind, Upload},
};
use crate::{
    app::{self, AppError, Exported, FormData, ImportAnswer, Preview},
    report::{Render, error_words, preview_notes, row_line},
    words::count_of_items,
};
use axum::{
    body::Bytes,
    extract::{Multipart, State},
    http::StatusCode,
    response::Response,
};
use std::sync::Arc;

const HERE: &str = "/tables";
/// How many rows are shown; the bad ones come first where there are more.
const SHOWN: usize = 400;

fn sending() -> Form {
    let mut of = Field::new(
        "of",
        "What it holds",
        "",
        Kind::Radio(vec![
            ("yarns", "Yarns"),
            ("stock", "Stock; its yarns must be kept already"),
            ("swatches", "Swatches; their yarns must be kept already"),
        ]),
    );
    of.value = "yarns".to_owned();
    let file = Field::new(
        "file",
        "A table (CSV)",
        "Nothing of it is kept before you have seen what happens.",
        Kind::File,
    );
    let text = Field::new(
        "text",
        "Or its text",
        "The first line names the columns.",
        Kind::Area(4),
    );
    let update = Field::new(
        "update",
        "Replace what is kept and differs",
        "This goes for yarns and stock; swatches are only added.",
        Kind::Tick,
    );
    let form = Form::post("look", "/tables/look", "See what happens").with_upload();
    form.with(Group::plain(vec![of, file, text, update]))
}

pub(super) async fn page(
    State(state): State<Arc<AppState>>,
    prefs: Preferences,
    sent: FormData,
) -> Response {
    table_page(
        &state,
        &prefs,
        &sent,
        sending(),
        (StatusCode::OK, Vec::new()),
    )
}

fn table_page(
    state: &AppState,
    prefs: &Preferences,
    sent: &FormData,
    form: Form,
    (status, found): (StatusCode, Vec<FieldError>),
) -> Response {
    let (form, told) = form.marked(found);
    let mut body = Body::default();
    body.faults(&told);
    flash(state, sent, &mut body);
    body.heading("Tables");
    body.said("Take yarns, stock or swatches from a table, or save all of them as one.");
    body.links(&[
        ("/yarns.csv".to_owned(), "All yarns (CSV)"),
        ("/stock.csv".to_owned(), "All stock (CSV)"),
        ("/swatches.csv".to_owned(), "All swatches (CSV)"),
    ]);
    body.part("Take a table");
    body.form(&form);
    Layout::new("Tables", HERE, prefs).page(status, body)
}

/// The file that was sent, and what was typed beside it.
async fn sent_file(form: &mut Multipart) -> Result<(Option<Upload>, FormData), ErrorPage> {
    let mut typed = FormData::default();
    let file = file_of(form, |name, text| typed.set(name, text)).await?;
    let text = typed.text("text");
    let pasted =
        (!text.trim().is_empty()).then(|| ("The text".to_owned(), Bytes::from(text.to_owned())));
    let upload = file.or(pasted).map(|(name, bytes)| Upload {
        name,
        kind: match typed.text("of") {
            "stock" => TableKind::Stock,
            "swatches" => TableKind::Swatches,
            _ => TableKind::Yarns,
        },
        update: !typed.text("update").is_empty(),
        bytes,
    });
    Ok((upload, typed))
}

pub(super) async fn look(
    State(state): State<Arc<AppState>>,
    prefs: Preferences,
    mut form: Multipart,
) -> Result<Response, ErrorPage> {
    let (upload, sent) = sent_file(&mut form).await?;
    let form = sending().filled(&sent);
    let Some(upload) = upload else {
        let fault = FieldError::new(
            "file",
            "no file was chosen and no text written: do one of them",
        );
        let wrong = (StatusCode::UNPROCESSABLE_ENTITY, vec![fault]);
        return Ok(table_page(&state, &prefs, &sent, form, wrong));
    };
    let trying = upload.clone();
    let tried = state.write(move |records| tried(records, &trying)).await?;
    match tried {
        Ok(preview) => seen(&state, &prefs, upload, &preview, form),
        Err(error) => {
            let fault = FieldError::new("file", error_words(&error, &form.style(&prefs)));
            Ok(table_page(
                &state,
                &prefs,
                &sent,
                form,
                (status(&error), vec![fault]),
            ))
        }
    }
}

fn tried(records: &mut app::Records, upload: &Upload) -> Result<Preview, AppError> {
    let bytes = upload.bytes.as_ref();
    match upload.kind {
        TableKind::Yarns => app::preview_yarns(records, &upload.name, bytes, upload.update),
        TableKind::Stock => app::preview_stock(records, &upload.name, bytes, upload.update),
        TableKind::Swatches => app::preview_swatches(records, &upload.name, bytes),
    }
}

/// What would happen, with the button that makes it happen where it can.
fn seen(
    state: &AppState,
    prefs: &Preferences,
    upload: Upload,
    preview: &Preview,
    again: Form,
) -> Result<Response, ErrorPage> {
    let mut body = Body::default();
    if !preview.good {
        let bad = preview.rows.iter().filter(|row| row.is_bad()).count();
        let said = format!(
            "{} keeps this table out: correct it in the file, and send it again. Nothing of it was taken.",
            count_of_items(bad, "bad row")
        );
        body.faults(&[FieldError::new("", said)]);
    }
    body.heading("What happens with this table");
    body.said(&format!(
        "{} to be added, {} to be changed, {} kept already.",
        count_of_items(preview.added, "row"),
        preview.changed,
        preview.unchanged
    ));
    if preview.good {
        let name = state.uploads.insert(upload)?;
        body.form(&Form::post("take", "/tables/take", "Take it").hidden("file", name));
        body.links(&[(HERE.to_owned(), "Leave it")]);
    }
    rows(&mut body, preview);
    body.written(&preview_notes(preview));
    if !preview.good {
        body.part("Send it again");
        body.form(&again);
    }
    let status = match preview.good {
        true => StatusCode::OK,
        false => StatusCode::UNPROCESSABLE_ENTITY,
    };
    Ok(Layout::new("What happens with this table", HERE, prefs).page(status, body))
}

fn rows(body: &mut Body, preview: &Preview) {
    let all = preview.rows.len();
    let (bad, good) = (rows_that(preview, true), rows_that(preview, false));
    let shown: Vec<_> = match all > SHOWN {
        true => bad.chain(good).take(SHOWN).map(row_line).collect(),
        false => preview.rows.iter().map(row_line).collect(),
    };
    if all > SHOWN {
        body.said(&format!("Of {all} rows these are {SHOWN}, bad ones first."));
    }
    if !shown.is_empty() {
        body.rows(&shown);
    }
}

fn rows_that(preview: &Preview, are_bad: bool) -> impl Iterator<Item = &app::ImportRow> {
    preview
        .rows
        .iter()
        .filter(move |row| row.is_bad() == are_bad)
}

pub(super) async fn take(
    State(state): State<Arc<AppState>>,
    prefs: Preferences,
    sent: FormData,
) -> Result<Response, ErrorPage> {
    let name = sent.text("file").to_owned();
    let Some(upload) = state.uploads.get(&name) else {
        return Err(ErrorPage::new(
            StatusCode::GONE,
            "No longer there",
            "This table was taken already, or others were sent since. Look under Yarns or Stock, or send it again under Tables.",
        ));
    };
    let taken = state
        .write(move |records| taken(records, &upload))
        .await??;
    state.uploads.remove(&name);
    done(&state, HERE, taken.page(&prefs.style()))
}

fn taken(records: &mut app::Records, upload: &Upload) -> Result<ImportAnswer, AppError> {
    let bytes = upload.bytes.as_ref();
    match upload.kind {
        TableKind::Yarns => app::import_yarns(records, &upload.name, bytes, upload.update, |_| ()),
        TableKind::Stock => app::import_stock(records, &upload.name, bytes, upload.update, |_| ()),
        TableKind::Swatches => app::import_swatches(records, &upload.name, bytes, |_| ()),
    }
}

/// A table that is saved whole.
async fn download_table(
    state: &Arc<AppState>,
    name: &'static str,
    write: impl FnOnce(&app::Records, &mut Vec<u8>) -> Result<Exported, AppError> + Send + 'static,
) -> Result<Response, ErrorPage> {
    let bytes = state
        .read(move |records| {
            let mut bytes = Vec::new();
            write(records, &mut bytes).map(|_| bytes)
        })
        .await??;
    Ok(download("text/csv; charset=utf-8", name, bytes))
}

pub(super) async fn yarns(State(state): State<Arc<AppState>>) -> Result<Response, ErrorPage> {
    download_table(&state, "yarns.csv", |records, bytes| {
        app::export_yarns(records, "yarns.csv", bytes)
    })
    .await
}

pub(super) async fn stock(State(state): State<Arc<AppState>>) -> Result<Response, ErrorPage> {
    download_table(&state, "stock.csv", |records, bytes| {
        app::export_stock(records, "stock.csv", bytes)
    })
    .await
}

pub(super) async fn swatches(State(state): State<Arc<AppState>>) -> Result<Response, ErrorPage> {
    download_table(&state, "swatches.csv", |records, bytes| {
        app::export_swatches(records, "swatches.csv", bytes)
    })
    .await
}
