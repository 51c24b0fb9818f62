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
    words::{TYPING_ERROR_LIKENESS, fold, lower_name},
};
use matcher::{Matcher, Rank};

/// What of a name is searched: the folded name; one of nothing but marks as it is.
fn searched(name: &str) -> String {
    let folded = fold(name);
    if folded.is_empty() {
        name.trim().to_lowercase()
    } else {
        folded
    }
}

/// Stands between the two parts of a key, and sorts before a space.
const WHOLE: char = '\u{1f}';

/// What decides whether two names are the same, which those are that differ in case
/// and spaces at most. What is searched comes first, so that names are sorted as they
/// are found; the whole name comes after it where it is another.
pub fn name_key(name: &str) -> String {
    let mut key = searched(name);
    let whole = lower_name(name);
    if whole != key {
        key.push(WHOLE);
        key.push_str(&whole);
    }
    key
}

/// The part of a key that is searched.
pub(super) fn searched_part(key: &str) -> &str {
    key.split_once(WHOLE).map_or(key, |(searched, _)| searched)
}

/// The whole name of a key, in lower case.
fn whole_part(key: &str) -> &str {
    key.split_once(WHOLE).map_or(key, |(_, whole)| whole)
}

/// Whether `text`, in lower case, is this name with or without its maker, to the sign.
fn is_whole(text: &str, maker: &str, name: &str) -> bool {
    let (maker, name) = (whole_part(maker), whole_part(name));
    let before = text.strip_suffix(name);
    before.is_some_and(|before| before.is_empty() || before.strip_suffix(' ') == Some(maker))
}

/// Keys of maker and name of a yarn; no two yarns share both.
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
        let whole = lower_name(text);
        let text = searched(text);
        if text.is_empty() || limit == 0 {
            return Ok(Vec::new());
        }
        let mut matcher = Matcher::new(&text);
        let mut top = TopHits::new(limit, likeness);
        self.each_name(|maker_key, name_key| {
            let (maker, name) = (searched_part(maker_key), searched_part(name_key));
            let like = |matcher: &mut Matcher<'_>| {
                let least = top.least_likeness()?;
                matcher.likeness(maker, name, least)
            };
            let rank = matcher.held(maker, name).or_else(|| like(&mut matcher));
            if let Some(rank) = rank {
                top.add(rank, maker_key, name_key);
            }
        })?;
        let mut hits = top.in_order();
        put_whole_first(&mut hits, &whole);
        let hits = hits.into_iter();
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

/// Where the text is the whole name of some, those come first, and others that differ
/// from it in accents or signs only hold its words.
fn put_whole_first(hits: &mut [TopHit], whole: &str) {
    let is_meant = |hit: &TopHit| is_whole(whole, &hit.maker, &hit.name);
    if hits.iter().any(is_meant) {
        let others = |hit: &&mut TopHit| hit.rank.0 == Found::Exact && !is_meant(hit);
        hits.iter_mut()
            .filter(others)
            .for_each(|hit| hit.rank.0 = Found::Contains);
        hits.sort_by_key(|hit| hit.rank.0);
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
            let mut all: Vec<(Rank, bool, i64)> = all.into_iter()
                .filter_map(|(id, maker, name)| {
                    let rank = matcher::plain_rank(&text, searched_part(&maker), searched_part(&name))?;
                    Some((rank, !is_whole(&text, &maker, &name), id))
                })
                .collect();
            all.sort_by_key(|(rank, ..)| *rank);
            all.truncate(limit);
            all.sort_by_key(|(rank, is_other, _)| (*rank, rank.0 == Found::Exact && *is_other));
            let best: Vec<i64> = all.into_iter().map(|(.., id)| id).collect();
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
    fn a_name_to_the_sign_comes_before_those_that_differ_in_signs() {
        let mut store = Store::in_memory().unwrap();
        for name in ["C", "C+", "\u{d6}land", "Oland"] {
            store.write(|w| w.add_yarn(&bare("Quay", name))).unwrap();
        }
        let reader = store.reader().unwrap();
        for (text, first, other) in [
            ("c+", "C+", "C"),
            ("quay c", "C", "C+"),
            ("\u{f6}land", "\u{d6}land", "Oland"),
            ("OLAND", "Oland", "\u{d6}land"),
        ] {
            let hits = reader.search_yarns(text, 2).unwrap().into_iter();
            let hits: Vec<_> = hits
                .map(|hit| (hit.yarn.record.name.to_string(), hit.found))
                .collect();
            assert_eq!(
                hits,
                [told(first, Found::Exact), told(other, Found::Contains)],
                "{text}"
            );
        }
        let both = reader.search_yarns("c-", 2).unwrap();
        assert!(both.len() == 2 && both.iter().all(|hit| hit.found == Found::Exact));
    }

    proptest! {
        #[test]
        fn prop_only_case_and_spaces_make_no_other_name(a in "[ -~\u{e0}-\u{fc}]{1,4}", b in "[ -~\u{e0}-\u{fc}]{1,4}") {
            let [a, b] = [a, b].map(|text| text.split_whitespace().collect::<Vec<_>>().join(" "));
            prop_assert_eq!(a.to_lowercase() == b.to_lowercase(), name_key(&a) == name_key(&b));
            let key = name_key(&a);
            prop_assert_eq!(searched_part(&key), searched(&a));
            prop_assert_eq!(name_key(whole_part(&key)), key.clone());
        }
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
