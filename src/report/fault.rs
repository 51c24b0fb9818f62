//! What is wrong with a request, in words: one function a kind of fault.

use super::{Style, last::last_fault_words, records::bad_rows_words};
use crate::{
    app::{AppError, Fault, FaultKind, GaugeFault, QuestionFault, TextFault},
    files::CellFault,
    measure::NeedleSize,
    words::{count_of_items, joined, number, or_list, safe},
};

/// An error as people read it: every fault of a request on a line of its own.
pub fn error_words(error: &AppError, style: &Style) -> String {
    let faults = match error {
        AppError::Faults(faults) => faults,
        AppError::BadRows(bad) => return bad_rows_words(bad, style),
        other => return format!("{other}{}", way_out(other, style)),
    };
    joined(faults.iter().map(|fault| named(fault, style)), "\n")
}

/// What to do about an error that names no field, where a field helps.
fn way_out(error: &AppError, style: &Style) -> String {
    let field = |name| style.field(name);
    match error {
        AppError::NoRecords => {
            let (wants, yarn) = (field("wants"), field("yarn"));
            format!(", or type the facts with {wants} and {yarn}")
        }
        AppError::NoHome => format!(": say where the records are with {} FILE", field("db")),
        AppError::PatternDiffers(_) => {
            format!(": import again with {} to replace it", field("update"))
        }
        _ => String::new(),
    }
}

/// A fault with the name of its field before it.
fn named(fault: &Fault, style: &Style) -> String {
    let words = fault_words(fault, style);
    match (&fault.kind, fault.field.as_str()) {
        (_, "") | (FaultKind::OneNeeded(_) | FaultKind::OneGroupNeeded(_), _) => words,
        (_, field) => format!("{}: {words}", style.label(field)),
    }
}

/// What is wrong with a field, and what to do about it.
pub fn fault_words(fault: &Fault, style: &Style) -> String {
    match &fault.kind {
        FaultKind::Unread(error) => error.to_string(),
        FaultKind::Cell(fault) => fault.message(),
        FaultKind::SaysNothing(band) => says_nothing(band),
        FaultKind::Missing => "nothing is given here: write it, or choose one".to_owned(),
        FaultKind::NotOneOf { given, allowed } => {
            let (given, allowed) = (safe(given), or_list(allowed));
            format!("`{given}` is none of these: write {allowed}")
        }
        FaultKind::OutOfRange { given, low, high } => out_of_range(given, *low, *high),
        FaultKind::NotWhole { given, low, high } => format!(
            "`{}` is not possible: write a whole number from {low} to {high}",
            safe(given)
        ),
        FaultKind::OneNeeded(fields) => one_needed(fields, style),
        FaultKind::OneGroupNeeded(groups) => one_group_needed(groups, style),
        FaultKind::NothingLeft(other) => {
            let other = style.field(other);
            format!("is as much as {other}, or more: nothing is left")
        }
        FaultKind::OnlyWith(other) => {
            let other = style.field(other);
            format!("says nothing without {other}: give both, or neither")
        }
        FaultKind::OnlyWithChoice { field, values } => {
            let choice = style.choice(field, values);
            format!("says nothing without {choice}: choose that, or leave this out")
        }
        FaultKind::NeededWith(other) => {
            format!("nothing is written, and {} needs it", style.field(other))
        }
        FaultKind::NeededFor { field, value } => {
            let choice = style.choice(field, &[value]);
            format!("nothing is written, and {choice} needs it")
        }
        FaultKind::NotWith(other) => {
            let other = style.field(other);
            format!("cannot stand beside {other}: give one of them")
        }
        FaultKind::Question(fault) => question_words(fault, style),
        FaultKind::NoLengthPerMass => {
            "gives no length per mass: write both, as in `125 m/50 g`".to_owned()
        }
        FaultKind::Last(fault) => last_fault_words(fault, style),
        FaultKind::Text(fault) => text_words(fault),
        FaultKind::Gauge(fault) => gauge_words(fault, style),
        FaultKind::NoSkeinLength => {
            "gives no length: write the length of one skein, as in `125 m` or `125 m/50 g`"
                .to_owned()
        }
        FaultKind::MassWithoutGrist { class } => format!(
            "a need given as a mass wants the length per mass of the pattern's yarn: write it, as in `125 m/50 g`, or give {}, as in `DK`, for estimates",
            style.field(class)
        ),
        FaultKind::Form(kind) => format!("this form cannot be read ({kind}): open it again"),
    }
}

fn says_nothing(band: &str) -> String {
    format!(
        "`{}` says nothing of a yarn: write what its band says, as in `50 g = 125 m, 100% wool, DK`",
        safe(band)
    )
}

