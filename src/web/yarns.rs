//! Yarns: listed, looked at, added, edited, merged, removed; names of yarns while one
//! types.

use super::{
    body::Body,
    error_page::ErrorPage,
    fields::field_of,
    form::{Field, Form, Head, Kind},
    history,
    kept_record::{KeptRecord, Removal, form_page},
    links::{encoded, redirect},
    list::List,
    undo,
    visit::{PageResult, Saved, Visit},
};
use crate::{
    app::{self, AppError, FormData, KeptFields, RecordKind, Records, YarnQuery, YarnView},
    report::{Notice, Render, lot_rows, swatch_entry, yarn_rows},
    words::safe,
};
use axum::{extract::Path, http::header, response::IntoResponse};

const HERE: &str = "/yarns";
const ADD: (&str, &str) = ("Add a yarn", HERE);

pub(super) async fn list(visit: Visit, sent: FormData) -> PageResult {
    let list = List {
        heading: "Your yarns",
        one: "yarn",
        here: HERE,
        links: &[("/stock", "Stash"), ("/yarns/new", "Add a yarn")],
        below: &[
            ("/tables", "Import and export"),
            ("/yarns.csv", "Export yarns (CSV)"),
            ("/swatches.csv", "Export swatches (CSV)"),
            ("/undo", "Undo a change"),
        ],
        search: "Name",
        of_yarns: true,
        orders: &[
            ("yarn", "name"),
            ("metres per 100 g", "grist"),
            ("yards per 100 g", "grist"),
            ("weight", "class"),
        ],
        empty: (
            "You have no yarns yet. Three ways to begin:",
            &[
                ("/tables", "Import and export"),
                ("/yarns/new", "Paste a label"),
            ],
        ),
        none: "No yarn has a name like that and passes the filters.",
        browse: |records, sent, from, count| {
            app::browse_yarns(records, &YarnQuery::of(sent), from, count)
        },
        number: |listed| listed.yarn.id.number(),
        rows: yarn_rows,
    };
    list.page(visit, sent).await
}

pub(super) async fn show(visit: Visit, Path(number): Path<i64>) -> PageResult {
    let view = visit
        .read(move |records| app::view_yarn(records, number))
        .await?;
    let style = visit.style();
    let mut body = visit.body();
    let name = view.yarn.yarn.title();
    let title = encoded(&name);
    let first = [
        (format!("/?offered=one&yarn={title}"), "Will it work?"),
        (
            format!("/suits?asked=yes&yarn={title}"),
            "Which patterns is it for?",
        ),
        (
            format!("/replace?asked=yes&yarn={title}"),
            "What could replace it?",
        ),
        (format!("/stock/buy?yarn={title}"), "Add yarn you bought"),
        (format!("/yarns/{number}/swatches/new"), "Add a swatch"),
        (format!("/yarns/{number}/edit"), "Edit"),
    ];
    let could_be = view.yarn.could_be.iter().flat_map(|it| &it.yarns);
    let could_be = could_be.map(|it| {
        let link = format!("{HERE}/{}", it.yarn.id.number());
        (it.yarn.record.title(), link)
    });
    let could_be: Vec<(String, String)> = could_be.collect();
    body.titled(&view.yarn.page(&style), &first, &could_be);
    undo::offer(&visit, &mut body, RecordKind::Yarn, number).await?;
    body.part("In your stash");
    if view.lots.is_empty() {
        body.text("None of it.");
    } else {
        let links = view.lots.iter().map(|lot| format!("/stock/{}", lot.number));
        let links: Vec<String> = links.collect();
        body.list(&lot_rows(&view.lots, &style), "In your stash", &[], &links);
    }
    body.part("Swatches");
    let swatches = view.swatches.iter().map(swatch_entry);
    let none = "No swatch of it yet.";
    body.entries(swatches, ("/swatches/", "/edit"), none);
    history::part(&visit, &mut body, RecordKind::Yarn, number).await?;
    let shades = shades_of(&view);
    if !shades.is_empty() {
        body.form(&shade_form(number, &shades));
    }
    body.form(&merge_form(number));
    Ok(visit.page((&name, HERE), body))
}

