//! JSON with documented fields.

use super::{Render, Style};
use crate::words::moves_terminal;
use serde::Serialize;
use serde_json::Value;

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
pub(super) fn list<T>(things: &[T], fields: impl Fn(&T) -> Value) -> Value {
    things.iter().map(fields).collect()
}

/// Fields without those of these names that say nothing: `null`, or an empty list.
pub(super) fn without_empty(mut fields: Value, names: &[&str]) -> Value {
    if let Value::Object(fields) = &mut fields {
        let says =
            |value: &Value| !value.is_null() && value.as_array().is_none_or(|a| !a.is_empty());
        fields.retain(|name, value| !names.contains(&name.as_str()) || says(value));
    }
    fields
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
