//! Values that may differ by size: one text for all, or a list in their order.

use crate::{
    files::toml_reader::{Keys, Text, as_text},
    label::cells::Cell,
    words::count_of,
};
use toml::de::DeValue;

/// A value for each size, and whether it was given as a list.
pub(super) struct SizeValues<T> {
    pub values: Vec<T>,
    pub listed: bool,
}

/// The value in the size at `place`, where it was given.
pub(super) fn at<T: Clone>(values: &Option<SizeValues<T>>, place: usize) -> Option<T> {
    values.as_ref()?.values.get(place).cloned()
}

/// The value of `key` in each of `sizes` sizes; `None` where it is not there or
/// bad.
pub(super) fn by_size<T: Clone>(
    keys: &Keys<'_>,
    key: &str,
    sizes: usize,
    read: impl Fn(&str) -> Cell<T>,
) -> Option<SizeValues<T>> {
    let value = keys.get(key)?;
    let DeValue::Array(items) = value.get_ref() else {
        let one = keys.value(key, read)?.value;
        return Some(SizeValues {
            values: vec![one; sizes],
            listed: false,
        });
    };
    let texts: Vec<Option<Text>> = items.iter().map(as_text).collect();
    let allowed = "write one text for all sizes, or a list with one for each";
    if texts.len() != sizes || texts.iter().any(Option::is_none) {
        let count =
            |n: usize, word| count_of(f64::from(u32::try_from(n).unwrap_or(u32::MAX)), word);
        let why = format!(
            "the list holds {} for {}",
            count(texts.len(), "value"),
            count(sizes, "size")
        );
        keys.fault(key, "", why, allowed);
        return None;
    }
    let read: Vec<Option<T>> = texts
        .iter()
        .flatten()
        .map(|text| keys.read(key, text, &read).map(|cell| cell.value))
        .collect();
    Some(SizeValues {
        values: read.into_iter().collect::<Option<_>>()?,
        listed: true,
    })
}

/// As [`by_size`], for a key that must be there.
pub(super) fn needed<T: Clone>(
    keys: &Keys<'_>,
    key: &str,
    sizes: usize,
    read: impl Fn(&str) -> Cell<T>,
) -> Option<SizeValues<T>> {
    if !keys.has(key) {
        keys.lacks(key, "give it as text, or as a list with one for each size");
    }
    by_size(keys, key, sizes, read)
}
