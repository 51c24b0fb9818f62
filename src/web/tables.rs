//! Tables in and out: a file is looked over row by row before anything of it is
//! taken; all records of one kind is written as a file.

use super::{
    body::Body,
    error_page::{ErrorPage, status},
    form::{Field, Form, Head, Kind},
    form_data::SentForm,
    kept_record::marked_form,
    links::download,
    refusal::FieldError,
    sent_once::Done,
    state::Upload,
    visit::{PageResult, Visit},
};
use crate::{
    app::{self, AppError, FormData, ImportAnswer, ImportRow, Preview, Records, TableKind},
    report::{Render, error_words, preview_notes, row_line, table_columns},
    words::count_of_items,
};
use axum::{http::StatusCode, response::Response};
use std::sync::Arc;

const HERE: &str = "/tables";
const TITLE: &str = "Import and export";
/// How many rows are shown; the bad ones come first where there are more.
const SHOWN: usize = 400;

/// What a table holds, by the name that the form has for it.
const KINDS: [(&str, &str); 5] = [
    ("yarns", "Yarns"),
    ("stock", "Stash"),
    ("swatches", "Swatches"),
    ("projects", "Projects"),
    ("reservations", "Reserved yarn"),
];

fn upload_form() -> Form {
    let of = Field::new(
        "of",
        "What is in the table",
        "Import your yarns first, then the stash and the swatches of them, then what is reserved.",
        Kind::Radio(KINDS.to_vec()),
    );
    let file = Field {
        lead: "Either",
        ..Field::new(
            "file",
            "A file",
            "Saved as CSV, which every spreadsheet can do.",
            Kind::File,
        )
    };
    let text = Field {
        lead: "Or",
        ..Field::new(
            "text",
            "The table as text",
            "One row per line; the first line names the columns, as shown below.",
            Kind::Area(4),
        )
    };
    let update = Field::new(
        "update",
        "Replace what you have where the table differs",
        "If not ticked, such rows are refused. Swatches are always added.",
        Kind::Tick,
    );
    Form::post("look", "/tables/look", "Show what will change")
        .with_upload()
        .with(Head::None, vec![of.holding("yarns"), file, text, update])
}

pub(super) async fn page(visit: Visit) -> Response {
    table_page(&visit, upload_form(), (StatusCode::OK, Vec::new()))
}

fn table_page(
    visit: &Visit,
    form: Form,
    (status, found): (StatusCode, Vec<FieldError>),
) -> Response {
    let (form, mut body) = marked_form(visit, form, found);
    body.heading(TITLE);
    body.text("Yarns, stash, swatches, projects and what is reserved: from a table into your records, and back into one.");
    body.links(&[
        ("/yarns.csv", "Export all yarns (CSV)"),
        ("/stock.csv", "Export the stash (CSV)"),
        ("/swatches.csv", "Export all swatches (CSV)"),
        ("/yarns.xlsx", "Export all yarns (.xlsx)"),
        ("/stock.xlsx", "Export the stash (.xlsx)"),
        ("/swatches.xlsx", "Export all swatches (.xlsx)"),
        ("/projects.csv", "Export all projects (CSV)"),
        ("/projects.xlsx", "Export all projects (.xlsx)"),
        ("/reservations.csv", "Export what is reserved (CSV)"),
        ("/reservations.xlsx", "Export what is reserved (.xlsx)"),
        ("/tables/any", "Import a table with other columns"),
        ("/undo", "Undo a change"),
    ]);
    body.part("Import a table");
    body.hint("Nothing is saved before you have seen what will change.");
    body.form(&form);
    body.report(&table_columns(&visit.style()));
    visit.page_of(status, (TITLE, HERE), body)
}

/// The file or the text that was sent.
fn upload(sent: &SentForm) -> Option<Upload> {
    let (name, bytes) = sent.file_or_text()?;
    Some(Upload {
        name,
        kind: match sent.typed.text("of") {
            "stock" => TableKind::Stock,
            "swatches" => TableKind::Swatches,
            "projects" => TableKind::Projects,
            "reservations" => TableKind::Reservations,
            _ => TableKind::Yarns,
        },
        update: sent.typed.filled("update").is_some(),
        bytes,
    })
}

