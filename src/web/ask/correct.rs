//! What was read of a text, field by field, to be corrected and asked again.

use crate::{
    app::{self, AppError, FormData, fact_columns},
    web::{
        body::Body,
        fields::field_of,
        form::{Field, Form, Head, Kind},
    },
};

/// A text that is read, the prefix of its fields and what stands above them.
const TEXTS: [(&str, &str, &str); 2] = [
    ("wants", "wanted", "What the pattern wants, as understood"),
    ("band", "offered", "What the label says, as understood"),
];

/// Whether a reading was corrected.
pub(super) fn is_corrected(typed: &FormData) -> bool {
    TEXTS
        .iter()
        .any(|(_, prefix, _)| corrected(typed, prefix).is_some())
}

/// Whether a text was typed that is read field by field.
pub(super) fn is_read(typed: &FormData) -> bool {
    TEXTS.iter().any(|(text, ..)| typed.filled(text).is_some())
}

/// The name of the hidden field that says that a reading was corrected.
fn flag(prefix: &str) -> String {
    format!("{prefix}-read")
}

/// The corrected facts, where they were sent.
pub(super) fn corrected(typed: &FormData, prefix: &str) -> Option<FormData> {
    typed.filled(&flag(prefix))?;
    let names = fact_columns().map(|column| column.name).chain(["strands"]);
    Some(
        names
            .map(|name| (name, typed.text(&format!("{prefix}-{name}"))))
            .collect(),
    )
}

/// The form in which what was read is corrected.
pub(super) fn form(typed: &FormData, body: &mut Body) -> Result<(), AppError> {
    let mut known = typed.clone();
    for (text, prefix, _) in TEXTS {
        if let Some(text) = typed
            .filled(text)
            .filter(|_| corrected(typed, prefix).is_none())
        {
            fill(&mut known, prefix, &text)?;
        }
    }
    body.hint("This is how the text was understood. Correct what is wrong and ask again; an empty field means not known.");
    body.form(&as_typed(&known));
    Ok(())
}

/// What a text says, into its fields.
fn fill(known: &mut FormData, prefix: &str, text: &str) -> Result<(), AppError> {
    let read = app::read_fields(text)?;
    for (name, said) in read.facts.iter() {
        known.set(&format!("{prefix}-{name}"), said);
    }
    known.set(&format!("{prefix}-strands"), read.more.text("strands"));
    if prefix == "wanted" {
        for name in ["need", "fit", "purpose"] {
            if known.text(name).is_empty() {
                known.set(name, read.more.text(name));
            }
        }
    }
    Ok(())
}

/// The form with the fields as they were typed.
pub(super) fn as_typed(typed: &FormData) -> Form {
    let mut form = Form::get("correct", "/answer", "Ask again");
    let mut shown = Vec::new();
    for (text, prefix, head) in TEXTS {
        if typed.filled(text).is_some() {
            let fields = fields(prefix);
            shown.extend(fields.iter().map(|field| field.name.clone()));
            form = form
                .hidden(&flag(prefix), "yes")
                .with(Head::Legend(head.to_owned()), fields);
        }
    }
    for (name, text) in typed.iter() {
        let held = !text.is_empty() && !name.ends_with("-read") && !shown.iter().any(|s| s == name);
        if held {
            form = form.hidden(name, text);
        }
    }
    form.filled(typed)
}

fn fields(prefix: &str) -> Vec<Field> {
    let mut fields: Vec<Field> = fact_columns()
        .map(|column| Field {
            name: format!("{prefix}-{}", column.name),
            needed: false,
            ..field_of(column)
        })
        .collect();
    if prefix == "wanted" {
        for (name, label, hint) in [
            (
                "wanted-strands",
                "Strands",
                "Strands held together, as in: 2",
            ),
            (
                "need",
                "Yarn needed",
                "For each size, as in: 6 (7, 8) skeins",
            ),
        ] {
            fields.push(Field::new(name, label, hint, Kind::Line));
        }
    }
    fields
}
