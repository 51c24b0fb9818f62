//! Yarns: listed, looked at, added, edited, removed.

use super::{
    body::{Body, PAGE, Place},
    faults::{Fault, faults},
    form::{Field, Form, Group, Head, Kind},
    frame::{Frame, redirect},
    prefs::Prefs,
    sent::Sent,
    shop::Shop,
    trouble::{Trouble, status},
};
use crate::{
    app::{self, AppError, FieldKind, Typed},
    report::Notice,
    report::Report,
};
use axum::{
    extract::{Path, State},
    http::StatusCode,
    response::Response,
};
use std::sync::Arc;

const HERE: &str = "/yarns";

/// A form with one field that searches a list.
pub(super) fn search(action: &str, label: &str, text: &str) -> Form {
    let mut field = Field::line("q", label, "");
    field.value = text.to_owned();
    Form::get("search", action, "Search").with(Group::plain(vec![field]))
}

pub(super) async fn list(
    State(shop): State<Arc<Shop>>,
    prefs: Prefs,
    sent: Sent,
) -> Result<Response, Trouble> {
    let (text, from) = (sent.text("q").to_owned(), sent.from());
    let wanted = text.clone();
    let page = shop
        .read(move |records| app::browse_yarns(records, &wanted, from, PAGE))
        .await??;
    let mut body = Body::default();
    body.heading("Yarns");
    body.links(&[
        ("/yarns/new".to_owned(), "Add a yarn"),
        ("/yarns.csv".to_owned(), "All yarns as a table (CSV)"),
    ]);
    body.form(&search(HERE, "Maker or name", &text));
    let empty = match text.trim() {
        "" => "No yarn is kept yet: add one, or take a table of them under Tables.",
        _ => "No yarn is called anything like that.",
    };
    let place = Place {
        list: HERE,
        base: "/yarns/",
        text: &text,
        empty,
    };
    body.browsed(&page, &place, prefs.yards);
    Ok(Frame::of("Yarns", HERE, &prefs).ok(body))
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

pub(super) async fn show(
    State(shop): State<Arc<Shop>>,
    Path(number): Path<i64>,
    prefs: Prefs,
    sent: Sent,
) -> Result<Response, Trouble> {
    let view = shop
        .read(move |records| app::view_yarn(records, number))
        .await??;
    let mut body = Body::default();
    news(&shop, &sent, &mut body, &prefs);
    body.pages(vec![view.notice.page()], prefs.yards);
    let title = super::body::encoded(&view.title);
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
    Ok(Frame::of(&view.title, HERE, &prefs).ok(body))
}

/// A field of a record's column.
pub(super) fn field_of(kind: &FieldKind) -> Field {
    let hint = format!("{}, as in: {}", kind.holds, kind.example);
    let shape = match kind.name {
        "notes" => Kind::Area(3),
        "discontinued" => Kind::Radio(vec![("no", "No"), ("yes", "Yes")]),
        _ => Kind::Line,
    };
    let label = match kind.name {
        "gtin" => "article number",
        name => name,
    };
    let mut field = Field::new(kind.name, label, &hint, shape);
    field.needed = kind.needed;
    if kind.name == "discontinued" {
        field.value = "no".to_owned();
    }
    field
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

/// A form that was read from its pasted band, to be looked over.
fn from_band(text: &str) -> Result<(Typed, Vec<String>), AppError> {
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

pub(super) async fn new(prefs: Prefs, sent: Sent) -> Result<Response, Trouble> {
    let band = sent.text("band").to_owned();
    let mut read = Field::new(
        "band",
        "What the band says",
        "Write or paste it: the fields below are filled from it, to be looked over.",
        Kind::Area(2),
    );
    read.value = band.clone();
    let reader = Form::get("read", "/yarns/new", "Fill the fields from it")
        .with(Group::of(Head::None, vec![read]));
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
    Ok(Frame::of("Add a yarn", HERE, &prefs).ok(body))
}

pub(super) async fn add(
    State(shop): State<Arc<Shop>>,
    prefs: Prefs,
    sent: Sent,
) -> Result<Response, Trouble> {
    let typed = sent.0.clone();
    let kept = shop
        .write(move |records| app::save_yarn(records, None, &sent.0))
        .await?;
    match kept {
        Ok((number, notice)) => done(&shop, &format!("/yarns/{number}"), notice),
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

/// A button that removes something, folded away.
pub(super) fn removal(action: String, submit: &'static str) -> Form {
    let sure = Field::new("sure", "Yes, remove it for good", "", Kind::Tick);
    Form::post("remove", action, submit).with(Group::of(Head::Folded("Remove"), vec![sure]))
}

pub(super) async fn edit(
    State(shop): State<Arc<Shop>>,
    Path(number): Path<i64>,
    prefs: Prefs,
) -> Result<Response, Trouble> {
    let kept = shop
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
    State(shop): State<Arc<Shop>>,
    Path(number): Path<i64>,
    prefs: Prefs,
    sent: Sent,
) -> Result<Response, Trouble> {
    let typed = sent.0.clone();
    let version = sent.number("version").unwrap_or_default();
    let saved = shop
        .write(move |records| app::save_yarn(records, Some((number, version)), &sent.0))
        .await?;
    let error = match saved {
        Ok((number, notice)) => return done(&shop, &format!("/yarns/{number}"), notice),
        Err(error) => error,
    };
    let kept = shop
        .read(move |records| app::yarn_to_edit(records, number))
        .await??;
    let version = if error.is_clash() {
        kept.version
    } else {
        version
    };
    let form = form(&format!("/yarns/{number}/edit"), Some(version)).filled(&typed);
    let title = format!("Edit {}", kept.title);
    Ok(form_page(
        (&title, HERE),
        &prefs,
        form,
        Some(&error),
        |body| {
            if error.is_clash() {
                differences(body, &kept.typed, &typed);
            }
        },
    ))
}

/// What someone else has kept meanwhile, field by field where it differs.
pub(super) fn differences(body: &mut Body, kept: &Typed, typed: &Typed) {
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

pub(super) async fn remove(
    State(shop): State<Arc<Shop>>,
    Path(number): Path<i64>,
    sent: Sent,
) -> Result<Response, Trouble> {
    sure(&sent)?;
    shop.write(move |records| app::remove_yarn_numbered(records, number))
        .await??;
    Ok(redirect(HERE))
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
