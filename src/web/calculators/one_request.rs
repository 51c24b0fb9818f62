//! Questions whose form is one request and nothing else.

use super::calculator_page::{CalculatorPage, QUESTIONS, is_asked};
use crate::{
    app::{
        self, FormData, KeepBallRequest, LastRequest, RecordChange, Records, SizeRequest,
        SkeinsRequest, UnlabelledAnswer, UnlabelledRequest,
    },
    web::{
        body::Body,
        fields::choose_chance,
        form::Form,
        kept_record::form_page,
        links::{encoded, yarn_link},
        visit::{PageResult, Visit},
    },
};

const LAST: CalculatorPage = CalculatorPage {
    title: "How far will it go?",
    here: QUESTIONS,
    intro: "Weigh the yarn, knit some rows, weigh it again. The program works out for how many more rows it lasts, and where to stop.",
    links: &[("/needs", "By the pieces of a size that you weighed")],
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
    let asked = sent.clone();
    let answer = move || is_asked(&asked).then(|| app::last(&app::from_form(&asked)?));
    let answer = visit.state.compute(answer).await?;
    let left = answer.as_ref().and_then(|answer| answer.as_ref().ok());
    let left = left.map(|answer| by_pieces(answer.left_g));
    let more = |body: &mut Body| body.links(left.as_slice());
    Ok(LAST.show(&visit, &sent, (form, &[]), answer, more))
}

/// The way to the question of which pieces so much yarn makes.
fn by_pieces(left_g: f64) -> (String, &'static str) {
    let left = encoded(&format!("{left_g:.1} g"));
    (
        format!("/needs?left={left}"),
        "Which pieces of a size does that make?",
    )
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

/// A ball without a label, with a form that keeps it as a yarn.
pub(super) async fn unlabelled(visit: Visit, sent: FormData) -> PageResult {
    let look_up = |records: &Records, sent: &FormData| {
        let answer = || app::unlabelled(records, &app::from_form(sent)?);
        Ok(is_asked(sent).then(answer))
    };
    let answer = visit.answer(&sent, look_up).await?;
    let names: Vec<_> = match &answer {
        Some(Ok(answer)) => could_be_names(answer),
        _ => Vec::new(),
    };
    let more = |body: &mut Body| {
        body.part_at("keep", "Keep this ball");
        body.form(&keep_form(&sent));
    };
    Ok(UNLABELLED.show(&visit, &sent, (ball_form(), &names), answer, more))
}

fn ball_form() -> Form {
    let form = Form::asking::<UnlabelledRequest>("unlabelled", "/unlabelled", "What is it?");
    form.unfolded(&UNFOLDED)
}

/// Links at the yarns that a ball could be.
fn could_be_names(answer: &UnlabelledAnswer) -> Vec<(String, String)> {
    let yarns = answer.could_be.iter().flat_map(|could_be| &could_be.yarns);
    let names = yarns.map(|it| yarn_link(&it.yarn.record.title()));
    names.collect()
}

/// What was measured goes with the name.
fn keep_form(measured: &FormData) -> Form {
    let form = Form::asking::<KeepBallRequest>("keep", "/unlabelled/keep", "Keep it as a yarn");
    let form = form.once().unfolded(&["Keep it"]);
    let form = form.change("keep", |field| field.needed = true);
    app::request_fields::<UnlabelledRequest>()
        .iter()
        .filter_map(|field| Some((&field.name, measured.filled(&field.name)?)))
        .fold(form, |form, (name, text)| form.hidden(name, text))
}

/// Keeps a ball as a yarn and goes on to its page.
pub(super) async fn keep_ball(visit: Visit, typed: FormData) -> PageResult {
    let keeping = |records: &mut Records, typed: &FormData| {
        let change = app::keep_ball(records, &app::from_form(typed)?, &app::from_form(typed)?)?;
        let next = match &change {
            RecordChange::BallKept { number, .. } => format!("/yarns/{number}"),
            _ => UNLABELLED_PATH.to_owned(),
        };
        Ok((next, change))
    };
    Ok(visit
        .keep(&typed, keeping)
        .await?
        .unwrap_or_else(|refusal| {
            let form = keep_form(&typed).filled(&typed);
            form_page(
                &visit,
                ("Keep this ball", QUESTIONS),
                form,
                Some(refusal),
                |_| (),
            )
        }))
}

const UNLABELLED_PATH: &str = "/unlabelled";
