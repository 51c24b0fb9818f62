//! What the pages of all records share: the page with a form, what was done, what
//! someone else has kept meanwhile.

use super::{
    body::{Body, Place},
    cookies::{UNITS, with_cookie},
    error_page::{ErrorPage, status},
    field_errors::{FieldError, faults},
    form::{Field, Form, Group, Head, Kind},
    layout::Layout,
    links::{own, redirect},
    preferences::Preferences,
    state::AppState,
};
use crate::{
    app::{AppError, Browsed, FieldKind, FormData},
    report::{Notice, Report},
};
use axum::{http::StatusCode, response::Response};

/// A form with one field that searches a list.
pub(super) fn search(action: &str, label: &str, text: &str) -> Form {
    let mut field = Field::line("q", label, "");
    field.value = text.to_owned();
    Form::get("search", action, "Search").with(Group::plain(vec![field]))
}

/// What was done before this page was asked for, where it is told.
pub(super) fn flash(state: &AppState, sent: &FormData, body: &mut Body, prefs: &Preferences) {
    if let Some(notice) = state.notices.get(sent.text("done")) {
        body.told(notice.page(), prefs.yards);
    }
}

/// On to a page that tells what was done.
pub(super) fn done(state: &AppState, to: &str, notice: Notice) -> Result<Response, ErrorPage> {
    let name = state.notices.insert(notice)?;
    Ok(redirect(&format!("{to}?done={name}")))
}

/// A field of a record's column.
pub(super) fn field_of(kind: &FieldKind) -> Field {
    let holds = capital(&kind.holds.replace('`', ""));
    let hint = match kind.name {
        "discontinued" => holds,
        _ => format!("{holds}, as in: {}", kind.example),
    };
    let shape = match kind.name {
        "notes" => Kind::Area(3),
        "discontinued" => Kind::Radio(vec![("no", "No"), ("yes", "Yes")]),
        _ => Kind::Line,
    };
    let label = match kind.name {
        "gtin" => "article number",
        name => name,
    };
    let mut field = Field::new(kind.name, &capital(label), &hint, shape);
    field.needed = kind.needed;
    if kind.name == "discontinued" {
        field.value = "no".to_owned();
    }
    field
}

/// Words as they begin a sentence.
fn capital(words: &str) -> String {
    let mut letters = words.chars();
    letters.next().map_or_else(String::new, |first| {
        first.to_uppercase().chain(letters).collect()
    })
}

/// A page with a form, and what is wrong with what was typed in it.
pub(super) fn form_page(
    (title, here): (&str, &'static str),
    prefs: &Preferences,
    form: Form,
    refused: Option<&AppError>,
    extra: impl FnOnce(&mut Body),
) -> Response {
    let found = refused.map(faults).unwrap_or_default();
    let status = refused.map_or(StatusCode::OK, status);
    faulty_page((title, here), prefs, form, (status, found), extra)
}

/// The same with faults that the form found itself.
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

/// The form again after a change to what is kept was refused. Where someone else
/// changed that meanwhile, the form is one of what is kept now, and that is told.
pub(super) fn edit_again(
    (title, here): (&str, &'static str),
    prefs: &Preferences,
    error: &AppError,
    (version, kept): (i64, &FormData),
    sent: &FormData,
    form: impl FnOnce(i64) -> Form,
) -> Response {
    let clash = error.is_clash();
    let version = match sent.number("version") {
        Some(read) if !clash => read,
        _ => version,
    };
    let form = form(version).filled(&sent);
    form_page((title, here), prefs, form, Some(error), |body| {
        if clash {
            differences(body, kept, &sent);
        }
    })
}

/// What a list is of, and what is said where it is empty.
pub(super) struct List<'l> {
    pub(super) heading: &'static str,
    pub(super) here: &'static str,
    pub(super) links: &'l [(&'static str, &'static str)],
    /// What the field that searches it takes.
    pub(super) search: &'static str,
    /// Where nothing is kept.
    pub(super) empty: &'static str,
    /// Where nothing is found.
    pub(super) none: &'static str,
}

impl List<'_> {
    /// One page of it.
    pub(super) fn page(&self, text: &str, found: &Browsed, prefs: &Preferences) -> Response {
        let mut body = Body::default();
        body.heading(self.heading);
        let links = self
            .links
            .iter()
            .map(|(to, name)| ((*to).to_owned(), *name));
        body.links(&links.collect::<Vec<_>>());
        body.form(&search(self.here, self.search, text));
        let place = Place {
            list: self.here,
            base: &format!("{}/", self.here),
            text,
            empty: if text.trim().is_empty() {
                self.empty
            } else {
                self.none
            },
        };
        body.browsed(found, &place, prefs.yards);
        Layout::new(self.heading, self.here, prefs).ok(body)
    }
}

/// A button that removes something, folded away.
pub(super) fn removal(action: String, submit: &'static str) -> Form {
    let sure = Field::new("sure", "Yes, remove it for good", "", Kind::Tick);
    Form::post("remove", action, submit)
        .with(Group::new(Head::Folded("Remove".to_owned()), vec![sure]))
}

/// What someone else has kept meanwhile, field by field where it differs.
fn differences(body: &mut Body, kept: &FormData, typed: &FormData) {
    let changed: Vec<(String, String)> = kept
        .iter()
        .filter(|(name, text)| typed.text(name) != *text)
        .map(|(name, text)| (format!("{name}, as kept now"), text.to_owned()))
        .collect();
    let notice = Notice {
        done: "Your changes are in the form and not kept yet. What someone else has kept meanwhile differs so:".to_owned(),
        details: changed,
        warnings: vec!["Keeping the form now puts it in the place of that.".to_owned()],
    };
    body.told(notice.page(), false);
}

/// Refused unless the box was ticked.
pub(super) fn sure(sent: &FormData) -> Result<(), ErrorPage> {
    match sent.filled("sure") {
        Some(_) => Ok(()),
        None => Err(ErrorPage::wrong(
            "Nothing was removed: tick `Yes, remove it for good` and send again.",
        )),
    }
}

/// Remembers which units come first, and goes back to the page.
pub(super) async fn units(sent: FormData) -> Response {
    let units = match sent.text("units") {
        "yards" => "yards",
        _ => "metres",
    };
    with_cookie(redirect(own(sent.text("back"))), UNITS, units, 31_536_000)
}
