//! The shop floor: yarn sold, reserved and released by scanning it; who has what reserved;
//! what runs low; and a count of the shelves that goes on from scan to scan.

use super::{
    error_page::ErrorPage,
    form::{Field, Form, Head, Kind},
    kept_record::{form_page, refused_form},
    links::encoded,
    refusal::Refusal,
    sent_once::Done,
    visit::{PageResult, Saved, Visit},
};
use crate::{
    app::{
        self, AppError, CountSession, EntryKind, EntryRequest, Fault, FaultKind, FormData,
        KeptCount, LotChoice, Records, Reservation,
    },
    report::{
        Page, Render, Role, count_rest, count_title, count_words, reservation_table,
        session_line_words,
    },
};
use axum::extract::Path;

const HERE: &str = "/stock";

/// Ways to the other pages of the shop floor.
const WAYS: [(&str, &str); 4] = [
    (SALE.1, "Sell or reserve"),
    (RESERVATIONS.1, "Reservations"),
    (LOW.1, "What runs low"),
    (COUNT.1, "Count the shelves"),
];

/// The page where yarn is sold: its title and its path.
const SALE: (&str, &str) = ("Sell or reserve", "/stock/sell");

/// The lot that is meant: what was chosen of several, else what was scanned.
fn which(typed: &FormData) -> Result<String, AppError> {
    let typed = typed.filled("lot").or_else(|| typed.filled("which"));
    typed.ok_or_else(|| AppError::Faults(vec![Fault::new("which", FaultKind::Missing)]))
}

/// The field that waits for the next scan, with what was refused, and a choice where it
/// may be several lots.
fn scan_fields(typed: &FormData, refused: Option<&Refusal>) -> Vec<Field> {
    let held = match refused {
        Some(_) => typed.text("which").to_owned(),
        None => String::new(),
    };
    let label = "Scan a ball, or type its barcode or name";
    let scan = Field::new("which", label, "", Kind::Scan(held.clone())).holding(held);
    let lots = match refused {
        Some(Refusal::App(AppError::WhichLot { lots, .. }, _)) => lots.as_slice(),
        _ => &[],
    };
    let choices = lots.iter().map(|words| {
        let number = words.split(':').next().unwrap_or_default();
        (number.to_owned(), words.clone())
    });
    let choice = Field::new("lot", "Which lot?", "", Kind::one_of("Choose one", choices));
    let choice = (!lots.is_empty()).then_some(choice);
    std::iter::once(scan).chain(choice).collect()
}

const DEEDS: [(&str, &str); 3] = [
    ("sell", "Sell"),
    ("reserve", "Reserve"),
    ("release", "Release: free again"),
];

fn sale_form(typed: &FormData, refused: Option<&Refusal>) -> Form {
    let mut fields = scan_fields(typed, refused);
    let deed = typed.filled("do").unwrap_or_else(|| "sell".to_owned());
    fields.extend([
        Field::new(
            "amount",
            "How much",
            "As in: 6, or 50 g. If empty: 1",
            Kind::Line,
        )
        .holding(typed.text("amount")),
        Field::new(
            "for",
            "Customer",
            "What is reserved for the customer is released with the sale.",
            Kind::Line,
        )
        .holding(typed.text("for")),
        Field::new("do", "What happens", "", Kind::Radio(DEEDS.to_vec())).holding(deed),
    ]);
    Form::get("sale", SALE.1, "Record")
        .once()
        .with(Head::None, fields)
        .replaced(&[("yarn", "which")])
}

pub(super) async fn sale(visit: Visit, sent: FormData) -> PageResult {
    sale_page(&visit, &sent, None)
}

fn sale_page(visit: &Visit, typed: &FormData, refused: Option<Refusal>) -> PageResult {
    let form = sale_form(typed, refused.as_ref());
    let place = (SALE.0, HERE);
    Ok(form_page(visit, place, form, refused, |body| {
        body.links(&WAYS[1..]);
    }))
}

/// Sells, reserves or releases, and waits for the next scan.
pub(super) async fn sell(visit: Visit, typed: FormData) -> PageResult {
    let done = visit.keep(&typed, sold).await?;
    match done {
        Ok(done) => Ok(done),
        Err(refused) => sale_page(&visit, &typed, Some(refused)),
    }
}

