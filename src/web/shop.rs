//! The shop floor: yarn sold, reserved and released by scanning it; who has what reserved;
//! what runs low. The shelves are counted in [`super::counting`].

use super::{
    counting::COUNT,
    form::{Field, Form, Head, Kind},
    kept_record::{form_page, refused_form},
    links::{encoded, yarn_link},
    refusal::Refusal,
    visit::{PageResult, Saved, Visit},
};
use crate::{
    app::{
        self, AppError, EntryKind, EntryRequest, Fault, FaultKind, FormData, LotChoice, Records,
        Reservation,
    },
    report::{Block, Page, Render, reservation_table},
    words::safe,
};

pub(super) const HERE: &str = "/stock";

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
pub(super) fn which(typed: &FormData) -> Result<String, AppError> {
    let typed = typed.filled("lot").or_else(|| typed.filled("which"));
    typed.ok_or_else(|| AppError::Faults(vec![Fault::new("which", FaultKind::Missing)]))
}

/// The field that waits for the next scan, with what was refused, and a choice where it
/// may be several lots.
pub(super) fn scan_fields(typed: &FormData, refused: Option<&Refusal>) -> Vec<Field> {
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
        // The heading names the table, too.
        let mut page = Page::default();
        page.section(match whom {
            "" => "Not said for whom".to_owned(),
            whom => safe(whom),
        });
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
    let label = format!("Release all for {}", safe(whom));
    let form = Form::get("release", RESERVATIONS.1, label).once();
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
        "Fewer skeins than",
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
            let names = yarns.map(|it| yarn_link(&it.yarn));
            let names: Vec<(String, String)> = names.collect();
            let mut page = found.page(&visit.style());
            // The list may be long: what narrows it down stands before it.
            body.heading(&page.headline());
            page.blocks
                .retain(|block| !matches!(block, Block::Title(_)));
            body.form(&form);
            body.linked(&page, &names);
        }
        None => {
            body.heading(LOW.0);
            body.form(&form);
        }
    }
    body.links(&[WAYS[0], WAYS[3]]);
    Ok(visit.page_of(status, (LOW.0, HERE), body))
}
