//! A TOML file read key by key: each value as text with its place, everything that
//! is wrong with them gathered, keys that nobody asked for among it.

use super::{
    CellFault, CellNote, FileError,
    text::text_of,
    toml_findings::{Findings, Lines},
    value::{Value, too_long},
};
use crate::{
    label::{cells::Cell, reading::NoteKind},
    record::{Name, Printed},
    words::{did_you_mean, fold, or_list},
};
use std::{borrow::Cow, cell::RefCell, collections::HashSet, ops::Range};
use toml::{
    Spanned,
    de::{DeTable, DeValue, Error},
};

/// The most bytes of a file. A pattern of twenty sizes and ten yarns has some ten
/// thousand; more is no pattern, and would take long to say so.
pub(super) const MOST_BYTES: usize = 1024 * 1024;

/// The most tables of one kind, and the most sizes: patterns have some twenty. What
/// is held against each other, table by table, stays within reach so.
pub(super) const MOST_TABLES: usize = 200;

/// Reads a file whole, or says all that is wrong with it, in the order of the file.
/// `known` are the keys of the file itself, with spaces between; `read` gives `None` only where it has
/// reported why. `file` is what messages call it.
pub(super) fn read_toml<T>(
    file: &str,
    bytes: &[u8],
    known: &str,
    read: impl FnOnce(&Keys<'_>) -> Option<T>,
) -> Result<(T, Vec<CellNote>), FileError> {
    if bytes.len() > MOST_BYTES {
        return Err(FileError::too_long(file, MOST_BYTES));
    }
    let text = text_of(file, bytes)?;
    let found = RefCell::default();
    let lines = Lines::of(text);
    let (tree, errors) = DeTable::parse_recoverable(text);
    no_toml(&lines, &errors, &found);
    let keys = || Keys::new(tree.get_ref(), 0..0, String::new(), known, &found);
    let value = errors.is_empty().then(keys).and_then(|keys| read(&keys));
    let found = found.into_inner();
    let count = found.count;
    let (faults, notes) = found.placed(&lines);
    match value {
        Some(value) if faults.is_empty() => Ok((value, notes)),
        _ => Err(FileError::Faults {
            file: file.to_owned(),
            more: count.saturating_sub(faults.len()),
            faults,
        }),
    }
}

/// Reports what is no TOML, the first of each line.
fn no_toml(lines: &Lines<'_>, errors: &[Error], found: &RefCell<Findings>) {
    let mut seen = HashSet::new();
    for error in errors {
        let start = error.span().map_or(0, |span| span.start);
        if seen.insert(lines.number(start)) {
            found.borrow_mut().fault(start, || {
                let allowed = "write `key = \"text\"`, one per line; text in double quotes, numbers, true and false without";
                CellFault::new("", lines.rest(start), error.message(), allowed)
            });
        }
    }
}

/// The keys of one table of a file.
pub(super) struct Keys<'f> {
    table: &'f DeTable<'f>,
    /// Where it stands.
    at: Range<usize>,
    /// What messages call it: empty for the file itself, `size 2` for a size.
    called: String,
    found: &'f RefCell<Findings>,
}

/// A value as text, and where it stands.
#[derive(Debug, Clone)]
pub(super) struct Text {
    /// The value.
    pub text: String,
    /// Its bytes in the file.
    pub at: Range<usize>,
}

impl<'f> Keys<'f> {
    /// The keys of `table`; those that are not `known` are reported.
    fn new(
        table: &'f DeTable<'f>,
        at: Range<usize>,
        called: String,
        known: &str,
        found: &'f RefCell<Findings>,
    ) -> Self {
        let keys = Self {
            table,
            at,
            called,
            found,
        };
        for (key, _) in table {
            if !known.split_whitespace().any(|known| known == key.get_ref()) {
                keys.unknown(key, known);
            }
        }
        keys
    }

