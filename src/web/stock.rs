//! Stock: listed, bought, and each lot with its ledger.

use super::{
    body::Body,
    fields::field_of,
    form::{Field, Form, Group, Kind},
    kept_record::{KeptRecord, Saved, faulty_page, flash, form_page, keep},
    layout::Layout,
    list::{List, PAGE},
    preferences::Preferences,
    refusal::{ErrorPage, Refusal, errors_of, status},
    state::AppState,
};
use crate::{
    app::{self, AppError, BuyRequest, EntryKind, EntryRequest, FormData, KeptFields, Records},
    report::{Page, ledger_table, lot_entry},
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
    let style = prefs.style();
    Ok(list.page(&text, &page, |lot| lot_entry(lot, &style), &prefs))
}

fn purchase(typed: &FormData) -> Form {
    Form::asking::<BuyRequest>("buy", "/stock/buy", "Enter the purchase")
        .posted()
        .filled(typed)
}

const PURCHASE: (&str, &str) = ("Enter a purchase", HERE);

pub(super) async fn new(prefs: Preferences, typed: FormData) -> Response {
    form_page(PURCHASE, &prefs, purchase(&typed), None, |_| ())
}

pub(super) async fn buy(
    State(state): State<Arc<AppState>>,
    prefs: Preferences,
    typed: FormData,
) -> Result<Response, ErrorPage> {
    let sent = typed.clone();
    let buying = move |records: &mut Records| {
        let change = app::buy(records, &app::from_form(&sent)?)?;
        Ok((HERE.to_owned(), change))
    };
    let kept = keep(&state, &prefs, buying).await?;
    Ok(kept.unwrap_or_else(|error| {
        let form = purchase(&typed);
        let refusal = Refusal::from(error).linked(|name| format!("/stock/buy?yarn={name}"));
        let found = refusal.found(&form.style(&prefs));
        faulty_page(PURCHASE, &prefs, form, found, |_| ())
    }))
}

/// What may be entered of a lot, and how it is called.
const KINDS: [(&str, &str); 4] = [
    ("used", "Used: so much was taken"),
    ("weighed", "Weighed: so much is there now"),
    ("reserved", "Reserved: so much is promised"),
    ("released", "Released: so much is promised no longer"),
];

fn kind(name: &str) -> Option<EntryKind> {
    let known = KINDS.iter().any(|(kind, _)| *kind == name);
    let mut kinds = EntryKind::ALL.into_iter().filter(|_| known);
    kinds.find(|kind| kind.name() == name)
}

fn entry(number: i64) -> Form {
    let what = Field::new("kind", "What happened", "", Kind::Radio(KINDS.to_vec()));
    let mut form =
        Form::asking::<EntryRequest>("entry", format!("{HERE}/{number}"), "Enter").posted();
    form.groups
        .insert(0, Group::plain(vec![what.holding("used")]));
    form
}

pub(super) async fn show(
    State(state): State<Arc<AppState>>,
    Path(number): Path<i64>,
    prefs: Preferences,
    sent: FormData,
) -> Result<Response, ErrorPage> {
    lot_page(&state, number, &prefs, &sent, entry(number), None).await
}

async fn lot_page(
    state: &Arc<AppState>,
    number: i64,
    prefs: &Preferences,
    sent: &FormData,
    form: Form,
    refused: Option<&AppError>,
) -> Result<Response, ErrorPage> {
    let ledger = state
        .read(move |records| app::ledger(records, number))
        .await??;
    let style = form.style(prefs);
    let found = refused.map(|error| errors_of(error, &style));
    let (form, told) = form.marked(found.into_iter().flatten().collect());
    let lot = lot_entry(&ledger.line, &style);
    let mut body = Body::default();
    body.faults(&told);
    flash(state, sent, &mut body);
    body.heading(&lot.title);
    body.said(&lot.words);
    body.links(&[(
        format!("{HERE}/{number}/edit"),
        "Edit shade, lot, place and so on",
    )]);
    body.part("Enter what happened");
    body.form(&form);
    body.part("Everything that was entered");
    let mut page = Page::default();
    page.table(ledger_table(&ledger));
    body.written(&page);
    let status = refused.map_or(StatusCode::OK, status);
    Ok(Layout::new(&lot.title, HERE, prefs).page(status, body))
}

pub(super) async fn enter(
    State(state): State<Arc<AppState>>,
    Path(number): Path<i64>,
    prefs: Preferences,
    typed: FormData,
) -> Result<Response, ErrorPage> {
    let Some(kind) = kind(typed.text("kind")) else {
        return Err(ErrorPage::wrong(
            "It is not said what happened: choose used, weighed, reserved or released.",
        ));
    };
    let sent = typed.clone();
    let entering = move |records: &mut Records| {
        let change = app::enter(records, kind, number, &app::from_form(&sent)?)?;
        Ok((format!("{HERE}/{number}"), change))
    };
    match keep(&state, &prefs, entering).await? {
        Ok(done) => Ok(done),
        Err(error) => {
            let form = entry(number).filled(&typed);
            lot_page(&state, number, &prefs, &typed, form, Some(&error)).await
        }
    }
}

/// What is kept of a lot beside its ledger, in its form.
pub(super) struct LotRecord;

impl KeptRecord for LotRecord {
    const HERE: &'static str = HERE;
    const PATH: &'static str = HERE;
    const WHAT: &'static str = "a lot of ";
    const REMOVE: Option<&'static str> = None;

    fn form(action: String) -> Form {
        let kinds = app::lot_fields().into_iter();
        let fields = kinds
            .filter(|kind| !["maker", "name", "amount"].contains(&kind.name))
            .map(|kind| field_of(&kind))
            .collect();
        Form::post("lot", action, "Keep").with(Group::plain(fields))
    }

    fn kept(records: &Records, number: i64) -> Result<KeptFields, AppError> {
        app::lot_to_edit(records, number)
    }

    fn save(records: &mut Records, (number, version): (i64, i64), typed: &FormData) -> Saved {
        let change = app::save_lot(records, number, version, typed)?;
        Ok((format!("{HERE}/{number}"), change))
    }

    /// A lot stays with its ledger: no page asks for this.
    fn remove(_: &mut Records, number: i64) -> Result<String, AppError> {
        Ok(format!("{HERE}/{number}"))
    }
}