fn sold(records: &mut Records, typed: &FormData) -> Saved {
    let lot = LotChoice {
        which: which(typed)?,
        ..LotChoice::default()
    };
    let amount = typed.filled("amount").unwrap_or_else(|| "1".to_owned());
    let customer = typed.filled("for");
    let deed = typed.text("do");
    let kind = match deed {
        "reserve" => EntryKind::Reserved,
        "release" => EntryKind::Released,
        // The next customer is another one.
        _ => {
            let change = app::sell(records, &lot, Some(&amount), customer.as_deref())?;
            return Ok((SALE.1.to_owned(), change));
        }
    };
    let next = format!(
        "{}?do={deed}&for={}",
        SALE.1,
        encoded(customer.as_deref().unwrap_or_default())
    );
    let request = EntryRequest {
        amount: Some(amount),
        what_for: customer,
    };
    Ok((next, app::enter_of(records, kind, &lot, &request)?))
}

const RESERVATIONS: (&str, &str) = ("Reservations", "/stock/reservations");

/// What is reserved, by customer, each with a button that releases all of it.
pub(super) async fn reservations(visit: Visit) -> PageResult {
    let all = visit.read(|records| app::list_reservations(records, None));
    let all = all.await?.reservations;
    let mut body = visit.body();
    body.heading(RESERVATIONS.0);
    body.links(&WAYS[..1]);
    if all.is_empty() {
        body.text("Nothing is reserved.");
    }
    let lots = all.iter();
    let lots = lots.map(|it| (it.title.clone(), format!("{HERE}/{}", it.lot)));
    let lots: Vec<(String, String)> = lots.collect();
    let customers = all.chunk_by(|one, other| one.what_for == other.what_for);
    for (customer, number) in customers.zip(1..) {
        let whom = customer.first().map_or("", |it| it.what_for.as_str());
        body.part(if whom.is_empty() {
            "Not said for whom"
        } else {
            whom
        });
        let mut page = Page::default();
        page.table(reservation_table(customer));
        body.linked(&page, &lots);
        if !whom.is_empty() {
            body.form(&release_form(customer, number));
        }
    }
    Ok(visit.page((RESERVATIONS.0, HERE), body))
}

fn release_form(customer: &[Reservation], number: usize) -> Form {
    let whom = customer.first().map_or("", |it| it.what_for.as_str());
    let form = Form::get("release", RESERVATIONS.1, "Release all of it").once();
    Form {
        id: format!("release-{number}"),
        ..form.hidden("for", whom)
    }
}

pub(super) async fn release(visit: Visit, typed: FormData) -> PageResult {
    let releasing = |records: &mut Records, typed: &FormData| {
        let change = app::release_all(records, typed.text("for"))?;
        Ok((RESERVATIONS.1.to_owned(), change))
    };
    Ok(visit.keep(&typed, releasing).await??)
}

const LOW: (&str, &str) = ("What runs low", "/stock/low");

pub(super) async fn low(visit: Visit, sent: FormData) -> PageResult {
    let below = sent.filled("below");
    let found = visit
        .state
        .read(move |records| app::low_stock(records, below.as_deref()))
        .await?;
    let field = Field::new(
        "below",
        "Fewer balls than",
        "If empty: as each yarn says (edit it), else 3",
        Kind::Line,
    );
    let form = Form::get("low", LOW.1, "Show").with(Head::None, vec![field]);
    let form = form.filled(&sent);
    let (found, refused) = match found {
        Ok(found) => (Some(found), None),
        Err(error) => (None, Some(Refusal::from(error))),
    };
    let (status, form, mut body) = refused_form(&visit, form, refused);
    match &found {
        Some(found) => {
            let yarns = found.shades.iter();
            let names = yarns.map(|it| super::links::yarn_link(&it.yarn));
            let names: Vec<(String, String)> = names.collect();
            body.linked(&found.page(&visit.style()), &names);
        }
        None => body.heading(LOW.0),
    }
    body.form(&form);
    Ok(visit.page_of(status, (LOW.0, HERE), body))
}

const COUNT: (&str, &str) = ("Count the shelves", "/stock/count");

/// The counts that are under way, and a form that begins one.
pub(super) async fn counts(visit: Visit) -> PageResult {
    let under_way = visit.read(app::counts_under_way).await?;
    let mut body = visit.body();
    body.heading(COUNT.0);
    body.text("Scan ball after ball, or type how many there are of each. Everything stays in your records until the count ends, so you can close the page and go on later.");
    if !under_way.is_empty() {
        body.part("Under way");
        let words: Vec<String> = under_way.iter().map(count_words).collect();
        let links = under_way.iter().map(|it| path_of(it.number));
        let links = links.zip(&words).map(|(to, words)| (to, words.as_str()));
        body.links(&links.collect::<Vec<_>>());
    }
    let place = Field::new(
        "place",
        "Place",
        "As in: window. If empty: all places",
        Kind::Line,
    );
    let form = Form::get("begin", COUNT.1, "Begin a count").once();
    body.form(&form.with(Head::None, vec![place]));
    Ok(visit.page((COUNT.0, HERE), body))
}