    fn unknown(&self, key: &Spanned<Cow<'_, str>>, known: &str) {
        let given = key.get_ref().as_ref();
        let known: Vec<&str> = known.split_whitespace().collect();
        let near = did_you_mean(given, known.iter().copied());
        let near: Vec<String> = near.iter().map(|name| format!("`{name}`")).collect();
        let allowed = if near.is_empty() {
            format!("the keys here are {}", or_list(&known))
        } else {
            format!("did you mean {}?", or_list(&near))
        };
        self.fault_at(&key.span(), "", given, "there is no such key", allowed);
    }

    /// What messages call a key of this table.
    fn named(&self, key: &str) -> String {
        match (self.called.is_empty(), key.is_empty()) {
            (true, _) => key.to_owned(),
            (false, true) => self.called.clone(),
            (false, false) => format!("{}, {key}", self.called),
        }
    }

    /// Reports what is wrong with bytes of the file that belong to `key`.
    pub fn fault_at(
        &self,
        at: &Range<usize>,
        key: &str,
        given: &str,
        why: impl Into<String>,
        allowed: impl Into<String>,
    ) {
        let fault = || CellFault::new(&self.named(key), given, why, allowed);
        self.found.borrow_mut().fault(at.start, fault);
    }

    /// Reports what is wrong with a key's value.
    pub fn fault(
        &self,
        key: &str,
        given: &str,
        why: impl Into<String>,
        allowed: impl Into<String>,
    ) {
        self.fault_at(&self.span(key), key, given, why, allowed);
    }

    /// Reports what is wrong with the table as a whole.
    pub fn fault_here(&self, why: impl Into<String>, allowed: impl Into<String>) {
        self.fault_at(&self.at, "", "", why, allowed);
    }

    /// Reports a key that must be there and is not.
    pub fn lacks(&self, key: &str, allowed: &str) {
        self.fault_here(format!("`{key}` is not given"), allowed);
    }

    /// Reports a note about the table.
    pub fn note(&self, kind: impl Into<NoteKind>) {
        self.note_at(&self.at, "", kind);
    }

    fn note_at(&self, at: &Range<usize>, key: &str, kind: impl Into<NoteKind>) {
        let note = CellNote::new(None, &self.named(key), kind);
        self.found.borrow_mut().notes.push((at.start, note));
    }

    /// Whether nothing is wrong with the file so far.
    pub fn is_sound(&self) -> bool {
        self.found.borrow().count == 0
    }

    /// A key's value as it stands.
    pub fn get(&self, key: &str) -> Option<&'f Spanned<DeValue<'f>>> {
        self.table.get(key)
    }

    /// Whether a key is there.
    pub fn has(&self, key: &str) -> bool {
        self.get(key).is_some()
    }

    /// Where a key's value stands; the table where it is not there.
    fn span(&self, key: &str) -> Range<usize> {
        self.get(key).map_or(self.at.clone(), Spanned::span)
    }

    /// A key's value as text; a number is its digits.
    pub fn text(&self, key: &str) -> Option<Text> {
        let value = self.get(key)?;
        let text = as_text(value);
        if text.is_none() {
            let given = value.get_ref().type_str();
            let allowed = "write text in double quotes";
            self.fault(key, given, "this is not text", allowed);
        }
        text
    }

    /// As [`Self::printed`], read by `read`.
    pub fn value<T>(&self, key: &str, read: impl Fn(&str) -> Cell<T>) -> Option<Printed<T>> {
        self.read(key, &self.text(key)?, read)
    }

    /// A key's value beside its text; `None` where it is not there or bad.
    pub fn printed<T: Value>(&self, key: &str) -> Option<Printed<T>> {
        self.value(key, T::read)
    }

