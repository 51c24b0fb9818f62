//! Stock: listed, bought, and each lot with its ledger.

use super::{
    error_page::ErrorPage,
    fields::field_of,
    form::{Field, Form, Head, Kind},
    kept_record::{KeptRecord, Removal, form_page, refused_form},
    list::List,
    refusal::Refusal,
    visit::{PageResult, Saved, Visit},
};
use crate::{
    app::{self, AppError, BuyRequest, EntryKind, EntryRequest, FormData, KeptFields, Records},
    report::{Page, ledger_table, lot_entry},
};
use axum::{extract::Path, response::Response};

const HERE: &str = "/stock";

pub(super) async fn list(visit: Visit, sent: FormData) -> PageResult {
    let list = List {
        heading: "Stash",
        here: HERE,
        links: &[
            ("/stock/buy", "Add yarn you bought"),
            ("/stock.csv", "Export the stash (CSV)"),
        ],
        search: "Yarn, shade, lot or place",
        empty: "Your stash is empty: add yarn you bought, or import a table under Tables.",
        none: "No lot has all these words.",
        browse: app::browse_lots,
        entry: lot_entry,
    };
    list.page(visit, sent).await
}

fn purchase(visit: &Visit, typed: &FormData, refused: Option<Refusal>) -> Response {
    let form = Form::asking::<BuyRequest>("buy", "/stock/buy", "Add to the stash");
    let form = form.once().filled(typed);
    form_page(visit, ("Add yarn you bought", HERE), form, refused, |_| ())
}

pub(super) async fn new(visit: Visit, typed: FormData) -> Response {
    purchase(&visit, &typed, None)
}

pub(super) async fn buy(visit: Visit, typed: FormData) -> PageResult {
    let kept = visit.keep(&typed, |records, typed| {
        let change = app::buy(records, &app::from_form(typed)?)?;
        Ok((HERE.to_owned(), change))
    });
    Ok(kept.await?.unwrap_or_else(|refusal| {
        let refusal = refusal.linked(|name| format!("/stock/buy?yarn={name}"));
        purchase(&visit, &typed, Some(refusal))
    }))
}

/// What may be entered of a lot, and how it is called.
const KINDS: [(&str, &str); 4] = [
    ("used", "Used"),
    ("weighed", "Weighed: this much is left"),
    ("reserved", "Reserved"),
    ("released", "Released: free again"),
];

fn kind(name: &str) -> Option<EntryKind> {
    let known = KINDS.iter().any(|(kind, _)| *kind == name);
    let mut kinds = EntryKind::ALL.into_iter().filter(|_| known);
    kinds.find(|kind| kind.name() == name)
}

fn entry(number: i64) -> Form {
    let what = Field::new("kind", "What happened", "", Kind::Radio(KINDS.to_vec()));
    Form::get("entry", format!("{HERE}/{number}"), "Record")
        .once()
        .with(Head::None, vec![what.holding("used")])
        .with_request::<EntryRequest>()
}

pub(super) async fn show(visit: Visit, Path(number): Path<i64>) -> PageResult {
    lot_page(&visit, number, entry(number), None).await
}

async fn lot_page(visit: &Visit, number: i64, form: Form, refused: Option<Refusal>) -> PageResult {
    let ledger = visit
        .read(move |records| app::ledger(records, number))
        .await?;
    let lot = lot_entry(&ledger.line, &visit.style());
    let (status, form, mut body) = refused_form(visit, form, refused);
    body.heading(&lot.title);
    body.text(&lot.words);
    body.links(&[(
        format!("{HERE}/{number}/edit"),
        "Edit shade, lot, place and more",
    )]);
    body.part("Record a change");
    body.form(&form);
    body.part("All entries");
    let mut page = Page::default();
    page.table(ledger_table(&ledger));
    body.report(&page);
    Ok(visit.page_of(status, (&lot.title, HERE), body))
}

pub(super) async fn enter(visit: Visit, Path(number): Path<i64>, typed: FormData) -> PageResult {
    let Some(kind) = kind(typed.text("kind")) else {
        return Err(ErrorPage::wrong(
            "Say what happened: choose used, weighed, reserved or released.",
        ));
    };
    let entering = move |records: &mut Records, typed: &FormData| {
        let change = app::enter(records, kind, number, &app::from_form(typed)?)?;
        Ok((format!("{HERE}/{number}"), change))
    };
    match visit.keep(&typed, entering).await? {
        Ok(done) => Ok(done),
        Err(refusal) => {
            let form = entry(number).filled(&typed);
            lot_page(&visit, number, form, Some(refusal)).await
        }
    }
}

/// What is kept of a lot beside its ledger, in its form. A lot stays with its ledger.
pub(super) struct LotRecord;

impl KeptRecord for LotRecord {
    const HERE: &'static str = HERE;
    const WHAT: &'static str = "a lot of ";
    const REMOVAL: Option<Removal> = None;

    fn form(action: String) -> Form {
        let fields = app::STOCK_COLUMNS
            .iter()
            .filter(|column| !["maker", "name", "amount"].contains(&column.name))
            .map(field_of)
            .collect();
        Form::get("lot", action, "Save")
            .once()
            .with(Head::None, fields)
    }

    fn kept(records: &Records, number: i64) -> Result<KeptFields, AppError> {
        app::lot_to_edit(records, number)
    }

    fn save(records: &mut Records, (number, version): (i64, i64), typed: &FormData) -> Saved {
        let change = app::save_lot(records, number, version, typed)?;
        Ok((format!("{HERE}/{number}"), change))
    }
}
