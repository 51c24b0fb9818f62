//! Stock: listed, bought, and each lot with its ledger.

use super::{
    body::{Body, PAGE},
    error_page::{ErrorPage, status},
    field_errors::{faults, perhaps},
    form::{Field, Form, Group, Kind},
    layout::Layout,
    pages::{List, done, edit_again, faulty_page, field_of, flash, form_page},
    preferences::Preferences,
    state::AppState,
};
use crate::{
    app::{self, AppError, Bought, EntryKind, FormData},
    report::Report,
};
use axum::{
    extract::{Path, State},
    http::StatusCode,
    response::Response,
};
use std::sync::Arc;

const HERE: &str = "/stock";

pub(super) async fn list(
    State(state): State<Arc<AppState>>,
    prefs: Preferences,
    sent: FormData,
) -> Result<Response, ErrorPage> {
    let (text, from) = (sent.text("q").to_owned(), sent.number("from").unwrap_or(0));
    let wanted = text.clone();
    let page = state
        .read(move |records| app::browse_lots(records, &wanted, from, PAGE))
        .await??;
    let list = List {
        heading: "Stock",
        here: HERE,
        links: &[
            ("/stock/buy", "Enter a purchase"),
            ("/stock.csv", "All stock as a table (CSV)"),
        ],
        search: "Yarn, shade, lot or place",
        empty: "Nothing is in stock yet: enter a purchase, or take a table under Tables.",
        none: "No lot holds all these words.",
    };
    Ok(list.page(&text, &page, &prefs))
}

fn purchase() -> Form {
    let yarn = Field::new(
        "yarn",
        "Yarn",
        "Maker and name, or the digits under the barcode",
        Kind::Names,
    );
    Form::post("buy", "/stock/buy", "Enter the purchase").with(Group::plain(vec![
        yarn.needed(),
        Field::line("amount", "How much", "As in: 3 skeins, or 2 + 60 g").needed(),
        Field::line("shade", "Shade", "As printed"),
        Field::line("lot", "Dye lot", "As printed"),
        Field::line("place", "Where it is put", "As in: blue trunk"),
        Field::line(
            "weighed",
            "One full skein, weighed",
            "As in: 48.5 g, or 48 g = 121 m",
        ),
        Field::line("price", "What was paid", "As in: 6.50 GBP"),
        Field::new("notes", "Notes", "", Kind::Area(2)),
    ]))
}

pub(super) async fn new(prefs: Preferences, sent: FormData) -> Response {
    let form = purchase().filled(&sent);
    form_page(("Enter a purchase", HERE), &prefs, form, None, |_| ())
}

pub(super) async fn buy(
    State(state): State<Arc<AppState>>,
    prefs: Preferences,
    sent: FormData,
) -> Result<Response, ErrorPage> {
    let bought = Bought {
        yarn: sent.text("yarn").trim().to_owned(),
        amount: sent.text("amount").to_owned(),
        shade: sent.text("shade").to_owned(),
        lot: sent.filled("lot"),
        place: sent.text("place").to_owned(),
        weighed: sent.filled("weighed"),
        price: sent.filled("price"),
        notes: sent.text("notes").to_owned(),
    };
    let entered = state
        .write(move |records| app::buy(records, &bought))
        .await?;
    match entered {
        Ok(notice) => done(&state, HERE, notice),
        Err(error) => Ok(buy_again(&error, &sent, &prefs)),
    }
}

fn buy_again(error: &AppError, sent: &FormData, prefs: &Preferences) -> Response {
    let mut found = faults(error);
    if let Some(first) = found.first_mut() {
        first.links = perhaps(error, |name| format!("/stock/buy?yarn={name}"));
    }
    let form = purchase().filled(&sent);
    let wrong = (status(error), found);
    faulty_page(("Enter a purchase", HERE), prefs, form, wrong, |_| ())
}

/// What may be entered of a lot, and how it is called.
const KINDS: [(&str, &str); 4] = [
    ("used", "Used: so much was taken"),
    ("weighed", "Weighed: so much is there now"),
    ("reserved", "Reserved: so much is promised"),
    ("released", "Released: so much is promised no longer"),
];

fn kind(name: &str) -> Option<EntryKind> {
    match name {
        "used" => Some(EntryKind::Used),
        "weighed" => Some(EntryKind::Weighed),
        "reserved" => Some(EntryKind::Reserved),
        "released" => Some(EntryKind::Released),
        _ => None,
    }
}

fn entry(number: i64) -> Form {
    let mut what = Field::new("kind", "What happened", "", Kind::Radio(KINDS.to_vec()));
    what.value = "used".to_owned();
    Form::post("entry", format!("/stock/{number}"), "Enter").with(Group::plain(vec![
        what,
        Field::line("amount", "How much", "As in: 3 skeins, 2 + 60 g, or 73.5 g").needed(),
        Field::line("notes", "What for", ""),
    ]))
}

