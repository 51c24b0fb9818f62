//! The form of the question: the fields of its request, with what only a page has.

use crate::{
    app::{self, CheckRequest, PatternChoice},
    record::{Care, Fit, Purpose},
    web::{
        fields::{chance_fields, pattern_choice},
        form::{Field, Form, Head, Kind},
    },
};

const OFFERED: [(&str, &str); 3] = [
    ("one", "One yarn, named below"),
    ("stash", "Everything free in the stash"),
    ("catalogue", "All your yarns"),
];

/// Fields that a page has in another way, or not at all.
const LEFT_OUT: [&str; 4] = ["size", "weight", "sure", "own-use"];

/// The form, with every pattern and each of its sizes to choose from.
pub(super) fn question(patterns: &[PatternChoice]) -> Form {
    let fields = app::request_fields::<CheckRequest>().into_iter();
    let is_here = |field: &app::Field| {
        let name = field.name.as_str();
        !LEFT_OUT.contains(&name) && (name != "pattern" || !patterns.is_empty())
    };
    let fields = fields.filter(is_here);
    let (settings, asked): (Vec<_>, Vec<_>) = fields.partition(|field| field.heading.is_some());
    let (yarn, wanted): (Vec<_>, Vec<_>) =
        asked.into_iter().partition(|field| field.name == "yarn");
    let folded = Head::Folded("How strictly, and other settings".to_owned());
    let form = Form::get("ask", "/answer", "Answer")
        .with(legend("What the pattern wants"), in_form(wanted).collect())
        .with(legend("The yarn"), offered(in_form(yarn)))
        .with(folded, in_form(settings).chain(chance_fields()).collect());
    of_this_page(form, patterns)
}

fn in_form(fields: Vec<app::Field>) -> impl Iterator<Item = Field> {
    fields.into_iter().map(Field::from)
}

/// One yarn, its band, or the best of many.
fn offered(yarn: impl Iterator<Item = Field>) -> Vec<Field> {
    let look = Field::new("offered", "Look at", "", Kind::Radio(OFFERED.to_vec()));
    let band = Field::new(
        "band",
        "Or what its label says",
        "As in: 50 g = 125 m, 100% wool, DK, 22 sts x 30 rows / 10 cm",
        Kind::Area(2),
    );
    let look = std::iter::once(look.holding("one"));
    look.chain(yarn).chain([band]).collect()
}

/// What is chosen here, and typed on a command line.
fn of_this_page(form: Form, patterns: &[PatternChoice]) -> Form {
    form.change("pattern", |field| {
        field.label = "Your pattern and size".to_owned();
        field.kind = pattern_choice("None: the text below", patterns, true);
    })
    .change("wants", |field| {
        field.label = "Or what the pattern says about its yarn".to_owned();
    })
    .change("yarn", |field| {
        field.needed = false;
        field.label = "Name or barcode".to_owned();
        field.hint =
            "Maker and name, or the digits under the barcode: a scanner can type them here."
                .to_owned();
    })
    .change("fit", |field| choose(field, &Fit::ALL.map(Fit::name)))
    .change("purpose", |field| {
        choose(field, &Purpose::ALL.map(Purpose::name));
    })
    .change("care", |field| choose(field, &Care::ALL.map(Care::name)))
}

/// One of a few words, on a page.
fn choose(field: &mut Field, words: &[&str]) {
    field.hint = String::new();
    field.kind = Kind::one_of(
        "As the pattern says",
        words.iter().map(|word| (*word, *word)),
    );
}

fn legend(text: &str) -> Head {
    Head::Legend(text.to_owned())
}
