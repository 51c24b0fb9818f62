//! What was done with the records, told.

use super::{
    Notice, Page, Render, Style,
    facts_words::facts_in_style,
    records::{reserved, swatch_words},
};
use crate::{
    app::{RecordChange, Soundness, StockLine},
    record::EntryKind,
    words::number,
};
use serde::Serialize;

impl Render for RecordChange {
    fn fields(&self) -> impl Serialize {
        notice(self, &Style::default())
    }

    fn page(&self, style: &Style) -> Page {
        notice(self, style).as_page()
    }
}

fn notice(change: &RecordChange, style: &Style) -> Notice {
    match change {
        RecordChange::YarnKept { yarn, notes } => Notice {
            done: format!("{} kept", yarn.title()),
            details: vec![detail("known", facts_in_style(&yarn.facts, None, style))],
            warnings: style.notes(notes),
        },
        RecordChange::LotChanged {
            number,
            yarn,
            notes,
        } => Notice {
            done: format!("Lot {number} of {yarn} changed"),
            details: Vec::new(),
            warnings: style.notes(notes),
        },
        RecordChange::Entered { kind, line, notes } => Notice {
            warnings: style.notes(notes),
            ..entered(*kind, line)
        },
        RecordChange::SwatchKept {
            yarn,
            swatch,
            notes,
        } => Notice {
            done: format!("Swatch of {yarn} kept"),
            details: vec![detail("measured", swatch_words(swatch))],
            warnings: style.notes(notes),
        },
        RecordChange::PatternKept { name, notes } => Notice {
            done: format!("Pattern {name} kept"),
            details: Vec::new(),
            warnings: notes.clone(),
        },
        other => short(other),
    }
}

/// What is told in one sentence.
fn short(change: &RecordChange) -> Notice {
    let done = match change {
        RecordChange::YarnRemoved { title } => format!("{title} removed"),
        RecordChange::SwatchRemoved { number } => format!("Swatch {number} removed"),
        RecordChange::PatternRemoved { name } => format!("Pattern {name} removed"),
        RecordChange::BackedUp { to } => format!("Backup written to {}", to.display()),
        RecordChange::Restored { from, kept } => {
            let kept = kept.iter().map(|copy| copy.display().to_string());
            return Notice {
                done: format!("Records restored from {}", from.display()),
                details: kept
                    .map(|copy| detail("what was there before", copy))
                    .collect(),
                warnings: Vec::new(),
            };
        }
        _ => String::new(),
    };
    Notice {
        done,
        ..Notice::default()
    }
}

fn entered(kind: EntryKind, line: &StockLine) -> Notice {
    let held = match line.length {
        Some(length) => format!(
            "{} ({} m)",
            line.balance.held,
            number(length.as_metres(), 0)
        ),
        None => line.balance.held.to_string(),
    };
    let mut details = vec![
        detail("lot number", line.number.to_string()),
        detail("now held", held),
    ];
    details.extend(reserved(line).map(|reserved| detail("reserved", reserved)));
    let shade = if line.lot.shade.is_empty() {
        String::new()
    } else {
        format!(", {}", line.lot.shade)
    };
    Notice {
        done: format!("{}{shade}: {}, entered", line.yarn, kind.name()),
        details,
        warnings: Vec::new(),
    }
}

fn detail(what: &str, value: String) -> (String, String) {
    (what.to_owned(), value)
}

impl Render for Soundness {
    fn fields(&self) -> impl Serialize {
        soundness(self)
    }

    fn page(&self, _: &Style) -> Page {
        soundness(self).as_page()
    }
}

fn soundness(found: &Soundness) -> Notice {
    let sound = if found.problems.is_empty() {
        "sound"
    } else {
        "not sound"
    };
    let yarns = match found.yarns {
        Some(count) => count.to_string(),
        None => "not countable".to_owned(),
    };
    Notice {
        done: format!("{} is {sound}", found.file.display()),
        details: vec![detail("yarns", yarns)],
        warnings: found.problems.clone(),
    }
}
