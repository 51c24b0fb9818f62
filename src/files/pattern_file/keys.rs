//! The keys of one table of the file: what is there, read or refused.

use super::syntax::Findings;
use crate::{
    label::cells::Cell,
    record::{Name, Printed},
    words::{did_you_mean, or_list},
};
use std::ops::Range;
use toml::{
    Spanned,
    de::{DeTable, DeValue},
};

/// One table of the file.
pub(in crate::files) struct Keys<'t, 'f> {
    table: &'f DeTable<'t>,
    /// Where it stands.
    pub at: Range<usize>,
    /// What messages call it: empty for the file itself, `size 2` for a size.
    called: String,
}

/// A value as text, and where it stands.
#[derive(Debug, Clone)]
pub(in crate::files) struct Text {
    /// The value.
    pub text: String,
    /// Its bytes in the file.
    pub at: Range<usize>,
}

impl<'t, 'f> Keys<'t, 'f> {
    /// The keys of `table`; those that are not `known` are reported.
    pub fn new(
        table: &'f DeTable<'t>,
        at: Range<usize>,
        called: String,
        known: &[&str],
        found: &mut Findings<'_>,
    ) -> Self {
        let keys = Self { table, at, called };
        for (key, _) in table {
            if !known.contains(&key.get_ref().as_ref()) {
                keys.unknown(key, known, found);
            }
        }
        keys
    }

    fn unknown(
        &self,
        key: &Spanned<std::borrow::Cow<'_, str>>,
        known: &[&str],
        found: &mut Findings<'_>,
    ) {
        let given = key.get_ref().as_ref();
        let near: Vec<String> = did_you_mean(given, known.iter().copied())
            .iter()
            .map(|name| format!("`{name}`"))
            .collect();
        let allowed = match near.is_empty() {
            true => format!("the keys here are {}", or_list(known)),
            false => format!("did you mean {}?", or_list(&near)),
        };
        found.fault(
            &key.span(),
            &self.named(""),
            given,
            "there is no such key",
            allowed,
        );
    }

    /// What messages call a key of this table.
    pub fn named(&self, key: &str) -> String {
        match (self.called.is_empty(), key.is_empty()) {
            (true, _) => key.to_owned(),
            (false, true) => self.called.clone(),
            (false, false) => format!("{}, {key}", self.called),
        }
    }

    /// A key's value as it stands.
    pub fn get(&self, key: &str) -> Option<&'f Spanned<DeValue<'t>>> {
        self.table.get(key)
    }

    /// A key's value as text; a number is its digits.
    pub fn text(&self, key: &str, found: &mut Findings<'_>) -> Option<Text> {
        let value = self.get(key)?;
        let text = as_text(value);
        if text.is_none() {
            let given = value.get_ref().type_str();
            found.fault(
                &value.span(),
                &self.named(key),
                given,
                "this is no text",
                "write text in double quotes",
            );
        }
        text
    }

    /// A key's value read; `None` where it is not there or bad.
    pub fn value<T>(
        &self,
        key: &str,
        read: impl Fn(&str) -> Cell<T>,
        found: &mut Findings<'_>,
    ) -> Option<Printed<T>> {
        let text = self.text(key, found)?;
        self.read(key, &text, read, found)
    }

    /// A text of this key read; `None` where it is bad.
    pub fn read<T>(
        &self,
        key: &str,
        text: &Text,
        read: impl Fn(&str) -> Cell<T>,
        found: &mut Findings<'_>,
    ) -> Option<Printed<T>> {
        match read(&text.text) {
            Ok(reading) => {
                for note in reading.notes {
                    found.note(&text.at, &self.named(key), note.message);
                }
                Some(Printed::new(text.text.clone(), reading.value))
            }
            Err(error) => {
                found.fault(
                    &text.at,
                    &self.named(key),
                    &error.given,
                    error.why,
                    format!("write {}", error.allowed),
                );
                None
            }
        }
    }

    /// Reports a key that must be there and is not.
    pub fn lacks(&self, key: &str, allowed: &str, found: &mut Findings<'_>) {
        let why = format!("`{key}` is not given");
        found.fault(&self.at, &self.named(""), "", why, allowed);
    }

    /// As [`Self::value`], for a key that must be there.
    pub fn needed<T>(
        &self,
        key: &str,
        allowed: &str,
        read: impl Fn(&str) -> Cell<T>,
        found: &mut Findings<'_>,
    ) -> Option<Printed<T>> {
        if self.get(key).is_none() {
            self.lacks(key, allowed, found);
        }
        self.value(key, read, found)
    }

    /// A name that must be there.
    pub fn name(&self, key: &'static str, allowed: &str, found: &mut Findings<'_>) -> Option<Name> {
        if self.get(key).is_none() {
            self.lacks(key, allowed, found);
        }
        let text = self.text(key, found)?;
        match Name::new("a name", &text.text) {
            Ok(name) => Some(name),
            Err(error) => {
                found.fault(
                    &text.at,
                    &self.named(key),
                    &text.text,
                    error.to_string(),
                    allowed,
                );
                None
            }
        }
    }

    /// A whole number from 1.
    pub fn whole<N: std::str::FromStr + PartialOrd + From<u8>>(
        &self,
        key: &str,
        found: &mut Findings<'_>,
    ) -> Option<N> {
        let text = self.text(key, found)?;
        let number = text.text.trim().parse().ok().filter(|n| *n >= N::from(1));
        if number.is_none() {
            found.fault(
                &text.at,
                &self.named(key),
                &text.text,
                "this is no number of these",
                "write a whole number from 1",
            );
        }
        number
    }

    /// `true` or `false`, or the same in words.
    pub fn yes_no(
        &self,
        key: &str,
        read: impl Fn(&str) -> Cell<bool>,
        found: &mut Findings<'_>,
    ) -> Option<bool> {
        match self.get(key)?.get_ref() {
            DeValue::Boolean(given) => Some(*given),
            _ => self.value(key, read, found).map(|cell| cell.value),
        }
    }

    /// The tables of a `[[key]]`.
    pub fn tables(&self, key: &str, known: &[&str], found: &mut Findings<'_>) -> Vec<Keys<'t, 'f>> {
        let Some(value) = self.get(key) else {
            return Vec::new();
        };
        let items: Vec<&Spanned<DeValue<'t>>> = match value.get_ref() {
            DeValue::Array(items) => items.iter().collect(),
            _ => vec![value],
        };
        let tables = items.into_iter().enumerate();
        tables
            .filter_map(|(index, item)| {
                let called = format!("{key} {}", index + 1);
                match item.get_ref().as_table() {
                    Some(table) => Some(Keys::new(table, item.span(), called, known, found)),
                    None => {
                        let allowed = format!("begin each with a line `[[{key}]]`");
                        let given = item.get_ref().type_str();
                        found.fault(&item.span(), &called, given, "this is no table", allowed);
                        None
                    }
                }
            })
            .collect()
    }
}

/// A text or a number as text.
pub(in crate::files) fn as_text(value: &Spanned<DeValue<'_>>) -> Option<Text> {
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
