//! What a change to the records did, and whether they are sound.

use super::{
    Notice, Style,
    chip::shade_name,
    facts_words::facts_in_style,
    listing::ShortAnswer,
    records::{
        counted, field_words, held, pattern_entered, reservation_words, reserved, swatch_words,
    },
    undo::undone,
};
use crate::{
    app::{FieldNote, Overpromise, RecordChange, Soundness, StockLine, YarnsMerged},
    record::{EntryKind, StockAmount, Yarn},
    words::{and_list, count_of_items, number, safe},
};
use std::{fmt::Display, path::Path};

/// What is said where the same text was given before.
pub(super) const MADE_BEFORE: &str =
    "already recorded with the same text of --once: nothing was changed";

/// What is said of a trial.
const NOTHING_DONE: &str = "nothing was changed: leave out --dry-run to undo it";

impl ShortAnswer for RecordChange {
    fn notice(&self, style: &Style) -> Notice {
        match self {
            Self::YarnKept { yarn, notes } => yarn_kept(yarn, notes, style),
            Self::BallKept { yarn, line, .. } => ball_kept(yarn, line.as_deref(), style),
            Self::YarnRemoved { title } => Notice::of(format!("{title} removed")),
            Self::YarnsMerged(_)
            | Self::ShadeRenamed { .. }
            | Self::LotMoved { .. }
            | Self::Sold { .. }
            | Self::AllReleased { .. }
            | Self::LayoutForgotten { .. }
            | Self::PatternRenamed { .. } => moved(self),
            Self::LotChanged {
                number,
                yarn,
                notes,
            } => Notice::of(format!("Lot {number} of {yarn} changed")).knowing(style.notes(notes)),
            Self::Entered {
                kind,
                amount,
                line,
                beyond,
                notes,
            } => entered((*kind, *amount), line, beyond, style).knowing(style.notes(notes)),
            Self::MadeBefore(change) => change.notice(style).knowing([MADE_BEFORE.to_owned()]),
            Self::SwatchKept {
                yarn,
                swatch,
                notes,
            } => Notice::of(format!("Swatch of {yarn} saved"))
                .detail("measured", swatch_words(swatch))
                .knowing(style.notes(notes)),
            Self::SwatchRemoved { number } => Notice::of(format!("Swatch {number} removed")),
            Self::PatternKept { name, notes } => {
                let notes = notes.iter().map(|note| style.cell_note(note));
                Notice::of(format!("Pattern {name} saved")).knowing(notes)
            }
            Self::PatternEntered {
                pattern,
                fit_assumed,
                notes,
            } => pattern_entered(pattern, *fit_assumed, style)
                .knowing(notes.iter().map(|note| style.cell_note(note))),
            Self::PatternRemoved { name } => Notice::of(format!("Pattern {name} removed")),
            Self::Project(change) => change.notice(style),
            Self::Undone { change, left } => undone(change, left.as_deref()),
            Self::WouldUndo(change) => {
                let mut notice = change.notice(style);
                notice.done = notice.done.replacen("Undone:", "This would be undone:", 1);
                notice.knowing([NOTHING_DONE.to_owned()])
            }
            Self::BackedUp { to, problems } => backed_up(to, problems),
            Self::Restored { from, kept } => {
                let notice = Notice::of(format!("Records restored from {}", from.display()));
                kept.iter().fold(notice, |notice, copy| {
                    notice.detail("what was there before", copy.display().to_string())
                })
            }
        }
    }
}

fn yarn_kept(yarn: &Yarn, notes: &[FieldNote], style: &Style) -> Notice {
    Notice::of(format!("{} saved", yarn.title()))
        .detail("known", facts_in_style(&yarn.facts, None, style))
        .knowing(style.notes(notes))
}

/// A ball without a label, with what there is of it.
fn ball_kept(yarn: &Yarn, line: Option<&StockLine>, style: &Style) -> Notice {
    let notice = Notice::of(format!("{} saved", yarn.title()))
        .detail("known", facts_in_style(&yarn.facts, None, style))
        .detail("measured", &yarn.notes);
    let notice = match line {
        Some(line) => notice
            .detail("in your stash", held_words(line))
            .detail("lot number", line.number.to_string()),
        None => notice,
    };
    let command = format!(
        "`understudy yarn edit \"{}\" --maker MAKER --name NAME`",
        safe(yarn.name.as_str())
    );
    let where_to = style.either(&command, "Edit on its page").to_owned();
    notice.knowing([format!("when you know its name, give it with {where_to}")])
}

/// What has another name, place or yarn now.
fn moved(change: &RecordChange) -> Notice {
    match change {
        RecordChange::YarnsMerged(merged) => yarns_merged(merged),
        RecordChange::ShadeRenamed {
            yarn,
            from,
            to,
            lots,
        } => Notice::of(format!("Shade {from} of {yarn} is now called {to}"))
            .detail("lots", lots.to_string()),
        RecordChange::LotMoved { amount, line } => lot_moved(*amount, line),
        RecordChange::Sold {
            amount,
            customer,
            line,
        } => sold(*amount, customer, line),
        RecordChange::AllReleased { what_for, released } => {
            let done = format!("Released: all that was reserved for {}", safe(what_for));
            released.iter().fold(Notice::of(done), |notice, it| {
                notice.detail("free again", reservation_words(it))
            })
        }
        RecordChange::LayoutForgotten { name } => {
            Notice::of(format!("Layout {} removed", safe(name)))
        }
        RecordChange::PatternRenamed { from, to } => {
            Notice::of(format!("Pattern {from} is now called {to}"))
        }
        _ => Notice::default(),
    }
}