pub(super) async fn look(visit: Visit, sent: SentForm) -> PageResult {
    let form = upload_form().filled(&sent.typed);
    let refused = |form: Form, status, said: String| {
        table_page(&visit, form, (status, vec![FieldError::new("file", said)]))
    };
    let Some(upload) = upload(&sent) else {
        let said = "there is no file and no text: choose a file or write a text".to_owned();
        return Ok(refused(form, StatusCode::UNPROCESSABLE_ENTITY, said));
    };
    let trying = upload.clone();
    let preview = visit.state.write(move |records| preview(records, &trying));
    match preview.await? {
        Ok(preview) => preview_page(&visit, upload, &preview, &form),
        Err(error) => {
            let said = error_words(&error, &form.style(&visit.prefs));
            Ok(refused(form, status(&error), said))
        }
    }
}

fn preview(records: &mut Records, upload: &Upload) -> Result<Preview, AppError> {
    let (name, bytes) = (upload.name.as_str(), upload.bytes.as_ref());
    app::preview_table(records, upload.kind, name, bytes, upload.update)
}

/// What would happen, with the button that makes it happen where it can.
fn preview_page(visit: &Visit, upload: Upload, preview: &Preview, again: &Form) -> PageResult {
    let title = "What will change";
    let mut body = visit.body();
    if !preview.good {
        let bad = preview.rows.iter().filter(|row| row.is_bad()).count();
        let said = format!(
            "{} with faults; nothing was imported. Correct the file and send it again.",
            count_of_items(bad, "row")
        );
        body.faults(&[FieldError::new("", said)]);
    }
    body.heading(title);
    body.text(&format!(
        "{} will be added, {} changed, {} already there.",
        count_of_items(preview.added, "row"),
        preview.changed,
        preview.unchanged
    ));
    if preview.good {
        let name = visit.state.uploads.insert(upload)?;
        body.form(
            &Form::get("take", "/tables/take", "Import it")
                .once()
                .hidden("file", name),
        );
        body.links(&[(HERE, "Do not import")]);
    }
    rows(&mut body, preview);
    body.report(&preview_notes(preview, &visit.style()));
    if preview.good {
        return Ok(visit.page((title, HERE), body));
    }
    body.part("Send it again");
    body.form(again);
    Ok(visit.page_of(StatusCode::UNPROCESSABLE_ENTITY, (title, HERE), body))
}

fn rows(body: &mut Body, preview: &Preview) {
    let mut rows: Vec<&ImportRow> = preview.rows.iter().collect();
    if rows.len() > SHOWN {
        let all = rows.len();
        body.text(&format!("Of {all} rows these are {SHOWN}, bad ones first."));
        rows.sort_by_key(|row| !row.is_bad());
        rows.truncate(SHOWN);
    }
    if !rows.is_empty() {
        body.rows(&rows.into_iter().map(row_line).collect::<Vec<_>>());
    }
}

pub(super) async fn take(visit: Visit, sent: FormData) -> PageResult {
    let (state, style) = (Arc::clone(&visit.state), visit.style());
    let taking = move |records: &mut Records, sent: &FormData| {
        let name = sent.text("file");
        let upload = state.uploads.get(name).ok_or_else(no_longer_there)?;
        let taken = take_in(records, &upload)?;
        state.uploads.remove(name);
        Ok(Done {
            next: HERE.to_owned(),
            told: Some(taken.page(&style)),
            change: None,
        })
    };
    visit.once(&sent, taking).await?
}

pub(super) fn no_longer_there() -> ErrorPage {
    ErrorPage::new(
        StatusCode::GONE,
        "No longer there",
        "This table was already imported, or others were sent since. Look under Stash, or send it again under Import and export.",
    )
}

fn take_in(records: &mut Records, upload: &Upload) -> Result<ImportAnswer, AppError> {
    let (name, bytes) = (upload.name.as_str(), upload.bytes.as_ref());
    app::import_table(records, upload.kind, name, bytes, upload.update, |_| ())
}

/// All records of one kind, as a file of this name.
pub(super) async fn file(visit: Visit, name: &'static str, kind: TableKind) -> PageResult {
    let export = move |records: &Records| {
        let mut bytes = Vec::new();
        app::export_table(records, kind, name, &mut bytes)?;
        Ok(bytes)
    };
    let bytes = visit.read(export).await?;
    let kind = match app::is_workbook(name) {
        true => "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet",
        false => "text/csv; charset=utf-8",
    };
    Ok(download(kind, name, bytes))
}
