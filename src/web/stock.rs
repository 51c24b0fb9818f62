//! Stock: listed, bought, and each lot with its ledger.

use super::{
    error_page::ErrorPage,
    fields::{Picker, field_of},
    form::{Field, Form, Head, Kind},
    history,
    kept_record::{KeptRecord, Removal, form_page, refused_form},
    links::{encoded, yarn_link},
    list::List,
    refusal::Refusal,
    undo,
    visit::{PageResult, Saved, Visit},
    yarns::{label_form, tell_of_label},
};
use crate::{
    app::{
        self, AppError, BuyRequest, EntryKind, EntryRequest, FormData, KeptFields, LotQuery,
        RecordKind, Records,
    },
    report::{Page, ledger_table, lot_entry, lot_heading, lot_rows},
};
use axum::extract::Path;

const HERE: &str = "/stock";

pub(super) async fn list(visit: Visit, sent: FormData) -> PageResult {
    let list = List {
        heading: "Stash",
        one: "lot",
        here: HERE,
        links: &[
            ("/yarns", "Your yarns"),
            ("/stock/buy", "Add yarn you bought"),
            ("/stock/sell", "Sell or reserve"),
        ],
        below: &[
            ("/stock/reservations", "Reservations"),
            ("/stock/low", "What runs low"),
            ("/stock/count", "Count the shelves"),
            ("/tables", "Import and export"),
            ("/stock.csv", "Export the stash (CSV)"),
            ("/undo", "Undo a change"),
        ],
        search: "Yarn, shade, lot or place",
        of_yarns: true,
        orders: &[("yarn", "yarn"), ("length", "length"), ("place", "place")],
        empty: (
            "Your stash is empty. Three ways to begin:",
            &[
                ("/tables", "Import and export"),
                ("/yarns/new", "Paste a label"),
            ],
        ),
        none: "No lot has all these words and passes the filters.",
        browse: |records, sent, from, count| {
            app::browse_lots(records, &LotQuery::of(sent), from, count)
        },
        number: |line| line.number,
        rows: lot_rows,
    };
    list.page(visit, sent).await
}

const BUY: (&str, &str) = ("Add yarn you bought", HERE);

fn purchase(typed: &FormData) -> Form {
    let form = Form::asking::<BuyRequest>("buy", "/stock/buy", "Add to the stash");
    form.once().filled(typed)
}

/// What a pasted label says of a purchase, notes about it, and whether its yarn
/// is known here.
fn from_label(
    records: &Records,
    typed: &FormData,
) -> Result<(FormData, Vec<String>, bool), AppError> {
    let read = app::read_fields(typed.text("band"))?;
    let said = |name| read.more.filled(name);
    let named = said("maker").zip(said("name"));
    let named = named.map(|(maker, name)| format!("{maker}, {name}"));
    let mut names = said("gtin").into_iter().chain(named).chain(said("name"));
    let known = names
        .clone()
        .find(|name| app::yarn_number(records, name).is_ok());
    let mut bought = typed.clone();
    for field in ["shade", "lot"] {
        bought.set(field, read.more.text(field));
    }
    let is_known = known.is_some();
    bought.set("yarn", known.or_else(|| names.next()).unwrap_or_default());
    Ok((bought, read.notes, is_known))
}

pub(super) async fn new(visit: Visit, typed: FormData) -> PageResult {
    let band = typed.text("band");
    let mut body = visit.body();
    body.heading(BUY.0);
    body.form(&label_form("/stock/buy", band));
    if typed.filled("band").is_none() {
        body.form(&purchase(&typed));
        return Ok(visit.page(BUY, body));
    }
    let (bought, notes, is_known) = visit.answer(&typed, from_label).await?;
    tell_of_label(&visit, &mut body, notes);
    if !is_known {
        body.text(
            "You have no yarn of that name or barcode yet. Add it first, from the same label:",
        );
        body.links(&[(
            format!("/yarns/new?band={}", encoded(band)),
            "Add this yarn",
        )]);
    }
    body.form(&purchase(&bought));
    Ok(visit.page(BUY, body))
}

