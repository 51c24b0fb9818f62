//! Every page and what stands before it. A plain function of the state, so that
//! tests call it without a server.

use super::{
    access, ask, calculators, cross_site, guard,
    kept_record::{edit, remove, save},
    layout, patterns, preferences,
    refusal::ErrorPage,
    state::AppState,
    stock, swatches, tables, yarns,
};
use axum::{
    Router,
    extract::{DefaultBodyLimit, Request},
    http::HeaderValue,
    middleware::{Next, from_fn, from_fn_with_state},
    response::{IntoResponse, Response},
    routing::{get, post},
};
use std::{sync::Arc, time::Duration};
use tokio::time::timeout;
use tower_http::set_header::SetResponseHeaderLayer;

/// The most bytes of a form.
const FORM: usize = 512 * 1024;
/// The most bytes of a file: 100,000 yarns take some 12 MiB.
const FILE: usize = 24 * 1024 * 1024;
/// How long an answer may take.
const PATIENCE: Duration = Duration::from_secs(60);

/// The whole program as pages.
pub fn router(state: Arc<AppState>) -> Router {
    let guarded = questions()
        .merge(records())
        .merge(files())
        .fallback(async || ErrorPage::not_found())
        .method_not_allowed_fallback(async || ErrorPage::not_found())
        .layer(from_fn_with_state(Arc::clone(&state), guard::door))
        .layer(from_fn(patient))
        .layer(cross_site::check())
        .layer(from_fn_with_state(Arc::clone(&state), guard::host));
    with_headers(guarded).with_state(state)
}

/// Answers in any case before long. What was begun on the records goes on.
async fn patient(request: Request, next: Next) -> Response {
    let answer = timeout(PATIENCE, next.run(request)).await;
    answer.unwrap_or_else(|_| ErrorPage::late().into_response())
}

fn with_headers(router: Router<Arc<AppState>>) -> Router<Arc<AppState>> {
    guard::HEADERS
        .into_iter()
        .fold(router, |router, (name, value)| {
            router.layer(SetResponseHeaderLayer::if_not_present(
                name,
                HeaderValue::from_static(value),
            ))
        })
}

fn questions() -> Router<Arc<AppState>> {
    Router::new()
        .route("/", get(ask::front))
        .route("/answer", get(ask::answer))
        .route("/suggest", get(yarns::suggest))
        .route("/units", post(preferences::put_units_first))
        .route("/enter", get(access::ask_passcode).post(access::log_in))
        .route("/leave", post(access::log_out))
        .route("/style.css", get(layout::style))
        .route("/script.js", get(layout::script))
        .route("/icon.svg", get(layout::icon))
        .merge(calculators::pages())
        .layer(DefaultBodyLimit::max(FORM))
}

fn records() -> Router<Arc<AppState>> {
    Router::new()
        .route("/yarns", get(yarns::list))
        .route("/yarns/new", get(yarns::new).post(yarns::add))
        .route("/yarns/{number}", get(yarns::show))
        .route(
            "/yarns/{number}/edit",
            get(edit::<yarns::YarnRecord>).post(save::<yarns::YarnRecord>),
        )
        .route("/yarns/{number}/remove", post(remove::<yarns::YarnRecord>))
        .route(
            "/yarns/{number}/swatches/new",
            get(swatches::new).post(swatches::add),
        )
        .route(
            "/swatches/{number}/edit",
            get(edit::<swatches::SwatchRecord>).post(save::<swatches::SwatchRecord>),
        )
        .route(
            "/swatches/{number}/remove",
            post(remove::<swatches::SwatchRecord>),
        )
        .route("/stock", get(stock::list))
        .route("/stock/buy", get(stock::new).post(stock::buy))
        .route("/stock/{number}", get(stock::show).post(stock::enter))
        .route(
            "/stock/{number}/edit",
            get(edit::<stock::LotRecord>).post(save::<stock::LotRecord>),
        )
        .route("/patterns", get(patterns::list))
        .route("/patterns/new", get(patterns::new).post(patterns::add))
        .route("/patterns/{number}", get(patterns::show))
        .route(
            "/patterns/{number}/edit",
            get(edit::<patterns::PatternRecord>).post(save::<patterns::PatternRecord>),
        )
        .route(
            "/patterns/{number}/remove",
            post(remove::<patterns::PatternRecord>),
        )
        .layer(DefaultBodyLimit::max(FORM))
}

fn files() -> Router<Arc<AppState>> {
    Router::new()
        .merge(calculators::files())
        .route("/patterns/upload", post(patterns::upload))
        .route("/patterns/{number}/file", get(patterns::file))
        .route("/tables", get(tables::page))
        .route("/tables/look", post(tables::look))
        .route("/tables/take", post(tables::take))
        .route("/yarns.csv", get(tables::yarns))
        .route("/stock.csv", get(tables::stock))
        .route("/swatches.csv", get(tables::swatches))
        .layer(DefaultBodyLimit::max(FILE))
}
