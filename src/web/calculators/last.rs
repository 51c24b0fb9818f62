//! Will what is left of the yarn last?

use super::{
    calculator_page::{ASKED_FIELD, CalculatorPage},
    numbers::Numbers,
};
use crate::{
    app::{self, AppError, FormData, LastRequest, RowShape},
    report::{Page, Report},
    web::{
        form::{Choice, Field, Form, Group, Head, Kind},
        preferences::Preferences,
    },
};
use axum::response::Response;

const PAGE: CalculatorPage = CalculatorPage {
    title: "Will it last?",
    intro: "Weigh the yarn, work some rows, weigh it again. From that follows how many rows are left in it, and where to stop.",
    main: "",
    links: &[],
};

pub(super) async fn page(prefs: Preferences, sent: FormData) -> Response {
    PAGE.reckoned(&prefs, &sent, form(), answer)
}

fn answer(typed: &FormData) -> Result<Page, AppError> {
    let numbers = Numbers::of(
        typed,
        &["rows", "rows-left", "rows-done", "stitches", "each"],
    )?;
    let request = LastRequest {
        before: typed.filled("before"),
        label: typed.filled("label"),
        row_takes: typed.filled("row-takes"),
        left: typed.text("left").to_owned(),
        rows: numbers.get("rows"),
        rows_left: numbers.get("rows-left"),
        shape: shape(typed.text("shape")),
        rows_done: numbers.get("rows-done"),
        stitches: numbers.get("stitches"),
        each: numbers.get("each"),
        keep: typed.filled("keep"),
        tare: typed.filled("tare"),
        put_up: typed.filled("put-up"),
        scale: typed.filled("scale"),
        damp: typed.filled("damp"),
    };
    Ok(app::last(&request)?.page())
}

fn shape(word: &str) -> RowShape {
    match word {
        "triangle" => RowShape::Triangle,
        "crescent" => RowShape::Crescent,
        "yoke" => RowShape::Yoke,
        _ => RowShape::Straight,
    }
}

const SHAPES: [(&str, &str); 4] = [
    ("straight", "Straight"),
    ("triangle", "A triangle, from its point"),
    ("crescent", "A crescent, growing"),
    ("yoke", "A yoke, narrowing"),
];

fn form() -> Form {
    Form::get("last", "/last", "Will it last?")
        .hidden(ASKED_FIELD, "yes")
        .with(Group::new(
            Head::Legend("What was weighed".to_owned()),
            weighed(),
        ))
        .with(Group::new(
            Head::Legend("What is still to work".to_owned()),
            ahead(),
        ))
        .with(Group::new(
            Head::Folded("A core, metres, a scale, or no weighing before".to_owned()),
            further(),
        ))
}

fn weighed() -> Vec<Field> {
    vec![
        Field::line(
            "left",
            "Weight now",
            "Of the yarn with its core, as in: 52.3 g, or 1.8 oz",
        )
        .needed(),
        Field::line("before", "Weight before", "As in: 61.5 g"),
        Field::line(
            "rows",
            "Rows worked between",
            "As in: 20. More rows make a surer answer.",
        ),
    ]
}

fn ahead() -> Vec<Field> {
    let shapes = SHAPES.map(|(value, label)| Choice::new(value, label));
    vec![
        Field::line("rows-left", "Rows still to work", "As in: 60"),
        Field::new(
            "shape",
            "How the rows go on",
            "",
            Kind::Choose(shapes.into()),
        )
        .holding("straight"),
        Field::line(
            "rows-done",
            "Rows of the triangle so far",
            "From its point, as in: 90. Those between the weighings, where this is empty.",
        ),
        Field::line(
            "stitches",
            "Stitches in a row now",
            "Of a crescent or a yoke, as in: 200",
        ),
        Field::line(
            "each",
            "Stitches gained or lost with each row",
            "Of a crescent or a yoke: 4 for 8 stitches every other row",
        ),
    ]
}

fn further() -> Vec<Field> {
    vec![
        Field::line("keep", "What to keep for bind-off and tails", "As in: 6 g"),
        Field::line("tare", "Weight of the core or cone", "As in: 25 g"),
        Field::line(
            "put-up",
            "One skein",
            "Its length and mass, for metres or yards in the answer, as in: 230 m/100 g",
        ),
        Field::line(
            "label",
            "Weight on the label",
            "Where it was not weighed before. Without core, as in: 100 g",
        ),
        Field::line(
            "row-takes",
            "What a row takes",
            "Where you know it, as in: 1.5 m, or 0.7 g; then no weighing before is needed.",
        ),
        Field::line("scale", "What the scale rounds to", "1 g where it is empty"),
        Field::line(
            "damp",
            "How far damp may change what yarn weighs",
            "2 % where it is empty; 0 % where both were weighed in the same air",
        ),
    ]
}
