//! Fields that several forms share: a kept pattern and perhaps one of its sizes, how
//! sure to be of enough, and those of a record's columns.

use super::{
    form::{Field, Form, Head, Kind},
    refusal::FieldError,
};
use crate::{
    app::{self, ChanceRequest, Column, FormData, PatternChoice},
    words::{capitalized, safe},
};

/// The yarns that are held with another, a field for each: names are offered in each.
pub(super) const HELD_WITH: [&str; 2] = ["held-with", "held-with-too"];
const SECOND: &str = "A second yarn of yours, if you hold two together";
const THIRD: &str = "A third, if you hold three. Two strands of one yarn: name it in both fields.";

/// A form that asks for yarns held with one, with a field for each.
pub(super) fn with_each_held(form: Form) -> Form {
    let [second, third] = HELD_WITH;
    form.change(second, |field| field.hint = SECOND.to_owned())
        .behind(second, || Field::new(third, "And with", THIRD, Kind::Names))
}

/// What was typed in them.
pub(super) fn held_with(typed: &FormData) -> Vec<String> {
    let each = HELD_WITH.iter();
    each.filter_map(|field| typed.filled(field)).collect()
}

/// One of the patterns; with sizes, each of those beside the whole.
pub(super) fn pattern_choice(none: &str, patterns: &[PatternChoice], with_sizes: bool) -> Kind {
    let mut choices = Vec::new();
    for pattern in patterns {
        let (number, name) = (pattern.number, safe(&pattern.name));
        // A pattern of one size is chosen as a whole.
        if !with_sizes || pattern.sizes.len() == 1 {
            choices.push((number.to_string(), name));
            continue;
        }
        choices.push((number.to_string(), format!("{name}, every size")));
        for (place, size) in pattern.sizes.iter().enumerate() {
            let label = format!("{name}, size {}", safe(size));
            choices.push((format!("{number}:{place}"), label));
        }
    }
    Kind::one_of(none, choices)
}

/// The number of the pattern that is chosen.
pub(super) fn pattern_number(typed: &FormData) -> Option<i64> {
    let chosen = typed.filled("pattern")?;
    chosen.split(':').next()?.parse().ok()
}

/// The pattern that is chosen, with the link to its page, where there is one.
pub(super) fn pattern_link(
    typed: &FormData,
    patterns: &[PatternChoice],
) -> Option<(String, String)> {
    let number = pattern_number(typed)?;
    let chosen = patterns.iter().find(|pattern| pattern.number == number)?;
    Some((chosen.name.clone(), format!("/patterns/{number}")))
}

/// Each size of each pattern.
pub(super) fn size_choice(patterns: &[PatternChoice]) -> Kind {
    let sizes = patterns.iter().flat_map(|pattern| {
        let sizes = pattern.sizes.iter().enumerate();
        sizes.map(move |(place, size)| {
            let label = match pattern.sizes.as_slice() {
                [_] => pattern.name.clone(),
                _ => format!("{}, size {size}", pattern.name),
            };
            (format!("{}:{place}", pattern.number), label)
        })
    });
    Kind::one_of("Choose one", sizes)
}

/// The fields with the names of the pattern and the size that are chosen as `12`, or
/// `12:3` for the fourth size of that pattern.
pub(super) fn with_pattern(
    typed: &FormData,
    patterns: &[PatternChoice],
) -> Result<FormData, FieldError> {
    let mut named = typed.clone();
    named.set("size", "");
    let Some(choice) = typed.filled("pattern") else {
        return Ok(named);
    };
    let gone = || {
        let said = "this pattern or size is no longer there: choose another";
        FieldError::new("pattern", said)
    };
    let number = pattern_number(typed);
    let mut patterns = patterns.iter();
    let pattern = patterns.find(|pattern| Some(pattern.number) == number);
    let pattern = pattern.ok_or_else(gone)?;
    named.set("pattern", pattern.name.as_str());
    if let Some((_, place)) = choice.split_once(':') {
        let size = place
            .parse()
            .ok()
            .and_then(|place: usize| pattern.sizes.get(place));
        named.set("size", size.ok_or_else(gone)?.as_str());
    }
    Ok(named)
}

