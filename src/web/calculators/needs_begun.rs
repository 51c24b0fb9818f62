//! Yarn for every size, begun without writing a text: one kind of piece, weighed
//! in one size.

use super::{
    calculator_page::{ASKED_FIELD, CalculatorPage, Outcome, is_asked},
    every_fault::every_fault,
    needs,
    text::FIELD,
};
use crate::{
    app::{self, AppError, FormData, NeedsRequest},
    report::{Page, Report},
    web::{
        form::{Choice, Field, Form, Group, Head, Kind},
        labels::Labels,
        preferences::Preferences,
    },
};
use axum::response::Response;

const PAGE: CalculatorPage = CalculatorPage {
    title: "Yarn for every size, from one piece",
    intro: "You have knitted a piece, or several of one kind, in one size, and weighed it. A scarf, a shawl or a blanket is done with that; of other things it is a beginning that goes on as a text.",
    main: "mass",
    links: &[],
};

pub(super) async fn page(prefs: Preferences, sent: FormData) -> Response {
    let form = form().filled(&sent);
    let labels = Labels::of(&form);
    if !is_asked(&sent) {
        return PAGE.page(&prefs, (form, &labels), Outcome::Nothing, |_| ());
    }
    let (typed, outcome) = match every_fault(&sent, begun) {
        Ok((text, page)) => (with_text(&sent, text), Outcome::new(Ok(page))),
        Err(error) => (FormData::default(), Outcome::new(Err(error))),
    };
    PAGE.page(&prefs, (form, &labels), outcome, |body| {
        needs::offer_pattern(body, &typed);
        body.part_at("more", "Go on with more pieces and edges");
        body.form(&needs::form().filled(&typed));
    })
}

/// The text that the form amounts to, and what follows from it.
fn begun(typed: &FormData) -> Result<(String, Page), AppError> {
    let text = app::needs_begun(typed)?;
    let request = NeedsRequest {
        file: "The form".to_owned(),
        bytes: text.clone().into_bytes(),
        margin: typed.filled("margin"),
        step: typed.filled("step"),
    };
    Ok((text, app::needs(&request)?.page()))
}

/// What the form of the text holds.
fn with_text(typed: &FormData, text: String) -> FormData {
    let stated = ["margin", "step"].map(|field| (field, typed.text(field).to_owned()));
    stated.into_iter().chain([(FIELD, text)]).collect()
}

const SHAPES: [(&str, &str); 5] = [
    ("rectangle", "A rectangle"),
    ("tube", "A tube, worked in the round"),
    ("triangle", "A triangle"),
    ("trapezoid", "Wider at one end than at the other"),
    ("circle segment", "A segment of a circle"),
];

fn form() -> Form {
    Form::get("begin", "/needs/begin", "What does every size take?")
        .hidden(ASKED_FIELD, "yes")
        .with(Group::new(
            Head::Legend("The pattern".to_owned()),
            pattern(),
        ))
        .with(Group::new(Head::Legend("The piece".to_owned()), piece()))
        .with(Group::new(
            Head::Legend("What was weighed".to_owned()),
            weighed(),
        ))
        .with(Group::new(
            Head::Folded("Gauge, margin and rounding".to_owned()),
            stated(),
        ))
}

fn pattern() -> Vec<Field> {
    vec![
        Field::line("pattern", "Its name", "").needed(),
        Field::new(
            "sizes",
            "Its sizes",
            "One on each line, in their order. Empty where there is only one.",
            Kind::Area(4),
        ),
        Field::line("put-up", "One skein of its yarn", "As in: 120 m / 50 g").needed(),
    ]
}

fn piece() -> Vec<Field> {
    let shapes = SHAPES.map(|(value, label)| Choice::new(value, label));
    let each = "A line for each size, in their order, or one line for all of them.";
    vec![
        Field::new("shape", "Its shape", "", Kind::Choose(shapes.into())).holding("rectangle"),
        Field::new(
            "width",
            "Width",
            &format!("Of a tube the way around. {each}"),
            Kind::Area(4),
        )
        .needed(),
        Field::new(
            "top",
            "Width at the other end",
            "Where it is wider at one end, or a tube narrows. In the same way.",
            Kind::Area(2),
        ),
        Field::new("height", "Height", each, Kind::Area(4)).needed(),
        Field::line(
            "times",
            "How many of it there are",
            "1 where it is empty, as in: 2",
        ),
    ]
}

fn weighed() -> Vec<Field> {
    vec![
        Field::line(
            "size",
            "The size that was knitted",
            "As it is called above. Empty where there is only one.",
        ),
        Field::line(
            "mass",
            "What the finished pieces weigh",
            "All of that size, as in: 150 g",
        ),
        Field::line(
            "before",
            "Or the yarn before",
            "Where the yarn was weighed instead, as in: 200 g",
        ),
        Field::line("after", "And the yarn after", "As in: 48 g"),
    ]
}

fn stated() -> Vec<Field> {
    vec![
        Field::line(
            "gauge",
            "Gauge",
            "To hold the answer against the geometry of plain knitting, as in: 22 sts x 30 rows / 10 cm",
        ),
        Field::line(
            "margin",
            "What to add to the needs",
            "10 % where it is empty",
        ),
        Field::line(
            "step",
            "What to round up to",
            "As in: 10 m, 50 yd or 25 g. 1 m where it is empty.",
        ),
    ]
}
