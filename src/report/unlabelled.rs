//! A ball without a label.

use super::{Align, Page, Range, Render, Role, Style, Table};
use crate::{
    app::{Method, MethodResult, UnlabelledAnswer},
    measure::units::{POUND_G, YARD_M},
    quantity::Estimate,
    trade::{BURN_CAUTIONS, BURN_SIGNS, BurnSign, WeightClass},
    words::{number, or_list},
};
use serde::Serialize;

/// Fields of the answer to `unlabelled`.
#[derive(Debug, Serialize)]
struct UnlabelledFields {
    /// Yarn on the scale, core taken off, g.
    net_g: Option<f64>,
    /// What each way tells.
    methods: Vec<MethodFields>,
    /// Classes that are possible, by what was measured where something was.
    weight_classes: Vec<u8>,
    /// The fibre: never told by these ways.
    fibre: Option<String>,
    /// The burn test, where asked for.
    burn: Option<BurnFields>,
    /// What was counted.
    working: Vec<String>,
    /// What to know.
    warnings: Vec<String>,
}

/// What one way of finding out tells.
#[derive(Debug, Serialize)]
struct MethodFields {
    /// The way.
    method: &'static str,
    /// Whether it measures length per mass; wraps only guess.
    measured: bool,
    /// Length per mass, m/100 g.
    grist_m_per_100g: Option<Range>,
    /// Length of the ball, m.
    length_m: Option<Range>,
    /// Classes that are possible by it.
    classes: Vec<u8>,
}

/// Signs near a flame, with the cautions that go before them.
#[derive(Debug, Serialize)]
struct BurnFields {
    /// What goes before.
    cautions: [&'static str; 4],
    /// Signs of groups of fibres.
    signs: Vec<SignFields>,
}

/// Signs of one group.
#[derive(Debug, Serialize)]
struct SignFields {
    /// The fibres.
    fibres: &'static str,
    /// In the flame and beside it.
    in_flame: &'static str,
    /// The smell.
    smell: &'static str,
    /// What is left.
    residue: &'static str,
}

impl Render for UnlabelledAnswer {
    fn fields(&self) -> impl Serialize {
        UnlabelledFields {
            net_g: self.net_grams,
            methods: self.results.iter().map(method_fields).collect(),
            weight_classes: numbers(&self.classes),
            fibre: None,
            burn: self.burn.then(|| BurnFields {
                cautions: BURN_CAUTIONS,
                signs: BURN_SIGNS.iter().map(sign_fields).collect(),
            }),
            working: working(self),
            warnings: warnings(self, &Style::default()),
        }
    }

    fn page(&self, style: &Style) -> Page {
        let mut page = Page::titled(match self.net_grams {
            Some(grams) => format!("A ball without a label, {} g of yarn", number(grams, 2)),
            None => "A ball without a label".to_owned(),
        });
        page.table(table(&self.results, style));
        page.section("Weight class");
        page.text(Role::Plain, class_sentence(&self.classes));
        page.section("Fibre");
        page.text(Role::Plain, "Unknown: nothing that was measured tells it. Record it as `unknown`, and wash a swatch before you trust it with heat or a machine.");
        if self.burn {
            let cautions = BURN_CAUTIONS.map(str::to_owned);
            page.part("Before a burn test", Role::Caution, &cautions);
            let signs = BURN_SIGNS.each_ref().map(sign_words);
            page.part("Signs near a flame, of groups only", Role::Plain, &signs);
        }
        page.part("Working", Role::Aside, &working(self));
        page.part("To know", Role::Caution, &warnings(self, style));
        page
    }
}

fn method_fields(result: &MethodResult) -> MethodFields {
    MethodFields {
        method: method_name(result.method),
        measured: result.method.measures(),
        grist_m_per_100g: result
            .metres_per_gram
            .map(|grist| grist.times(100.0).into()),
        length_m: result.metres.map(Range::from),
        classes: numbers(&result.classes),
    }
}

fn sign_fields(sign: &BurnSign) -> SignFields {
    SignFields {
        fibres: sign.fibres,
        in_flame: sign.in_flame,
        smell: sign.smell,
        residue: sign.residue,
    }
}

fn numbers(classes: &[WeightClass]) -> Vec<u8> {
    classes.iter().map(|class| class.number()).collect()
}

fn method_name(method: Method) -> &'static str {
    match method {
        Method::MeasuredOff => "measured off and weighed",
        Method::Balance => "strand on a balance",
        Method::Turns => "turns of a reel",
        Method::Wraps => "wraps",
    }
}

