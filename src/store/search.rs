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
    /// Names come in the order of makers, so that one maker serves many.
    maker: RefCell<Maker>,
}

/// What is known of the maker of the name before.
struct Maker {
    key: String,
    letters: Letters,
    /// How like each word of the text is to any word of the maker.
    likeness: Vec<f64>,
}

impl<'t> Wanted<'t> {
    fn new(text: &'t str) -> Self {
        let words = text.split(' ').map(|word| (word, Letters::of(word)));
        let mut wanted = Self {
            text,
            letters: Letters::of(text),
            words: words.collect(),
            maker: RefCell::new(Maker {
                key: String::new(),
                letters: Letters::of(""),
                likeness: Vec::new(),
            }),
        };
        wanted.maker = RefCell::new(wanted.of_maker(""));
        wanted
    }

    fn of_maker(&self, maker: &str) -> Maker {
        let likeness = self.words.iter().map(|word| likest(word, maker));
        Maker {
            key: maker.to_owned(),
            letters: Letters::of(maker),
            likeness: likeness.collect(),
        }
    }

    fn rank(&self, maker: &str, name: &str) -> Option<Rank> {
        let mut known = self.maker.borrow_mut();
        if known.key != maker {
            *known = self.of_maker(maker);
        }
        let after_maker = self.text.strip_prefix(maker);
        let after_maker = after_maker.and_then(|rest| rest.strip_prefix(' '));
        if self.text == name || after_maker == Some(name) {
            return Some((Found::Exact, OrderedFloat(0.0)));
        }
        let of_name = Letters::of(name);
        let there = known.letters.and(&of_name);
        let holds = |(word, letters): &(&str, Letters)| {
            letters.are_all_in(&there) && (maker.contains(word) || name.contains(word))
        };
        if self.words.iter().all(holds) {
            return Some((Found::Contains, OrderedFloat(0.0)));
        }
        let likeness = self
            .like(name, &of_name)
            .max(self.word_for_word(&known, name));
        let title = || format!("{maker} {name}");
        let likeness = match self.may_be_like(&there, maker) {
            true => likeness.max(self.like(&title(), &there)),
            false => likeness,
        };
        (likeness >= WORTH_ASKING).then_some((Found::ByLikeness, OrderedFloat(-likeness)))
    }

    fn like(&self, name: &str, letters: &Letters) -> f64 {
        like((self.text, &self.letters), (name, letters))
    }

    /// Whether a title of these letters, which starts with this maker, may be
    /// worth asking about.
    fn may_be_like(&self, title: &Letters, maker: &str) -> bool {
        let same = match same_at_first(self.text, maker) {
            all if all == maker.len() => usize::MAX,
            some => some,
        };
        self.letters.likeness_at_most(title, same) >= WORTH_ASKING - 1e-9
    }

    /// The likeness of that word of the text that is least like any word of maker
    /// and name; 0 where it is not worth asking about.
    fn word_for_word(&self, maker: &Maker, name: &str) -> f64 {
        let mut least: f64 = 1.0;
        for (word, of_maker) in self.words.iter().zip(&maker.likeness) {
            let likeness = match *of_maker >= least {
                true => *of_maker,
                false => of_maker.max(likest(word, name)),
            };
            least = least.min(likeness);
            if least < WORTH_ASKING {
                return 0.0;
            }
        }
        least
    }
}

/// How like a word is to the word of `names` that it is likest to.
fn likest((word, letters): &(&str, Letters), names: &str) -> f64 {
    let each = names
        .split(' ')
        .map(|other| like((word, letters), (other, &Letters::of(other))));
    each.fold(0.0, f64::max)
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
