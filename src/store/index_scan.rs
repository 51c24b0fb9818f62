//! Looking through many yarns at little cost: only what stands in the index on
//! length per mass, or in the one on gauge, is read, in its order.
//!
//! The indexes hold the yarns of patterns too; [`Reader::yarn_to_judge`] and
//! [`Reader::name_keys`] tell them apart.

use super::{
    Reader, StoreError,
    columns::classes_of_bits,
    rows::{DecodeError, FromRow, RowReader},
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
        /// Whether those with a grist, or those without.
        with_grist: bool,
    },
    /// Those with a grist and no label gauge.
    NoGauge,
    /// Those with neither.
    Neither,
    /// Those with a grist.
    AnyGrist,
    /// Those without a grist.
    NoGrist,
}

/// The number that stands for no blend in a [`BlendFilter`].
pub const NO_BLEND: i64 = 0;

/// Yarns of which blends are looked at.
#[derive(Debug, Clone, PartialEq)]
pub struct BlendFilter {
    /// A list as JSON.
    listed: String,
    is_listed: bool,
}

impl BlendFilter {
    /// Those of the blends of these numbers.
    pub fn only(blends: &[i64]) -> Self {
        Self {
            listed: format!("{blends:?}"),
            is_listed: true,
        }
    }

    /// Those of all other blends.
    pub fn all_but(blends: &[i64]) -> Self {
        Self {
            is_listed: false,
            ..Self::only(blends)
        }
    }
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
            $where,
            " AND (coalesce(blend, 0) IN (SELECT value FROM json_each(?))) = ?"
        )
    };
}

const GRIST: &str = entries!("facts_by_grist", "grist >= ? AND grist < ?");
const NO_GAUGE: &str = entries!(
    "facts_by_grist",
    "grist IS NOT NULL AND gauge_stitches_low IS NULL"
);
const NEITHER: &str = entries!(
    "facts_by_grist",
    "grist IS NULL AND gauge_stitches_low IS NULL"
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
     AND gauge_stitches_low * 0.1 / coalesce(gauge_over_m, 0.1) < ?
     AND (grist IS NOT NULL) = ?"
);

