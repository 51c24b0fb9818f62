//! Finding yarns by name, misspelt or not.
//!
//! What is found by likeness is marked, so that it is shown as such and never
//! silently taken.

use super::{
    Reader, StoreError,
    cells::Taken,
    key::key,
    letters::{Least, Letters, same_at_first},
};
use crate::{
    record::{Id, Stored, Yarn},
    words::WORTH_ASKING,
};
use ordered_float::OrderedFloat;
use std::{cell::RefCell, cmp::Reverse};

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
        if wanted.is_empty() || limit == 0 {
            return Ok(Vec::new());
        }
        let best = self.likest(&wanted, limit)?;
        let hits = best.hits.into_iter();
        hits.map(|((found, _), id)| self.hit(Id::new(id), found))
            .collect()
    }

    fn likest(&self, wanted: &str, limit: usize) -> Result<Likest, StoreError> {
        let wanted = Wanted::new(wanted);
        let likest = RefCell::new(Likest::new(limit));
        let sql = "SELECT id, maker_key, name_key FROM yarn ORDER BY maker_key, name_key";
        let take = |row: &mut Taken<'_, '_>| {
            row.pass();
            let (maker, name) = (row.text()?, row.text()?);
            let mut likest = likest.borrow_mut();
            if let Some(rank) = wanted.rank(maker, name, likest.last.as_ref()) {
                likest.add(rank, row.number()?);
            }
            Ok(())
        };
        self.db.each("yarn", sql, [], take, Ok::<(), StoreError>)?;
        Ok(likest.into_inner())
    }

    fn hit(&self, id: Id<Yarn>, found: Found) -> Result<Hit, StoreError> {
        let yarn = self.yarn(id)?;
        Ok(Hit { yarn, found })
    }
}

/// The best hits so far, in order.
struct Likest {
    limit: usize,
    hits: Vec<(Rank, i64)>,
    /// What a further hit has to be better than, if there are as many as are
    /// wanted.
    last: Option<Last>,
}

/// The last of as many hits as are wanted.
struct Last {
    rank: Rank,
    least: Least,
}

impl Likest {
    fn new(limit: usize) -> Self {
        Self {
            limit,
            hits: Vec::new(),
            last: None,
        }
    }

    /// Adds a hit behind those that are as good.
    fn add(&mut self, rank: Rank, id: i64) {
        let place = self.hits.partition_point(|(better, _)| *better <= rank);
        self.hits.insert(place, (rank, id));
        self.hits.truncate(self.limit);
        let last = self.hits.last().filter(|_| self.hits.len() == self.limit);
        self.last = last.map(|(rank, _)| Last {
            rank: *rank,
            least: Least::of(-rank.1.0),
        });
    }
}

/// A text and its letters.
struct Spelt<'t> {
    text: &'t str,
    letters: Letters,
}

impl<'t> Spelt<'t> {
    fn of(text: &'t str) -> Self {
        let letters = Letters::of(text);
        Self { text, letters }
    }

    /// Jaro-Winkler likeness; 0 where it cannot be `least`.
    fn like(&self, other: &str, letters: &Letters, least: &Least) -> f64 {
        let same = same_at_first(self.text, other);
        match self.letters.may_be_like(letters, same, least) {
            true => strsim::jaro_winkler(self.text, other),
            false => 0.0,
        }
    }

    /// How like it is to the word of `names` that it is likest to; 0 where that
    /// cannot be `least`.
    fn likest(&self, names: &str, letters: &Letters, least: &Least) -> f64 {
        if !self.letters.may_be_like_a_word_of(letters, least) {
            return 0.0;
        }
        let each = names
            .split(' ')
            .map(|other| self.like(other, &Letters::of(other), least));
        each.fold(0.0, f64::max)
    }
}

/// The text that is looked for, made ready to be compared with many names.
struct Wanted<'t> {
    spelt: Spelt<'t>,
    /// Its words, the longest first: they rule out most.
    words: Vec<Spelt<'t>>,
    /// Names come in the order of makers, so that one maker serves many.
    maker: RefCell<Maker<'t>>,
    worth_asking: Least,
}

/// What is known of the maker of the name before.
struct Maker<'t> {
    key: String,
    letters: Letters,
    /// What follows the maker in the text.
    after: Option<&'t str>,
    /// How like each word of the text is to any word of the maker.
    likeness: Vec<f64>,
}

impl<'t> Wanted<'t> {
    fn new(text: &'t str) -> Self {
        let mut words: Vec<Spelt<'t>> = text.split(' ').map(Spelt::of).collect();
        words.sort_by_key(|word| Reverse(word.text.len()));
        let spelt = Spelt::of(text);
        let maker = RefCell::new(of_maker("", &spelt, &words));
        Self {
            spelt,
            words,
            maker,
            worth_asking: Least::of(WORTH_ASKING),
        }
    }