/// The shades of a yarn and of its lots, each once.
fn shades_of(view: &YarnView) -> Vec<String> {
    let of_lots = view.lots.iter().map(|line| &line.lot.shade);
    let mut all: Vec<String> = Vec::new();
    for shade in view.yarn.yarn.shades.iter().chain(of_lots) {
        if !shade.is_empty() && !all.contains(shade) {
            all.push(shade.clone());
        }
    }
    all
}

/// A shade that gets another name.
fn shade_form(number: i64, shades: &[String]) -> Form {
    let choices = shades.iter().map(|shade| (shade.clone(), safe(shade)));
    let from = Field::new("from", "Shade", "", Kind::one_of("Choose one", choices));
    let hint = "In all its lots, and where it was chosen for a project.";
    let to = Field::new("to", "Its new name", hint, Kind::Line);
    Form::get("shade", format!("{HERE}/{number}/shade"), "Rename it")
        .once()
        .with(Head::Folded("Rename a shade".to_owned()), vec![from, to])
}

/// Gives a shade another name.
pub(super) async fn rename_shade(
    visit: Visit,
    Path(number): Path<i64>,
    typed: FormData,
) -> PageResult {
    let renaming = move |records: &mut Records, typed: &FormData| {
        let (from, to) = (typed.text("from"), typed.text("to"));
        let change = app::rename_shade_of(records, number, from, to)?;
        Ok((format!("{HERE}/{number}"), change))
    };
    match visit.keep(&typed, renaming).await? {
        Ok(done) => Ok(done),
        Err(refusal) => {
            let view = visit
                .read(move |records| app::view_yarn(records, number))
                .await?;
            let title = format!("Rename a shade of {}", view.yarn.yarn.title());
            let form = shade_form(number, &shades_of(&view)).filled(&typed);
            Ok(form_page(
                &visit,
                (title, HERE),
                form,
                Some(refusal),
                |_| (),
            ))
        }
    }
}

/// A yarn that was entered twice: which entry stays.
fn merge_form(number: i64) -> Form {
    let into = Field::new(
        "into",
        "The entry that stays",
        "Its name or barcode number. It gets the lots and swatches of this one, and what only this one says.",
        Kind::Line,
    );
    Form::get("merge", format!("{HERE}/{number}/merge"), "Merge into it")
        .once()
        .with(Head::Folded("Entered twice? Merge".to_owned()), vec![into])
}

/// Merges a yarn into another and goes on to that one.
pub(super) async fn merge(visit: Visit, Path(number): Path<i64>, typed: FormData) -> PageResult {
    let merging = move |records: &mut Records, typed: &FormData| {
        let (into, change) = app::merge_yarn_numbered(records, number, typed.text("into"))?;
        Ok((format!("{HERE}/{into}"), change))
    };
    match visit.keep(&typed, merging).await? {
        Ok(done) => Ok(done),
        Err(refusal) => {
            let kept = visit
                .read(move |records| app::yarn_to_edit(records, number))
                .await?;
            let title = format!("Merge {} into another yarn", kept.title);
            let form = merge_form(number).filled(&typed);
            Ok(form_page(
                &visit,
                (title, HERE),
                form,
                Some(refusal),
                |_| (),
            ))
        }
    }
}

/// On to the yarn of this name, as answers link to it.
pub(super) async fn named(visit: Visit, sent: FormData) -> PageResult {
    let find = |records: &Records, sent: &FormData| app::yarn_number(records, sent.text("name"));
    let number = visit.answer(&sent, find).await?;
    Ok(redirect(&format!("{HERE}/{number}")))
}

/// A yarn in its form.
pub(super) struct YarnRecord;

impl KeptRecord for YarnRecord {
    const HERE: &'static str = HERE;
    const REMOVAL: Option<Removal> = Some(("Remove this yarn", |records, number| {
        let change = app::remove_yarn_numbered(records, number)?;
        Ok((HERE.to_owned(), change))
    }));

    fn form(action: String) -> Form {
        let fields = app::YARN_COLUMNS.iter().map(field_of).collect();
        Form::get("yarn", action, "Save")
            .once()
            .with(Head::None, fields)
    }

    fn kept(records: &Records, number: i64) -> Result<KeptFields, AppError> {
        app::yarn_to_edit(records, number)
    }

