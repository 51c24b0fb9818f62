//! The calculators of a designer and a knitter: the questions around the main
//! one, each with a page of its own, and the page that leads to them.

mod calculator_page;
mod gauge;
mod lint;
mod needs;
mod one_request;
mod sheet;
mod text;

use super::{state::AppState, visit::Visit};
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
        .route("/size", get(one_request::size))
        .route("/skeins", get(one_request::skeins))
        .route("/gauge", get(gauge::page))
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

/// A question: where it is asked, what it is called, what one has at hand.
type Way = (&'static str, &'static str, &'static str);

const BEFORE: [Way; 3] = [
    (
        "/",
        "What yarn would do?",
        "A pattern wants a yarn, and you have another, or look for one.",
    ),
    (
        "/skeins",
        "How many skeins?",
        "You know how much it takes and what one skein holds, and perhaps want to be nearly sure.",
    ),
    (
        "/unlabelled",
        "A ball without a label",
        "A scale and a tape tell how long it is and what class it may be.",
    ),
];

const KNITTING: [Way; 3] = [
    (
        "/gauge",
        "My gauge is not the pattern's",
        "Which size to knit instead, or which counts keep the size, and how much yarn that takes.",
    ),
    (
        "/size",
        "How big will it come out?",
        "Stitches, rows and a gauge, as centimetres and inches.",
    ),
    (
        "/last",
        "Will it last?",
        "The ball grows small: how many rows are left in it, and where to stop.",
    ),
];

const WRITING: [Way; 3] = [
    (
        "/needs",
        "Yarn for every size, from what was weighed",
        "One size is knitted and weighed; the others follow from their measures.",
    ),
    (
        "/sheet",
        "A materials sheet",
        "The yarn line, the needs and what else would do, for every size and colour, to print or to send.",
    ),
    (
        "/lint",
        "Look over a pattern or a sheet",
        "Finds units and counts that disagree before readers do.",
    ),
];

async fn questions(visit: Visit) -> Response {
    let title = "What would you like to know?";
    let mut body = visit.body();
    body.heading(title);
    for (head, ways) in [
        ("Before you buy or begin", BEFORE),
        ("While you knit", KNITTING),
        ("For a pattern that you write", WRITING),
    ] {
        body.part(head);
        body.ways(&ways);
    }
    visit.page((title, calculator_page::QUESTIONS), body)
}