impl FromRow for IndexEntry {
    fn decode(row: &mut RowReader<'_, '_>) -> Result<Self, DecodeError> {
        Ok(Self {
            yarn: row.part()?,
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
    /// Hands what there is to look at of these blends to `each`.
    pub fn scan_index<E: From<StoreError>>(
        &self,
        range: ScanRange,
        blends: &BlendFilter,
        each: impl FnMut(IndexEntry) -> Result<(), E>,
    ) -> Result<(), E> {
        let db = &self.db;
        let (listed, is_listed) = (&blends.listed, blends.is_listed);
        let whole = match range {
            ScanRange::Grist { from, to } => {
                let params = (from, to, listed, is_listed);
                return db.each("facts", GRIST, params, each);
            }
            ScanRange::Gauge {
                spread,
                from,
                to,
                with_grist,
            } => {
                let params = (spread, from, to, with_grist, listed, is_listed);
                return db.each("facts", GAUGE, params, each);
            }
            ScanRange::NoGauge => NO_GAUGE,
            ScanRange::Neither => NEITHER,
            ScanRange::AnyGrist => ANY_GRIST,
            ScanRange::NoGrist => NO_GRIST,
        };
        db.each("facts", whole, (listed, is_listed), each)
    }

    /// At most so many blends, with their numbers.
    pub fn blends(&self, most: usize) -> Result<Vec<(i64, Blend)>, StoreError> {
        let sql = "SELECT id, parts FROM blend LIMIT ?";
        let most = i64::try_from(most).unwrap_or(i64::MAX);
        self.db.all("blend", sql, [most])
    }

    /// Whether a blend is not known of any yarn.
    pub fn has_yarn_without_blend(&self) -> Result<bool, StoreError> {
        let sql = "SELECT EXISTS (SELECT 1 FROM facts INDEXED BY facts_without_blend \
                   JOIN yarn USING (id) WHERE blend IS NULL)";
        Ok(self.db.number(sql, [])? > 0)
    }

    /// The blend with this number.
    pub fn blend(&self, number: i64) -> Result<Option<Blend>, StoreError> {
        let sql = "SELECT parts FROM blend WHERE id = ?";
        self.db.first("blend", sql, [number])
    }
}

#[cfg(test)]
mod tests {
    use super::super::{
        Store,
        samples::{bare, full, full_pattern, put_up},
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
        seen_of(store, range, &BlendFilter::all_but(&[]))
    }

    fn seen_of(store: &Store, range: ScanRange, blends: &BlendFilter) -> Vec<String> {
        let reader = store.reader().unwrap();
        let mut names = Vec::new();
        let done: Result<(), StoreError> = reader.scan_index(range, blends, |entry| {
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
        assert_eq!(seen(&store(), ScanRange::Neither), ["unknown"]);
        assert_eq!(seen(&store(), ScanRange::AnyGrist).len(), 8);
    }

    #[test]
    fn gauges_are_found_by_how_wide_they_are_and_where_they_begin() {
        let store = store();
        let from = |spread, from, to| {
            let range = |with_grist| ScanRange::Gauge {
                spread,
                from,
                to,
                with_grist,
            };
            assert!(seen(&store, range(false)).is_empty());
            seen(&store, range(true))
        };
        assert_eq!(from(0, 21.0, 22.1), ["inch", "even"]);
        assert_eq!(from(0, 21.0, 22.0), ["inch"]);
        assert_eq!(from(1, 20.0, 22.0), ["range"]);
        assert_eq!(from(2, 20.0, 22.0), ["wide"]);
        assert_eq!(from(3, 0.0, 1e9), ["widest", "double"]);
    }

    #[test]
    fn yarns_are_told_apart_by_whether_their_blend_is_listed() {
        let mut store = Store::in_memory().unwrap();
        let mut blended = put_up("Quay", "of a blend", 100.0, 100.0);
        blended.facts.blend = full().facts.blend;
        store.write(|writer| writer.add_yarn(&blended)).unwrap();
        let lacks_blend = |store: &Store| store.reader().unwrap().has_yarn_without_blend().unwrap();
        assert!(!lacks_blend(&store));
        let bare = put_up("Quay", "bare", 99.0, 100.0);
        store.write(|writer| writer.add_yarn(&bare)).unwrap();
        assert!(lacks_blend(&store));
        let number = store.reader().unwrap().blends(9).unwrap()[0].0;
        let of = |blends: BlendFilter| seen_of(&store, ScanRange::AnyGrist, &blends);
        assert_eq!(of(BlendFilter::only(&[number])), ["of a blend"]);
        assert_eq!(of(BlendFilter::all_but(&[number])), ["bare"]);
        assert_eq!(of(BlendFilter::only(&[NO_BLEND])), ["bare"]);
        assert_eq!(of(BlendFilter::only(&[NO_BLEND, number])).len(), 2);
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
        let done: Result<(), StoreError> =
            reader.scan_index(all, &BlendFilter::all_but(&[]), |entry| {
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
        for sql in [GRIST, GAUGE, NO_GAUGE, NEITHER, ANY_GRIST, NO_GRIST] {
            let params = vec!["1"; sql.matches('?').count()];
            let plan = format!("EXPLAIN QUERY PLAN {sql}");
            let params = rusqlite::params_from_iter(params);
            let steps: Vec<(i64, i64, i64, String)> = reader.db.all("plan", &plan, params).unwrap();
            let plan: Vec<String> = steps.into_iter().map(|step| step.3).collect();
            let plan = plan.join("; ");
            assert!(plan.contains("COVERING INDEX facts_by_"), "{sql}: {plan}");
            let whole = sql == ANY_GRIST || sql == NO_GAUGE;
            assert!(whole || plan.starts_with("SEARCH"), "{sql}: {plan}");
        }
    }
}
