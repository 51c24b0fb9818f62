//! Looking through many yarns at little cost: only what stands in the index on
//! grist is read, in the order of grist.
//!
//! The index holds the yarns of patterns too; [`Reader::yarn_to_judge`] tells
//! them apart.

use super::{
    Reader, StoreError,
    columns::classes_of_bits,
    rows::{Columns, DecodeError, RowReader},
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

impl Kind {
    /// The construction, the class and the blend, each as a kind of its own: there
    /// are far fewer of each than of kinds.
    pub fn parts(self) -> [Self; 3] {
        let none = Self::default();
        let Self {
            classes,
            construction,
            blend,
        } = self;
        [
            Self {
                construction,
                ..none
            },
            Self { classes, ..none },
            Self { blend, ..none },
        ]
    }
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

fn decode(row: &mut RowReader<'_, '_>) -> Result<Glance, DecodeError> {
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
            Look::Grist { from, to } => self.db.each("facts", GRIST, (*from, *to), decode, each),
            Look::Built { of, or_not_stated } => {
                let unstated = or_not_stated.then_some("");
                let names: Vec<&str> = of
                    .iter()
                    .map(|built| built.name())
                    .chain(unstated)
                    .collect();
                let names = serde_json::json!(names).to_string();
                self.db.each("facts", BUILT, [names], decode, each)
            }
            Look::NoGrist => self.db.each("facts", NO_GRIST, [], decode, each),
        }
    }

    /// Class, construction and blend of a kind as facts, all else unknown.
    pub fn facts_of(&self, kind: Kind) -> Result<YarnFacts, StoreError> {
        let blend = match kind.blend {
            None => None,
            Some(number) => {
                let sql = "SELECT parts FROM blend WHERE id = ?";
                self.db.first("blend", sql, [number], Blend::decode)?
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

#[cfg(test)]
mod tests {
    use super::super::{
        Store,
        samples::{bare, full_pattern, put_up},
    };
    use super::*;

    fn store() -> Store {
        let mut store = Store::in_memory().unwrap();
        let built = |name, metres, construction| {
            let mut yarn = put_up("Quay", name, metres, 100.0);
            yarn.facts.construction = Some(unprinted(construction));
            yarn
        };
        let kept: Result<(), StoreError> = store.write(|writer| {
            writer.add_yarn(&put_up("Quay", "thick", 100.0, 100.0))?;
            writer.add_yarn(&built("middle", 225.0, Construction::Plied))?;
            writer.add_yarn(&built("fine", 400.0, Construction::Brushed))?;
            writer.add_yarn(&bare("Quay", "unknown"))?;
            Ok(())
        });
        kept.unwrap();
        store
    }

    fn seen(store: &Store, look: &Look) -> Vec<String> {
        let reader = store.reader().unwrap();
        let mut names = Vec::new();
        let done: Result<(), StoreError> = reader.glances(look, |glance| {
            let yarn = reader.yarn_to_judge(glance.yarn)?;
            let yarn = yarn.map(|yarn| yarn.record);
            assert_eq!(
                glance.grist,
                yarn.as_ref()
                    .and_then(|yarn| yarn.facts.grist())
                    .map(|grist| grist.as_metres_per_gram())
            );
            names.extend(yarn.map(|yarn| yarn.name.to_string()));
            Ok(())
        });
        done.unwrap();
        names
    }

    #[test]
    fn a_range_holds_its_first_end_and_not_its_last() {
        let range = Look::Grist { from: 1.0, to: 4.0 };
        assert_eq!(seen(&store(), &range), ["thick", "middle"]);
        assert_eq!(seen(&store(), &Look::NoGrist), ["unknown"]);
    }

    #[test]
    fn constructions_are_found_by_name_or_by_not_being_stated() {
        let built = |of: &[Construction], or_not_stated| Look::Built {
            of: of.to_vec(),
            or_not_stated,
        };
        let store = store();
        assert_eq!(
            seen(&store, &built(&[Construction::Brushed], false)),
            ["fine"]
        );
        assert_eq!(
            seen(&store, &built(&[Construction::Plied], true)),
            ["thick", "middle"]
        );
        assert_eq!(seen(&store, &built(&[], false)), Vec::<String>::new());
    }

    #[test]
    fn the_yarn_of_a_pattern_is_not_taken_for_one() {
        let mut store = Store::in_memory().unwrap();
        store
            .write(|w| w.add_pattern(&full_pattern("Bollard")))
            .unwrap();
        let all = Look::Grist { from: 0.0, to: 1e9 };
        let reader = store.reader().unwrap();
        let mut glances = Vec::new();
        let done: Result<(), StoreError> = reader.glances(&all, |glance| {
            glances.push(glance);
            Ok(())
        });
        done.unwrap();
        assert!(!glances.is_empty());
        for glance in glances {
            assert_eq!(reader.yarn_to_judge(glance.yarn).unwrap(), None);
        }
    }

    #[test]
    fn a_look_reads_nothing_but_the_index() {
        let store = Store::in_memory().unwrap();
        let reader = store.reader().unwrap();
        for sql in [GRIST, BUILT, NO_GRIST] {
            let step = |row: &mut RowReader<'_, '_>| {
                row.part::<(i64, (i64, i64))>()?;
                row.cell::<String>()
            };
            let params = vec!["1"; sql.matches('?').count()];
            let plan = format!("EXPLAIN QUERY PLAN {sql}");
            let params = rusqlite::params_from_iter(params);
            let plan = reader
                .db
                .all("plan", &plan, params, step)
                .unwrap()
                .join("; ");
            assert!(
                plan.contains("COVERING INDEX facts_by_grist"),
                "{sql}: {plan}"
            );
        }
    }
}
