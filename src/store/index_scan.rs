//! Looking through many yarns at little cost: only what stands in the index on
//! length per mass, or in the one on gauge, is read, in its order.
//!
//! The indexes hold the yarns of patterns too; [`Reader::yarn_to_judge`] and
//! [`Reader::name_keys`] tell them apart.

use super::{
    Reader, StoreError,
    columns::classes_of_bits,
    rows::{Columns, DecodeError, RowReader},
};
use crate::{
    measure::{Gauge, Interval},
    record::{Blend, Care, Classes, Id, StatedGauge, Yarn},
    trade::Construction,
};

/// Class, construction, blend and washing, as they stand in the index.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub struct Kind {
    /// Bit n: class n is possible.
    pub classes: Option<u8>,
    /// The construction.
    pub construction: Option<Construction>,
    /// The blend's number.
    pub blend: Option<i64>,
    /// How it is washed.
    pub care: Option<Care>,
}

impl Kind {
    /// The classes that are possible.
    pub fn class(self) -> Option<Classes> {
        self.classes.and_then(classes_of_bits)
    }
}

/// What stands of a yarn in the index.
#[derive(Debug, Clone, PartialEq)]
pub struct IndexEntry {
    /// Its number.
    pub yarn: Id<Yarn>,
    /// Length per mass, m/g.
    pub grist: Option<f64>,
    /// The gauge of its label: stitches, stitch and strands.
    pub gauge: Option<StatedGauge>,
    /// What else stands in the index.
    pub kind: Kind,
}

/// How many times its lower end the higher end of a gauge is at most, by the first
/// column of the index on gauge. The last are all others, and gauges of several
/// strands.
pub const GAUGE_SPREADS: [f64; 4] = [1.0, 1.1, 1.25, f64::INFINITY];

/// Which yarns are looked at.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum ScanRange {
    /// Those of grist `from` (included) to `to` (not included), m/g.
    Grist {
        /// From.
        from: f64,
        /// To.
        to: f64,
    },
    /// Those whose label gauge begins at `from` (included) to `to` (not included)
    /// stitches over 10 cm.
    Gauge {
        /// The place in [`GAUGE_SPREADS`].
        spread: u8,
        /// From.
        from: f64,
        /// To.
        to: f64,
    },
    /// Those with a grist and no label gauge.
    NoGauge,
    /// Those with a grist.
    AnyGrist,
    /// Those without a grist.
    NoGrist,
}

/// What is read of every yarn, from where.
macro_rules! entries {
    ($index:literal, $where:literal) => {
        concat!(
            "SELECT id, grist, gauge_stitches_low, gauge_stitches_high, gauge_over_m, ",
            "gauge_stockinette, gauge_stitch, gauge_strands, classes, construction, blend, care ",
            "FROM facts INDEXED BY ",
            $index,
            " WHERE ",
            $where
        )
    };
}

const GRIST: &str = entries!("facts_by_grist", "grist >= ? AND grist < ?");
const NO_GAUGE: &str = entries!(
    "facts_by_grist",
    "grist IS NOT NULL AND gauge_stitches_low IS NULL"
);
const ANY_GRIST: &str = entries!("facts_by_grist", "grist IS NOT NULL");
const NO_GRIST: &str = entries!("facts_by_grist", "grist IS NULL");
/// In the words of the index.
const GAUGE: &str = entries!(
    "facts_by_gauge",
    "gauge_stitches_low IS NOT NULL AND
     CASE WHEN coalesce(gauge_strands, 1) <> 1 THEN 3
          WHEN gauge_stitches_high <= gauge_stitches_low THEN 0
          WHEN gauge_stitches_high <= gauge_stitches_low * 1.1 THEN 1
          WHEN gauge_stitches_high <= gauge_stitches_low * 1.25 THEN 2
          ELSE 3 END = ?
     AND gauge_stitches_low * 0.1 / coalesce(gauge_over_m, 0.1) >= ?
     AND gauge_stitches_low * 0.1 / coalesce(gauge_over_m, 0.1) < ?"
);

fn decode(row: &mut RowReader<'_, '_>) -> Result<IndexEntry, DecodeError> {
    Ok(IndexEntry {
        yarn: Id::new(row.cell()?),
        grist: row.cell()?,
        gauge: decode_gauge(row)?,
        kind: Kind {
            classes: row.cell()?,
            construction: row.part()?,
            blend: row.cell()?,
            care: row.part()?,
        },
    })
}

fn decode_gauge(row: &mut RowReader<'_, '_>) -> Result<Option<StatedGauge>, DecodeError> {
    let stitches: Option<Interval<f64>> = row.part()?;
    let (over, stitch, strands) = (row.part()?, row.part()?, row.cell()?);
    let Some(stitches) = stitches else {
        return Ok(None);
    };
    Ok(Some(StatedGauge {
        stitch,
        strands,
        ..StatedGauge::bare(Gauge::new(stitches, None, over)?)
    }))
}

