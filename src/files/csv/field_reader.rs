//! The fields of one record, by the names of its columns, whether they stand in a
//! row of a table or in a form: each is read, and what is wrong is gathered.

use super::header::{ColumnPlace, Header};
use crate::{
    files::{
        CellFault, CellNote, Place,
        value::{Value, too_long},
    },
    label::{
        cells::Cell,
        reading::{NoteKind, ReadError},
    },
    record::{Name, Printed},
    words::fold,
};
use std::{
    any::{Any, TypeId},
    borrow::Cow,
    cell::RefCell,
    collections::HashMap,
};

/// What a field says where the label does not give the value.
pub(super) const UNKNOWN: &str = "unknown";

/// The texts of one record, what is wrong with them and notes.
pub struct FieldReader<'r> {
    header: &'r Header,
    /// In the order of the header.
    texts: Vec<&'r str>,
    place: Option<Place>,
    cache: Option<&'r RefCell<CellCache>>,
    faults: Vec<CellFault>,
    notes: Vec<CellNote>,
}

impl<'r> FieldReader<'r> {
    /// The texts of a form.
    pub(super) fn of_form(header: &'r Header, texts: Vec<&'r str>) -> Self {
        Self {
            header,
            texts,
            place: None,
            cache: None,
            faults: Vec::new(),
            notes: Vec::new(),
        }
    }

    /// The cells of a row; `cache` holds what cells of rows before said.
    pub(super) fn of_row(
        header: &'r Header,
        texts: Vec<&'r str>,
        line: u64,
        cache: &'r RefCell<CellCache>,
    ) -> Self {
        Self {
            place: Some(Place::line(line)),
            cache: Some(cache),
            ..Self::of_form(header, texts)
        }
    }

    /// The text of a field; empty where there is no such column.
    pub(super) fn text(&self, column: &str) -> &'r str {
        let place = self.header.column(column);
        place
            .and_then(|place| self.texts.get(place.index))
            .copied()
            .unwrap_or("")
    }

    /// The text of a field with a bare number given the unit of the header.
    fn with_unit(&self, place: &ColumnPlace) -> Cow<'r, str> {
        let text = self.texts.get(place.index).copied().unwrap_or("");
        match &place.unit {
            Some(unit) if is_bare_number(text) => Cow::Owned(format!("{text} {unit}")),
            _ => Cow::Borrowed(text),
        }
    }

    /// Whether a field is empty.
    pub(super) fn is_empty(&self, column: &str) -> bool {
        self.text(column).is_empty()
    }

    /// Whether a field says something else than that its value is not known.
    pub(super) fn is_given(&self, column: &str) -> bool {
        !self.is_empty(column) && fold(self.text(column)) != UNKNOWN
    }

    /// The value of a field beside its text; `None` where it is empty, unknown or
    /// bad.
    pub(super) fn printed<T: Value + Clone + 'static>(
        &mut self,
        column: &'static str,
    ) -> Option<Printed<T>> {
        self.value(column, T::read)
    }

    /// As [`Self::printed`], read by `read`.
    pub(super) fn value<T: Clone + 'static>(
        &mut self,
        column: &'static str,
        read: fn(&str) -> Cell<T>,
    ) -> Option<Printed<T>> {
        let value = self.try_value(column, read)?;
        value.map_err(|error| self.bad(column, error)).ok()
    }

    /// As [`Self::value`], with what is wrong left to the caller.
    pub(super) fn try_value<T: Clone + 'static>(
        &mut self,
        column: &'static str,
        read: fn(&str) -> Cell<T>,
    ) -> Option<Result<Printed<T>, ReadError>> {
        let header = self.header;
        let place = header.column(column)?;
        let text = self.with_unit(place);
        if text.is_empty() {
            return None;
        }
        if let Some((why, allowed)) = too_long(&text) {
            self.refuse(column, why, allowed);
            return None;
        }
        let new = |text: &str| (fold(text) != UNKNOWN).then(|| read(text));
        let cell = match self.cache {
            Some(cache) => cache.borrow_mut().recall(place.index, &text, new)?,
            None => new(&text)?,
        };
        Some(cell.map(|reading| {
            for note in reading.notes {
                self.note(column, note);
            }
            Printed::new(text, reading.value)
        }))
    }

    /// A name, which must be there.
    pub(super) fn name(&mut self, column: &'static str) -> Option<Name> {
        let text = self.text(column);
        if text.is_empty() {
            self.refuse(column, "it is empty", "write a name");
            return None;
        }
        let name = Name::new(column, text);
        name.map_err(|error| self.refuse(column, error.to_string(), "shorten it"))
            .ok()
    }

    /// Reports what reading a field met.
    pub(super) fn bad(&mut self, column: &str, error: ReadError) {
        self.fault(CellFault::from_reading(column, error));
    }

    /// Reports a bad field.
    pub(super) fn refuse(
        &mut self,
        column: &str,
        why: impl Into<String>,
        allowed: impl Into<String>,
    ) {
        let given = self.text(column);
        self.fault(CellFault::new(column, given, why, allowed));
    }

    fn fault(&mut self, fault: CellFault) {
        self.faults.push(fault.at(self.place));
    }

    /// Reports a note.
    pub(super) fn note(&mut self, column: &str, kind: impl Into<NoteKind>) {
        self.notes.push(CellNote::new(self.place, column, kind));
    }

    /// The record where nothing is wrong, else every fault in the order of the
    /// columns; and notes.
    pub(super) fn finish<T>(
        mut self,
        record: Option<T>,
    ) -> (Result<T, Vec<CellFault>>, Vec<CellNote>) {
        let header = self.header;
        self.faults
            .sort_by_key(|fault| header.column(&fault.field).map(|place| place.index));
        match record {
            Some(record) if self.faults.is_empty() => (Ok(record), self.notes),
            _ => (Err(self.faults), self.notes),
        }
    }
}

