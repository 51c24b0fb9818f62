//! What was found in a pattern file or a materials sheet.

use super::{Page, Report, Role};
use crate::words::count_of;
use serde::Serialize;

/// Answer to `lint`.
#[derive(Debug, Clone, Default, Serialize)]
pub struct LintReport {
    /// What was looked through: a file, or a kept pattern.
    pub of: String,
    /// The pattern that a sheet was held against.
    pub against: Option<String>,
    /// What was found, in the order of the lines.
    pub findings: Vec<Finding>,
}

/// One thing that does not agree.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Finding {
    /// The line of the file, from 1.
    pub line: Option<u64>,
    /// Which part of it, where that has a name.
    pub place: String,
    /// What kind of finding.
    pub kind: &'static str,
    /// What was given.
    pub given: String,
    /// What it should be.
    pub should_be: String,
}

impl Report for LintReport {
    fn page(&self) -> Page {
        let count = f64::from(u32::try_from(self.findings.len()).unwrap_or(u32::MAX));
        let against = self
            .against
            .as_ref()
            .map_or_else(String::new, |pattern| format!(", held against {pattern}"));
        let mut page = Page::titled(format!("{}{against}", self.of));
        match self.findings.is_empty() {
            true => page.text(Role::Good, "Nothing was found that disagrees."),
            false => page.text(Role::Bad, count_of(count, "finding")),
        }
        let told: Vec<String> = self.findings.iter().map(|f| f.sentence(&self.of)).collect();
        page.items(Role::Plain, &told);
        page
    }
}

impl Finding {
    fn sentence(&self, of: &str) -> String {
        let line = self.line.map(|line| format!("{of}, line {line}"));
        let place = (!self.place.is_empty()).then(|| self.place.clone());
        let at: Vec<String> = line.into_iter().chain(place).collect();
        format!(
            "{}: {}: given {}; should be {}",
            at.join(", "),
            self.kind,
            self.given,
            self.should_be
        )
    }
}
