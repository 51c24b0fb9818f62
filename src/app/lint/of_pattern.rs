//! What contradicts itself in a pattern.

use super::{DiscontinuedYarns, Finding, FindingKind, of_line};
use crate::{
    files::sheet_text::unit_pairs,
    label::band::read_band,
    quantity::{Misfit, misfits},
    record::{Pattern, PatternYarn},
};
use std::collections::HashMap;

/// Findings in a pattern, `text` being its file.
pub(super) fn findings(
    pattern: &Pattern,
    text: &str,
    discontinued: &DiscontinuedYarns,
) -> Vec<Finding> {
    let lines = KeyLines::of(text);
    let misfits = misfits(pattern).into_iter().map(|misfit| Finding {
        line: line_of_misfit(&lines, &misfit),
        kind: FindingKind::Misfit(misfit),
    });
    let yarns = pattern.yarns.iter().enumerate();
    let no_longer_made = yarns.filter_map(|(place, yarn)| {
        Some(Finding {
            line: lines.of_key("yarn", place, "called"),
            kind: no_longer_made(yarn, discontinued)?,
        })
    });
    let mut findings: Vec<Finding> = units(text).chain(misfits).chain(no_longer_made).collect();
    findings.sort_by_key(|finding| finding.line);
    findings
}

fn no_longer_made(yarn: &PatternYarn, discontinued: &DiscontinuedYarns) -> Option<FindingKind> {
    let called = yarn.called.as_deref()?;
    let named = discontinued.named_in(called);
    Some(FindingKind::CalledNoLongerMade {
        yarn: yarn.key.clone(),
        called: called.to_owned(),
        title: (*named.first()?).to_owned(),
    })
}

/// Unit pairs, line by line.
fn units(text: &str) -> impl Iterator<Item = Finding> {
    (1u64..).zip(text.lines()).flat_map(|(number, line)| {
        let (key, value) = line.split_once('=').unwrap_or(("", line));
        let key = key.trim();
        // What speaks of gauge is known by its key.
        let pairs = unit_pairs(if key == "gauge" { line } else { value });
        let pairs = pairs
            .into_iter()
            .map(move |pair| FindingKind::UnitsDisagree {
                key: key.to_owned(),
                pair,
            });
        let band = (key == "needle").then(|| read_band(line));
        let needles = band.iter().map(|band| of_line::needles(line, band));
        let line = Some(number);
        let kinds = pairs.chain(needles.flatten());
        kinds
            .map(move |kind| Finding { line, kind })
            .collect::<Vec<_>>()
    })
}

fn line_of_misfit(lines: &KeyLines<'_>, misfit: &Misfit) -> Option<u64> {
    let (table, place, key) = match *misfit {
        Misfit::CastOn { size, .. } | Misfit::Multiple { size, .. } => ("size", size, "cast_on"),
        Misfit::Rows { size, .. } => ("size", size, "rows"),
        Misfit::NotGrowing { yarn, .. } | Misfit::NotCovered { yarn, .. } => {
            ("yarn", yarn, "needs")
        }
    };
    lines.of_key(table, place, key)
}

/// The lines of the keys of a file, looked up once for all findings.
#[derive(Default)]
struct KeyLines<'t> {
    /// Lines of the tables of each kind, in their order.
    tables: HashMap<&'t str, Vec<u64>>,
    /// The first line of each key of the table that begins in a line.
    keys: HashMap<(u64, &'t str), u64>,
}

impl<'t> KeyLines<'t> {
    fn of(text: &'t str) -> Self {
        let mut lines = Self::default();
        let mut table = 0;
        for (number, line) in (1u64..).zip(text.lines()) {
            let line = line.trim();
            if let Some(head) = line.strip_prefix("[[") {
                table = number;
                let kind = head.strip_suffix("]]").unwrap_or("");
                lines.tables.entry(kind).or_default().push(number);
            } else if let Some((key, _)) = line.split_once('=') {
                lines.keys.entry((table, key.trim())).or_insert(number);
            }
        }
        lines
    }

    /// The line of `key` in the table `[[kind]]` number `place` (from 0); that of the
    /// table where the key is not found.
    fn of_key(&self, kind: &str, place: usize, key: &str) -> Option<u64> {
        let table = *self.tables.get(kind)?.get(place)?;
        let of_key = self.keys.get(&(table, key));
        Some(of_key.copied().unwrap_or(table))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_key_is_found_in_its_own_table() {
        let text = "pattern = \"x\"\n\n[[size]]\nname = \"S\"\n[[size]]\nname = \"M\"\ncast_on = 9\n\n[[yarn]]\nkey = \"A\"\n";
        let lines = KeyLines::of(text);
        assert_eq!(lines.of_key("size", 1, "cast_on"), Some(7));
        assert_eq!(lines.of_key("size", 0, "cast_on"), Some(3));
        assert_eq!(lines.of_key("yarn", 0, "key"), Some(10));
        assert_eq!(lines.of_key("yarn", 1, "key"), None);
    }
}
