//! Finding yarns by name, misspelt or not.
//!
//! What is found by likeness is marked, so that it is shown as such and never
//! silently taken.

use super::{
    Reader, StoreError,
    cells::Taken,
    key::key,
    letters::{Letters, same_at_first},
};
use crate::{
    record::{Id, Stored, Yarn},
    words::WORTH_ASKING,
};
use ordered_float::OrderedFloat;
use std::cell::RefCell;

/// How a yarn was found, best first.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Found {
    /// The text is its name, with or without its maker.
    Exact,
    /// Every word of the text stands in maker and name.
    Contains,
    /// The text is only like it.
    ByLikeness,
}

/// A yarn and how it was found.
#[derive(Debug, Clone, PartialEq)]
pub struct Hit {
    /// The yarn.
    pub yarn: Stored<Yarn>,
    /// How it was found.
    pub found: Found,
}

/// The order of hits: how found, the likest first, then maker and name.
type Rank = (Found, OrderedFloat<f64>);

impl Reader<'_> {
    /// At most `limit` yarns that `text` may mean: exact names first, then those
    /// that hold all its words, then those that are only like it, each by maker
    /// and name.
    pub fn search_yarns(&self, text: &str, limit: usize) -> Result<Vec<Hit>, StoreError> {
        let wanted = key(text);
        if wanted.is_empty() {
            return Ok(Vec::new());
        }
        let wanted = Wanted::new(&wanted);
        let sql = "SELECT id, maker_key, name_key FROM yarn ORDER BY maker_key, name_key";
        let mut hits: Vec<(Rank, i64)> = Vec::new();
        let take = |row: &mut Taken<'_, '_>| {
            let (id, maker, name) = (row.cell()?, row.text()?, row.text()?);
            Ok(wanted.rank(maker, name).map(|rank| (rank, id)))
        };
        self.db.each("yarn", sql, [], take, |hit| {
            hits.extend(hit);
            Ok::<(), StoreError>(())
        })?;
        hits.sort_by_key(|(rank, _)| *rank);
        let best = hits.into_iter().take(limit);
        best.map(|((found, _), id)| self.hit(Id::new(id), found))
            .collect()
    }

    fn hit(&self, id: Id<Yarn>, found: Found) -> Result<Hit, StoreError> {
        let yarn = self.yarn(id)?;
        Ok(Hit { yarn, found })
    }
}

/// The text that is looked for, made ready to be compared with many names.
struct Wanted<'t> {
    text: &'t str,
    letters: Letters,
    words: Vec<(&'t str, Letters)>,
    title: RefCell<String>,
}

impl<'t> Wanted<'t> {
    fn new(text: &'t str) -> Self {
        let words = text.split(' ').map(|word| (word, Letters::of(word)));
        Self {
            text,
            letters: Letters::of(text),
            words: words.collect(),
            title: RefCell::default(),
        }
    }

    fn rank(&self, maker: &str, name: &str) -> Option<Rank> {
        let mut title = self.title.borrow_mut();
        title.clear();
        title.push_str(maker);
        title.push(' ');
        title.push_str(name);
        if self.text == *title || self.text == name {
            return Some((Found::Exact, OrderedFloat(0.0)));
        }
        let there = Letters::of(&title);
        let holds =
            |(word, letters): &(&str, Letters)| letters.are_all_in(&there) && title.contains(word);
        if self.words.iter().all(holds) {
            return Some((Found::Contains, OrderedFloat(0.0)));
        }
        let likeness = self.likeness(name, &title, &there);
        (likeness >= WORTH_ASKING).then_some((Found::ByLikeness, OrderedFloat(-likeness)))
    }

    /// The greatest of: likeness to the name, likeness to maker and name, and the
    /// likeness of that word of the text that is least like any word of the title.
    /// What is not worth asking about may be given as 0.
    fn likeness(&self, name: &str, title: &str, there: &Letters) -> f64 {
        let of_name = like((self.text, &self.letters), (name, &Letters::of(name)));
        of_name
            .max(like((self.text, &self.letters), (title, there)))
            .max(self.word_for_word(title))
    }

