//! A pattern file or a materials sheet, looked through for what contradicts
//! itself, its pattern or the records.

mod of_pattern;
mod of_sheet;

use super::{AppError, Records};
use crate::{
    files::{
        FileError,
        pattern_file::{read_pattern, write_pattern},
        sheet_text::read_sheet,
    },
    record::Pattern,
    report::{Finding, LintReport},
    words::fold,
};

/// What is looked through.
#[derive(Debug, Clone, Default)]
pub struct LintRequest {
    /// A file's name and its bytes.
    pub file: Option<(String, Vec<u8>)>,
    /// Whether the file is a pattern file; its name tells where this is `None`.
    pub is_pattern: Option<bool>,
    /// A kept pattern: looked through itself, or what a sheet is held against.
    pub pattern: Option<String>,
}

/// Everything that was found, in the order of the lines.
pub fn lint(records: &Records, request: &LintRequest) -> Result<LintReport, AppError> {
    let pattern = request
        .pattern
        .as_deref()
        .map(|name| records.pattern_named(name))
        .transpose()?
        .map(|kept| kept.record);
    let gone = no_longer_made(records)?;
    let mut report = LintReport::default();
    let is_pattern_file = |file: &str| {
        request
            .is_pattern
            .unwrap_or_else(|| is_called_pattern(file))
    };
    match (&request.file, pattern) {
        (Some((file, bytes)), None) if is_pattern_file(file) => {
            report.of = file.clone();
            report.findings = of_file(file, bytes, &gone)?;
        }
        (Some((file, _)), Some(_)) if is_pattern_file(file) => {
            return Err(AppError::Usage(format!(
                "{file} is a pattern file: look it through without --pattern, or give a sheet"
            )));
        }
        (Some((file, bytes)), pattern) => {
            report.of = file.clone();
            report.against = pattern.as_ref().map(|pattern| pattern.name.to_string());
            report.findings =
                of_sheet::findings(&read_sheet(file, bytes)?, pattern.as_ref(), &gone);
        }
        (None, Some(pattern)) => {
            report.of = format!("pattern {}", pattern.name);
            report.findings = of_kept(&pattern, &gone);
        }
        (None, None) => {
            return Err(AppError::Usage(
                "say what to look through: a FILE, --pattern NAME, or both".to_owned(),
            ));
        }
    }
    Ok(report)
}

fn is_called_pattern(file: &str) -> bool {
    std::path::Path::new(file)
        .extension()
        .is_some_and(|end| end.eq_ignore_ascii_case("toml"))
}

/// A pattern file; one that is refused is all that is wrong with it.
fn of_file(file: &str, bytes: &[u8], gone: &[Gone]) -> Result<Vec<Finding>, AppError> {
    let text = String::from_utf8_lossy(bytes);
    match read_pattern(file, bytes) {
        Ok(reading) => Ok(of_pattern::findings(&reading.pattern, &text, gone)),
        Err(FileError::Faults { faults, .. }) => {
            Ok(faults.iter().map(of_pattern::unreadable).collect())
        }
        Err(other) => Err(other.into()),
    }
}

/// A kept pattern, as its file would be; lines are left out, since there is none.
fn of_kept(pattern: &Pattern, gone: &[Gone]) -> Vec<Finding> {
    let text = write_pattern(pattern);
    let mut findings = of_pattern::findings(pattern, &text, gone);
    for finding in &mut findings {
        finding.line = None;
    }
    findings
}

/// A kept yarn that is no longer made, as it may stand in a text.
pub(super) struct Gone {
    pub(super) title: String,
    folded: String,
}

impl Gone {
    /// Whether `text` names it, maker and name.
    pub(super) fn is_named_in(&self, text: &str) -> bool {
        format!(" {} ", fold(text)).contains(&format!(" {} ", self.folded))
    }
}

fn no_longer_made(records: &Records) -> Result<Vec<Gone>, AppError> {
    let mut gone = Vec::new();
    let Some(store) = records.maybe() else {
        return Ok(gone);
    };
    store.reader()?.yarns(|yarn| {
        if yarn.record.discontinued {
            let title = yarn.record.title();
            gone.push(Gone {
                folded: fold(&title),
                title,
            });
        }
        Ok::<(), AppError>(())
    })?;
    Ok(gone)
}
