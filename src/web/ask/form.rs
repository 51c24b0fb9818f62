//! The form of the question: the fields of its request, with what only a page has, a
//! choice among the patterns and of what is offered; and how it is read.

use super::correct;
use crate::{
    app::{self, CheckRequest, FindRequest, FormData, PatternChoice, from_form},
    record::{Care, Fit, Purpose},
    web::{
        fields::{chance_fields, pattern_choice, with_pattern},
        form::{Field, Form, Head, Kind},
        refusal::{FieldError, Refusal},
    },
};

/// What the page asks, on the button that answers it as well.
pub(super) const TITLE: &str = "Will it work?";

const OFFERED: [(&str, &str); 3] = [
    ("one", "One yarn, or one for each colour, named below"),
    ("stash", "Your stash"),
    ("catalogue", "All your yarns"),
];

/// What is looked for where no yarn is named.
const TOGETHER: [(&str, &str); 3] = [
    ("1", "Single yarns"),
    ("2", "Pairs"),
    ("3", "Threes of your stash"),
];

/// Further yarns, held together with the one that is named: field, label, hint.
const HELD: [(&str, &str, &str); 2] = [
    (
        "second-yarn",
        "Held together with",
        "A second yarn, if you hold two: its name, its barcode, or what its label says",
    ),
    ("third-yarn", "And with", "A third, if you hold three"),
];

/// The field in which each colour has a yarn of its own, a line each.
pub(super) const WITH: &str = "with";

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
    let is_offered = |field: &app::Field| ["yarn", WITH].contains(&field.name.as_str());
    let (yarn, wanted): (Vec<_>, Vec<_>) = asked.into_iter().partition(is_offered);
    let folded = Head::Folded("How strictly, and other settings".to_owned());
    let form = Form::get("ask", "/answer", TITLE)
        .with(legend("What the pattern wants"), in_form(wanted).collect())
        .with(legend("The yarn"), offered_fields(in_form(yarn)))
        .with(folded, in_form(settings).chain(chance_fields()).collect());
    of_this_page(form, patterns)
}

fn in_form(fields: Vec<app::Field>) -> impl Iterator<Item = Field> {
    fields.into_iter().map(Field::from)
}

/// How many are held together where the best of many are asked for.
fn together_field() -> Option<Field> {
    let mut fields = app::request_fields::<FindRequest>().into_iter();
    let field = fields.find(|field| field.name == "together")?;
    Some(Field {
        label: "In your stash or all your yarns, look for".to_owned(),
        hint: "Pairs and threes are held together as one strand.".to_owned(),
        kind: Kind::Radio(TOGETHER.to_vec()),
        ..Field::from(field).holding("1")
    })
}

/// One yarn, its band, or the best of many.
fn offered_fields(yarn: impl Iterator<Item = Field>) -> Vec<Field> {
    let look = Field::new(
        "offered",
        "Look at",
        "What is reserved in your stash does not count.",
        Kind::Radio(OFFERED.to_vec()),
    );
    let band = Field {
        lead: "Or",
        ..Field::new(
            "band",
            "What its label says",
            "As in: 50 g = 125 m, 100% wool, DK, 22 sts x 30 rows / 10 cm",
            Kind::Area(2),
        )
    };
    let held = HELD.map(|(name, label, hint)| Field::new(name, label, hint, Kind::default()));
    let look = std::iter::once(look.holding("one"));
    let (with, yarn): (Vec<Field>, Vec<Field>) = yarn.partition(|field| field.name == WITH);
    let one = look.chain(yarn).chain([band]).chain(held).chain(with);
    one.chain(together_field()).collect()
}

