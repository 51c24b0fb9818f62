//! Looking through many yarns at little cost: only what stands in the index on
//! grist is read, in the order of grist.
//!
//! The index holds the yarns of patterns too; [`Reader::yarn_to_judge`] tells
//! them apart.

use super::{
    Reader, StoreError,
    cells::{Flaw, Kept, Taken},
    parts::classes_of_bits,
};
use crate::{
    record::{Blend, Id, Printed, Yarn, YarnFacts},
    trade::Construction,
};

/// Class, construction and blend, as they stand in the index.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default)]
pub struct Kind {
    /// Bit n: class n is possible.
    classes: Option<u8>,
    construction: Option<Construction>,
    /// The blend's number.
    blend: Option<i64>,
}

/// A yarn at a glance.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Glance {
    /// Its number.
    pub yarn: Id<Yarn>,
    /// Length per mass, m/g.
    pub grist: Option<f64>,
    /// What else stands in the index.
    pub kind: Kind,
}

/// Which yarns are looked at.
#[derive(Debug, Clone, PartialEq)]
pub enum Look {
    /// Those of grist `from` (included) to `to` (not included), m/g.
    Grist {
        /// From.
        from: f64,
        /// To.
        to: f64,
    },
    /// Those with a grist and one of these constructions.
    Built {
        /// The constructions.
        of: Vec<Construction>,
        /// Whether one that is not stated counts too.
        or_not_stated: bool,
    },
    /// Those without a grist.
    NoGrist,
}

const GRIST: &str = "SELECT id, grist, classes, construction, blend FROM facts \
                     WHERE grist >= ? AND grist < ?";
const BUILT: &str = "SELECT id, grist, classes, construction, blend FROM facts \
                     WHERE grist IS NOT NULL AND coalesce(construction, '') IN \
                     (SELECT value FROM json_each(?))";
const NO_GRIST: &str = "SELECT id, grist, classes, construction, blend FROM facts \
                        WHERE grist IS NULL";

fn take(row: &mut Taken<'_, '_>) -> Result<Glance, Flaw> {
    Ok(Glance {
        yarn: Id::new(row.cell()?),
        grist: row.cell()?,
        kind: Kind {
            classes: row.cell()?,
            construction: row.part()?,
            blend: row.cell()?,
        },
    })
}

impl Reader<'_> {
    /// Hands what there is to look at to `each`.
    pub fn glances<E: From<StoreError>>(
        &self,
        look: &Look,
        each: impl FnMut(Glance) -> Result<(), E>,
    ) -> Result<(), E> {
        match look {
            Look::Grist { from, to } => self.db.each("facts", GRIST, (*from, *to), take, each),
            Look::Built { of, or_not_stated } => {
                let unstated = or_not_stated.then_some("");
                let names: Vec<&str> = of
                    .iter()
                    .map(|built| built.name())
                    .chain(unstated)
                    .collect();
                let names = serde_json::json!(names).to_string();
                self.db.each("facts", BUILT, [names], take, each)
            }
            Look::NoGrist => self.db.each("facts", NO_GRIST, [], take, each),
        }
    }

    /// Class, construction and blend of a kind as facts, all else unknown.
    pub fn facts_of(&self, kind: Kind) -> Result<YarnFacts, StoreError> {
        let blend = match kind.blend {
            None => None,
            Some(number) => {
                let sql = "SELECT parts FROM blend WHERE id = ?";
                self.db.first("blend", sql, [number], Blend::take)?
            }
        };
        Ok(YarnFacts {
            class: kind.classes.and_then(classes_of_bits).map(unprinted),
            construction: kind.construction.map(unprinted),
            blend: blend.map(unprinted),
            ..YarnFacts::default()
        })
    }
}

/// A value whose printed text is not looked at.
fn unprinted<T>(value: T) -> Printed<T> {
    Printed::new("", value)
}
