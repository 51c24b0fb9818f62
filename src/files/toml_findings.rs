//! What is wrong with a TOML file and notes about it, gathered in the order of the
//! file, with the lines of its text.

use super::{CellFault, CellNote, Place, error::LISTED};
use std::collections::BTreeMap;

/// The most notes that are told; the rest is counted.
const NOTES: usize = 100;

/// What was found in a file, each with the byte at which it stands. The first faults
/// of the file are held, and all are counted: their number may be that of its lines.
#[derive(Default)]
pub(super) struct Findings {
    /// By their byte, and the order in which they were found.
    faults: BTreeMap<(usize, usize), CellFault>,
    pub(super) count: usize,
    pub(super) notes: Vec<(usize, CellNote)>,
}

impl Findings {
    /// Counts a fault; it is made only where it is one of the first of the file.
    pub(super) fn fault(&mut self, byte: usize, fault: impl FnOnce() -> CellFault) {
        let place = (byte, self.count);
        self.count += 1;
        let full = self.faults.len() >= LISTED;
        let last = self.faults.last_key_value().map(|(last, _)| *last);
        if full && last.is_some_and(|last| last < place) {
            return;
        }
        self.faults.insert(place, fault());
        if full {
            self.faults.pop_last();
        }
    }

    /// Everything in the order of the file, with its place.
    pub(super) fn placed(mut self, lines: &Lines<'_>) -> (Vec<CellFault>, Vec<CellNote>) {
        self.notes.sort_by_key(|(byte, _)| *byte);
        let faults = self.faults.into_iter();
        let faults = faults.map(|((byte, _), fault)| fault.at(lines.place(byte)));
        let more = self.notes.len().saturating_sub(NOTES);
        let notes = self.notes.into_iter().take(NOTES);
        let notes = notes.map(|(byte, note)| CellNote {
            place: Some(Place::line(lines.number(byte))),
            ..note
        });
        let more = (more > 0).then(|| CellNote::new(None, "", format!("{more} more notes")));
        (faults.collect(), notes.chain(more).collect())
    }
}

/// The lines of a text, counted once.
pub(super) struct Lines<'t> {
    text: &'t str,
    /// The byte at which each starts.
    starts: Vec<usize>,
}

impl<'t> Lines<'t> {
    pub(super) fn of(text: &'t str) -> Self {
        let ends = text.match_indices('\n').map(|(byte, _)| byte + 1);
        let starts = std::iter::once(0).chain(ends).collect();
        Self { text, starts }
    }

    /// The line of a byte, from 1.
    pub(super) fn number(&self, byte: usize) -> u64 {
        let before = self.starts.partition_point(|start| *start <= byte);
        u64::try_from(before).unwrap_or(u64::MAX)
    }

    /// Line and character of a byte.
    pub(super) fn place(&self, byte: usize) -> Place {
        let before = self.starts.partition_point(|start| *start <= byte);
        let start = self.starts.get(before.saturating_sub(1)).copied();
        let within = self.text.get(start.unwrap_or(0)..byte).unwrap_or("");
        Place {
            line: self.number(byte),
            character: u64::try_from(within.chars().count() + 1).ok(),
        }
    }

    /// What stands in its line from a byte on.
    pub(super) fn rest(&self, byte: usize) -> &'t str {
        let rest = self.text.get(byte..).unwrap_or("");
        rest.lines().next().unwrap_or("")
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn places_are_counted_in_letters_and_from_one() {
        let lines = Lines::of("é = 1\n\nb = 2");
        let at = |line, character| Place {
            line,
            character: Some(character),
        };
        assert_eq!(lines.place(0), at(1, 1));
        assert_eq!(lines.place(3), at(1, 3));
        assert_eq!(lines.place(8), at(3, 1));
    }
}
