//! What is wrong with a request, in words: one function a kind of fault.

use super::{
    FieldNames, Style,
    cover::ONE_SIZE,
    gauge::gauge_fault_words,
    last::last_fault_words,
    records::{bad_rows_words, open_questions},
    undo::undo_first_words,
};
use crate::{
    app::{AppError, Fault, FaultKind, ProjectFault, QuestionFault, TextFault},
    files::CellFault,
    words::{and_list, count_of_items, joined, number, or_list, safe, shortened},
};

/// An error as people read it: every fault of a request on a line of its own.
pub fn error_words(error: &AppError, style: &Style) -> String {
    let faults = match error {
        AppError::Faults(faults) => faults,
        AppError::BadRows(bad) => return bad_rows_words(bad, style),
        AppError::TableAsks(questions) => return joined(open_questions(questions, style), "\n"),
        AppError::WhichLot { yarn, .. } if is_page(style) => {
            return format!("there are several lots of {yarn}: choose one below");
        }
        AppError::UndoFirst(first) => return undo_first_words(first),
        AppError::Unknown {
            what,
            name,
            near,
            all,
        } if near.is_empty() => {
            if let Some(said) = unknown_words((what, name), all, style) {
                return said;
            }
            return error.to_string();
        }
        other => return format!("{other}{}", way_out(other, style)),
    };
    joined(faults.iter().map(|fault| named(fault, style)), "\n")
}

/// Whether fields are called by their labels.
fn is_page(style: &Style) -> bool {
    matches!(style.fields, FieldNames::Labels(_))
}

