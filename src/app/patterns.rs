//! Patterns: in, out, listed, shown.

use super::{AppError, Records};
use crate::{
    files::{
        FileError,
        pattern_file::{read_pattern, write_pattern},
    },
    record::{Pattern, PatternYarn},
    report::{
        Align, Listing, Notice, Table, facts_words, gauge_words, measures_of_sizes,
        sizes_as_patterns_write_them,
    },
};
use serde::Serialize;
use std::io::Write;

/// One pattern of a list.
#[derive(Debug, Serialize)]
pub struct PatternLine {
    /// Its name.
    pub name: String,
    /// What it is for.
    pub purpose: &'static str,
    /// Sizes in order.
    pub sizes: Vec<String>,
    /// Keys of its yarns.
    pub yarns: Vec<String>,
}

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

/// Every kept pattern.
pub fn list_patterns(records: &Records) -> Result<Listing<PatternLine>, AppError> {
    let patterns = records.store()?.reader()?.patterns()?;
    let rows: Vec<PatternLine> = patterns
        .iter()
        .map(|pattern| line(&pattern.record))
        .collect();
    let mut table = Table::new(&[
        ("pattern", Align::Left),
        ("for", Align::Left),
        ("sizes", Align::Left),
        ("yarns", Align::Left),
    ]);
    table.rows = rows
        .iter()
        .map(|row| {
            vec![
                row.name.clone(),
                row.purpose.to_owned(),
                sizes_as_patterns_write_them(&row.sizes),
                row.yarns.join(", "),
            ]
        })
        .collect();
    Ok(Listing {
        title: "Patterns".to_owned(),
        table,
        empty: "No pattern is kept yet: import one with `import pattern FILE`.".to_owned(),
        rows,
        warnings: Vec::new(),
    })
}

fn line(pattern: &Pattern) -> PatternLine {
    PatternLine {
        name: pattern.name.to_string(),
        purpose: pattern.purpose.name(),
        sizes: pattern
            .sizes
            .iter()
            .map(|size| size.name.to_string())
            .collect(),
        yarns: pattern
            .yarns
            .iter()
            .map(|yarn| yarn.key.to_string())
            .collect(),
    }
}

/// What is kept of one pattern.
pub fn show_pattern(records: &Records, name: &str) -> Result<Notice, AppError> {
    let pattern = records.pattern_named(name)?.record;
    let sizes: Vec<String> = pattern
        .sizes
        .iter()
        .map(|size| size.name.to_string())
        .collect();
    let gauge = pattern
        .gauge
        .as_ref()
        .map(|gauge| gauge_words(&gauge.value.gauge));
    let mut details = vec![
        (
            "for".to_owned(),
            format!("{}, {}", pattern.purpose.name(), pattern.fit.name()),
        ),
        (
            "gauge".to_owned(),
            gauge.unwrap_or_else(|| "not stated".to_owned()),
        ),
        ("sizes".to_owned(), sizes_as_patterns_write_them(&sizes)),
        (
            "margin in the needs".to_owned(),
            margin_words(pattern.margin_included).to_owned(),
        ),
    ];
    details.extend(pattern.yarns.iter().flat_map(yarn_details));
    Ok(Notice {
        done: pattern.name.to_string(),
        details,
        warnings: Vec::new(),
    })
}

fn margin_words(included: Option<bool>) -> &'static str {
    match included {
        Some(true) => "included",
        Some(false) => "not included",
        None => "not stated",
    }
}

fn yarn_details(yarn: &PatternYarn) -> Vec<(String, String)> {
    let needs: Vec<String> = yarn.needs.iter().map(|need| need.text.clone()).collect();
    let called = yarn.called.iter().map(|called| format!("{called}: "));
    vec![
        (
            format!("yarn {}", yarn.key),
            format!(
                "{}{}",
                called.collect::<String>(),
                facts_words(&yarn.reference, None)
            ),
        ),
        (format!("needs of {}", yarn.key), measures_of_sizes(&needs)),
    ]
}

/// Removes a pattern from the records.
pub fn remove_pattern(records: &mut Records, name: &str) -> Result<Notice, AppError> {
    let kept = records.pattern_named(name)?;
    records
        .store_mut()?
        .write(|writer| writer.remove_pattern(kept.id).map_err(AppError::from))?;
    Ok(Notice {
        done: format!("Pattern {} removed", kept.record.name),
        ..Notice::default()
    })
}
