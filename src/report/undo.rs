//! Changes that can be taken back, what was taken back, and why not.

use super::{
    Notice, Page, Render, Style, Table,
    json::{fields_of, list},
    listing::{ListFields, list_fields, list_page},
    record_change::held_words,
};
use crate::{
    app::{Action, ChangePart, KeptChange, RecordKind, StockLine, UndoList},
    record::{Entry, EntryKind, counter_in},
    words::{and_list, count_of_items, safe},
};

/// How many changes that come first are named.
const NAMED: usize = 3;

/// What a change was: `2 balls used of Ferrivale, Umberlin DK, lot 14`.
pub fn change_words(change: &KeptChange) -> String {
    and_list(change.parts.iter().map(part_words))
}

pub(super) fn part_words(part: &ChangePart) -> String {
    let ChangePart {
        kind,
        action,
        count,
        title,
        ..
    } = part;
    let done = action.name();
    match (kind, action, &part.line) {
        (_, _, Some(line)) if *count == 1 => line_words(line, title),
        (_, Action::Entered, _) => format!("entries for {}", items(*count, "lot")),
        (RecordKind::Shade, _, _) if *count > 1 => {
            format!("colours of {} {done}", items(*count, "shade"))
        }
        (RecordKind::Shade, _, _) => format!("colour of {title} {done}"),
        _ if *count > 1 => format!("{} {done}", items(*count, kind.name())),
        (RecordKind::Lot, Action::Added, _) => format!("first purchase of {title}"),
        (RecordKind::Swatch, _, _) => format!("swatch of {title} {done}"),
        _ => format!("{} {title} {done}", kind.name()),
    }
}

fn items(count: i64, what: &str) -> String {
    count_of_items(usize::try_from(count).unwrap_or(usize::MAX), what)
}

fn line_words(line: &Entry, title: &str) -> String {
    let amount = amount_words(line);
    let said = match line.kind {
        EntryKind::Weighed => format!("weighing of {title} at {amount}"),
        kind => format!("{amount} {} of {title}", kind.name()),
    };
    match line.notes.as_str() {
        "" => said,
        notes => format!("{said} ({})", safe(notes)),
    }
}

/// The amount as it was typed, where that says what it counts.
fn amount_words(line: &Entry) -> String {
    let typed = &line.amount.text;
    match typed.contains(char::is_alphabetic) {
        true => typed.clone(),
        false => line.amount.value.to_string(),
    }
}

/// `Undone: 2 balls used of Ferrivale, Umberlin DK. Left again: 5 balls (600 m).`
pub(super) fn undone(change: &KeptChange, left: Option<&StockLine>) -> Notice {
    let done = format!("Undone: {}.", change_words(change));
    let Some(left) = left else {
        return Notice::of(done);
    };
    let mut lines = change.parts.iter().filter_map(|part| part.line.as_ref());
    // In the word of what was undone.
    let word = lines.find_map(|line| counter_in(&line.amount.text));
    let left = StockLine {
        counted_in: word.unwrap_or(left.counted_in),
        ..left.clone()
    };
    Notice::of(format!("{done} Left again: {}.", held_words(&left)))
}

/// Which changes come first, where later ones depend on one.
pub(super) fn undo_first_words(first: &[KeptChange]) -> String {
    let named = first.iter().take(NAMED);
    let mut named: Vec<String> = named
        .map(|change| format!("number {} ({})", change.number, change_words(change)))
        .collect();
    if first.len() > NAMED {
        named.push(count_of_items(first.len() - NAMED, "more change"));
    }
    format!(
        "later changes depend on this one, so nothing was undone: undo {} first",
        and_list(named)
    )
}

fields_of! {
    /// A change that can be undone.
    UndoRow(change: &KeptChange) {
        /// Its number.
        number: i64 = change.number,
        /// When.
        at: Option<String> = change.at.clone(),
        /// The change in a sentence.
        change: String = change_words(change),
        /// What was changed.
        parts: Vec<PartFields> = list(&change.parts, PartFields::of),
    }
}

fields_of! {
    /// Records of one kind that were changed together.
    PartFields(part: &ChangePart) {
        /// Kind of the records.
        kind: &'static str = part.kind.name(),
        /// What was done.
        action: &'static str = part.action.name(),
        /// How many.
        count: i64 = part.count,
        /// Number of the first of them.
        number: i64 = part.record,
    }
}

impl Render for UndoList {
    type Fields = ListFields<UndoRow>;

    fn fields(&self) -> Self::Fields {
        list_fields(&self.0, UndoRow::of)
    }

    fn page(&self, _: &Style) -> Page {
        let table = Table::of(&self.0)
            .right("no", |change| change.number.to_string())
            .left("when", |change| change.at.as_deref())
            .left("change", change_words);
        list_page("Changes you can undo, the last one first", table, NOTHING)
    }
}

/// Where no change can be taken back.
pub const NOTHING: &str = "There is nothing to undo.";
