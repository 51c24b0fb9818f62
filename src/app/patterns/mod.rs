//! Patterns: in, out, listed, shown.

mod edit;

pub use edit::{
    PATTERN_TEXT, PatternChoice, pattern_choice, pattern_choices, pattern_to_edit, save_pattern,
};

use super::{AppError, RecordChange, Records};
use crate::{
    files::{
        FileError,
        pattern_file::{read_pattern, write_pattern},
    },
    record::{Id, Pattern},
    report::Notice,
};
use std::io::Write;

/// Imports pattern files, all or none. A pattern that is kept already stays as
/// it is; where the file says otherwise, that is an error unless `update`.
pub fn import_patterns(
    records: &mut Records,
    files: &[(String, Vec<u8>)],
    update: bool,
) -> Result<Notice, AppError> {
    let mut notice = Notice::default();
    let mut read = Vec::new();
    for (file, bytes) in files {
        let reading = read_pattern(file, bytes)?;
        notice.warnings.extend(
            reading
                .warnings
                .iter()
                .map(|note| format!("{file}: {note}")),
        );
        read.push(reading.pattern);
    }
    notice.details = records.store_mut()?.write(|writer| {
        read.iter()
            .map(|pattern| keep(writer, pattern, update))
            .collect::<Result<_, AppError>>()
    })?;
    notice.done = "Patterns imported".to_owned();
    Ok(notice)
}

fn keep(
    writer: &crate::store::Writer<'_>,
    pattern: &Pattern,
    update: bool,
) -> Result<(String, String), AppError> {
    let name = pattern.name.to_string();
    let Some(kept) = writer.pattern_named(&name)? else {
        writer.add_pattern(pattern)?;
        return Ok((name, "added".to_owned()));
    };
    match (kept.record == *pattern, update) {
        (true, _) => Ok((name, "already kept, unchanged".to_owned())),
        (false, true) => {
            writer.update_pattern(kept.id, kept.version, pattern)?;
            Ok((name, "replaced".to_owned()))
        }
        (false, false) => Err(AppError::Refused(format!(
            "pattern {name} is kept already and differs from the file: import again with --update to replace it"
        ))),
    }
}

/// Writes a pattern as the text of its file; gives its name.
pub fn export_pattern(
    records: &Records,
    name: &str,
    file: &str,
    mut target: impl Write,
) -> Result<String, AppError> {
    let pattern = records.pattern_named(name)?.record;
    let text = write_pattern(&pattern);
    target
        .write_all(text.as_bytes())
        .map_err(|source| FileError::Write {
            file: file.to_owned(),
            source,
        })?;
    Ok(format!("pattern {}", pattern.name))
}

/// Answer to [`list_patterns`].
#[derive(Debug, Clone)]
pub struct PatternList(pub Vec<Pattern>);

/// Every kept pattern.
pub fn list_patterns(records: &Records) -> Result<PatternList, AppError> {
    let patterns = records.store()?.reader()?.patterns()?.into_iter();
    Ok(PatternList(patterns.map(|kept| kept.record).collect()))
}

/// Answer to [`show_pattern`]: what is kept of one pattern.
#[derive(Debug, Clone)]
pub struct PatternAnswer(pub Pattern);

/// What is kept of one pattern.
pub fn show_pattern(records: &Records, name: &str) -> Result<PatternAnswer, AppError> {
    Ok(PatternAnswer(records.pattern_named(name)?.record))
}

/// What is kept of the pattern with this number.
pub fn view_pattern(records: &Records, number: i64) -> Result<PatternAnswer, AppError> {
    let kept = records.store()?.reader()?.pattern(Id::new(number))?;
    Ok(PatternAnswer(kept.record))
}

/// Removes a pattern from the records.
pub fn remove_pattern(records: &mut Records, name: &str) -> Result<RecordChange, AppError> {
    let kept = records.pattern_named(name)?;
    remove_pattern_numbered(records, kept.id.number())?;
    Ok(RecordChange::PatternRemoved {
        name: kept.record.name.to_string(),
    })
}

/// Removes the pattern with this number.
pub fn remove_pattern_numbered(records: &mut Records, number: i64) -> Result<(), AppError> {
    records.store_mut()?.write(|writer| {
        writer
            .remove_pattern(Id::new(number))
            .map_err(AppError::from)
    })
}
