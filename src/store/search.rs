//! Finding yarns by name, misspelt or not.
//!
//! What is found by likeness is marked, so that it is shown as such and never
//! silently taken.

use super::{
    Reader, StoreError,
    key::key,
    letters::Letters,
    names::Names,
    titles::Title,
    wanted::{Rank, Wanted},
};
use crate::record::{Stored, Yarn};

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
        self.hits(self.likest(Wanted::new(&wanted), limit)?)
    }

    /// The same for somebody who still types: those that are only like `text` are
    /// left out where others hold all its words.
    pub fn suggest_yarns(&self, text: &str, limit: usize) -> Result<Vec<Hit>, StoreError> {
        let wanted = key(text);
        if wanted.is_empty() || limit == 0 {
            return Ok(Vec::new());
        }
        let all = Wanted::new(&wanted);
        let held = self.names_in_memory()?;
        let held = held.map(|names| holding(&names, &all, limit));
        let mut best = match held {
            Some(held) if !held.hits.is_empty() => held,
            Some(_) => self.likest(all.that_none_holds(), limit)?,
            None => self.likest(all, limit)?,
        };
        let is_held = |hit: &Likely| hit.rank.0 != Found::ByLikeness;
        if best.hits.first().is_some_and(is_held) {
            best.hits.retain(is_held);
        }
        self.hits(best)
    }

    fn hits(&self, best: Likest) -> Result<Vec<Hit>, StoreError> {
        let hits = best.hits.into_iter();
        hits.filter_map(|hit| self.hit(&hit).transpose()).collect()
    }

    fn likest(&self, mut wanted: Wanted<'_>, limit: usize) -> Result<Likest, StoreError> {
        let mut likest = Likest::new(limit);
        self.each_name(|title| match title {
            Title::Maker(maker) => wanted.of_maker(maker),
            Title::Name(name) => {
                if let Some(rank) = wanted.rank(name) {
                    likest.add(rank, (wanted.maker(), name.text));
                    likest
                        .full()
                        .into_iter()
                        .for_each(|last| wanted.ask_for(last));
                }
            }
        })?;
        Ok(likest)
    }

    fn hit(&self, hit: &Likely) -> Result<Option<Hit>, StoreError> {
        let found = hit.rank.0;
        let yarn = self.yarn_of_keys(&hit.maker, &hit.name)?;
        Ok(yarn.map(|yarn| Hit { yarn, found }))
    }
}

/// The first of those that hold all words of `wanted`.
fn holding(names: &Names, wanted: &Wanted<'_>, limit: usize) -> Likest {
    let mut first = Likest::new(limit);
    let mut of = ("", &Letters::NONE);
    names.each_whole(|title| match title {
        Title::Maker(maker) => of = maker,
        Title::Name(name) => {
            if let Some(rank) = wanted.rank_of_held(of, name) {
                first.add(rank, (of.0, name.0));
            }
        }
    });
    first
}

/// A yarn that was found; the better is the less, and of equals the first by maker
/// and name, in whatever order they come.
#[derive(PartialEq, Eq, PartialOrd, Ord)]
struct Likely {
    rank: Rank,
    maker: String,
    name: String,
}

impl Likely {
    fn is_before(&self, rank: Rank, title: (&str, &str)) -> bool {
        (self.rank, (self.maker.as_str(), self.name.as_str())) <= (rank, title)
    }
}

/// The best hits so far, in order.
struct Likest {
    limit: usize,
    hits: Vec<Likely>,
}

impl Likest {
    fn new(limit: usize) -> Self {
        let hits = Vec::new();
        Self { limit, hits }
    }

    /// Adds a hit, if it is one of the best.
    fn add(&mut self, rank: Rank, title: (&str, &str)) {
        let place = self.hits.partition_point(|hit| hit.is_before(rank, title));
        if place < self.limit {
            let [maker, name] = [title.0, title.1].map(str::to_owned);
            let hit = Likely { rank, maker, name };
            self.hits.truncate(self.limit - 1);
            self.hits.insert(place, hit);
        }
    }

    /// What a further hit has to be as good as, where there are as many as are
    /// wanted.
    fn full(&self) -> Option<Rank> {
        let last = self.hits.last().filter(|_| self.hits.len() == self.limit);
        last.map(|hit| hit.rank)
    }
}

#[cfg(test)]
mod tests {
    use super::super::{Store, cells::Taken, lettered::ManyLetters, samples::bare};
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
                    let mut wanted = Wanted::new(&text);
                    wanted.of_maker(ManyLetters::default().only(&maker));
                    Some((wanted.rank(ManyLetters::default().only(&name))?, id))
                })
                .collect();
            all.sort_by_key(|(rank, _)| *rank);
            let best: Vec<i64> = all.into_iter().take(limit).map(|(_, id)| id).collect();
            let found = reader.search_yarns(&text, limit).unwrap();
            let numbers = |hits: &[Hit]| hits.iter().map(|hit| hit.yarn.id.number()).collect::<Vec<i64>>();
            prop_assert_eq!(numbers(&found), best);
            let is_held = |hit: &Hit| hit.found != Found::ByLikeness;
            let held: Vec<Hit> = found.iter().filter(|hit| is_held(hit)).cloned().collect();
            let suggested = match held.is_empty() { true => found, false => held };
            prop_assert_eq!(reader.suggest_yarns(&text, limit).unwrap(), suggested.clone());
            drop(reader);
            let keeping = store.keeping_names(Default::default());
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
