//! A file of samples and pieces, begun from the fields of a form.

use super::{AppError, FieldFault, FieldFaults, FormData};
use crate::files::{
    CellFault, FileError,
    needs_file::{NeedsTemplate, read_needs_file, write_template},
};

/// The text of the file, or all that is wrong with it, field by field. What may
/// differ by size has one line for each size, in their order, or one for all.
pub fn needs_begun(typed: &FormData) -> Result<String, AppError> {
    let text = write_template(&template(typed));
    match read_needs_file("the form", text.as_bytes()) {
        Ok(_) => Ok(text),
        Err(FileError::Faults { faults, .. }) => Err(AppError::Fields(FieldFaults(
            faults.iter().map(fault).collect(),
        ))),
        Err(other) => Err(other.into()),
    }
}

fn template(typed: &FormData) -> NeedsTemplate {
    let text = |field: &str| typed.text(field).trim().to_owned();
    let lines = |field: &str| {
        let lines = typed.text(field).lines().map(str::trim);
        lines
            .filter(|line| !line.is_empty())
            .map(str::to_owned)
            .collect()
    };
    NeedsTemplate {
        pattern: text("pattern"),
        sizes: lines("sizes"),
        gauge: text("gauge"),
        put_up: text("put-up"),
        shape: text("shape"),
        width: lines("width"),
        top: lines("top"),
        height: lines("height"),
        times: text("times"),
        size: text("size"),
        before: text("before"),
        after: text("after"),
        mass: text("mass"),
    }
}

/// A fault of the text, as one of the field that it came from.
fn fault(error: &CellFault) -> FieldFault {
    let (table, key) = error
        .field
        .split_once(", ")
        .unwrap_or(("", error.field.as_str()));
    let missing = error.why.strip_suffix("` is not given");
    let missing = missing.and_then(|missing| missing.strip_prefix('`'));
    let field = match (table, missing.unwrap_or(key)) {
        (_, "put_up" | "the length per mass") => "put-up",
        (_, "around") => "width",
        (_, "sample 1") => "mass",
        (_, "piece 1") => "shape",
        (_, key) => key,
    };
    FieldFault {
        message: match (missing.is_some(), wanted(field)) {
            (true, Some(wanted)) => format!("nothing is written; {wanted}"),
            _ => in_lines(FieldFault::of(error).message),
        },
        field: field.to_owned(),
    }
}

/// What belongs in a field that may not be empty.
fn wanted(field: &str) -> Option<&'static str> {
    Some(match field {
        "pattern" => "write a name",
        "put-up" => "write length and mass of one skein, as in `120 m / 50 g`",
        "width" | "top" | "height" => {
            "write one line for all sizes, or a line for each in their order"
        }
        "size" => "write which size was knitted, as it is called above",
        "mass" => "write what the finished pieces weigh, or the yarn before and after",
        _ => return None,
    })
}

/// Lists of the text are lines of the form.
fn in_lines(message: String) -> String {
    message
        .replace("the list holds", "this holds")
        .replace(
            "write one text for all sizes, or a list with one for each",
            "write one line for all sizes, or a line for each",
        )
        .replace(
            "this is no list of names, each once; write `sizes = [\"S\", \"M\"]`, as the pattern calls them",
            "each size has a line and a name of its own",
        )
}

#[cfg(test)]
mod tests {
    use super::*;

    const SCARF: [(&str, &str); 8] = [
        ("pattern", "Scarf"),
        ("sizes", "short\nlong"),
        ("put-up", "120 m / 50 g"),
        ("shape", "rectangle"),
        ("width", "30 cm"),
        ("height", "120 cm\n180 cm"),
        ("size", "short"),
        ("mass", "150 g"),
    ];

    fn with(field: &str, text: &str) -> Result<String, AppError> {
        let mut typed: FormData = SCARF.into_iter().collect();
        typed.set(field, text);
        needs_begun(&typed)
    }

    #[test]
    fn a_fault_is_told_of_the_field_that_it_came_from() {
        assert!(with("gauge", "22 sts x 30 rows / 10 cm").is_ok());
        for (field, text) in [
            ("pattern", ""),
            ("sizes", "S\nS"),
            ("put-up", ""),
            ("put-up", "120 m"),
            ("gauge", "tight"),
            ("shape", ""),
            ("shape", "star"),
            ("width", "wide"),
            ("width", ""),
            ("height", "1 m\n2 m\n3 m"),
            ("top", "20 cm"),
            ("times", "some"),
            ("size", "XL"),
            ("size", ""),
            ("mass", ""),
            ("mass", "heavy"),
        ] {
            match with(field, text) {
                Err(AppError::Fields(FieldFaults(faults))) => {
                    let fields: Vec<&str> = faults.iter().map(|f| f.field.as_str()).collect();
                    assert!(fields.contains(&field), "{field} `{text}`: {faults:?}");
                    for fault in &faults {
                        let said = &fault.message;
                        assert!(!said.contains(" = ") && !said.contains("list"), "{said}");
                    }
                }
                other => panic!("{field} `{text}`: {other:?}"),
            }
        }
    }
}
