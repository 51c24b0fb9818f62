//! JSON with documented fields.

use serde::Serialize;

/// Fields as indented JSON with a line break at the end. Numbers are in the unit
/// that the field's name ends with; what is not known is `null`.
pub fn json<T: Serialize + ?Sized>(fields: &T) -> Result<String, serde_json::Error> {
    serde_json::to_string_pretty(fields).map(|text| text + "\n")
}
