//! Tables of others: sent, looked at with a menu for each column, and taken.

use super::{
    body::Body,
    error_page::ErrorPage,
    form::{Field, Form, Head, Kind},
    form_data::SentForm,
    kept_record::marked_form,
    refusal::{FieldError, Refusal},
    sent_once::Done,
    state::Upload,
    tables::no_longer_there,
    visit::{PageResult, Visit},
};
use crate::{
    app::{
        self, AppError, FIELDS, FormData, LEAVE_OUT, Records, SourceFile, TableKind, TableLook,
        TableRequest,
    },
    report::{Render, field_words, layout_words},
    words::safe,
};
use axum::{http::StatusCode, response::Response};
use std::sync::Arc;

const HERE: &str = "/tables/any";
const TITLE: &str = "A table with other columns";
const INTRO: &str =
    "A spreadsheet of your own, a price list of your supplier: yarns, stash or both.";

/// Where the name of the sent file stands in a form.
const HELD: &str = "held";
/// Menus that a page may have.
const MENUS: usize = 200;

fn upload_form() -> Form {
    let file = Field::new(
        "file",
        "A table (CSV, .xlsx or .ods)",
        "From any program, with any columns. You see how it is read before anything is saved.",
        Kind::File,
    );
    let text = Field::new(
        "text",
        "Or its text",
        "Paste it with the line that names its columns.",
        Kind::Area(4),
    );
    Form::post("look", "/tables/any/look", "See how it is read")
        .with_upload()
        .with(Head::None, vec![file, text])
        .with(
            Head::Folded("What the table does not say".to_owned()),
            answers(),
        )
}

/// What may be said about a table.
fn answers() -> Vec<Field> {
    let said = app::request_fields::<TableRequest>().into_iter();
    let said = said.filter(|field| field.name != "column").map(Field::from);
    let layout = Field::new(
        "layout",
        "Name of the layout",
        "What you say here is remembered under it, and used for the next table. As in: supplier",
        Kind::Line,
    );
    let update = Field::new(
        "update",
        "Replace what differs in records that you have",
        "",
        Kind::Tick,
    );
    said.chain([layout, update]).collect()
}

/// The form, and the layouts that are remembered, each with a button that removes it.
pub(super) async fn page(visit: Visit) -> PageResult {
    let layouts = visit.read(app::list_layouts).await?.0;
    let mut body = visit.body();
    body.heading(TITLE);
    body.text(INTRO);
    body.form(&upload_form());
    if !layouts.is_empty() {
        body.part("Layouts that are remembered");
    }
    for (layout, number) in layouts.iter().zip(1..) {
        let name = safe(&layout.name);
        body.text(&format!("{name}: {}", layout_words(layout)));
        let form = Form::get("forget", "/tables/any/forget", "Remove this layout").once();
        body.form(&Form {
            id: format!("forget-{number}"),
            ..form.hidden("layout", &layout.name)
        });
    }
    Ok(visit.page((TITLE, HERE), body))
}

/// Removes a layout.
pub(super) async fn forget(visit: Visit, typed: FormData) -> PageResult {
    let forgetting = |records: &mut Records, typed: &FormData| {
        let change = app::forget_layout(records, typed.text("layout"))?;
        Ok((HERE.to_owned(), change))
    };
    Ok(visit.keep(&typed, forgetting).await??)
}

fn sending_page(visit: &Visit, form: Form, status: StatusCode, found: Vec<FieldError>) -> Response {
    let (form, mut body) = marked_form(visit, form, found);
    body.heading(TITLE);
    body.text(INTRO);
    body.form(&form);
    visit.page_of(status, (TITLE, HERE), body)
}

/// What was asked: the file that was sent, or that was sent before, and what is said of it.
struct Asked {
    file: SourceFile,
    request: TableRequest,
    layout: Option<String>,
    update: bool,
}

impl Asked {
    fn of(upload: &Upload, typed: &FormData) -> Result<Self, AppError> {
        let mut request: TableRequest = app::from_form(typed)?;
        let menus = (0..MENUS).filter_map(|place| {
            let field = typed.filled(&menu(place))?;
            let head = |place| typed.text(&format!("head-{place}")).to_owned();
            // Of columns of one head each is named by its place.
            let is_only = (0..MENUS).filter(|it| head(*it) == head(place)).count() == 1;
            let name = match is_only {
                true => head(place),
                false => format!("#{}", place + 1),
            };
            Some(format!("{name}={field}"))
        });
        request.columns = menus.collect();
        Ok(Self {
            file: SourceFile {
                name: upload.name.clone(),
                bytes: upload.bytes.to_vec(),
            },
            request,
            layout: typed.filled("layout"),
            update: typed.filled("update").is_some(),
        })
    }
}

fn menu(place: usize) -> String {
    format!("column-{place}")
}