    /// How a yarn is found, if it is, and better than `last`.
    fn rank(&self, maker: &str, name: &str, last: Option<&Last>) -> Option<Rank> {
        let mut known = self.maker.borrow_mut();
        if known.key != maker {
            *known = of_maker(maker, &self.spelt, &self.words);
        }
        let rank = self.any_rank(&known, name, last)?;
        last.is_none_or(|last| rank < last.rank).then_some(rank)
    }

    fn any_rank(&self, maker: &Maker<'t>, name: &str, last: Option<&Last>) -> Option<Rank> {
        if self.spelt.text == name || maker.after == Some(name) {
            return Some((Found::Exact, OrderedFloat(0.0)));
        }
        let letters = Letters::of(name);
        let title = maker.letters.and(&letters);
        let holds = |word: &Spelt<'_>| {
            word.letters.are_all_in(&title)
                && (maker.key.contains(word.text) || name.contains(word.text))
        };
        if self.words.iter().all(holds) {
            return Some((Found::Contains, OrderedFloat(0.0)));
        }
        let least = match last {
            None => &self.worth_asking,
            Some(last) if last.rank.0 == Found::ByLikeness => &last.least,
            Some(_) => return None,
        };
        let likeness = self
            .spelt
            .like(name, &letters, least)
            .max(self.word_for_word(maker, name, &letters, least))
            .max(self.like_title(maker, name, &title, least));
        (likeness >= WORTH_ASKING).then_some((Found::ByLikeness, OrderedFloat(-likeness)))
    }

    /// The likeness to maker and name together; 0 where it cannot be `least`.
    fn like_title(&self, maker: &Maker<'t>, name: &str, letters: &Letters, least: &Least) -> f64 {
        let same = match same_at_first(self.spelt.text, &maker.key) {
            all if all == maker.key.len() => usize::MAX,
            some => some,
        };
        match self.spelt.letters.may_be_like(letters, same, least) {
            true => strsim::jaro_winkler(self.spelt.text, &format!("{} {name}", maker.key)),
            false => 0.0,
        }
    }

    /// The likeness of that word of the text that is least like any word of maker
    /// and name; 0 where it cannot be `least`.
    fn word_for_word(
        &self,
        maker: &Maker<'t>,
        name: &str,
        letters: &Letters,
        least: &Least,
    ) -> f64 {
        let mut all: f64 = 1.0;
        for (word, of_maker) in self.words.iter().zip(&maker.likeness) {
            let likeness = match *of_maker >= all {
                true => *of_maker,
                false => of_maker.max(word.likest(name, letters, least)),
            };
            all = all.min(likeness);
            if all < least.likeness {
                return 0.0;
            }
        }
        all
    }
}

fn of_maker<'t>(maker: &str, text: &Spelt<'t>, words: &[Spelt<'_>]) -> Maker<'t> {
    let letters = Letters::of(maker);
    let after = text.text.strip_prefix(maker);
    let likeness = words
        .iter()
        .map(|word| word.likest(maker, &letters, &Least::of(WORTH_ASKING)));
    Maker {
        key: maker.to_owned(),
        letters,
        after: after.and_then(|rest| rest.strip_prefix(' ')),
        likeness: likeness.collect(),
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
            prop_assert_eq!(Wanted::new(&text).rank(&maker, &name, None), found);
        }
    }

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(64))]
        #[test]
        fn prop_the_answer_is_that_of_comparing_every_name(
            titles in prop::collection::btree_set(("[a-c]{1,3}", "[a-cé]{1,5}( [a-c]{1,3})?"), 1..40),
            text in "[a-c]{1,4}( [a-c]{1,4})?( [a-c]{1,4})?",
            limit in 0_usize..9,
        ) {
            let mut store = Store::in_memory().unwrap();
            for (maker, name) in &titles {
                let _ = store.write(|w| w.add_yarn(&bare(maker, name)));
            }
            let reader = store.reader().unwrap();
            let sql = "SELECT id, maker_key, name_key FROM yarn ORDER BY maker_key, name_key";
            let both = |row: &mut Taken<'_, '_>| Ok((row.cell::<i64>()?, row.cell::<String>()?, row.cell::<String>()?));
            let mut all: Vec<(Rank, i64)> = reader.db.all("yarn", sql, [], both).unwrap().into_iter()
                .filter_map(|(id, maker, name)| Some((Wanted::new(&text).rank(&maker, &name, None)?, id)))
                .collect();
            all.sort_by_key(|(rank, _)| *rank);
            let best: Vec<i64> = all.into_iter().take(limit).map(|(_, id)| id).collect();
            let found = reader.search_yarns(&text, limit).unwrap();
            let found: Vec<i64> = found.iter().map(|hit| hit.yarn.id.number()).collect();
            prop_assert_eq!(found, best);
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
