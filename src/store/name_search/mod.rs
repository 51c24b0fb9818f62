//! Finding yarns by name, misspelt or not.
//!
//! Every name is compared; 100,000 take some 20 ms. What is found by likeness is
//! marked, so that it is shown as such and never silently taken. How like two
//! names are says [`matcher`], how names stay in memory [`name_cache`].

mod matcher;
mod name_cache;

pub use name_cache::NameCache;

use super::{Reader, StoreError};
use crate::{
    record::{Stored, Yarn},
    words::{TYPING_ERROR_LIKENESS, fold},
};
use matcher::{Matcher, Rank};

/// What decides whether two names are the same: the folded name; a name of
/// nothing but marks is compared as it stands.
pub fn name_key(name: &str) -> String {
    let folded = fold(name);
    if folded.is_empty() {
        name.trim().to_lowercase()
    } else {
        folded
    }
}

/// Folded maker and name of a yarn; no two yarns share both.
pub type NameKeys = (String, String);

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

/// Whether names that are only like the text are looked for beside others.
#[derive(Clone, Copy, PartialEq)]
enum Likeness {
    Always,
    /// Only as long as no name holds all words.
    WhereNoneHolds,
}

impl Reader<'_> {
    /// At most `limit` yarns that `text` may mean: exact names first, then those
    /// that hold all its words, then those that are only like it, each by maker
    /// and name.
    pub fn search_yarns(&self, text: &str, limit: usize) -> Result<Vec<Hit>, StoreError> {
        self.hits(text, limit, Likeness::Always)
    }

    /// The same for somebody who still types: those that are only like `text` are
    /// left out where others hold all its words.
    pub fn suggest_yarns(&self, text: &str, limit: usize) -> Result<Vec<Hit>, StoreError> {
        self.hits(text, limit, Likeness::WhereNoneHolds)
    }

    fn hits(&self, text: &str, limit: usize, likeness: Likeness) -> Result<Vec<Hit>, StoreError> {
        let text = name_key(text);
        if text.is_empty() || limit == 0 {
            return Ok(Vec::new());
        }
        let mut matcher = Matcher::new(&text);
        let mut top = TopHits::new(limit, likeness);
        self.each_name(|maker, name| {
            let like = |matcher: &mut Matcher<'_>| {
                let least = top.least_likeness()?;
                matcher.likeness(maker, name, least)
            };
            let rank = matcher.held(maker, name).or_else(|| like(&mut matcher));
            if let Some(rank) = rank {
                top.add(rank, maker, name);
            }
        })?;
        let hits = top.in_order().into_iter();
        hits.filter_map(|hit| self.hit(&hit).transpose()).collect()
    }

    fn hit(&self, hit: &TopHit) -> Result<Option<Hit>, StoreError> {
        let found = hit.rank.0;
        let yarn = self.yarn_of_keys(&hit.maker, &hit.name)?;
        Ok(yarn.map(|yarn| Hit { yarn, found }))
    }
}

/// A yarn that was found; the better is the less, and of equals the first by maker
/// and name, in whatever order they come.
#[derive(PartialEq, Eq, PartialOrd, Ord)]
struct TopHit {
    rank: Rank,
    maker: String,
    name: String,
}

impl TopHit {
    fn is_before(&self, rank: Rank, title: (&str, &str)) -> bool {
        (self.rank, (self.maker.as_str(), self.name.as_str())) <= (rank, title)
    }

    fn is_only_like(&self) -> bool {
        self.rank.0 == Found::ByLikeness
    }
}

/// The best hits so far, in order.
struct TopHits {
    limit: usize,
    likeness: Likeness,
    hits: Vec<TopHit>,
}

impl TopHits {
    fn new(limit: usize, likeness: Likeness) -> Self {
        let hits = Vec::new();
        Self {
            limit,
            likeness,
            hits,
        }
    }

    /// Adds a hit, if it is one of the best.
    fn add(&mut self, rank: Rank, maker: &str, name: &str) {
        let earlier = |hit: &TopHit| hit.is_before(rank, (maker, name));
        let place = self.hits.partition_point(earlier);
        if place < self.limit {
            let [maker, name] = [maker, name].map(str::to_owned);
            self.hits.truncate(self.limit - 1);
            self.hits.insert(place, TopHit { rank, maker, name });
        }
    }

    fn has_held(&self) -> bool {
        let first = self.hits.first();
        first.is_some_and(|hit| !hit.is_only_like())
    }

    /// The likeness that a further hit needs; none where no likeness helps.
    fn least_likeness(&self) -> Option<f64> {
        if self.likeness == Likeness::WhereNoneHolds && self.has_held() {
            return None;
        }
        let last = self.hits.last().filter(|_| self.hits.len() == self.limit);
        match last {
            None => Some(TYPING_ERROR_LIKENESS),
            Some(last) => last.is_only_like().then_some(-last.rank.1.0),
        }
    }

    fn in_order(mut self) -> Vec<TopHit> {
        if self.likeness == Likeness::WhereNoneHolds && self.has_held() {
            self.hits.retain(|hit| !hit.is_only_like());
        }
        self.hits
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
            let all: Vec<(i64, String, String)> = reader.db.all("yarn", sql, []).unwrap();
            let mut all: Vec<(Rank, i64)> = all.into_iter()
                .filter_map(|(id, maker, name)| {
                    Some((matcher::plain_rank(&text, &maker, &name)?, id))
                })
                .collect();
            all.sort_by_key(|(rank, _)| *rank);
            let best: Vec<i64> = all.into_iter().take(limit).map(|(_, id)| id).collect();
            let found = reader.search_yarns(&text, limit).unwrap();
            let numbers = |hits: &[Hit]| hits.iter().map(|hit| hit.yarn.id.number()).collect::<Vec<i64>>();
            prop_assert_eq!(numbers(&found), best);
            let is_held = |hit: &Hit| hit.found != Found::ByLikeness;
            let held: Vec<Hit> = found.iter().filter(|hit| is_held(hit)).cloned().collect();
            let suggested = if held.is_empty() { found } else { held };
            prop_assert_eq!(reader.suggest_yarns(&text, limit).unwrap(), suggested.clone());
            drop(reader);
            let keeping = store.with_name_cache(Default::default());
            let reader = keeping.reader().unwrap();
            prop_assert_eq!(reader.suggest_yarns(&text, limit).unwrap(), suggested);
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
        let store = shelf();
        let suggested = |text| store.reader().unwrap().suggest_yarns(text, 9).unwrap();
        assert_eq!(suggested("  "), []);
        assert_eq!(suggested("ferry").len(), 2);
    }

    #[test]
    fn no_more_are_given_than_asked_for() {
        let store = shelf();
        let hits = store.reader().unwrap().search_yarns("ferry", 1).unwrap();
        assert_eq!(hits.len(), 1);
    }
}