    /// A text of this key read; `None` where it is bad.
    pub fn read<T>(
        &self,
        key: &str,
        text: &Text,
        read: impl Fn(&str) -> Cell<T>,
    ) -> Option<Printed<T>> {
        if let Some((why, allowed)) = too_long(&text.text) {
            self.fault_at(&text.at, key, &text.text, why, allowed);
            return None;
        }
        match read(&text.text) {
            Ok(reading) => {
                for note in reading.notes {
                    self.note_at(&text.at, key, note);
                }
                Some(Printed::new(text.text.clone(), reading.value))
            }
            Err(error) => {
                let fault = || CellFault::from_reading(&self.named(key), error);
                self.found.borrow_mut().fault(text.at.start, fault);
                None
            }
        }
    }

    /// As [`Self::value`], for a key that must be there.
    pub fn needed<T>(
        &self,
        key: &str,
        allowed: &str,
        read: impl Fn(&str) -> Cell<T>,
    ) -> Option<Printed<T>> {
        if !self.has(key) {
            self.lacks(key, allowed);
        }
        self.value(key, read)
    }

    /// A name that must be there.
    pub fn name(&self, key: &str, allowed: &str) -> Option<Name> {
        if !self.has(key) {
            self.lacks(key, allowed);
        }
        let text = self.text(key)?.text;
        let name = Name::new("a name", &text);
        name.map_err(|error| self.fault(key, &text, error.to_string(), allowed))
            .ok()
    }

    /// A whole number from 1.
    pub fn whole<N: std::str::FromStr + PartialOrd + From<u8>>(&self, key: &str) -> Option<N> {
        let text = self.text(key)?.text;
        let number = text.trim().parse().ok().filter(|n| *n >= N::from(1));
        if number.is_none() {
            let allowed = "write a whole number from 1";
            self.fault(key, &text, "this is not a whole number", allowed);
        }
        number
    }

    /// `true` or `false`, or the same in words.
    pub fn yes_no(&self, key: &str, read: impl Fn(&str) -> Cell<bool>) -> Option<bool> {
        match self.get(key)?.get_ref() {
            DeValue::Boolean(given) => Some(*given),
            _ => self.value(key, read).map(|cell| cell.value),
        }
    }

    /// The values of a list; a single value is a list of one.
    pub fn items(&self, key: &str) -> Vec<&'f Spanned<DeValue<'f>>> {
        match self.get(key) {
            Some(value) => match value.get_ref() {
                DeValue::Array(items) => items.iter().collect(),
                _ => vec![value],
            },
            None => Vec::new(),
        }
    }

    /// Every table of a `[[key]]` read; `None` where one is bad.
    pub fn each<T>(
        &self,
        key: &str,
        known: &str,
        read: impl FnMut(&Keys<'f>) -> Option<T>,
    ) -> Option<Vec<T>> {
        let read: Vec<Option<T>> = self.tables(key, known).iter().map(read).collect();
        read.into_iter().collect()
    }

    /// The same of tables whose names, under `called`, stand once each.
    pub fn each_named<T>(
        &self,
        key: &str,
        known: &str,
        (called, name_of): (&str, fn(&T) -> &Name),
        read: impl FnMut(&Keys<'f>) -> Option<T>,
    ) -> Option<Vec<T>> {
        let tables = self.tables(key, known);
        let read: Vec<Option<T>> = tables.iter().map(read).collect();
        let mut seen = HashSet::new();
        for (table, record) in tables.iter().zip(&read) {
            let name = record.as_ref().map(|record| name_of(record).as_str());
            if let Some(name) = name.filter(|name| !seen.insert(fold(name))) {
                let why = "this name is there twice";
                table.fault(called, name, why, "give each its own name");
            }
        }
        read.into_iter().collect()
    }

    /// The tables of a `[[key]]`.
    fn tables(&self, key: &str, known: &str) -> Vec<Keys<'f>> {
        let table = |(index, item): (usize, &'f Spanned<DeValue<'f>>)| {
            let called = format!("{key} {}", index + 1);
            if let Some(table) = item.get_ref().as_table() {
                return Some(Keys::new(table, item.span(), called, known, self.found));
            }
            let given = item.get_ref().type_str();
            let allowed = format!("begin each with a line `[[{key}]]`");
            self.fault_at(&item.span(), &called, given, "this is not a table", allowed);
            None
        };
        let items = self.items(key);
        if items.len() > MOST_TABLES {
            let why = format!("there are {} of them", items.len());
            self.fault(key, "", why, format!("write at most {MOST_TABLES}"));
            return Vec::new();
        }
        items.into_iter().enumerate().filter_map(table).collect()
    }
}

/// A text or a number as text.
pub(super) fn as_text(value: &Spanned<DeValue<'_>>) -> Option<Text> {
    let text = match value.get_ref() {
        DeValue::String(text) => text.to_string(),
        DeValue::Integer(number) => number.to_string(),
        DeValue::Float(number) => number.to_string(),
        _ => return None,
    };
    Some(Text {
        text,
        at: value.span(),
    })
}

#[cfg(test)]
mod tests {
    use super::super::error::LISTED;
    use super::*;

