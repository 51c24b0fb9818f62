//! What the pages of all records share: the page with a form, what was done, what
//! someone else has kept meanwhile.

use super::{
    body::{Body, Place},
    faults::{Fault, faults},
    form::{Field, Form, Group, Head, Kind},
    frame::{Frame, redirect},
    prefs::Prefs,
    sent::Sent,
    shop::Shop,
    trouble::{Trouble, status},
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
pub(super) fn news(shop: &Shop, sent: &Sent, body: &mut Body, prefs: &Prefs) {
    if let Some(notice) = shop.notices.get(sent.text("news")) {
        body.told(notice.page(), prefs.yards);
    }
}

/// On to a page that tells what was done.
pub(super) fn done(shop: &Shop, to: &str, notice: Notice) -> Result<Response, Trouble> {
    let name = shop.notices.hold(notice)?;
    Ok(redirect(&format!("{to}?news={name}")))
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
    prefs: &Prefs,
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
    prefs: &Prefs,
    form: Form,
    (status, found): (StatusCode, Vec<Fault>),
    extra: impl FnOnce(&mut Body),
) -> Response {
    let (form, told) = form.marked(found);
    let mut body = Body::default();
    body.faults(&told);
    body.heading(title);
    body.form(&form);
    extra(&mut body);
    Frame::of(title, here, prefs).page(status, body)
}

/// The form again after a change to what is kept was refused. Where someone else
/// changed that meanwhile, the form is one of what is kept now, and that is told.
pub(super) fn edit_again(
    (title, here): (&str, &'static str),
    prefs: &Prefs,
    error: &AppError,
    (version, kept): (i64, &FormData),
    sent: &Sent,
    form: impl FnOnce(i64) -> Form,
) -> Response {
    let clash = error.is_clash();
    let version = match sent.number("version") {
        Some(read) if !clash => read,
        _ => version,
    };
    let form = form(version).filled(&sent.0);
    form_page((title, here), prefs, form, Some(error), |body| {
        if clash {
            differences(body, kept, &sent.0);
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
    pub(super) fn page(&self, text: &str, found: &Browsed, prefs: &Prefs) -> Response {
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
        Frame::of(self.heading, self.here, prefs).ok(body)
    }
}

/// A button that removes something, folded away.
pub(super) fn removal(action: String, submit: &'static str) -> Form {
    let sure = Field::new("sure", "Yes, remove it for good", "", Kind::Tick);
    Form::post("remove", action, submit)
        .with(Group::of(Head::Folded("Remove".to_owned()), vec![sure]))
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
pub(super) fn sure(sent: &Sent) -> Result<(), Trouble> {
    match sent.some("sure") {
        Some(_) => Ok(()),
        None => Err(Trouble::wrong(
            "Nothing was removed: tick `Yes, remove it for good` and send again.",
        )),
    }
}
