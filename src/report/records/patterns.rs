//! Patterns, listed and shown.

use super::ListEntry;
use crate::{
    app::{PatternAnswer, PatternChoice, PatternList},
    record::{Pattern, PatternYarn},
    report::{
        Notice, Page, Render, Style, Table,
        facts_words::facts_in_style,
        gauge_words,
        listing::{list_fields, list_page},
        measures_of_sizes, sizes_as_patterns_write_them,
    },
};
use serde::Serialize;
use serde_json::json;

fn sizes(pattern: &Pattern) -> Vec<String> {
    let sizes = pattern.sizes.iter().map(|size| size.name.to_string());
    sizes.collect()
}

/// Keys of its yarns.
fn keys(pattern: &Pattern) -> Vec<String> {
    let yarns = pattern.yarns.iter();
    yarns.map(|yarn| yarn.key.to_string()).collect()
}

impl Render for PatternList {
    fn fields(&self) -> impl Serialize {
        list_fields(&self.0, |pattern| {
            json!({
                "name": pattern.name.to_string(),
                "purpose": pattern.purpose.name(),
                "sizes": sizes(pattern),
                "yarns": keys(pattern),
            })
        })
    }

    fn page(&self, _: &Style) -> Page {
        let table = Table::of(&self.0)
            .left("pattern", |pattern| pattern.name.to_string())
            .left("for", |pattern| pattern.purpose.name())
            .left("sizes", |pattern| {
                sizes_as_patterns_write_them(sizes(pattern))
            })
            .left("yarns", |pattern| keys(pattern).join(", "));
        let empty = "No pattern is kept yet: import one with `import pattern FILE`.";
        list_page("Patterns", table, empty)
    }
}

/// A pattern of a list.
pub fn pattern_entry(pattern: &PatternChoice) -> ListEntry {
    let sizes = match pattern.sizes.as_slice() {
        [] => "no sizes".to_owned(),
        [one] => one.clone(),
        sizes => format!("sizes {}", sizes_as_patterns_write_them(sizes)),
    };
    let several = if pattern.yarns.len() == 1 { "" } else { "s" };
    ListEntry {
        number: pattern.number,
        title: pattern.name.clone(),
        words: format!(
            "{}; {sizes}; yarn{several} {}",
            pattern.purpose,
            pattern.yarns.join(", ")
        ),
    }
}

impl Render for PatternAnswer {
    fn fields(&self) -> impl Serialize {
        pattern_notice(&self.0, &Style::default())
    }

    fn page(&self, style: &Style) -> Page {
        pattern_notice(&self.0, style).as_page()
    }
}

/// What is kept of one pattern.
fn pattern_notice(pattern: &Pattern, style: &Style) -> Notice {
    let gauge = pattern.gauge.as_ref();
    let gauge = gauge.map(|gauge| gauge_words(&gauge.value.gauge));
    let margin = match pattern.margin_included {
        Some(true) => "included",
        Some(false) => "not included",
        None => "not stated",
    };
    let details = [
        (
            "for",
            format!("{}, {}", pattern.purpose.name(), pattern.fit.name()),
        ),
        ("gauge", gauge.unwrap_or_else(|| "not stated".to_owned())),
        ("sizes", sizes_as_patterns_write_them(sizes(pattern))),
        ("margin in the needs", margin.to_owned()),
    ];
    let details = details
        .map(|(what, text)| (what.to_owned(), text))
        .into_iter();
    let yarns = pattern.yarns.iter();
    Notice {
        done: pattern.name.to_string(),
        details: details
            .chain(yarns.flat_map(|yarn| yarn_details(yarn, style)))
            .collect(),
        warnings: Vec::new(),
    }
}

fn yarn_details(yarn: &PatternYarn, style: &Style) -> [(String, String); 2] {
    let needs: Vec<String> = yarn.needs.iter().map(|need| need.text.clone()).collect();
    let called = yarn.called.as_ref();
    let called = called.map_or_else(String::new, |called| format!("{called}: "));
    let known = facts_in_style(&yarn.reference, None, style);
    [
        (format!("yarn {}", yarn.key), format!("{called}{known}")),
        (format!("needs of {}", yarn.key), measures_of_sizes(&needs)),
    ]
}