    fn word_for_word(&self, title: &str) -> f64 {
        let mut least: f64 = 1.0;
        for (word, letters) in &self.words {
            let each = title
                .split(' ')
                .map(|other| like((word, letters), (other, &Letters::of(other))));
            least = least.min(each.fold(0.0, f64::max));
            if least < WORTH_ASKING {
                return 0.0;
            }
        }
        least
    }
}

/// Jaro-Winkler likeness; 0 where it cannot be worth asking about.
fn like(a: (&str, &Letters), b: (&str, &Letters)) -> f64 {
    let most = a.1.likeness_at_most(b.1, same_at_first(a.0, b.0));
    match most >= WORTH_ASKING - 1e-9 {
        true => strsim::jaro_winkler(a.0, b.0),
        false => 0.0,
    }
}

#[cfg(test)]
mod tests {
    use super::super::{Store, samples::bare};
    use super::*;
    use proptest::prelude::*;

    fn shelf() -> Store {
        let mut store = Store::in_memory().unwrap();
        for (maker, name) in [
            ("Köhler", "Ferry Lane DK"),
            ("Köhler", "Ferry Lane"),
            ("Quay", "Dune"),
            ("Quay", "Harbour Wall"),
        ] {
            store.write(|w| w.add_yarn(&bare(maker, name))).unwrap();
        }
        store
    }

    fn found(text: &str) -> Vec<(String, Found)> {
        let store = shelf();
        let hits = store.reader().unwrap().search_yarns(text, 10).unwrap();
        let told = |hit: Hit| (hit.yarn.record.name.to_string(), hit.found);
        hits.into_iter().map(told).collect()
    }

    fn told(name: &str, found: Found) -> (String, Found) {
        (name.to_owned(), found)
    }

    proptest! {
        #[test]
        fn prop_nothing_worth_asking_about_is_cut_off(
            text in "[a-e]{1,6}( [a-e]{1,4})?", maker in "[a-e]{1,5}", name in "[a-eé]{1,6}( [a-e]{1,4})?",
        ) {
            let title = format!("{maker} {name}");
            let each = text.split(' ').map(|word| {
                let likeness = title.split(' ').map(|other| strsim::jaro_winkler(word, other));
                likeness.fold(0.0, f64::max)
            });
            let likest = strsim::jaro_winkler(&text, &name)
                .max(strsim::jaro_winkler(&text, &title))
                .max(each.fold(1.0, f64::min));
            let holds = text.split(' ').all(|word| title.contains(word));
            let found = match () {
                () if text == title || text == name => Some((Found::Exact, OrderedFloat(0.0))),
                () if holds => Some((Found::Contains, OrderedFloat(0.0))),
                () if likest >= WORTH_ASKING => Some((Found::ByLikeness, OrderedFloat(-likest))),
                () => None,
            };
            prop_assert_eq!(Wanted::new(&text).rank(&maker, &name), found);
        }
    }

    #[test]
    fn the_exact_name_comes_before_those_that_hold_it() {
        let both = [
            told("Ferry Lane", Found::Exact),
            told("Ferry Lane DK", Found::Contains),
        ];
        assert_eq!(found("ferry LANE"), both);
        assert_eq!(found("kohler, ferry lane"), both);
    }

    #[test]
    fn words_may_stand_in_any_order_and_be_cut_short() {
        assert_eq!(found("wall harb"), [told("Harbour Wall", Found::Contains)]);
    }

    #[test]
    fn a_slip_of_the_finger_is_found_and_marked() {
        let hits = found("fery lnae dk");
        assert_eq!(hits[0], told("Ferry Lane DK", Found::ByLikeness));
        assert_eq!(found("Harbor Wal")[0].1, Found::ByLikeness);
    }

    #[test]
    fn what_is_nothing_like_any_name_finds_nothing() {
        assert_eq!(found("xylograph"), []);
        assert_eq!(found("  "), []);
    }

    #[test]
    fn no_more_are_given_than_asked_for() {
        let store = shelf();
        let hits = store.reader().unwrap().search_yarns("ferry", 1).unwrap();
        assert_eq!(hits.len(), 1);
    }
}
