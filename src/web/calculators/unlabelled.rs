//! A ball without a label.

use super::{
    calculator_page::{ASKED_FIELD, CalculatorPage},
    numbers::Numbers,
};
use crate::{
    app::{self, AppError, FormData, UnlabelledRequest},
    report::{Page, Report},
    web::{
        form::{Field, Form, Group, Head, Kind},
        preferences::Preferences,
    },
};
use axum::response::Response;

const PAGE: CalculatorPage = CalculatorPage {
    title: "A ball without a label",
    intro: "How long it is, how thick, and which weight class it may be. Any one of these ways will do; two that agree are better.",
    main: "length",
    links: &[],
};

pub(super) async fn page(prefs: Preferences, sent: FormData) -> Response {
    PAGE.reckoned(&prefs, &sent, form(), answer)
}

fn answer(typed: &FormData) -> Result<Page, AppError> {
    let numbers = Numbers::of(typed, &["turns", "wraps"])?;
    let request = UnlabelledRequest {
        mass: typed.filled("mass"),
        tare: typed.filled("tare"),
        length: typed.filled("length"),
        weighs: typed.filled("weighs"),
        balance: typed.filled("balance"),
        turns: numbers.get("turns"),
        reel: typed.filled("reel"),
        wraps: numbers.get("wraps"),
        over: typed.filled("over"),
        scale: typed.filled("scale"),
        fine_scale: typed.filled("fine-scale"),
        ruler: typed.filled("ruler"),
        burn: typed.filled("burn").is_some(),
    };
    Ok(app::unlabelled(&request)?.page())
}

fn form() -> Form {
    let pair = |one: (&str, &str, &str), other: (&str, &str, &str)| {
        vec![
            Field::line(one.0, one.1, one.2),
            Field::line(other.0, other.1, other.2),
        ]
    };
    Form::get("unlabelled", "/unlabelled", "What may it be?")
        .hidden(ASKED_FIELD, "yes")
        .with(Group::new(
            Head::Legend("The ball".to_owned()),
            pair(
                (
                    "mass",
                    "What the ball weighs",
                    "With its core, as in: 312 g, or 11 oz",
                ),
                (
                    "tare",
                    "The core or cone in it",
                    "As in: 25 g. Empty where there is none.",
                ),
            ),
        ))
        .with(Group::new(
            Head::Legend("A length, measured off and weighed".to_owned()),
            pair(
                ("length", "The length", "As in: 20 m, or 20 yd"),
                ("weighs", "What it weighs", "As in: 5.3 g"),
            ),
        ))
        .with(Group::new(Head::Legend("Or another way".to_owned()), other_ways()))
        .with(Group::new(Head::Folded("How good scale and ruler are".to_owned()), doubts()))
        .with(Group::new(
            Head::Folded("A burn test".to_owned()),
            vec![Field::new(
                "burn",
                "Also tell what a burn test may show",
                "It hurts people and sets things alight where it is done carelessly: its cautions come first. It tells groups of fibres, never one.",
                Kind::Tick,
            )],
        ))
}

fn other_ways() -> Vec<Field> {
    vec![
        Field::line(
            "balance",
            "A strand that just balances on a yarn balance",
            "Its length, as in: 8 in, or 20 cm",
        ),
        Field::line(
            "turns",
            "Turns of a reel that take up the whole ball",
            "As in: 180",
        ),
        Field::line("reel", "The length of one turn", "As in: 1.5 m"),
        Field::line(
            "wraps",
            "Wraps side by side around a ruler",
            "As in: 32. Wraps alone only guess.",
        ),
        Field::line("over", "The length that they fill", "As in: 2 in, or 5 cm"),
    ]
}

fn doubts() -> Vec<Field> {
    vec![
        Field::line(
            "scale",
            "What the scale of the ball rounds to",
            "1 g where it is empty",
        ),
        Field::line(
            "fine-scale",
            "What the scale of the measured length rounds to",
            "The same where it is empty",
        ),
        Field::line(
            "ruler",
            "How far a measured length may be off",
            "2 % where it is empty",
        ),
    ]
}