/// What is wrong with a question about a yarn for a pattern.
fn question_words(fault: &QuestionFault, style: &Style) -> String {
    match fault {
        QuestionFault::OneOfTwo([one, other]) => format!(
            "say what is wanted: give either {} or {}",
            style.field(one),
            style.field(other)
        ),
        QuestionFault::NotSure(percent) => format!(
            "{} % is not possible: give from 50 % to less than 100 %",
            number(*percent, 4)
        ),
        QuestionFault::OwnUseTooFar => {
            "more than 50 %: give how far your use lies from a stated need 95 times in 100, as in `5%`".to_owned()
        }
        QuestionFault::Weight { given, criteria } => format!(
            "`{}` is not read: write a criterion and a number from 0 to 1000, as in `fibre=3`; criteria are {}",
            safe(given),
            or_list(criteria)
        ),
        QuestionFault::NoSuchRole {
            pattern,
            given,
            keys,
        } => format!(
            "pattern {} has no yarn `{}`: it has {}",
            safe(pattern),
            safe(given),
            or_list(keys)
        ),
        QuestionFault::NoYarn(given) => format!(
            "`{}` says nothing of a yarn: write what its band says, as in `50 g = 125 m, 100% wool`, or import your yarns first",
            safe(given)
        ),
    }
}

/// What is wrong with a text or a file.
fn text_words(fault: &TextFault) -> String {
    match fault {
        TextFault::RepeatedName(name) => format!(
            "`{}` stands here twice: each line has a name of its own",
            safe(name)
        ),
        TextFault::LinesForSizes { lines, sizes } => format!(
            "{} for {}: write one line for all sizes, or a line for each",
            count_of_items(*lines, "line"),
            count_of_items(*sizes, "size")
        ),
        TextFault::InFile(fault) => in_file(fault),
        TextFault::NothingToRead => {
            "nothing is written: give a text, a file or a kept pattern to look through".to_owned()
        }
        TextFault::PatternFile(file) => format!(
            "{} is a pattern file: look it through by itself, or give a sheet",
            safe(file)
        ),
    }
}

/// What is wrong with a gauge.
fn gauge_words(fault: &GaugeFault, style: &Style) -> String {
    match fault {
        GaugeFault::OverNoLength(given) => format!(
            "`{}` does not say over what length: add `/ 10 cm` or `/ 4 in`",
            safe(given)
        ),
        GaugeFault::WithoutRows(given) => format!(
            "`{}` states no rows: add them, as in `22 sts x 30 rows / 10 cm`",
            safe(given)
        ),
        GaugeFault::Unknown { swatch_of } => format!(
            "no gauge is known yet: write yours, or give {}, one of which a swatch is kept",
            style.field(swatch_of)
        ),
        GaugeFault::NoSwatch { yarn, needle } => no_swatch(yarn, *needle, style),
        GaugeFault::NotInPattern(pattern) => format!(
            "pattern {} states no gauge: add `gauge = \"22 sts x 30 rows / 10 cm\"` {}",
            safe(pattern),
            style.either(
                "to its file and import it with --update",
                "to its text under Patterns"
            )
        ),
    }
}

fn in_file(fault: &CellFault) -> String {
    let CellFault {
        given,
        why,
        allowed,
        ..
    } = fault;
    if given.is_empty() {
        format!("{why}; {allowed}")
    } else {
        format!("`{given}`: {why}; {allowed}")
    }
}

fn out_of_range(given: &str, low: f64, high: f64) -> String {
    format!(
        "{} cannot be counted: give a number above {} and up to {}",
        safe(given),
        number(low, 0),
        number(high, 0)
    )
}

fn no_swatch(yarn: &str, needle: Option<NeedleSize>, style: &Style) -> String {
    let needle = needle.map(|needle| format!(" on {} mm", number(needle.as_millimetres(), 2)));
    format!(
        "no swatch of {}{} is kept: keep one {}, give {}, or let its label and your tendency stand in with {}",
        safe(yarn),
        needle.unwrap_or_default(),
        style.either("with `swatch add`", "on the page of that yarn"),
        style.field("own-gauge"),
        style.field("own-tendency")
    )
}

/// `give --stitches, --rows or both`.
fn one_needed(fields: &[&str], style: &Style) -> String {
    let both = (fields.len() == 2).then(|| "both".to_owned());
    let names = fields.iter().map(|field| style.field(field));
    format!("give {}", or_list(names.chain(both)))
}

/// `give at least one of: --length with --weighs, or --balance`.
fn one_group_needed(groups: &[&[&str]], style: &Style) -> String {
    let group = |fields: &&[&str]| joined(fields.iter().map(|field| style.field(field)), " with ");
    let groups = or_list(groups.iter().map(group));
    format!("give at least one of: {groups}")
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::report::FieldNames;

    #[test]
    fn a_fault_names_fields_as_they_are_shown() {
        let fault = Fault::new("rows", FaultKind::OneNeeded(&["stitches", "rows"]));
        let error = AppError::Faults(vec![fault]);
        assert_eq!(
            error_words(&error, &Style::default()),
            "give --stitches, --rows or both"
        );
        let labels = [("stitches", "Stitches across"), ("rows", "Rows along")];
        let page = Style {
            fields: FieldNames::Labels(
                labels
                    .map(|(name, label)| (name.to_owned(), label.to_owned()))
                    .into(),
            ),
            ..Style::default()
        };
        assert_eq!(
            error_words(&error, &page),
            "give ‘Stitches across’, ‘Rows along’ or both"
        );
    }
}