pub(super) async fn show(
    State(state): State<Arc<AppState>>,
    Path(number): Path<i64>,
    prefs: Preferences,
    sent: FormData,
) -> Result<Response, ErrorPage> {
    let form = entry(number);
    lot_page(
        &state,
        number,
        &prefs,
        &sent,
        (form, StatusCode::OK, Vec::new()),
    )
    .await
}

async fn lot_page(
    state: &Arc<AppState>,
    number: i64,
    prefs: &Preferences,
    sent: &FormData,
    (form, status, found): (Form, StatusCode, Vec<super::field_errors::FieldError>),
) -> Result<Response, ErrorPage> {
    let (lot, ledger) = state
        .read(move |records| {
            let lot = app::lot_entry_of(records, number)?;
            Ok::<_, AppError>((lot, app::ledger(records, number)?))
        })
        .await??;
    let (form, told) = form.marked(found);
    let mut body = Body::default();
    body.faults(&told);
    flash(&state, sent, &mut body, prefs);
    body.heading(&lot.title);
    let words = match prefs.yards {
        true => crate::report::turned(&lot.words),
        false => lot.words.clone(),
    };
    body.said(&words);
    body.links(&[(
        format!("/stock/{number}/edit"),
        "Edit shade, lot, place and so on",
    )]);
    body.part("Enter what happened");
    body.form(&form);
    body.part("Everything that was entered");
    let mut page = ledger.page();
    page.blocks
        .retain(|block| !matches!(block, crate::report::Block::Title(_)));
    body.pages(vec![page], prefs.yards);
    Ok(Layout::new(&lot.title, HERE, prefs).page(status, body))
}

pub(super) async fn enter(
    State(state): State<Arc<AppState>>,
    Path(number): Path<i64>,
    prefs: Preferences,
    sent: FormData,
) -> Result<Response, ErrorPage> {
    let Some(kind) = kind(sent.text("kind")) else {
        return Err(ErrorPage::wrong(
            "It is not said what happened: choose used, weighed, reserved or released.",
        ));
    };
    let (amount, notes) = (
        sent.text("amount").to_owned(),
        sent.text("notes").to_owned(),
    );
    let entered = state
        .write(move |records| app::enter(records, kind, number, &amount, &notes))
        .await?;
    match entered {
        Ok(notice) => done(&state, &format!("/stock/{number}"), notice),
        Err(error) => {
            let form = entry(number).filled(&sent);
            let wrong = (form, status(&error), faults(&error));
            lot_page(&state, number, &prefs, &sent, wrong).await
        }
    }
}

/// The fields of a lot that its ledger does not hold.
fn lot_form(number: i64, version: i64) -> Form {
    let kinds = app::lot_fields().into_iter();
    let fields = kinds
        .filter(|kind| !["maker", "name", "amount"].contains(&kind.name))
        .map(|kind| field_of(&kind))
        .collect();
    Form::post("lot", format!("/stock/{number}/edit"), "Keep")
        .hidden("version", version)
        .with(Group::plain(fields))
}

pub(super) async fn edit(
    State(state): State<Arc<AppState>>,
    Path(number): Path<i64>,
    prefs: Preferences,
) -> Result<Response, ErrorPage> {
    let kept = state
        .read(move |records| app::lot_to_edit(records, number))
        .await??;
    let form = lot_form(number, kept.version).filled(&kept.typed);
    let title = format!("Edit a lot of {}", kept.title);
    Ok(form_page((&title, HERE), &prefs, form, None, |_| ()))
}

pub(super) async fn save(
    State(state): State<Arc<AppState>>,
    Path(number): Path<i64>,
    prefs: Preferences,
    sent: FormData,
) -> Result<Response, ErrorPage> {
    let typed = sent.clone();
    let version = sent.number("version").unwrap_or_default();
    let saved = state
        .write(move |records| app::save_lot(records, number, version, &typed))
        .await?;
    let error = match saved {
        Ok(notice) => return done(&state, &format!("/stock/{number}"), notice),
        Err(error) => error,
    };
    let mut kept = state
        .read(move |records| app::lot_to_edit(records, number))
        .await??;
    for field in ["maker", "name", "amount"] {
        kept.typed.set(field, "");
    }
    let title = format!("Edit a lot of {}", kept.title);
    let known = (kept.version, &kept.typed);
    let form = |version| lot_form(number, version);
    Ok(edit_again(
        (&title, HERE),
        &prefs,
        &error,
        known,
        &sent,
        form,
    ))
}