pub(super) async fn look(visit: Visit, sent: SentForm) -> PageResult {
    let sent_now = sent.file_or_text();
    let held = sent.typed.filled(HELD).filter(|_| sent_now.is_none());
    let upload = match (sent_now, &held) {
        (Some((name, bytes)), _) => Upload {
            name,
            kind: TableKind::Yarns,
            update: false,
            bytes,
        },
        (None, Some(name)) => visit.state.uploads.get(name).ok_or_else(no_longer_there)?,
        (None, None) => {
            let said = "there is no file and no text: choose a file or paste a text";
            let found = vec![FieldError::new("file", said.to_owned())];
            let form = upload_form().filled(&sent.typed);
            return Ok(sending_page(
                &visit,
                form,
                StatusCode::UNPROCESSABLE_ENTITY,
                found,
            ));
        }
    };
    let form = upload_form().filled(&sent.typed);
    let looked = match Asked::of(&upload, &sent.typed) {
        Ok(asked) => {
            visit
                .state
                .write(move |records| look_at(records, &asked))
                .await?
        }
        Err(error) => Err(error),
    };
    match looked {
        Ok(look) => {
            let name = match held {
                Some(name) => name,
                None => visit.state.uploads.insert(upload)?,
            };
            Ok(look_page(&visit, &look, &name, &sent.typed))
        }
        Err(error) => {
            let (status, found) = Refusal::from(error).found(&form.style(&visit.prefs));
            let form = held.iter().fold(form, |form, name| form.hidden(HELD, name));
            Ok(sending_page(&visit, form, status, found))
        }
    }
}

fn look_at(records: &mut Records, asked: &Asked) -> Result<TableLook, AppError> {
    let layout = asked.layout.as_deref();
    app::look_at_table(records, &asked.file, &asked.request, layout, asked.update)
}

/// How the table is read, with a menu for each column, and the button that imports it
/// where it can be.
fn look_page(visit: &Visit, look: &TableLook, name: &str, typed: &FormData) -> Response {
    let again = again_form(look, name).filled(typed);
    let style = again.style(&visit.prefs);
    let mut body: Body = visit.body();
    body.report(&look.page(&style));
    if look.is_good() {
        let take = Form::get("take", "/tables/any/take", "Import it").once();
        let take = take.hidden(HELD, name);
        let fields = again.fields().map(|field| (&field.name, &field.value));
        let hidden = again.hidden.iter().map(|(name, value)| (name, value));
        let said = fields
            .chain(hidden)
            .filter(|(name, value)| *name != HELD && !value.is_empty());
        body.form(&said.fold(take, |form, (name, value)| form.hidden(name, value)));
    }
    body.part("Correct how it is read");
    body.form(&again);
    visit.page((TITLE, HERE), body)
}

fn again_form(look: &TableLook, name: &str) -> Form {
    let choices = || {
        let fields = FIELDS
            .iter()
            .map(|field| (field.name.to_owned(), field_words(field.name).to_owned()));
        let out = (LEAVE_OUT.to_owned(), "left out".to_owned());
        Kind::Choose(std::iter::once(out).chain(fields).collect())
    };
    let columns = look.layout.columns.iter().enumerate().take(MENUS);
    let columns = columns.filter(|(_, column)| !column.head.is_empty());
    let menus = columns.clone().map(|(place, column)| {
        let hint = match column.sample.as_str() {
            "" => "no cell is filled".to_owned(),
            sample => format!("such as {sample}"),
        };
        let held = column.field.map_or(LEAVE_OUT, |field| field.name);
        Field::new(&menu(place), &column.head, &hint, choices()).holding(held)
    });
    let form = Form::post("again", "/tables/any/look", "Look again")
        .with_upload()
        .hidden(HELD, name)
        .with(
            Head::Legend("What the columns hold".to_owned()),
            menus.collect(),
        )
        .with(
            Head::Legend("What the table does not say".to_owned()),
            answers(),
        );
    columns.fold(form, |form, (place, column)| {
        form.hidden(&format!("head-{place}"), &column.head)
    })
}

pub(super) async fn take(visit: Visit, sent: FormData) -> PageResult {
    let (state, style) = (Arc::clone(&visit.state), visit.style());
    let taking = move |records: &mut Records, sent: &FormData| {
        let name = sent.text(HELD);
        let upload = state.uploads.get(name).ok_or_else(no_longer_there)?;
        let asked = Asked::of(&upload, sent).map_err(ErrorPage::from)?;
        let layout = asked.layout.as_deref();
        let (file, request) = (&asked.file, &asked.request);
        let done = app::import_any_table(records, file, request, layout, asked.update)?;
        state.uploads.remove(name);
        let pages = done.iter().map(|answer| answer.page(&style));
        let told = pages.reduce(|mut all, page| {
            all.blocks.extend(page.blocks);
            all
        });
        Ok(Done {
            next: "/tables".to_owned(),
            told,
            change: None,
        })
    };
    visit.once(&sent, taking).await?
}
