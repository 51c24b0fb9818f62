//! Questions whose form is one request and nothing else.

use super::calculator_page::{CalculatorPage, QUESTIONS};
use crate::{
    app::{self, FormData, LastRequest, SizeRequest, SkeinsRequest, UnlabelledRequest},
    web::{
        fields::choose_chance,
        form::Form,
        visit::{PageResult, Visit},
    },
};

const LAST: CalculatorPage = CalculatorPage {
    title: "How far will it go?",
    here: QUESTIONS,
    intro: "Weigh the yarn, knit some rows, weigh it again. The program works out for how many more rows it lasts, and where to stop.",
    links: &[],
};

/// Will what is left of the yarn last?
pub(super) async fn last(visit: Visit, sent: FormData) -> PageResult {
    let sent = match visit.prefs.yards {
        true => sent,
        false => in_grams(sent),
    };
    let mut form = Form::asking::<LastRequest>("last", "/last", LAST.title)
        .unfolded(&["What you weighed", "What is still to knit"]);
    for name in WEIGHED {
        form = form.change(name, |field| field.needed = true);
    }
    LAST.answer(&visit, &sent, form, app::last).await
}

/// Fields that are needed but for those who know what a row takes, or begin with the
/// weight on the label.
const WEIGHED: [&str; 2] = ["before", "rows"];

/// Fields of [`LastRequest`] that hold a weight.
const WEIGHTS: [&str; 6] = ["before", "left", "label", "tare", "keep", "scale"];

/// Weights without a unit as grams, which people weigh yarn in.
fn in_grams(mut typed: FormData) -> FormData {
    for name in WEIGHTS {
        let weight = typed.text(name).trim().replace(',', ".");
        if weight.parse::<f64>().is_ok() {
            typed.set(name, format!("{weight} g"));
        }
    }
    typed
}

const SIZE: CalculatorPage = CalculatorPage {
    title: "How big will it come out?",
    here: QUESTIONS,
    intro: "Stitches, rows and a gauge make a width and a height.",
    links: &[],
};

/// Finished size from counts and a gauge.
pub(super) async fn size(visit: Visit, sent: FormData) -> PageResult {
    let form = Form::asking::<SizeRequest>("size", "/size", SIZE.title);
    SIZE.answer(&visit, &sent, form, app::size).await
}

const SKEINS: CalculatorPage = CalculatorPage {
    title: "How many skeins?",
    here: QUESTIONS,
    intro: "From the yarn needed and the length of one skein. Buy by length, not by skeins or grams.",
    links: &[],
};

/// How many skeins a need takes, and how sure they are to be enough.
pub(super) async fn skeins(visit: Visit, sent: FormData) -> PageResult {
    let form = Form::asking::<SkeinsRequest>("skeins", "/skeins", SKEINS.title);
    let form = form.change("sure", choose_chance);
    SKEINS.answer(&visit, &sent, form, app::skeins).await
}

const UNLABELLED: CalculatorPage = CalculatorPage {
    title: "A ball without a label",
    here: QUESTIONS,
    intro: "How long it is, how thick, and which weight class it may be. One of these ways is enough; two that agree are better.",
    links: &[],
};

/// The parts of the form that are not folded away.
const UNFOLDED: [&str; 3] = [
    "The ball",
    "A length, measured and weighed",
    "Or another way",
];

/// A ball without a label.
pub(super) async fn unlabelled(visit: Visit, sent: FormData) -> PageResult {
    let form = Form::asking::<UnlabelledRequest>("unlabelled", "/unlabelled", "What is it?");
    UNLABELLED
        .answer(&visit, &sent, form.unfolded(&UNFOLDED), app::unlabelled)
        .await
}