/// What to do about a name that is like none that is known, where more can be said
/// than which there are.
fn unknown_words((what, name): (&str, &str), all: &[String], style: &Style) -> Option<String> {
    let name = shortened(name, 100);
    let all: Vec<&str> = all.iter().map(String::as_str).collect();
    Some(match (what, all.as_slice()) {
        ("size", [ONE_SIZE]) => {
            format!("there is no size `{name}`: this pattern comes in one size, so leave it out")
        }
        ("pattern", []) => {
            let add = style.either(
                "with `pattern add`, or import one with `import pattern FILE`",
                "under Patterns",
            );
            format!("there is no pattern `{name}`: you have no patterns yet; add one {add}")
        }
        ("yarn", []) => {
            let list = style.either("`yarn list` shows", "the page Your yarns shows");
            format!("there is no yarn `{name}`: {list} those you have")
        }
        _ => return None,
    })
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

fn not_one_of(given: &str, allowed: &[String]) -> String {
    let (given, allowed) = (safe(given), or_list(allowed));
    format!("`{given}` is not one of the choices: write {allowed}")
}

fn project_words(fault: ProjectFault, style: &Style) -> String {
    let none = style.either(
        "you have no projects yet: add one with `understudy project add PATTERN:SIZE`, or name patterns here",
        "you have no projects yet: add one below",
    );
    match fault {
        ProjectFault::None => none.to_owned(),
        ProjectFault::TooMany(most) => {
            format!("you have {most} projects, and one plan holds no more: remove one first")
        }
    }
}

fn counted_line(line: u64, typed: &str, why: &str) -> String {
    format!("line {line}: `{}`: {why}", safe(typed))
}

const HAVE_OF_SEVERAL: &str =
    "an amount can be counted of one yarn: leave it out, or ask about each yarn by itself";

const NOTHING_COUNTED: &str =
    "nothing was counted: write a line for each lot, its barcode or name, then `=` and how much";

const NOTHING_TO_KNIT: &str = "no piece of the yarn that is left is to knit: every piece is done, or name the yarn of what is left";

fn too_many_pieces(given: &str, most: u32) -> String {
    format!(
        "`{}` counts more of them than are left to knit, or none: this size has {most}",
        safe(given)
    )
}

fn same_place(place: &str) -> String {
    format!("the lot is in `{place}` already: write another place")
}

fn not_with(other: &str) -> String {
    format!("this does not go with {other}: write one of the two")
}

/// What is wrong with a field, and what to do about it.
pub fn fault_words(fault: &Fault, style: &Style) -> String {
    match &fault.kind {
        FaultKind::Unread(error) => error.to_string(),
        FaultKind::Cell(fault) => fault.message(),
        FaultKind::SaysNothing(band) => says_nothing(band),
        FaultKind::Missing => "missing: write it, or choose one".to_owned(),
        FaultKind::MissingAs(allowed) => format!("missing: write {allowed}"),
        FaultKind::NotOneOf { given, allowed } => not_one_of(given, allowed),
        FaultKind::OutOfRange { given, low, high } => out_of_range(given, *low, *high),
        FaultKind::NotWhole { given, low, high } => format!(
            "`{}` is out of range: write a whole number from {low} to {high}",
            safe(given)
        ),
        FaultKind::TooMany { given, most } => {
            format!("given {given} times: write at most {most}")
        }
        FaultKind::TooManyPieces { given, most } => too_many_pieces(given, *most),
        FaultKind::Project(fault) => project_words(*fault, style),
        FaultKind::OneNeeded(fields) => one_needed(fields, style),
        FaultKind::OneGroupNeeded(groups) => one_group_needed(groups, style),
        FaultKind::NothingLeft(other) => {
            let other = style.field(other);
            format!("this is as much as {other} or more, so nothing is left: check both")
        }
        FaultKind::OnlyWith(other) => {
            let other = style.field(other);
            format!("this needs {other} too: write both, or neither")
        }
        FaultKind::OnlyWithChoice { field, values } => {
            let choice = style.choice(field, values);
            format!("this needs {choice}: choose that, or leave this out")
        }
        FaultKind::NeededWith(other) => {
            format!("missing, and {} needs it", style.field(other))
        }
        FaultKind::NeededFor { field, value } => {
            let choice = style.choice(field, &[value]);
            format!("missing, and {choice} needs it")
        }
        FaultKind::SamePlace(place) => same_place(place),
        FaultKind::CountedLine { line, typed, why } => counted_line(*line, typed, why),
        FaultKind::NothingCounted => NOTHING_COUNTED.to_owned(),
        FaultKind::NothingToKnit => NOTHING_TO_KNIT.to_owned(),
        FaultKind::NotWith(other) => not_with(&style.field(other)),
        FaultKind::Question(fault) => question_words(fault, style),
        FaultKind::NoLengthPerMass => {
            "length and weight are both needed: write them as in `125 m/50 g`".to_owned()
        }
        FaultKind::Last(fault) => last_fault_words(fault, style),
        FaultKind::Text(fault) => text_words(fault),
        FaultKind::Gauge(fault) => gauge_fault_words(fault, style),
        FaultKind::NoSkeinLength => {
            "the length is missing: write the length of one ball, as in `125 m` or `125 m/50 g`"
                .to_owned()
        }
        FaultKind::MassWithoutGrist { class } => format!(
            "the yarn needed is a weight: write length and weight of one ball of the pattern's yarn, as in `125 m/50 g`, or write {}, as in `DK`, for an estimate",
            style.field(class)
        ),
        FaultKind::Form(kind) => format!("this form cannot be read ({kind}): open it again"),
    }
}

fn says_nothing(band: &str) -> String {
    format!(
        "`{}` does not describe a yarn: write what its label says, as in `50 g = 125 m, 100% wool, DK`",
        safe(band)
    )
}

/// What is wrong with a question about a yarn for a pattern.
fn question_words(fault: &QuestionFault, style: &Style) -> String {
    match fault {
        QuestionFault::OneOfTwo([one, other]) => format!(
            "say what the pattern wants: write one of {} or {}",
            style.field(one),
            style.field(other)
        ),
        QuestionFault::NotSure(percent) => format!(
            "{} % is out of range: write 50 % to less than 100 %",
            number(*percent, 4)
        ),
        QuestionFault::OwnUseTooFar => {
            "more than 50 %: write how much more or less you use than patterns say, as in `5%`"
                .to_owned()
        }
        QuestionFault::Weight { given, criteria } => format!(
            "`{}` is not understood: write a criterion and a number from 0 to 1000, as in `fibre=3`; criteria are {}",
            safe(given),
            or_list(criteria)
        ),
        QuestionFault::HaveWithoutLength(given) => format!(
            "how long `{given}` is, is not known: the yarn has no metres per ball or per 100 g; write metres or yards, as in {}",
            style.example("have", "900 m")
        ),
        QuestionFault::NoSuchRole {
            pattern,
            given,
            keys,
        } => no_such_role(pattern, given, keys),
        QuestionFault::YarnForNoRole {
            pattern,
            given,
            keys,
        } => yarn_for_no_role(pattern, given, keys),
        QuestionFault::RoleNeeded { pattern, keys } => format!(
            "pattern {} has several yarns: write {}",
            safe(pattern),
            or_list(keys)
        ),
        QuestionFault::SizeNeeded { pattern, sizes } => size_needed(&safe(pattern), sizes),
        QuestionFault::NoYarn(given) => format!(
            "`{}` does not describe a yarn: write what its label says, as in `50 g = 125 m, 100% wool`, or import your yarns first",
            safe(given)
        ),
        QuestionFault::HaveOfSeveral => HAVE_OF_SEVERAL.to_owned(),
        QuestionFault::ThreesOfStash => format!(
            "three yarns held together are looked for in your stash only: use {}, or 2 yarns",
            style.either("--from stash", "your stash")
        ),
        QuestionFault::TogetherNeedsLength => "yarns held together are found by their metres per 100 g: say how many metres and grams a ball of the pattern's yarn has, and let them count".to_owned(),
    }
}

fn no_such_role(pattern: &str, given: &str, keys: &[String]) -> String {
    let (pattern, given) = (safe(pattern), safe(given));
    let keys = or_list(keys);
    format!("pattern {pattern} has no yarn `{given}`: it has {keys}")
}

fn yarn_for_no_role(pattern: &str, given: &str, keys: &[String]) -> String {
    let (pattern, given) = (safe(pattern), safe(given));
    let first = keys.first().map_or_else(String::new, |key| safe(key));
    let keys = or_list(keys);
    // Behind a key that is none stands the yarn; before the sign of a label an amount.
    let is_key = |key: &str| !key.is_empty() && !key.contains(' ');
    let keyed = given.split_once('=').filter(|(key, _)| is_key(key.trim()));
    let yarn = keyed.map_or(given.as_str(), |(_, yarn)| yarn.trim());
    format!(
        "`{given}` names no yarn of pattern {pattern}: write {keys} in front, as in `{first}={yarn}`"
    )
}

fn size_needed(pattern: &str, sizes: &[String]) -> String {
    match sizes.first() {
        Some(size) => format!(
            "{pattern} comes in several sizes: write which one, as in `{pattern}:{}`; there are {}",
            safe(size),
            and_list(sizes)
        ),
        None => format!("{pattern} has no sizes"),
    }
}

/// What is wrong with a text or a file.
fn text_words(fault: &TextFault) -> String {
    match fault {
        TextFault::RepeatedName(name) => format!(
            "`{}` is there twice: give each line its own name",
            safe(name)
        ),
        TextFault::LinesForSizes { lines, sizes } => format!(
            "{} for {}: write one line for all sizes, or a line for each",
            count_of_items(*lines, "line"),
            count_of_items(*sizes, "size")
        ),
        TextFault::InFile(fault) => in_file(fault),
        TextFault::NothingToRead => {
            "there is nothing to check: give a text, a file or one of your patterns".to_owned()
        }
        TextFault::PatternFile(file) => format!(
            "{} is a pattern file: check it by itself, or give a sheet",
            safe(file)
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
        "{} is out of range: write a number above {} and up to {}",
        safe(given),
        number(low, 0),
        number(high, 0)
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