/// Digits, and what stands within and around numbers; no unit.
fn is_bare_number(text: &str) -> bool {
    let belongs = |c: char| {
        c.is_numeric()
            || c.is_whitespace()
            || matches!(c, '.' | ',' | '-' | '\u{2013}' | '/' | '~' | '\u{2248}')
    };
    text.chars().all(belongs) && text.contains(char::is_numeric)
}

/// Texts that are remembered of one column, so that memory stays flat.
const MOST: usize = 4096;

/// The longest text that is remembered, bytes.
const LONGEST: usize = 100;

type Texts = HashMap<String, Box<dyn Any>>;

/// What cells of each column, read as values of one type, were found to say: a table says
/// the same few things over and over. The import of 200,000 yarns takes 1.9 s with them
/// and 3.5 s without (`benches/million.sh`).
#[derive(Default)]
pub(super) struct CellCache(Vec<((usize, TypeId), Texts)>);

impl CellCache {
    /// What `text` says in the column at `place`, by `read` where it is new; `None` is a cell
    /// that says that nothing is known.
    pub fn recall<T: Clone + 'static>(
        &mut self,
        place: usize,
        text: &str,
        read: impl FnOnce(&str) -> Option<Cell<T>>,
    ) -> Option<Cell<T>> {
        let column = (place, TypeId::of::<T>());
        if !self.0.iter().any(|(known, _)| *known == column) {
            self.0.push((column, Texts::default()));
        }
        // Of so few each is looked at sooner than one is hashed.
        let (_, texts) = self.0.iter_mut().find(|(known, _)| *known == column)?;
        let known = texts.get(text).and_then(|said| said.downcast_ref());
        if let Some(said) = known {
            return Option::<Cell<T>>::clone(said);
        }
        let said = read(text);
        if texts.len() < MOST && text.len() <= LONGEST {
            texts.insert(text.to_owned(), Box::new(said.clone()));
        }
        said
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_bare_number_has_no_unit_in_any_script() {
        for text in ["125", "12,5", "1 250", "3.25-3.75", "1½", "1 3/4"] {
            assert!(is_bare_number(text), "{text}");
        }
        for text in ["125 m", "US 6", "", "-", "£6", "4\""] {
            assert!(!is_bare_number(text), "{text}");
        }
    }
}

#[cfg(test)]
mod cell_cache_tests {
    use super::*;
    use crate::label::cells;

    #[test]
    fn a_text_is_read_once_and_means_the_same_again() {
        let mut cache = CellCache::default();
        let mut times = 0;
        for text in ["125 m", "125 quills", "125 m", "125 quills"] {
            let said = cache.recall(0, text, |text| {
                times += 1;
                Some(cells::length(text))
            });
            assert_eq!(said, Some(cells::length(text)));
        }
        assert_eq!(times, 2);
    }

    #[test]
    fn a_column_may_be_read_as_one_thing_or_another() {
        let mut cache = CellCache::default();
        let length = cache.recall(0, "2/14 Nm", |text| Some(cells::length(text)));
        let count = cache.recall(0, "2/14 Nm", |text| Some(cells::count(text)));
        assert!(length.is_some_and(|said| said.is_err()));
        assert_eq!(count, Some(cells::count("2/14 Nm")));
    }

    #[test]
    fn only_so_many_texts_are_remembered() {
        let mut cache = CellCache::default();
        for number in 0..MOST + 9 {
            cache.recall(0, &format!("{number} m"), |text| Some(cells::length(text)));
        }
        assert!(cache.0.iter().all(|(_, texts)| texts.len() == MOST));
    }
}