    fn save(records: &mut Records, read: (i64, i64), typed: &FormData) -> Saved {
        save(records, Some(read), typed)
    }
}

fn save(records: &mut Records, read: Option<(i64, i64)>, typed: &FormData) -> Saved {
    let (number, change) = app::save_yarn(records, read, typed)?;
    Ok((format!("{HERE}/{number}"), change))
}

fn new_form(typed: &FormData) -> Form {
    let form = YarnRecord::form("/yarns/new".to_owned()).filled(typed);
    match typed.filled(LOT) {
        Some(lot) => form.hidden(LOT, lot),
        None => form,
    }
}

/// The dye lot of a label, which is kept with what is bought of the yarn.
const LOT: &str = "lot";

/// The purchase of a new yarn whose label names a lot, with what it says of that.
fn purchase(typed: &FormData) -> Option<String> {
    let lot = typed.filled(LOT)?;
    let yarn = format!(
        "{}, {}",
        typed.text("maker").trim(),
        typed.text("name").trim()
    );
    let shade = typed.text("shades");
    let (yarn, shade, lot) = (encoded(&yarn), encoded(shade), encoded(&lot));
    Some(format!("/stock/buy?yarn={yarn}&shade={shade}&lot={lot}"))
}

/// A form that was read from its pasted band, to be looked over.
fn from_band(text: &str) -> Result<(FormData, Vec<String>), AppError> {
    let read = app::read_fields(text)?;
    let mut typed = read.facts;
    for known in ["maker", "name", "gtin", "lot"] {
        typed.set(known, read.more.text(known));
    }
    typed.set("shades", read.more.text("shade"));
    for needed in ["length", "mass"] {
        if typed.text(needed).is_empty() && typed.text("count").is_empty() {
            typed.set(needed, "unknown");
        }
    }
    Ok((typed, read.notes))
}

/// The form that reads a label and fills the fields below it.
pub(super) fn label_form(action: &str, band: &str) -> Form {
    let field = Field::new(
        "band",
        "What the label says",
        "Write or paste it. It fills the fields below; check them before you save.",
        Kind::Area(2),
    );
    Form::get("read", action, "Fill the fields from it").with(Head::None, vec![field.holding(band)])
}

/// Notes about a label that was read, where there is anything.
pub(super) fn tell_of_label(visit: &Visit, body: &mut Body, notes: Vec<String>) {
    if !notes.is_empty() {
        let notice = Notice {
            done: "Read from the label".to_owned(),
            warnings: notes,
            ..Notice::default()
        };
        body.notice(notice.page(&visit.style()));
    }
}

pub(super) async fn new(visit: Visit, sent: FormData) -> PageResult {
    let band = sent.text("band");
    let gtin = sent.text("gtin");
    let mut reader = label_form("/yarns/new", band);
    if !gtin.is_empty() {
        reader = reader.hidden("gtin", gtin);
    }
    let mut body = visit.body();
    body.heading(ADD.0);
    body.form(&reader);
    let (mut typed, notes) = match band.trim() {
        "" => Default::default(),
        band => from_band(band)?,
    };
    if typed.text("gtin").is_empty() {
        typed.set("gtin", gtin);
    }
    tell_of_label(&visit, &mut body, notes);
    body.form(&new_form(&typed));
    Ok(visit.page(ADD, body))
}

pub(super) async fn add(visit: Visit, typed: FormData) -> PageResult {
    let kept = visit.keep(&typed, |records, typed| {
        let (next, change) = save(records, None, typed)?;
        Ok((purchase(typed).unwrap_or(next), change))
    });
    Ok(kept
        .await?
        .unwrap_or_else(|refusal| form_page(&visit, ADD, new_form(&typed), Some(refusal), |_| ())))
}

/// How many names are offered.
const SUGGESTED: usize = 8;

/// Names of yarns while one types.
pub(super) async fn suggest(visit: Visit, sent: FormData) -> PageResult {
    let names = visit.answer(&sent, |records, sent| {
        app::suggest_yarns(records, sent.text("text"), SUGGESTED)
    });
    let json = serde_json::to_string(&names.await?)
        .map_err(|_| ErrorPage::failed("the names cannot be written; go on without"))?;
    Ok(([(header::CONTENT_TYPE, "application/json")], json).into_response())
}
