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
    intro: "Weigh the yarn, work some rows, weigh it again. The program works out how many rows are left in it, and where to stop.",
    links: &[],
};

/// Will what is left of the yarn last?
pub(super) async fn last(visit: Visit, sent: FormData) -> PageResult {
    let form = Form::asking::<LastRequest>("last", "/last", "How far will it go?")
        .unfolded(&["What was weighed", "What is still to work"]);
    LAST.answer(&visit, &sent, form, app::last).await
}

const SIZE: CalculatorPage = CalculatorPage {
    title: "How big will it come out?",
    here: QUESTIONS,
    intro: "Stitches, rows and a gauge make a width and a height.",
    links: &[],
};

/// Finished size from counts and a gauge.
pub(super) async fn size(visit: Visit, sent: FormData) -> PageResult {
    let form = Form::asking::<SizeRequest>("size", "/size", "Result");
    SIZE.answer(&visit, &sent, form, app::size).await
}

const SKEINS: CalculatorPage = CalculatorPage {
    title: "How many skeins?",
    here: QUESTIONS,
    intro: "From the yarn needed and the length of one ball. Buy by length, not by balls or grams.",
    links: &[],
};

/// How many skeins a need takes, and how sure they are to be enough.
pub(super) async fn skeins(visit: Visit, sent: FormData) -> PageResult {
    let form = Form::asking::<SkeinsRequest>("skeins", "/skeins", "Result");
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
    let form = Form::asking::<UnlabelledRequest>("unlabelled", "/unlabelled", "Result");
    UNLABELLED
        .answer(&visit, &sent, form.unfolded(&UNFOLDED), app::unlabelled)
        .await
}