fn class_words(classes: &[WeightClass]) -> String {
    let classes: Vec<String> = numbers(classes).iter().map(u8::to_string).collect();
    or_list(&classes)
}

fn class_sentence(classes: &[WeightClass]) -> String {
    if classes.is_empty() {
        return "Not known: no way that was given tells the length per mass.".to_owned();
    }
    format!(
        "Class {} is possible (rough published guideline); knit a swatch to know how it works up.",
        class_words(classes)
    )
}

fn table(results: &[MethodResult], style: &Style) -> Table {
    let grist = style.ordered("m/100 g", "yd/lb");
    let length = style.heads("length", "m", "yd");
    let mut table = Table::new(&[
        ("by", Align::Left),
        (grist[0], Align::Right),
        (grist[1], Align::Right),
        (length[0].as_str(), Align::Right),
        (length[1].as_str(), Align::Right),
        ("classes", Align::Left),
    ]);
    table.rows = results.iter().map(|result| row(result, style)).collect();
    table
}

/// A measured figure with its interval; of a guess only the interval.
fn row(result: &MethodResult, style: &Style) -> Vec<String> {
    let show = |estimate: Option<Estimate>, factor: f64| match estimate.map(|it| it.times(factor)) {
        None => String::new(),
        Some(known) if result.method.measures() => Range::from(known).words(0),
        Some(guess) => format!("{} to {}", number(guess.low, 0), number(guess.high, 0)),
    };
    let grist = |factor| show(result.metres_per_gram, factor);
    let [grist, other_grist] = style.ordered(grist(100.0), grist(POUND_G / YARD_M));
    let length = |factor| show(result.metres, factor);
    let [length, other_length] = style.ordered(length(1.0), length(1.0 / YARD_M));
    vec![
        method_name(result.method).to_owned(),
        grist,
        other_grist,
        length,
        other_length,
        class_words(&result.classes),
    ]
}

fn sign_words(sign: &BurnSign) -> String {
    format!(
        "{}: {}; smells of {}; leaves {}",
        sign.fibres, sign.in_flame, sign.smell, sign.residue
    )
}

/// What was counted.
fn working(answer: &UnlabelledAnswer) -> Vec<String> {
    let mut said = vec![
        format!(
            "Scale: rounds to {} g for the ball and to {} g for what was measured off.",
            number(answer.scale.as_grams(), 4),
            number(answer.fine_scale.as_grams(), 4)
        ),
        format!(
            "Ruler: a measured length is taken to be good to {} % either way (common practice, no source; yarn stretches under the hand).",
            number(answer.ruler.as_percent(), 2)
        ),
    ];
    let methods = answer.results.iter().map(|result| result.method);
    said.extend(methods.filter_map(method_working).map(str::to_owned));
    said.push("Measured intervals hold the truth 95 times in 100 where these doubts are all there are. The mass is that of today's damp.".to_owned());
    said
}

fn method_working(method: Method) -> Option<&'static str> {
    match method {
        Method::MeasuredOff => None,
        Method::Balance => Some(
            "Balance: inches of the strand x 100 are yards per pound (common practice, no source).",
        ),
        Method::Turns => Some("Turns: counted to half a turn."),
        Method::Wraps => Some(
            "Wraps: hand wraps lie at 0.31 to 0.41 times the square root of yards per pound (computed from published tables), counted to half a wrap; the middle means nothing, and wraps alone never settle a class.",
        ),
    }
}

fn warnings(answer: &UnlabelledAnswer, style: &Style) -> Vec<String> {
    let apart = answer.apart.map(|(one, other)| {
        format!(
            "`{}` and `{}` do not agree within their intervals: measure again, with the yarn neither stretched nor slack.",
            method_name(one),
            method_name(other)
        )
    });
    style
        .notes(&answer.notes)
        .into_iter()
        .chain(apart)
        .collect()
}
