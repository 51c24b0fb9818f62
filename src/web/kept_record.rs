//! Saving, editing and removing of kept records, the same for all of them: the
//! form, the form again with what is wrong, what someone else has kept meanwhile,
//! the removal with its tick, and the page that tells what was done.

use super::{
    body::Body,
    form::{Field, Form, Group, Head, Kind},
    layout::Layout,
    links::redirect,
    preferences::Preferences,
    refusal::{ErrorPage, FieldError, errors_of, status},
    state::AppState,
};
use crate::{
    app::{AppError, FormData, KeptFields, RecordChange, Records},
    report::{Align, Block, Page, Render, Role, Table},
};
use axum::{
    extract::{Path, State},
    http::StatusCode,
    response::Response,
};
use std::sync::Arc;

/// A kind of record that is edited in a form.
pub(super) trait KeptRecord: 'static {
    /// The part of the program that it belongs to.
    const HERE: &'static str;
    /// Where each of them is, by its number.
    const PATH: &'static str;
    /// What stands before its name in a title.
    const WHAT: &'static str;
    /// The button that removes one; none where it is not removed.
    const REMOVE: Option<&'static str>;

    /// The form, empty.
    fn form(action: String) -> Form;

    /// The record as it is kept.
    fn kept(records: &Records, number: i64) -> Result<KeptFields, AppError>;

    /// Saves one that was read at a version; gives the page that shows it.
    fn save(records: &mut Records, read: (i64, i64), typed: &FormData) -> Saved;

    /// Removes one; gives the page to go on from.
    fn remove(records: &mut Records, number: i64) -> Result<String, AppError>;
}

/// The page that shows what was saved, and what was done.
pub(super) type Saved = Result<(String, RecordChange), AppError>;

fn form<R: KeptRecord>(number: i64, version: i64) -> Form {
    R::form(format!("{}/{number}/edit", R::PATH)).hidden("version", version)
}

fn title<R: KeptRecord>(kept: &KeptFields) -> String {
    format!("Edit {}{}", R::WHAT, kept.title)
}

/// The form of a kept record.
pub(super) async fn edit<R: KeptRecord>(
    State(state): State<Arc<AppState>>,
    Path(number): Path<i64>,
    prefs: Preferences,
) -> Result<Response, ErrorPage> {
    let kept = state
        .read(move |records| R::kept(records, number))
        .await??;
    let form = form::<R>(number, kept.version).filled(&kept.typed);
    let title = title::<R>(&kept);
    Ok(form_page((&title, R::HERE), &prefs, form, None, |body| {
        if let Some(submit) = R::REMOVE {
            body.form(&removal(format!("{}/{number}/remove", R::PATH), submit));
        }
    }))
}

/// Saves a kept record. Where that is refused the form comes again; where someone
/// else changed the record meanwhile it is one of what is kept now.
pub(super) async fn save<R: KeptRecord>(
    State(state): State<Arc<AppState>>,
    Path(number): Path<i64>,
    prefs: Preferences,
    typed: FormData,
) -> Result<Response, ErrorPage> {
    let read = typed.number("version");
    let sent = typed.clone();
    let saving =
        move |records: &mut Records| R::save(records, (number, read.unwrap_or_default()), &sent);
    let error = match keep(&state, &prefs, saving).await? {
        Ok(done) => return Ok(done),
        Err(error) => error,
    };
    let kept = state
        .read(move |records| R::kept(records, number))
        .await??;
    let clash = error.is_clash();
    let version = read.filter(|_| !clash).unwrap_or(kept.version);
    let form = form::<R>(number, version).filled(&typed);
    let differing = clash.then(|| differences(&form, &kept.typed));
    let title = title::<R>(&kept);
    let page = form_page((&title, R::HERE), &prefs, form, Some(&error), |body| {
        if let Some(page) = differing {
            body.told(page);
        }
    });
    Ok(page)
}

/// Removes a kept record, where the box was ticked.
pub(super) async fn remove<R: KeptRecord>(
    State(state): State<Arc<AppState>>,
    Path(number): Path<i64>,
    typed: FormData,
) -> Result<Response, ErrorPage> {
    if typed.filled("sure").is_none() {
        let said = "Nothing was removed: tick `Yes, remove it for good` and send again.";
        return Err(ErrorPage::wrong(said));
    }
    let next = state
        .write(move |records| R::remove(records, number))
        .await??;
    Ok(redirect(&next))
}

/// Saves something and goes on to the page that tells so, or gives back why not.
pub(super) async fn keep(
    state: &Arc<AppState>,
    prefs: &Preferences,
    save: impl FnOnce(&mut Records) -> Saved + Send + 'static,
) -> Result<Result<Response, AppError>, ErrorPage> {
    Ok(match state.write(save).await? {
        Ok((next, change)) => Ok(done(state, &next, change.page(&prefs.style()))?),
        Err(error) => Err(error),
    })
}

/// On to a page that tells what was done.
pub(super) fn done(state: &AppState, next: &str, told: Page) -> Result<Response, ErrorPage> {
    let token = state.flashes.insert(told)?;
    Ok(redirect(&format!("{next}?done={token}")))
}

/// What was done before this page was asked for, where it is told.
pub(super) fn flash(state: &AppState, typed: &FormData, body: &mut Body) {
    if let Some(page) = state.flashes.get(typed.text("done")) {
        body.told(page);
    }
}

/// A page with a form, and what is wrong with what was typed in it.
pub(super) fn form_page(
    place: (&str, &'static str),
    prefs: &Preferences,
    form: Form,
    refused: Option<&AppError>,
    extra: impl FnOnce(&mut Body),
) -> Response {
    let style = form.style(prefs);
    let wrong = match refused {
        Some(error) => (status(error), errors_of(error, &style)),
        None => (StatusCode::OK, Vec::new()),
    };
    faulty_page(place, prefs, form, wrong, extra)
}

/// The same with faults that the page found itself.
pub(super) fn faulty_page(
    (title, here): (&str, &'static str),
    prefs: &Preferences,
    form: Form,
    (status, found): (StatusCode, Vec<FieldError>),
    extra: impl FnOnce(&mut Body),
) -> Response {
    let (form, told) = form.marked(found);
    let mut body = Body::default();
    body.faults(&told);
    body.heading(title);
    body.form(&form);
    extra(&mut body);
    Layout::new(title, here, prefs).page(status, body)
}

/// A button that removes something, folded away.
fn removal(action: String, submit: &'static str) -> Form {
    let sure = Field::new("sure", "Yes, remove it for good", "", Kind::Tick);
    Form::post("remove", action, submit)
        .with(Group::new(Head::Folded("Remove".to_owned()), vec![sure]))
}

/// What someone else has kept meanwhile, field by field where it differs from the
/// form.
fn differences(form: &Form, kept: &FormData) -> Page {
    let mut table = Table::new(&[("", Align::Left), ("", Align::Left)]);
    let fields = form.fields();
    let differing = fields.filter(|field| kept.text(&field.name) != field.value);
    table.rows = differing
        .map(|field| {
            vec![
                format!("{}, as kept now", field.name_in_words()),
                kept.text(&field.name).to_owned(),
            ]
        })
        .collect();
    let said = "Your changes are in the form and not kept yet. What someone else has kept meanwhile differs so:";
    let warning = "Keeping the form now puts it in the place of that.";
    Page {
        blocks: vec![
            Block::Text(Role::Plain, said.to_owned()),
            Block::Table(table),
            Block::Text(Role::Caution, warning.to_owned()),
        ],
    }
}
