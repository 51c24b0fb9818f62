//! JSON with documented fields.

use super::Report;

/// The report as indented JSON with a line break at the end. Numbers are in the
/// unit that the field's name ends with; what is not known is `null`.
pub fn json<R: Report>(report: &R) -> Result<String, serde_json::Error> {
    serde_json::to_string_pretty(report).map(|text| text + "\n")
}
