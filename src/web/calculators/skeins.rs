//! How many skeins a need takes, and how sure they are to be enough.

use super::{
    calculator_page::{ASKED_FIELD, CalculatorPage, wrong},
    chance,
};
use crate::{
    app::{self, AppError, FormData, GaugeChange, Keep, SkeinsRequest},
    report::{Page, Report},
    web::{
        form::{Choice, Field, Form, Group, Head, Kind},
        preferences::Preferences,
    },
};
use axum::response::Response;

const PAGE: CalculatorPage = CalculatorPage {
    title: "How many skeins?",
    intro: "From what it takes and what one skein holds. Buy by length, not by balls or grams.",
    main: "",
    links: &[],
};

pub(super) async fn page(prefs: Preferences, sent: FormData) -> Response {
    PAGE.reckoned(&prefs, &sent, form(), answer)
}

fn answer(typed: &FormData) -> Result<Page, AppError> {
    let request = SkeinsRequest {
        need: typed.text("need").to_owned(),
        put_up: typed.text("put-up").to_owned(),
        reference: typed.filled("reference"),
        class: typed.filled("class"),
        margin: typed.filled("margin"),
        strands: app::strands("strands", typed.text("strands"))?.unwrap_or(1),
        gauge: gauge(typed)?,
        price: typed.filled("price"),
        sure: typed.filled("sure"),
        own_use: typed.filled("own-use"),
    };
    Ok(app::skeins(&request)?.page())
}

/// The two gauges go together.
fn gauge(typed: &FormData) -> Result<Option<GaugeChange>, AppError> {
    let keep = match typed.text("keep") {
        "counts" => Keep::Counts,
        _ => Keep::Size,
    };
    match (typed.filled("own-gauge"), typed.filled("pattern-gauge")) {
        (Some(own), Some(pattern)) => Ok(Some(GaugeChange { own, pattern, keep })),
        (None, None) => Ok(None),
        (Some(_), None) => Err(wrong(
            "pattern-gauge",
            "your gauge says nothing without the pattern's: give both, or neither",
        )),
        (None, Some(_)) => Err(wrong(
            "own-gauge",
            "the pattern's gauge says nothing without yours: give both, or neither",
        )),
    }
}

fn form() -> Form {
    Form::get("skeins", "/skeins", "How many?")
        .hidden(ASKED_FIELD, "yes")
        .with(Group::plain(vec![
            Field::line(
                "need",
                "How much it takes",
                "As in: 900 m, 9 x 125 m, or 6 (7, 8) skeins for several sizes",
            )
            .needed(),
            Field::line(
                "put-up",
                "One skein of the yarn to buy",
                "Its length, and its mass where you know it, as in: 120 m/50 g, or 109 yd",
            )
            .needed(),
            Field::line(
                "reference",
                "One skein of the pattern's yarn",
                "Where the need is in grams, ounces or skeins, as in: 125 m/50 g",
            ),
        ]))
        .with(Group::new(
            Head::Folded("How sure to be of enough".to_owned()),
            chance::fields(),
        ))
        .with(Group::new(
            Head::Folded("Margin, price, strands, another gauge".to_owned()),
            further(),
        ))
}

fn further() -> Vec<Field> {
    let keep = vec![
        Choice::new("", "The finished size; stitch counts are reworked"),
        Choice::new("counts", "The stitch counts; the finished size changes"),
    ];
    vec![
        Field::line(
            "margin",
            "What to buy beyond the need",
            "10 % where it is empty",
        ),
        Field::line("price", "Price", "As in: 6.50 GBP, or £6.50/50g"),
        Field::line("strands", "Strands held together", "As in: 2"),
        Field::line(
            "class",
            "Weight class of the pattern's yarn",
            "For an estimate where only grams are known, as in: DK",
        ),
        Field::line("own-gauge", "Your gauge", "As in: 20 sts x 28 rows / 10 cm"),
        Field::line(
            "pattern-gauge",
            "The pattern's gauge",
            "As in: 22 sts x 30 rows / 10 cm",
        ),
        Field::new(
            "keep",
            "What you keep at your gauge",
            "",
            Kind::Choose(keep),
        ),
    ]
}
