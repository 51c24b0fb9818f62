//! How sure to be of enough: asked only by those who want to know.

use crate::{
    app::FormData,
    web::form::{Choice, Field, Form, Group, Kind},
};

/// The fields that ask for it.
const NAMES: [&str; 2] = ["sure", "own-use"];

/// How sure to be, and how far one's own use lies from stated needs.
pub(in crate::web) fn fields() -> Vec<Field> {
    let how_sure = [
        ("", "Not asked"),
        ("90%", "90 % sure"),
        ("95%", "95 % sure"),
        ("99%", "99 % sure"),
    ];
    vec![
        Field::new(
            "sure",
            "How sure to be of enough",
            "Also tells the chance of running out, and what it counts with.",
            Kind::Choose(
                how_sure
                    .map(|(value, label)| Choice::new(value, label))
                    .into(),
            ),
        ),
        Field::line(
            "own-use",
            "How far your use lies from stated needs",
            "95 times in 100, as in: 5%. Left out where it is empty.",
        ),
    ]
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
