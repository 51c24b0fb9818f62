//! Fields that several forms share: a kept pattern and perhaps one of its sizes, how
//! sure to be of enough, and those of a record's columns.

use super::{
    form::{Choice, Field, Form, Group, Kind},
    refusal::FieldError,
};
use crate::{
    app::{self, ChanceRequest, Column, FormData, PatternChoice},
    words::safe,
};

/// Every pattern and each of its sizes, after a choice of none.
pub(super) fn pattern_sizes(none: &str, patterns: &[PatternChoice]) -> Vec<Choice> {
    let each = patterns.iter().flat_map(|pattern| {
        let name = safe(&pattern.name);
        let whole = Choice::new(pattern.number.to_string(), format!("{name}, every size"));
        let sizes = pattern.sizes.iter().enumerate().map(move |(place, size)| {
            Choice::new(
                format!("{}:{place}", pattern.number),
                format!("{name}, size {}", safe(size)),
            )
        });
        std::iter::once(whole).chain(sizes).collect::<Vec<_>>()
    });
    std::iter::once(Choice::new("", none)).chain(each).collect()
}

/// Every pattern, after a choice of none.
pub(super) fn whole_patterns(none: &str, patterns: &[PatternChoice]) -> Vec<Choice> {
    let each = patterns
        .iter()
        .map(|pattern| Choice::new(pattern.number.to_string(), safe(&pattern.name)));
    std::iter::once(Choice::new("", none)).chain(each).collect()
}

/// The number of the pattern that is chosen.
pub(super) fn pattern_number(typed: &FormData) -> Option<i64> {
    let chosen = typed.filled("pattern")?;
    chosen.split(':').next()?.parse().ok()
}

/// Names of the pattern and the size that were chosen: `12`, or `12:3` for the
/// fourth size of that pattern.
pub(super) fn chosen_pattern(
    typed: &FormData,
    patterns: &[PatternChoice],
) -> Result<(Option<String>, Option<String>), FieldError> {
    let Some(choice) = typed.filled("pattern") else {
        return Ok((None, None));
    };
    let number = pattern_number(typed);
    let size = choice.split_once(':').map(|(_, size)| size);
    let pattern = patterns
        .iter()
        .find(|pattern| Some(pattern.number) == number);
    let size = size.map(|size| {
        let place: usize = size.parse().ok()?;
        pattern?.sizes.get(place)
    });
    match (pattern, size) {
        (Some(pattern), None) => Ok((Some(pattern.name.clone()), None)),
        (Some(pattern), Some(Some(size))) => Ok((Some(pattern.name.clone()), Some(size.clone()))),
        _ => Err(FieldError::new(
            "pattern",
            "this pattern or size is no longer kept: choose another",
        )),
    }
}

/// The fields that ask for it.
const CHANCE: [&str; 2] = ["sure", "own-use"];

const HOW_SURE: [(&str, &str); 4] = [
    ("", "Not asked"),
    ("90%", "90 % sure"),
    ("95%", "95 % sure"),
    ("99%", "99 % sure"),
];

/// How sure to be, one of a few here, and how far one's own use lies from stated
/// needs.
pub(super) fn chance_fields() -> Vec<Field> {
    let fields = app::request_fields::<ChanceRequest>().into_iter();
    let mut fields: Vec<Field> = fields.map(Field::from).collect();
    for field in fields.iter_mut().filter(|field| field.name == "sure") {
        choose_chance(field);
    }
    fields
}

/// How sure to be as one of a few.
pub(super) fn choose_chance(field: &mut Field) {
    let choices = HOW_SURE.map(|(value, label)| Choice::new(value, label));
    field.kind = Kind::Choose(choices.into());
}

/// A form that asks the same question again with the chance, or without it.
pub(super) fn chance_form(typed: &FormData) -> Form {
    let others = typed
        .iter()
        .filter(|(name, text)| !text.is_empty() && !CHANCE.contains(name));
    let form = others.fold(
        Form::get("chance", "/answer", "Tell the chance"),
        |form, (name, text)| form.hidden(name, text),
    );
    form.with(Group::plain(chance_fields())).filled(typed)
}

/// Whether the chance was asked for.
pub(super) fn is_chance_asked(typed: &FormData) -> bool {
    typed.filled("sure").is_some()
}

/// A field of a record's column.
pub(super) fn field_of(column: &Column) -> Field {
    let holds = capital(&column.holds.replace('`', ""));
    let hint = match column.name {
        "discontinued" => holds,
        _ => format!("{holds}, as in: {}", column.example),
    };
    let shape = match column.name {
        "notes" => Kind::Area(3),
        "discontinued" => Kind::Radio(vec![("no", "No"), ("yes", "Yes")]),
        _ => Kind::Line,
    };
    let label = match column.name {
        "gtin" => "article number",
        name => name,
    };
    let mut field = Field::new(column.name, &capital(label), &hint, shape);
    field.needed = column.is_needed();
    if column.name == "discontinued" {
        field.value = "no".to_owned();
    }
    field
}

/// Words as they begin a sentence.
fn capital(words: &str) -> String {
    let mut letters = words.chars();
    letters.next().map_or_else(String::new, |first| {
        first.to_uppercase().chain(letters).collect()
    })
}
