//! Finished size from counts and a gauge.

use super::{
    numbers::Numbers,
    topic::{ASKED, Topic},
};
use crate::{
    app::{self, AppError, SizeRequest, Typed},
    report::{Page, Report},
    web::{
        form::{Field, Form, Group},
        prefs::Prefs,
        sent::Sent,
    },
};
use axum::response::Response;

const TOPIC: Topic = Topic {
    title: "How big will it come out?",
    intro: "Stitches, rows and a gauge make a width and a height.",
    main: "",
    links: &[],
};

pub(super) async fn page(prefs: Prefs, sent: Sent) -> Response {
    TOPIC.reckoned(&prefs, &sent.0, form(), answer)
}

fn answer(typed: &Typed) -> Result<Page, AppError> {
    let numbers = Numbers::of(typed, &["stitches", "rows"])?;
    let request = SizeRequest {
        stitches: numbers.get("stitches"),
        rows: numbers.get("rows"),
        gauge: typed.text("gauge").to_owned(),
    };
    Ok(app::size(&request)?.page())
}

fn form() -> Form {
    Form::get("size", "/size", "How big?")
        .hidden(ASKED, "yes")
        .with(Group::plain(vec![
            Field::line("stitches", "Stitches across", "As in: 200"),
            Field::line("rows", "Rows or rounds along", "As in: 168"),
            Field::line("gauge", "Gauge", "As in: 22 sts x 30 rows / 10 cm").needed(),
        ]))
}