/// What is chosen here, and typed on a command line.
fn of_this_page(form: Form, patterns: &[PatternChoice]) -> Form {
    form.change("pattern", |field| {
        field.lead = "Either";
        field.label = "Your pattern and size".to_owned();
        field.kind = pattern_choice("Choose one", patterns, true);
    })
    .change("wants", |field| {
        field.lead = if patterns.is_empty() { "" } else { "Or" };
        field.label = "What the pattern says about its yarn".to_owned();
    })
    .change("yarn", |field| {
        field.needed = false;
        field.lead = "Either";
        field.label = "Its name or barcode".to_owned();
        field.hint =
            "Maker and name, or the digits under the barcode: a scanner can type them here."
                .to_owned();
    })
    .change(WITH, |field| {
        field.lead = "Or";
        field.hint = "One per line, as in: MC=Hathrel DK, and in the next line CC=Drindle:rust for one shade. A colour on two lines is two yarns held together.".to_owned();
        field.kind = Kind::Area(2);
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

/// How many candidates a list shows.
const TOP: &str = "8";

/// The question of the form.
pub(super) enum Question {
    /// About one yarn: its name, its article number, or what its band says.
    One(Box<CheckRequest>),
    /// For the best of many.
    Best(Box<FindRequest>),
}

/// Reads the question of the form.
pub(super) fn read(typed: &FormData, patterns: &[PatternChoice]) -> Result<Question, Refusal> {
    let mut fields = with_pattern(typed, patterns)?;
    let (offered, value) = offered(typed)?;
    fields.set(offered, value);
    if typed.filled("wants").is_none() {
        fields.set("need", "");
    }
    fields.set("top", TOP);
    let wants_fields = correct::corrected(typed, "wanted");
    if offered == "from" {
        let mut request: FindRequest = from_form(&fields)?;
        request.question.wants_fields = wants_fields;
        return Ok(Question::Best(Box::new(request)));
    }
    let with = fields.text(WITH).to_owned();
    fields.set(WITH, "");
    let mut request: CheckRequest = from_form(&fields)?;
    request.with = with.lines().map(str::to_owned).collect();
    request.yarn.extend(held_with(typed));
    request.question.wants_fields = wants_fields;
    request.band_fields = correct::corrected(typed, "offered");
    Ok(Question::One(Box::new(request)))
}

fn held_with(typed: &FormData) -> impl Iterator<Item = String> {
    HELD.into_iter().filter_map(|(name, ..)| typed.filled(name))
}

/// The field of a request that says what is offered, one `yarn` or the best `from` a
/// source, and its text. Two yarns at once are asked about.
fn offered(typed: &FormData) -> Result<(&'static str, String), FieldError> {
    let source = typed.text("offered");
    let named = typed.filled("yarn").or_else(|| match source {
        "stash" | "catalogue" => held_with(typed).next(),
        _ => None,
    });
    if let Some(each) = typed.filled(WITH) {
        return each_colour(source, named.or(typed.filled("band")), each);
    }
    let (field, said) = match (source, named, typed.filled("band")) {
        ("stash" | "catalogue", None, None) => return Ok(("from", source.to_owned())),
        ("stash" | "catalogue", ..) => (
            "offered",
            "there is a yarn below as well: empty those fields, or choose `One yarn`",
        ),
        (_, Some(one), None) | (_, None, Some(one)) => return Ok(("yarn", one)),
        (_, Some(_), Some(_)) => (
            "band",
            "there is a yarn above as well: leave one of the two empty",
        ),
        (_, None, None) => (
            "yarn",
            "the yarn is missing: write its name, scan its barcode, or write what its label says below",
        ),
    };
    Err(FieldError::new(field, said))
}

/// A yarn for each colour, beside which no other is named.
fn each_colour(
    source: &str,
    other: Option<String>,
    each: String,
) -> Result<(&'static str, String), FieldError> {
    let said = match (source, other) {
        ("stash" | "catalogue", _) => {
            "a yarn is named for each colour as well: empty that field, or choose `One yarn`"
        }
        (_, Some(_)) => "there is a yarn above as well: leave one of the two empty",
        (_, None) => return Ok((WITH, each)),
    };
    let field = match source {
        "stash" | "catalogue" => "offered",
        _ => WITH,
    };
    Err(FieldError::new(field, said))
}
