//! The calculators of a designer and a knitter: the questions around the main
//! one, each with a page of its own, and the page that leads to them.

mod calculator_page;
mod gauge;
mod lint;
mod needs;
mod one_request;
mod plan;
mod sheet;
mod stripes;
mod suits;

use super::{projects, state::AppState, visit::Visit};
use axum::{
    Router,
    response::Response,
    routing::{get, post},
};
use std::sync::Arc;

/// Pages that are asked with a query or a small form.
pub(super) fn pages() -> Router<Arc<AppState>> {
    Router::new()
        .route("/questions", get(questions))
        .route("/last", get(one_request::last))
        .route("/unlabelled", get(one_request::unlabelled))
        .route("/unlabelled/keep", post(one_request::keep_ball))
        .route("/size", get(one_request::size))
        .route("/skeins", get(one_request::skeins))
        .route("/gauge", get(gauge::page))
        .route("/plan", get(plan::page).post(projects::add))
        .route("/plan/try", get(plan::without_keeping))
        .route("/suits", get(suits::suits))
        .route("/stripes", get(stripes::page))
        .route("/replace", get(suits::replace))
        .route("/sheet", get(sheet::page))
        .route("/sheet/{kind}", get(sheet::file))
        .route("/needs/begin", get(needs::begin))
        .route("/needs/pattern", post(needs::pattern))
}

/// Pages that may be sent a file.
pub(super) fn files() -> Router<Arc<AppState>> {
    Router::new()
        .route("/lint", get(lint::open).post(lint::look))
        .route("/needs", get(needs::open).post(needs::compute))
}

async fn questions(visit: Visit) -> Response {
    let title = "Tools";
    let mut body = visit.body();
    body.heading(title);
    body.fixed(include_str!("../templates/questions.html"));
    visit.page((title, calculator_page::QUESTIONS), body)
}
