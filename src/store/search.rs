//! Finding yarns by name, misspelt or not.
//!
//! What is found by likeness is marked, so that it is shown as such and never
//! silently taken.

use super::{Reader, StoreError, cells::Taken, key::key};
use crate::record::{Id, Stored, Yarn};
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

/// Likeness (Jaro-Winkler) from which a name is shown; found by trying
/// misspelt names, no source.
const WORTH_SHOWING: f64 = 0.82;

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
    (likeness >= WORTH_SHOWING).then_some((Found::ByLikeness, OrderedFloat(-likeness)))
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