impl Reader<'_> {
    /// Hands what there is to look at to `each`.
    pub fn scan_index<E: From<StoreError>>(
        &self,
        range: ScanRange,
        each: impl FnMut(IndexEntry) -> Result<(), E>,
    ) -> Result<(), E> {
        let db = &self.db;
        match range {
            ScanRange::Grist { from, to } => db.each("facts", GRIST, (from, to), decode, each),
            ScanRange::Gauge { spread, from, to } => {
                db.each("facts", GAUGE, (spread, from, to), decode, each)
            }
            ScanRange::NoGauge => db.each("facts", NO_GAUGE, [], decode, each),
            ScanRange::AnyGrist => db.each("facts", ANY_GRIST, [], decode, each),
            ScanRange::NoGrist => db.each("facts", NO_GRIST, [], decode, each),
        }
    }

    /// The blend with this number.
    pub fn blend(&self, number: i64) -> Result<Option<Blend>, StoreError> {
        let sql = "SELECT parts FROM blend WHERE id = ?";
        self.db.first("blend", sql, [number], Blend::decode)
    }
}

#[cfg(test)]
mod tests {
    use super::super::{
        Store,
        samples::{bare, full_pattern, put_up},
    };
    use super::*;
    use crate::{
        measure::Over,
        record::{Printed, Stitch},
    };

    fn store() -> Store {
        let mut store = Store::in_memory().unwrap();
        let gauge = |name, low, high, over, strands| {
            let mut yarn = put_up("Quay", name, 225.0, 100.0);
            let stitches = Interval::between(low, high).unwrap();
            let gauge = Gauge::new(stitches, None, over).unwrap();
            let stated = StatedGauge {
                strands,
                stitch: Some(Stitch::named("garter")),
                ..StatedGauge::bare(gauge)
            };
            yarn.facts.gauge = Some(Printed::new("", stated));
            yarn
        };
        let over_10 = Over::centimetres(10.0).ok();
        let kept: Result<(), StoreError> = store.write(|writer| {
            writer.add_yarn(&put_up("Quay", "thick", 100.0, 100.0))?;
            writer.add_yarn(&put_up("Quay", "fine", 400.0, 100.0))?;
            writer.add_yarn(&bare("Quay", "unknown"))?;
            writer.add_yarn(&gauge("even", 22.0, 22.0, over_10, None))?;
            writer.add_yarn(&gauge("inch", 5.5, 5.5, Over::inches(1.0).ok(), Some(1)))?;
            writer.add_yarn(&gauge("range", 20.0, 22.0, None, None))?;
            writer.add_yarn(&gauge("wide", 20.0, 25.0, over_10, None))?;
            writer.add_yarn(&gauge("widest", 20.0, 30.0, over_10, None))?;
            writer.add_yarn(&gauge("double", 22.0, 22.0, over_10, Some(2)))?;
            Ok(())
        });
        kept.unwrap();
        store
    }

    fn seen(store: &Store, range: ScanRange) -> Vec<String> {
        let reader = store.reader().unwrap();
        let mut names = Vec::new();
        let done: Result<(), StoreError> = reader.scan_index(range, |entry| {
            let yarn = reader.yarn_to_judge(entry.yarn)?.unwrap().record;
            let grist = yarn.facts.grist();
            assert_eq!(entry.grist, grist.map(|grist| grist.as_metres_per_gram()));
            assert_eq!(entry.gauge, yarn.facts.gauge.map(|gauge| gauge.value));
            names.push(yarn.name.to_string());
            Ok(())
        });
        done.unwrap();
        names
    }

    #[test]
    fn a_range_holds_its_first_end_and_not_its_last() {
        let range = ScanRange::Grist {
            from: 1.0,
            to: 2.25,
        };
        assert_eq!(seen(&store(), range), ["thick"]);
        assert_eq!(seen(&store(), ScanRange::NoGrist), ["unknown"]);
        assert_eq!(seen(&store(), ScanRange::NoGauge), ["thick", "fine"]);
        assert_eq!(seen(&store(), ScanRange::AnyGrist).len(), 8);
    }

    #[test]
    fn gauges_are_found_by_how_wide_they_are_and_where_they_begin() {
        let store = store();
        let from = |spread, from, to| seen(&store, ScanRange::Gauge { spread, from, to });
        assert_eq!(from(0, 21.0, 22.1), ["inch", "even"]);
        assert_eq!(from(0, 21.0, 22.0), ["inch"]);
        assert_eq!(from(1, 20.0, 22.0), ["range"]);
        assert_eq!(from(2, 20.0, 22.0), ["wide"]);
        assert_eq!(from(3, 0.0, 1e9), ["widest", "double"]);
    }

    #[test]
    fn the_yarn_of_a_pattern_is_not_taken_for_one() {
        let mut store = Store::in_memory().unwrap();
        store
            .write(|w| w.add_pattern(&full_pattern("Bollard")))
            .unwrap();
        let all = ScanRange::Grist { from: 0.0, to: 1e9 };
        let reader = store.reader().unwrap();
        let mut entries = Vec::new();
        let done: Result<(), StoreError> = reader.scan_index(all, |entry| {
            entries.push(entry);
            Ok(())
        });
        done.unwrap();
        assert!(!entries.is_empty());
        for entry in entries {
            assert_eq!(reader.yarn_to_judge(entry.yarn).unwrap(), None);
            assert_eq!(reader.name_keys(entry.yarn).unwrap(), None);
        }
    }

    #[test]
    fn a_look_reads_nothing_but_the_index() {
        let store = Store::in_memory().unwrap();
        let reader = store.reader().unwrap();
        for sql in [GRIST, GAUGE, NO_GAUGE, ANY_GRIST, NO_GRIST] {
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
            assert!(plan.contains("COVERING INDEX facts_by_"), "{sql}: {plan}");
            let whole = sql == ANY_GRIST || sql == NO_GAUGE;
            assert!(whole || plan.starts_with("SEARCH"), "{sql}: {plan}");
        }
    }
}