/// The fields that ask for it.
const CHANCE: [&str; 2] = ["sure", "own-use"];

const HOW_SURE: [(&str, &str); 3] = [
    ("90%", "90 % sure"),
    ("95%", "95 % sure"),
    ("99%", "99 % sure"),
];

/// How sure to be, one of a few here, and how far one's own use lies from stated
/// needs.
pub(super) fn chance_fields() -> Vec<Field> {
    let fields = app::request_fields::<ChanceRequest>().into_iter();
    let mut fields: Vec<Field> = fields.map(Field::from).collect();
    let sure = fields.iter_mut().filter(|field| field.name == "sure");
    sure.for_each(choose_chance);
    fields
}

/// How sure to be as one of a few.
pub(super) fn choose_chance(field: &mut Field) {
    field.kind = Kind::one_of("Not asked", HOW_SURE);
}

/// A form that asks the same question again with the chance, or without it.
pub(super) fn chance_form(typed: &FormData) -> Form {
    let others = typed
        .iter()
        .filter(|(name, text)| !text.is_empty() && !CHANCE.contains(name));
    let form = others.fold(
        Form::get("chance", "/answer", "Show the chance"),
        |form, (name, text)| form.hidden(name, text),
    );
    form.with(Head::None, chance_fields()).filled(typed)
}

/// Whether the chance was asked for.
pub(super) fn is_chance_asked(typed: &FormData) -> bool {
    typed.filled("sure").is_some()
}

/// A field of a record's column.
pub(super) fn field_of(column: &Column) -> Field {
    let holds = capitalized(&column.holds.replace('`', ""));
    let hint = match column.name {
        "discontinued" => holds,
        _ => format!("{holds}, as in: {}", column.example),
    };
    let shape = match column.name {
        "notes" => Kind::Area(3),
        "discontinued" => Kind::Radio(vec![("no", "No"), ("yes", "Yes")]),
        "colour" => Kind::Colour(Picker::default()),
        _ => Kind::Line,
    };
    let label = match column.name {
        "gtin" => "article number",
        "length" => "length of one skein",
        "mass" => "weight of one skein",
        "class" => "weight class",
        "construction" => "build",
        "count" => "yarn count",
        "low" => "runs low below",
        name => name,
    };
    let mut field = Field::new(column.name, &capitalized(label), &hint, shape);
    field.needed = column.is_needed();
    if column.name == "discontinued" {
        field.value = "no".to_owned();
    }
    field
}

/// A picker of colours beside a text. It always holds one, so it counts only where it
/// is not what was shown.
#[derive(Default)]
pub(super) struct Picker {
    pub(super) holds: String,
    pub(super) shown: String,
}

/// What ends the names of a picker and of what it was shown with.
const PICKED: &str = "-picked";
const SHOWN: &str = "-shown";

impl Picker {
    /// That of a field which holds `text`, after `typed` was sent, where it was.
    pub(super) fn of(field: &str, text: &str, typed: &FormData) -> Self {
        let shown = typed.filled(&format!("{field}{SHOWN}"));
        let shown = shown.unwrap_or_else(|| app::colour_to_pick(text));
        let picked = typed.filled(&format!("{field}{PICKED}"));
        Self {
            holds: picked.unwrap_or_else(|| shown.clone()),
            shown,
        }
    }

    /// What was typed, with the colour that was picked where no other was typed.
    pub(super) fn taken(mut typed: FormData, field: &str) -> FormData {
        let Self { holds, shown } = Self::of(field, typed.text(field), &typed);
        let text = typed.text(field).trim();
        let is_as_shown = text.is_empty() || app::colour_to_pick(text) == shown;
        if holds != shown && is_as_shown {
            typed.set(field, holds);
        }
        typed
    }
}
