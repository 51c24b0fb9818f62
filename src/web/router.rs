//! Every page and what stands before it. A plain function of the state, so that
//! tests call it without a server.

use super::{
    any_table, ask, calculators, counter, counting, cross_site, error_page::ErrorPage, kept_record,
    layout, list, pattern_fields, patterns, preferences, project_edit, projects, session, shop,
    state::AppState, stock, swatches, tables, undo, yarns,
};
use crate::app::TableKind;
use axum::{
    Router,
    extract::{DefaultBodyLimit, Request},
    http::header,
    middleware::{Next, from_fn, from_fn_with_state},
    response::{IntoResponse, Response},
    routing::{get, post},
};
use std::{sync::Arc, time::Duration};
use tokio::time::timeout;

/// How long an answer may take.
const PATIENCE: Duration = Duration::from_secs(60);

/// The whole program as pages.
pub fn router(state: Arc<AppState>) -> Router {
    let pages = questions()
        .merge(records())
        .merge(files())
        .fallback(async || ErrorPage::not_found())
        .method_not_allowed_fallback(async || ErrorPage::not_found())
        .layer(from_fn_with_state(Arc::clone(&state), session::door))
        .layer(from_fn(patient))
        // Each form has its own limit, which is shown on a page.
        .layer(DefaultBodyLimit::disable());
    cross_site::protect(pages, &state).with_state(state)
}

/// Answers in any case before long. What was begun on the records goes on.
async fn patient(request: Request, next: Next) -> Response {
    let answer = timeout(PATIENCE, next.run(request)).await;
    answer.map_or_else(|_| ErrorPage::late().into_response(), as_page)
}

/// What was refused before any page saw it, such as a number in a path that is none,
/// as a page of this program.
fn as_page(answer: Response) -> Response {
    let kind = answer.headers().get(header::CONTENT_TYPE);
    let is_text = kind.is_none_or(|kind| kind.as_bytes().starts_with(b"text/plain"));
    if answer.status().is_client_error() && is_text {
        ErrorPage::not_found().into_response()
    } else {
        answer
    }
}

fn questions() -> Router<Arc<AppState>> {
    Router::new()
        .route("/", get(ask::front))
        .route("/answer", get(ask::answer))
        .route("/counter", get(counter::page))
        .route("/suggest", get(yarns::suggest))
        .route("/units", post(preferences::put_units_first))
        .route("/enter", get(session::ask_passcode).post(session::log_in))
        .route("/leave", post(session::log_out))
        .merge(layout::assets())
        .merge(calculators::pages())
}

fn records() -> Router<Arc<AppState>> {
    Router::new()
        .route("/yarns", get(yarns::list))
        .route("/sample", post(list::take_sample))
        .route("/yarns/named", get(yarns::named))
        .route("/yarns/new", get(yarns::new).post(yarns::add))
        .route("/yarns/{number}", get(yarns::show))
        .route("/yarns/{number}/merge", post(yarns::merge))
        .route("/yarns/{number}/shade", post(yarns::rename_shade))
        .route(
            "/yarns/{number}/swatches/new",
            get(swatches::new).post(swatches::add),
        )
        .route("/stock", get(stock::list))
        .route("/stock/buy", get(stock::new).post(stock::buy))
        .route("/stock/sell", get(shop::sale).post(shop::sell))
        .route(
            "/stock/reservations",
            get(shop::reservations).post(shop::release),
        )
        .route("/stock/low", get(shop::low))
        .route(
            "/stock/count",
            get(counting::counts).post(counting::begin_count),
        )
        .route(
            "/stock/count/{number}",
            get(counting::count).post(counting::change_count),
        )
        .route("/stock/{number}", get(stock::show).post(stock::enter))
        .route("/undo", get(undo::page).post(undo::undo))
        .route("/patterns", get(patterns::list))
        .route(
            "/patterns/new",
            get(pattern_fields::new).post(pattern_fields::add),
        )
        .route(
            "/patterns/text",
            get(patterns::new_text).post(patterns::add_text),
        )
        .route("/patterns/{number}", get(patterns::show))
        .route("/plan/reserve", post(projects::reserve))
        .route("/plan/{number}", post(projects::change))
        .route(
            "/plan/{number}/edit",
            get(project_edit::edit).post(project_edit::save),
        )
        .merge(kept_record::routes::<yarns::YarnRecord>())
        .merge(kept_record::routes::<swatches::SwatchRecord>())
        .merge(kept_record::routes::<stock::LotRecord>())
        .merge(kept_record::routes::<pattern_fields::PatternRecord>())
        .merge(kept_record::routes::<patterns::PatternText>())
}

fn files() -> Router<Arc<AppState>> {
    let table = |name, kind| get(move |visit| tables::file(visit, name, kind));
    Router::new()
        .merge(calculators::files())
        .route("/patterns/upload", post(patterns::upload))
        .route("/patterns/{number}/file", get(patterns::file))
        .route("/tables", get(tables::page))
        .route("/tables/any", get(any_table::page))
        .route("/tables/any/forget", post(any_table::forget))
        .route("/tables/any/look", post(any_table::look))
        .route("/tables/any/take", post(any_table::take))
        .route("/tables/look", post(tables::look))
        .route("/tables/take", post(tables::take))
        .route("/yarns.csv", table("yarns.csv", TableKind::Yarns))
        .route("/stock.csv", table("stock.csv", TableKind::Stock))
        .route("/swatches.csv", table("swatches.csv", TableKind::Swatches))
        .route("/yarns.xlsx", table("yarns.xlsx", TableKind::Yarns))
        .route("/stock.xlsx", table("stock.xlsx", TableKind::Stock))
        .route(
            "/swatches.xlsx",
            table("swatches.xlsx", TableKind::Swatches),
        )
        .route("/projects.csv", table("projects.csv", TableKind::Projects))
        .route(
            "/projects.xlsx",
            table("projects.xlsx", TableKind::Projects),
        )
        .route(
            "/reservations.csv",
            table("reservations.csv", TableKind::Reservations),
        )
        .route(
            "/reservations.xlsx",
            table("reservations.xlsx", TableKind::Reservations),
        )
}
