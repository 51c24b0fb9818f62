//! Cells that were read before: a table says the same few things over and over,
//! and the same text in the same column means the same. The import of 200,000 yarns takes 1.9 s
//! with them and 3.5 s without (`benches/million.sh`).

use crate::label::cells::Cell;
use std::{
    any::{Any, TypeId},
    collections::HashMap,
};

/// Texts that are remembered of one column, so that memory stays flat.
const MOST: usize = 4096;

/// The longest text that is remembered, bytes.
const LONGEST: usize = 100;

type Texts = HashMap<String, Box<dyn Any>>;

/// What cells of each column, read as values of one type, were found to say.
#[derive(Default)]
pub(super) struct CellCache(HashMap<(&'static str, TypeId), Texts>);

impl CellCache {
    /// What `text` says in `column`, by `read` where it is new; `None` is a cell
    /// that says that nothing is known.
    pub fn recall<T: Clone + 'static>(
        &mut self,
        column: &'static str,
        text: &str,
        read: impl FnOnce(&str) -> Option<Cell<T>>,
    ) -> Option<Cell<T>> {
        let texts = self.0.entry((column, TypeId::of::<T>())).or_default();
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
    use crate::label::cells;

    #[test]
    fn a_text_is_read_once_and_means_the_same_again() {
        let mut cache = CellCache::default();
        let mut times = 0;
        for text in ["125 m", "125 quills", "125 m", "125 quills"] {
            let said = cache.recall("length", text, |text| {
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
        let length = cache.recall("length", "2/14 Nm", |text| Some(cells::length(text)));
        let count = cache.recall("length", "2/14 Nm", |text| Some(cells::count(text)));
        assert!(length.is_some_and(|said| said.is_err()));
        assert_eq!(count, Some(cells::count("2/14 Nm")));
    }

    #[test]
    fn only_so_many_texts_are_remembered() {
        let mut cache = CellCache::default();
        for number in 0..MOST + 9 {
            cache.recall("length", &format!("{number} m"), |text| {
                Some(cells::length(text))
            });
        }
        assert!(cache.0.values().all(|texts| texts.len() == MOST));
    }
}