    /// Faults of `text` that are told, and how many there are more.
    fn faults(text: &str) -> (Vec<CellFault>, usize) {
        match read_toml("t.toml", text.as_bytes(), "other", |_| Some(())) {
            Err(FileError::Faults { faults, more, .. }) => (faults, more),
            read => panic!("{read:?}"),
        }
    }

    #[test]
    fn the_first_faults_of_a_file_are_told_and_the_rest_is_counted() {
        let text: String = (0..20_000).map(|n| format!("key{n} = {n}\n")).collect();
        let (faults, more) = faults(&text);
        assert_eq!((faults.len(), more), (LISTED, 20_000 - LISTED));
        let lines: Vec<u64> = faults.iter().map(|f| f.place.unwrap().line).collect();
        assert_eq!(lines, (1..=20).collect::<Vec<u64>>());
    }

    /// Every fault of such a line was told with the whole rest of the line, 10.8 s for
    /// 32 KB.
    #[test]
    fn a_line_of_nothing_but_faults_is_one_fault_and_its_message_short() {
        for line in ["=", "\"\\q", "[", "a = \"\\q\\q"] {
            let (faults, more) = faults(&line.repeat(10_000));
            assert_eq!((faults.len(), more), (1, 0), "{line}");
            assert!(faults[0].to_string().len() < 600, "{line}");
        }
    }

    #[test]
    fn a_fault_that_is_only_counted_costs_no_message() {
        let made = RefCell::new(0);
        let mut found = Findings::default();
        for byte in 0..1_000 {
            found.fault(byte, || {
                *made.borrow_mut() += 1;
                CellFault::new("", "", "wrong", "right")
            });
        }
        assert_eq!((found.count, made.into_inner()), (1_000, LISTED));
    }

    #[test]
    fn a_file_too_long_a_value_too_long_and_too_many_tables_are_refused() {
        let long = "#".repeat(MOST_BYTES + 1);
        let read = read_toml("t.toml", long.as_bytes(), "", |_| Some(()));
        assert!(matches!(read, Err(FileError::TooLong { .. })), "{read:?}");
        let value = format!(
            "a = \"{}\"",
            "m".repeat(super::super::value::MOST_VALUE + 1)
        );
        let read = read_toml("t.toml", value.as_bytes(), "a", |keys| {
            keys.value("a", crate::label::cells::mass)
        });
        assert!(read.unwrap_err().to_string().contains("4096"));
        let tables = "[[a]]\n".repeat(MOST_TABLES + 1);
        let read = read_toml("t.toml", tables.as_bytes(), "a", |keys| {
            keys.each("a", "", |_| Some(()))
        });
        assert!(read.unwrap_err().to_string().contains("201 of them"));
    }

    #[test]
    fn what_is_no_toml_is_told_once_a_line() {
        let (faults, _) = faults("a = = =\nother = 1\nc [[ = ]\n");
        let lines: Vec<u64> = faults.iter().map(|f| f.place.unwrap().line).collect();
        assert_eq!(lines, [1, 3]);
    }
}