pub(super) async fn buy(visit: Visit, typed: FormData) -> PageResult {
    let typed = Picker::taken(typed, "colour");
    let kept = visit.keep(&typed, |records, typed| {
        let change = app::buy(records, &app::from_form(typed)?)?;
        Ok((HERE.to_owned(), change))
    });
    Ok(kept.await?.unwrap_or_else(|refusal| {
        let refusal = refusal.linked(|name| format!("/stock/buy?yarn={name}"));
        form_page(&visit, BUY, purchase(&typed), Some(refusal), |_| ())
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
    let (name, _) = KINDS.iter().find(|(kind, _)| *kind == name)?;
    EntryKind::ALL.into_iter().find(|kind| kind.name() == *name)
}

fn entry(number: i64) -> Form {
    let what = Field::new("kind", "What happened", "", Kind::Radio(KINDS.to_vec()));
    Form::get("entry", format!("{HERE}/{number}"), "Record")
        .once()
        .with(Head::None, vec![what.holding("used")])
        .with_request::<EntryRequest>()
}

/// A part ball on the scale: its weight alone is enough.
fn weigh(number: i64) -> Form {
    let grams = Field::new(
        GRAMS,
        "What does all of it weigh now, in grams?",
        "",
        Kind::Grams,
    );
    Form::get("weigh", format!("{HERE}/{number}"), "Save the weight")
        .once()
        .hidden("kind", "weighed")
        .with(Head::None, vec![grams])
        .replaced(&[("amount", GRAMS)])
}

/// The field of [`weigh`].
const GRAMS: &str = "grams";

/// What was typed, with a weight in grams as the amount.
fn in_grams(mut typed: FormData) -> FormData {
    if let Some(grams) = typed.filled(GRAMS) {
        let is_number = grams.replace(',', ".").parse::<f64>().is_ok();
        let unit = if is_number { " g" } else { "" };
        typed.set("amount", grams + unit);
    }
    typed
}

pub(super) async fn show(visit: Visit, Path(number): Path<i64>) -> PageResult {
    lot_page(&visit, number, &FormData::default(), None).await
}

async fn lot_page(
    visit: &Visit,
    number: i64,
    typed: &FormData,
    refused: Option<Refusal>,
) -> PageResult {
    let ledger = visit
        .read(move |records| app::ledger(records, number))
        .await?;
    let lot = lot_entry(&ledger.line, &visit.style());
    let (weigh, entry) = (weigh(number), entry(number));
    let ((status, weigh, mut body), entry) = if typed.filled(GRAMS).is_some() {
        (refused_form(visit, weigh.filled(typed), refused), entry)
    } else {
        let (status, entry, body) = refused_form(visit, entry.filled(typed), refused);
        ((status, weigh, body), entry)
    };
    body.report(&lot_heading(&ledger.line, &visit.style()));
    body.text(&lot.words);
    let (yarn, link) = yarn_link(&ledger.line.yarn);
    body.links(&[
        (link, yarn.as_str()),
        (
            format!("{HERE}/{number}/edit"),
            "Edit shade, lot, place and more",
        ),
    ]);
    undo::offer(visit, &mut body, RecordKind::Lot, number).await?;
    body.form(&weigh);
    body.part("Or record a change");
    body.form(&entry);
    body.part("All entries");
    let mut page = Page::default();
    page.table(ledger_table(&ledger));
    body.report(&page);
    history::part(visit, &mut body, RecordKind::Lot, number).await?;
    Ok(visit.page_of(status, (&lot.title, HERE), body))
}

pub(super) async fn enter(visit: Visit, Path(number): Path<i64>, typed: FormData) -> PageResult {
    let Some(kind) = kind(typed.text("kind")) else {
        return Err(ErrorPage::wrong(
            "Say what happened: choose used, weighed, reserved or released.",
        ));
    };
    let typed = in_grams(typed);
    let entering = move |records: &mut Records, typed: &FormData| {
        let change = app::enter(records, kind, number, &app::from_form(typed)?)?;
        Ok((format!("{HERE}/{number}"), change))
    };
    match visit.keep(&typed, entering).await? {
        Ok(done) => Ok(done),
        Err(refusal) => lot_page(&visit, number, &typed, Some(refusal)).await,
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
            .map(field_of);
        let (colour, mut fields): (Vec<Field>, Vec<Field>) =
            fields.partition(|field| field.name == "colour");
        // After the shade that it is of.
        fields.splice(1..1, colour);
        Form::get("lot", action, "Save")
            .once()
            .with(Head::None, fields)
    }

    fn form_for(action: String, typed: &FormData) -> Form {
        let shade = typed.text("shade");
        let is_named = typed.filled("colour").is_none() && app::is_colour(shade);
        Self::form(action).change("colour", |field| {
            let hint = "All lots of this shade get it. By name or as six digits, as in: navy, or #2f6f8f";
            field.hint = match is_named {
                true => format!("{hint}. The shade is called {shade}, which is also a colour: write it here if it looks like that"),
                false => hint.to_owned(),
            };
        })
    }

    fn kept(records: &Records, number: i64) -> Result<KeptFields, AppError> {
        app::lot_to_edit(records, number)
    }

    fn save(records: &mut Records, (number, version): (i64, i64), typed: &FormData) -> Saved {
        let typed = Picker::taken(typed.clone(), "colour");
        let change = app::save_lot(records, number, version, &typed)?;
        Ok((format!("{HERE}/{number}"), change))
    }
}
