//! What contradicts itself in a pattern.

use super::{DiscontinuedYarn, Finding, FindingKind, of_line};
use crate::{
    files::sheet_text::unit_pairs,
    label::band::read_band,
    quantity::{Misfit, misfits},
    record::{Pattern, PatternYarn},
};

/// Findings in a pattern, `text` being its file.
pub(super) fn findings(
    pattern: &Pattern,
    text: &str,
    discontinued: &[DiscontinuedYarn],
) -> Vec<Finding> {
    let misfits = misfits(pattern).into_iter().map(|misfit| Finding {
        line: line_of_misfit(text, &misfit),
        kind: FindingKind::Misfit(misfit),
    });
    let yarns = pattern.yarns.iter().enumerate();
    let no_longer_made = yarns.filter_map(|(place, yarn)| {
        Some(Finding {
            line: line_of(text, "yarn", place, "called"),
            kind: no_longer_made(yarn, discontinued)?,
        })
    });
    let mut findings: Vec<Finding> = units(text).chain(misfits).chain(no_longer_made).collect();
    findings.sort_by_key(|finding| finding.line);
    findings
}

fn no_longer_made(yarn: &PatternYarn, discontinued: &[DiscontinuedYarn]) -> Option<FindingKind> {
    let called = yarn.called.as_deref()?;
    let discontinued = discontinued.iter().find(|yarn| yarn.is_named_in(called))?;
    Some(FindingKind::CalledNoLongerMade {
        yarn: yarn.key.clone(),
        called: called.to_owned(),
        title: discontinued.title.clone(),
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

fn line_of_misfit(text: &str, misfit: &Misfit) -> Option<u64> {
    let (table, place, key) = match *misfit {
        Misfit::CastOn { size, .. } | Misfit::Multiple { size, .. } => ("size", size, "cast_on"),
        Misfit::Rows { size, .. } => ("size", size, "rows"),
        Misfit::NotGrowing { yarn, .. } | Misfit::NotCovered { yarn, .. } => {
            ("yarn", yarn, "needs")
        }
    };
    line_of(text, table, place, key)
}

/// The line of `key` in the table `[[kind]]` number `place` (from 0); that of the
/// table where the key is not found.
fn line_of(text: &str, kind: &str, place: usize, key: &str) -> Option<u64> {
    let head = format!("[[{kind}]]");
    let mut lines = (1u64..).zip(text.lines());
    let (at, _) = lines
        .by_ref()
        .filter(|(_, line)| line.trim() == head)
        .nth(place)?;
    let is_key = |line: &str| {
        line.split_once('=')
            .is_some_and(|(found, _)| found.trim() == key)
    };
    let of_key = lines
        .take_while(|(_, line)| !line.trim_start().starts_with("[["))
        .find(|(_, line)| is_key(line));
    Some(of_key.map_or(at, |(number, _)| number))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_key_is_found_in_its_own_table() {
        let text = "pattern = \"x\"\n\n[[size]]\nname = \"S\"\n[[size]]\nname = \"M\"\ncast_on = 9\n\n[[yarn]]\nkey = \"A\"\n";
        assert_eq!(line_of(text, "size", 1, "cast_on"), Some(7));
        assert_eq!(line_of(text, "size", 0, "cast_on"), Some(3));
        assert_eq!(line_of(text, "yarn", 0, "key"), Some(10));
        assert_eq!(line_of(text, "yarn", 1, "key"), None);
    }
}