fn path_of(number: i64) -> String {
    format!("{}/{number}", COUNT.1)
}

fn done(next: String, told: Option<Page>) -> Done {
    let change = None;
    Done { next, told, change }
}

pub(super) async fn begin_count(visit: Visit, typed: FormData) -> PageResult {
    let beginning = |records: &mut Records, typed: &FormData| {
        let number = app::begin_count(records, typed.filled("place").as_deref())?;
        Ok::<_, AppError>(done(path_of(number), None))
    };
    Ok(visit.once(&typed, beginning).await??)
}

pub(super) async fn count(visit: Visit, Path(number): Path<i64>) -> PageResult {
    count_page(&visit, number, &FormData::default(), None).await
}

/// Lines that have a button which takes them out again.
const LAST_LINES: usize = 8;

async fn count_page(
    visit: &Visit,
    number: i64,
    typed: &FormData,
    refused: Option<Refusal>,
) -> PageResult {
    let session = visit.read(move |records| app::count_session(records, number));
    let session = session.await?;
    let title = count_words(&session.count);
    let form = scan_form(&session.count, typed, refused.as_ref());
    let (status, form, mut body) = refused_form(visit, form, refused);
    body.heading(&title);
    body.form(&form);
    if session.lines.is_empty() {
        body.text("Nothing is counted yet.");
    } else {
        last_lines(&mut body, &session);
        body.part(&count_title(&session.so_far));
        body.report(&count_rest(&session.so_far, &visit.style()));
        body.form(&book_form(&session));
    }
    body.form(&drop_form(number));
    Ok(visit.page_of(status, (&title, HERE), body))
}

fn scan_form(count: &KeptCount, typed: &FormData, refused: Option<&Refusal>) -> Form {
    let mut fields = scan_fields(typed, refused);
    let amount = Field::new(
        "amount",
        "How much",
        "As in: 6, or 2 balls + 30 g. If empty: 1",
        Kind::Line,
    );
    let held = refused.map_or("", |_| typed.text("amount"));
    fields.push(amount.holding(held));
    Form::get("scan", path_of(count.number), "Count it")
        .once()
        .with(Head::None, fields)
        .replaced(&[("yarn", "which")])
}

fn last_lines(body: &mut super::body::Body, session: &CountSession) {
    body.part("Counted last");
    for line in session.lines.iter().take(LAST_LINES) {
        body.text(&session_line_words(line));
        let form = Form::get("take", path_of(session.count.number), "Undo this line").once();
        body.form(&Form {
            id: format!("take-{}", line.number),
            ..form.hidden("take", line.number)
        });
    }
}

fn book_form(session: &CountSession) -> Form {
    let label = match session.so_far.differences().next() {
        Some(_) => "Record the differences",
        None => "End the count",
    };
    Form::get("book", path_of(session.count.number), label)
        .once()
        .hidden("do", "book")
}

fn drop_form(number: i64) -> Form {
    let sure = Field::new("sure", "Yes, record nothing", "", Kind::Tick);
    Form::get("drop", path_of(number), "End the count without recording")
        .once()
        .hidden("do", "drop")
        .with(Head::Folded("Give this count up".to_owned()), vec![sure])
}

/// Adds to a count, takes a line out, records the differences, or gives it up.
pub(super) async fn change_count(
    visit: Visit,
    Path(number): Path<i64>,
    typed: FormData,
) -> PageResult {
    if typed.text("do") == "drop" && typed.filled("sure").is_none() {
        let said = "The count goes on: tick `Yes, record nothing` and send again to end it.";
        return Err(ErrorPage::wrong(said));
    }
    let style = visit.style();
    let changing = move |records: &mut Records, typed: &FormData| {
        let here = || path_of(number);
        if let Some(line) = typed.number("take") {
            app::take_from_count(records, number, line)?;
            return Ok(done(here(), None));
        }
        match typed.text("do") {
            "book" => {
                let count = app::book_count(records, number)?;
                Ok(done(COUNT.1.to_owned(), Some(count.page(&style))))
            }
            "drop" => {
                app::drop_count(records, number)?;
                let mut page = Page::default();
                page.text(Role::Plain, "The count has ended. Nothing was recorded.");
                Ok(done(COUNT.1.to_owned(), Some(page)))
            }
            _ => {
                let amount = typed.filled("amount");
                app::add_to_count(records, number, &which(typed)?, amount.as_deref())?;
                Ok::<_, AppError>(done(here(), None))
            }
        }
    };
    match visit.once(&typed, changing).await? {
        Ok(done) => Ok(done),
        Err(error) => count_page(&visit, number, &typed, Some(error.into())).await,
    }
}
