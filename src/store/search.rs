//! Finding yarns by name, misspelt or not.
//!
//! What is found by likeness is marked, so that it is shown as such and never
//! silently taken.

use super::{
    Reader, StoreError,
    key::key,
    wanted::{Last, Rank, Wanted},
};
use crate::record::{Id, Stored, Yarn};

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
        let (mut wanted, mut likest) = (Wanted::new(wanted), Likest::new(limit));
        self.each_name(|id, title, words| {
            if let Some(rank) = wanted.rank(title, words, likest.last.as_ref()) {
                likest.add(rank, id);
            }
        })?;
        Ok(likest)
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
        self.last = last.map(|(rank, _)| Last::of(*rank));
    }
}

#[cfg(test)]
mod tests {
    use super::super::{Store, cells::Taken, letters::Letters, samples::bare};
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
            let both = |row: &mut Taken<'_, '_>| Ok((row.cell::<i64>()?, row.cell::<String>()?, row.cell::<String>()?));
            let mut all: Vec<(Rank, i64)> = reader.db.all("yarn", sql, [], both).unwrap().into_iter()
                .filter_map(|(id, maker, name)| {
                    let mut words = Vec::new();
                    Letters::of_words(&name, &mut words);
                    Some((Wanted::new(&text).rank((&maker, &name), &words, None)?, id))
                })
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
