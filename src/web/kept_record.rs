//! Saving, editing and removing of kept records, the same for all of them: the
//! form, the form again with what is wrong, what someone else has kept meanwhile,
//! the removal with its tick.

use super::{
    body::Body,
    error_page::ErrorPage,
    form::{Field, Form, Head, Kind},
    refusal::{FieldError, Refusal},
    state::AppState,
    visit::{PageResult, Saved, Visit},
};
use crate::{
    app::{AppError, FormData, KeptFields, Records},
    report::{Page, Role, Table},
};
use axum::{
    Router,
    extract::Path,
    http::StatusCode,
    response::Response,
    routing::{get, post},
};
use std::sync::Arc;

/// The button that removes a record, and what it does: gives the page to go on from.
pub(super) type Removal = (&'static str, fn(&mut Records, i64) -> Saved);

/// A kind of record that is edited in a form.
pub(super) trait KeptRecord: 'static {
    /// The part of the program that it belongs to.
    const HERE: &'static str;
    /// Where each of them is, by its number.
    const PATH: &'static str = Self::HERE;
    /// What stands before its name in a title.
    const WHAT: &'static str = "";
    /// How one is removed; nothing where it is not.
    const REMOVAL: Option<Removal>;

    /// The form, empty.
    fn form(action: String) -> Form;

    /// The form with the fields that these texts need.
    fn form_for(action: String, _: &FormData) -> Form {
        Self::form(action)
    }

    /// The fields with one more row, where a button of the form asked for it.
    fn with_another(_: &FormData) -> Option<FormData> {
        None
    }

    /// The record as it is kept.
    fn kept(records: &Records, number: i64) -> Result<KeptFields, AppError>;

    /// Saves one that was read at a version; gives the page that shows it.
    fn save(records: &mut Records, read: (i64, i64), typed: &FormData) -> Saved;
}

/// Where one is edited, saved and removed.
pub(super) fn routes<R: KeptRecord>() -> Router<Arc<AppState>> {
    let path = |what: &str| format!("{}/{{number}}/{what}", R::PATH);
    let routes = Router::new().route(&path("edit"), get(edit::<R>).post(save::<R>));
    match R::REMOVAL {
        Some(_) => routes.route(&path("remove"), post(remove::<R>)),
        None => routes,
    }
}

fn form<R: KeptRecord>(number: i64, version: i64, typed: &FormData) -> Form {
    let form = R::form_for(format!("{}/{number}/edit", R::PATH), typed);
    form.hidden("version", version).filled(typed)
}

fn title<R: KeptRecord>(kept: &KeptFields) -> String {
    format!("Edit {}{}", R::WHAT, kept.title)
}

/// The form of a kept record.
async fn edit<R: KeptRecord>(visit: Visit, Path(number): Path<i64>) -> PageResult {
    let kept = visit.read(move |records| R::kept(records, number)).await?;
    let form = form::<R>(number, kept.version, &kept.typed);
    let place = (title::<R>(&kept), R::HERE);
    Ok(form_page(&visit, place, form, None, |body| {
        if let Some((submit, _)) = R::REMOVAL {
            body.form(&removal(format!("{}/{number}/remove", R::PATH), submit));
        }
    }))
}

/// Saves a kept record. Where that is refused the form comes again; where someone
/// else changed the record meanwhile it is one of what is kept now.
async fn save<R: KeptRecord>(visit: Visit, Path(number): Path<i64>, typed: FormData) -> PageResult {
    let read = typed.number("version");
    let version = read.unwrap_or(0);
    if let Some(more) = R::with_another(&typed) {
        let kept = visit.read(move |records| R::kept(records, number)).await?;
        let place = (title::<R>(&kept), R::HERE);
        return Ok(form_page(
            &visit,
            place,
            form::<R>(number, version, &more),
            None,
            |_| (),
        ));
    }
    let saving =
        move |records: &mut Records, typed: &FormData| R::save(records, (number, version), typed);
    let refusal = match visit.keep(&typed, saving).await? {
        Ok(done) => return Ok(done),
        Err(refusal) => refusal,
    };
    let kept = visit.read(move |records| R::kept(records, number)).await?;
    let clash = refusal.is_clash();
    let version = read.filter(|_| !clash).unwrap_or(kept.version);
    let form = form::<R>(number, version, &typed);
    let differing = clash.then(|| differences(&form, &kept.typed));
    let place = (title::<R>(&kept), R::HERE);
    Ok(form_page(&visit, place, form, Some(refusal), |body| {
        if let Some(page) = differing {
            body.notice(page);
        }
    }))
}

/// Removes a kept record, where the box was ticked.
async fn remove<R: KeptRecord>(
    visit: Visit,
    Path(number): Path<i64>,
    typed: FormData,
) -> PageResult {
    if typed.filled("sure").is_none() {
        let said = "Nothing was removed: tick `Yes, remove it` and send again.";
        return Err(ErrorPage::wrong(said));
    }
    let Some((_, remove)) = R::REMOVAL else {
        return Err(ErrorPage::not_found());
    };
    let removing = move |records: &mut Records, _: &FormData| remove(records, number);
    Ok(visit.keep(&typed, removing).await??)
}

/// A page with a form, and what is wrong with what was typed in it.
pub(super) fn form_page(
    visit: &Visit,
    (title, here): (impl AsRef<str>, &'static str),
    form: Form,
    refused: Option<Refusal>,
    more: impl FnOnce(&mut Body),
) -> Response {
    let (status, form, mut body) = refused_form(visit, form, refused);
    body.heading(title.as_ref());
    body.form(&form);
    more(&mut body);
    visit.page_of(status, (title.as_ref(), here), body)
}

/// What [`marked_form`] gives, for what was refused, and the status.
pub(super) fn refused_form(
    visit: &Visit,
    form: Form,
    refused: Option<Refusal>,
) -> (StatusCode, Form, Body) {
    let style = form.style(&visit.prefs);
    let found = refused.map(|refusal| refusal.found(&style));
    let (status, found) = found.unwrap_or((StatusCode::OK, Vec::new()));
    let (form, body) = marked_form(visit, form, found);
    (status, form, body)
}

/// A form with each message beside its field, and a page that begins with all of them.
pub(super) fn marked_form(visit: &Visit, form: Form, found: Vec<FieldError>) -> (Form, Body) {
    let (form, told) = form.marked(found);
    let mut body = visit.body();
    body.faults(&told);
    (form, body)
}

/// A button that removes something, folded away.
fn removal(action: String, submit: &'static str) -> Form {
    let sure = Field::new("sure", "Yes, remove it", "", Kind::Tick);
    Form::get("remove", action, submit)
        .once()
        .with(Head::Folded("Remove".to_owned()), vec![sure])
}

/// What someone else has kept meanwhile, field by field where it differs from the
/// form.
fn differences(form: &Form, kept: &FormData) -> Page {
    let differing = form
        .fields()
        .filter(|field| kept.text(&field.name) != field.value);
    let mut page = Page::default();
    page.text(
        Role::Plain,
        "Your changes are in the form and not saved yet. Someone else saved these meanwhile:",
    );
    page.table(
        Table::of(differing)
            .left("", |field| {
                format!("{}, as saved now", field.name_in_words())
            })
            .left("", |field| kept.text(&field.name)),
    );
    page.text(Role::Caution, "If you save the form now, it replaces them.");
    page
}
