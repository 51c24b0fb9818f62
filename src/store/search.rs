//! Finding yarns by name, misspelt or not.
//!
//! What is found by likeness is marked, so that it is shown as such and never
//! silently taken.

use super::{Reader, StoreError, cells::Taken, key::key};
use crate::{
    record::{Id, Stored, Yarn},
    words::WORTH_ASKING,
};
use ordered_float::OrderedFloat;

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

/// What a yarn is compared by, and its place among equals.
struct Keys {
    id: i64,
    maker: String,
    name: String,
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
        let sql = "SELECT id, maker_key, name_key FROM yarn ORDER BY maker_key, name_key";
        let mut hits: Vec<(Rank, i64)> = Vec::new();
        self.db.each("yarn", sql, [], take, |keys| {
            hits.extend(rank(&wanted, &keys).map(|rank| (rank, keys.id)));
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

fn take(row: &mut Taken<'_, '_>) -> Result<Keys, super::cells::Flaw> {
    Ok(Keys {
        id: row.cell()?,
        maker: row.cell()?,
        name: row.cell()?,
    })
}

fn rank(wanted: &str, keys: &Keys) -> Option<Rank> {
    let title = format!("{} {}", keys.maker, keys.name);
    if wanted == title || wanted == keys.name {
        return Some((Found::Exact, OrderedFloat(0.0)));
    }
    if wanted.split(' ').all(|word| title.contains(word)) {
        return Some((Found::Contains, OrderedFloat(0.0)));
    }
    let likeness = likeness(wanted, &keys.name, &title);
    (likeness >= WORTH_ASKING).then_some((Found::ByLikeness, OrderedFloat(-likeness)))
}

/// The greatest of: likeness to the name, likeness to maker and name, and the
/// likeness of that word of the text that is least like any word of the title.
fn likeness(wanted: &str, name: &str, title: &str) -> f64 {
    let word_for_word = wanted.split(' ').map(|word| {
        let each = title
            .split(' ')
            .map(|other| strsim::jaro_winkler(word, other));
        each.fold(0.0, f64::max)
    });
    strsim::jaro_winkler(wanted, name)
        .max(strsim::jaro_winkler(wanted, title))
        .max(word_for_word.fold(1.0, f64::min))
}

#[cfg(test)]
mod tests {
    use super::super::{Store, samples::bare};
    use super::*;

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
