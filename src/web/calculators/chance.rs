//! How sure to be of enough: asked only by those who want to know.

use crate::{
    app::{self, ChanceRequest, FormData},
    web::form::{Choice, Field, Form, Group, Kind},
};

/// The fields that ask for it.
const NAMES: [&str; 2] = ["sure", "own-use"];

const HOW_SURE: [(&str, &str); 4] = [
    ("", "Not asked"),
    ("90%", "90 % sure"),
    ("95%", "95 % sure"),
    ("99%", "99 % sure"),
];

/// How sure to be, one of a few here, and how far one's own use lies from stated
/// needs.
pub(in crate::web) fn fields() -> Vec<Field> {
    let fields = app::request_fields::<ChanceRequest>().into_iter();
    let mut fields: Vec<Field> = fields.map(Field::from).collect();
    for field in fields.iter_mut().filter(|field| field.name == "sure") {
        as_choice(field);
    }
    fields
}

/// How sure to be as one of a few.
pub(super) fn as_choice(field: &mut Field) {
    let choices = HOW_SURE.map(|(value, label)| Choice::new(value, label));
    field.kind = Kind::Choose(choices.into());
}

/// A form that asks the same question again with the chance, or without it.
pub(in crate::web) fn form(typed: &FormData) -> Form {
    let others = typed
        .iter()
        .filter(|(name, text)| !text.is_empty() && !NAMES.contains(name));
    let form = others.fold(
        Form::get("chance", "/answer", "Tell the chance"),
        |form, (name, text)| form.hidden(name, text),
    );
    form.with(Group::plain(fields())).filled(typed)
}

/// Whether the chance was asked for.
pub(in crate::web) fn is_asked(typed: &FormData) -> bool {
    typed.filled("sure").is_some()
}
