//! JSON with documented fields, and the schema that holds them.

use super::{Render, Style};
use crate::{
    app::{CheckAnswer, FindAnswer},
    words::moves_terminal,
};
use schemars::{
    JsonSchema, Schema, SchemaGenerator,
    generate::SchemaSettings,
    json_schema,
    transform::{RecursiveTransform, Transform},
};
use serde::Serialize;
use serde_json::Value;

/// Declares fields of an answer, each once: what it holds with its unit, which the
/// schema says too, its name, its type and its value. `where` names values that
/// several fields need.
macro_rules! fields_of {
    ($(#[$of:meta])* $name:ident($($given:ident: $given_type:ty),*)
     $(where $($known:pat = $found:expr),+;)?
     { $($(#[$about:meta])* $field:ident: $type:ty = $value:expr,)* }) => {
        $(#[$of])*
        #[derive(Debug, serde::Serialize, schemars::JsonSchema)]
        pub struct $name { $($(#[$about])* pub(in crate::report) $field: $type,)* }

        impl $name {
            pub(in crate::report) fn of($($given: $given_type),*) -> Self {
                $($(let $known = $found;)+)?
                Self { $($field: $value,)* }
            }
        }
    };
}
pub(super) use fields_of;

/// Fields as indented JSON with a line break at the end. Numbers are in the unit
/// that the field's name ends with; what is not known is `null`.
///
/// JSON itself escapes only part of what moves a terminal; the rest is escaped
/// here too, so that the text is the same fields and safe to look at.
pub fn json<T: Serialize + ?Sized>(fields: &T) -> Result<String, serde_json::Error> {
    let text = serde_json::to_string_pretty(&without_signed_zero(serde_json::to_value(fields)?))?;
    Ok(text.chars().map(escaped).collect::<String>() + "\n")
}

/// The documented fields of an answer, with the answer in one sentence.
pub fn fields(answer: &impl Render) -> Result<Value, serde_json::Error> {
    let mut fields = serde_json::to_value(answer.fields())?;
    if let Value::Object(fields) = &mut fields {
        let headline = answer.headline(&Style::default());
        fields.insert("headline".to_owned(), Value::from(headline));
    }
    Ok(fields)
}

/// The shape of an answer; what it holds in several places is named in the generator.
pub type Shape = fn(&mut SchemaGenerator) -> Schema;

/// The shape of what [`fields`] gives for such an answer.
pub fn shape<A: Render>(generator: &mut SchemaGenerator) -> Schema {
    let mut shape = A::Fields::json_schema(generator);
    let headline = json_schema!({
        "description": "The answer in one sentence.",
        "type": "string",
    });
    if let Some(Value::Object(properties)) = shape.get_mut("properties") {
        properties.insert("headline".to_owned(), headline.into());
    }
    if let Some(Value::Array(required)) = shape.get_mut("required") {
        required.retain(|name| name != "headline");
        required.push(Value::from("headline"));
    }
    shape
}

/// The shape of several such answers.
pub fn shape_of_several<A: Render>(generator: &mut SchemaGenerator) -> Schema {
    json_schema!({ "type": "array", "items": shape::<A>(generator) })
}

/// The shape of the three answers of the demo.
pub fn shape_of_demo(generator: &mut SchemaGenerator) -> Schema {
    json_schema!({
        "type": "object",
        "properties": {
            "knitter": shape_of_several::<FindAnswer>(generator),
            "shop": shape::<CheckAnswer>(generator),
            "hazard": shape::<CheckAnswer>(generator),
        },
        "required": ["knitter", "shop", "hazard"],
    })
}

/// The JSON schema (draft 2020-12) of answers that have one of these shapes. No object
/// has other fields than those that are described.
pub fn schema(title: &str, shapes: &[Shape]) -> Value {
    let settings = SchemaSettings::draft2020_12().for_serialize();
    let mut generator = settings.into_generator();
    let shapes: Vec<Schema> = shapes.iter().map(|shape| shape(&mut generator)).collect();
    let mut schema = json_schema!({
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        "title": title,
        "anyOf": shapes,
        "$defs": generator.take_definitions(false),
    });
    RecursiveTransform(closed).transform(&mut schema);
    schema.into()
}

fn closed(schema: &mut Schema) {
    if schema.get("properties").is_some() && schema.get("additionalProperties").is_none() {
        schema.insert("additionalProperties".to_owned(), Value::from(false));
    }
}

/// Nothing is `-0.0`: a difference of nothing has no sign.
fn without_signed_zero(value: Value) -> Value {
    match value {
        Value::Number(number) if number.as_f64() == Some(0.0) && number.is_f64() => {
            Value::from(0.0)
        }
        Value::Array(values) => values.into_iter().map(without_signed_zero).collect(),
        Value::Object(fields) => {
            let fields = fields.into_iter();
            let unsigned = fields.map(|(name, value)| (name, without_signed_zero(value)));
            Value::Object(unsigned.collect())
        }
        other => other,
    }
}

/// None of these characters stands outside of a string but the line break.
fn escaped(c: char) -> String {
    if c != '\n' && moves_terminal(c) {
        format!("\\u{:04x}", u32::from(c))
    } else {
        c.to_string()
    }
}

/// The fields of each of these things.
pub(super) fn list<T, F>(things: &[T], fields: impl Fn(&T) -> F) -> Vec<F> {
    things.iter().map(fields).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn nothing_is_written_with_a_sign() {
        let numbers = serde_json::json!({ "a": [-0.0, -1.5, 0.0], "b": {}, "c": [] });
        let written = json(&numbers).unwrap();
        assert_eq!(
            written,
            serde_json::to_string_pretty(&numbers)
                .unwrap()
                .replace("-0.0", "0.0")
                + "\n"
        );
        assert!(!written.contains("-0.0"));
    }

    #[test]
    fn what_moves_a_terminal_is_escaped_and_means_the_same() {
        let text = "a\u{1b}[3m\u{7f}\u{9b}\u{202e}\u{feff}b ½ שלום";
        let written = json(text).unwrap();
        assert_eq!(
            written,
            "\"a\\u001b[3m\\u007f\\u009b\\u202e\\ufeffb ½ שלום\"\n"
        );
        assert_eq!(serde_json::from_str::<String>(&written).unwrap(), text);
    }
}