/// `Moved to blue trunk: 3 balls of Ferrivale, Umberlin DK, slate, lot 4711`.
fn lot_moved(amount: Option<StockAmount>, line: &StockLine) -> Notice {
    let amount = amount.map_or_else(|| held(line), |amount| counted(amount, line));
    let (place, title) = (safe(&line.lot.place), line.title());
    Notice::of(format!("Moved to {place}: {amount} of {title}"))
        .detail("lot number", line.number.to_string())
        .detail("there now", held_words(line))
}

/// `Recorded: 6 balls sold to Anna. Left: 4 balls (480 m).`
fn sold(amount: StockAmount, customer: &str, line: &StockLine) -> Notice {
    let (amount, left) = (counted(amount, line), held_words(line));
    let whom = match customer {
        "" => String::new(),
        customer => format!(" to {}", safe(customer)),
    };
    let notice = Notice::of(format!("Recorded: {amount} sold{whom}. Left: {left}."))
        .detail("lot", line.title())
        .detail("lot number", line.number.to_string())
        .said_already("now held", left);
    match reserved(line) {
        Some(reserved) => notice.detail("reserved", reserved),
        None => notice,
    }
}

/// What the yarn that stays has now, and where both said something.
fn yarns_merged(merged: &YarnsMerged) -> Notice {
    let done = match merged.gone.as_str() {
        "" => format!("Merged into {}", merged.kept),
        gone => format!("{gone} merged into {}", merged.kept),
    };
    let counts = [
        ("lot", merged.lots),
        ("swatch", merged.swatches),
        ("project", merged.projects),
        ("pattern", merged.patterns),
    ];
    let moved = counts.into_iter().filter(|(_, count)| *count > 0);
    let moved = moved.map(|(what, count)| count_of_items(count, what));
    let moved: Vec<String> = moved.collect();
    let mut notice = Notice::of(done);
    if !moved.is_empty() {
        notice = notice.detail("moved with it", and_list(moved));
    }
    if !merged.filled.is_empty() {
        notice = notice.detail(
            "taken over",
            and_list(merged.filled.iter().map(|name| field_words(name))),
        );
    }
    let both = merged.conflicts.iter().map(|(field, kept, other)| {
        let (kept, other) = (safe(kept), safe(other));
        format!("{field} stays `{kept}`; the other said `{other}`, which is in the history")
    });
    notice
        .knowing(both)
        .knowing(doubled(merged.doubled, &merged.kept))
}

/// What became of swatches that held both yarns.
fn doubled(count: usize, kept: &str) -> Option<String> {
    let now = match count {
        0 => return None,
        1 => "it now holds",
        _ => "they now hold",
    };
    let swatches = count_of_items(count, "swatch");
    Some(format!(
        "{swatches} held both together: {now} {kept} more than once"
    ))
}

fn backed_up(to: &Path, problems: &[impl Display]) -> Notice {
    let done = format!("Backup written to {}", to.display());
    if problems.is_empty() {
        return Notice::of(done);
    }
    let done = format!("{done}, with faults that your records have: restore an older backup");
    Notice::of(done).knowing(problems.iter().map(ToString::to_string))
}

/// `Recorded: 2 skeins used. Left: 3 skeins (360 m).`
fn entered(
    (kind, amount): (EntryKind, StockAmount),
    line: &StockLine,
    beyond: &Option<Overpromise>,
    style: &Style,
) -> Notice {
    let shade = match shade_name(&line.lot, style) {
        none if none.is_empty() => none,
        shade => format!(", {shade}"),
    };
    let left = held_words(line);
    let amount = counted(amount, line);
    let done = format!("Recorded: {amount} {}. Left: {left}.", kind.name());
    let notice = Notice::of(done)
        .detail("yarn", format!("{}{shade}", line.yarn))
        .detail("lot number", line.number.to_string())
        .said_already("now held", left);
    let notice = match reserved(line) {
        Some(reserved) => notice.detail("reserved", reserved),
        None => notice,
    };
    match beyond {
        Some(beyond) => overpromised(notice, beyond, line.number, style),
        None => notice,
    }
}

/// `1 skein more is reserved than is there (reserved for Anna): to release it, run ...`.
fn overpromised(notice: Notice, beyond: &Overpromise, lot: i64, style: &Style) -> Notice {
    let amount = beyond.amount;
    let whom = match beyond.reserved_for.as_slice() {
        [] => String::new(),
        whom => format!(
            " (reserved for {})",
            and_list(whom.iter().map(|what| safe(what)))
        ),
    };
    let command = format!("run `understudy stock release {lot} \"{amount}\"`");
    let what_to_do = style.either(&command, "record it as released here");
    notice
        .said_already("reserved beyond what is there", amount.to_string())
        .knowing([format!(
            "{amount} more is reserved than is there{whom}: to release it, {what_to_do}"
        )])
}

/// `3 skeins (360 m)`.
pub(super) fn held_words(line: &StockLine) -> String {
    let length = line.length.map(|length| number(length.as_metres(), 0));
    let length = length.map_or_else(String::new, |metres| format!(" ({metres} m)"));
    format!("{}{length}", held(line))
}

impl ShortAnswer for Soundness {
    fn notice(&self, _: &Style) -> Notice {
        let sound = if self.problems.is_empty() {
            "sound"
        } else {
            "not sound"
        };
        let yarns = self.yarns.map(|count| count.to_string());
        Notice::of(format!("{} is {sound}", self.file.display()))
            .detail(
                "yarns",
                yarns.unwrap_or_else(|| "cannot be counted".to_owned()),
            )
            .knowing(self.problems.iter().map(ToString::to_string))
    }
}
