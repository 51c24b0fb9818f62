//! Looking through many yarns at little cost: only what stands in the index on
//! length per mass, or in the one on gauge, is read, in its order.
//!
//! The indexes hold the yarns of patterns too; [`Reader::yarn_to_judge`] and
//! [`Reader::name_keys`] tell them apart.

use super::{
    NameKeys, Reader, StoreError,
    columns::classes_of_bits,
    rows::{DecodeError, FromRow, RowReader},
};
use crate::{
    measure::{Gauge, Interval},
    record::{Blend, Care, Classes, Id, StatedGauge, Yarn},
    trade::Construction,
};
use rusqlite::types::Value;

/// Class, construction, blend and washing, as they stand in the index.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
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
    /// The gauge of its label, where that is read: stitches, stitch and strands.
    pub gauge: Option<StatedGauge>,
    /// What else stands in the index.
    pub kind: Kind,
}

/// How many times its lower end the higher end of a gauge is at most, by the second
/// column of the index on gauge. The last are all others, and gauges of several
/// strands.
pub const GAUGE_SPREADS: [f64; 5] = [1.0, 1.1, 1.25, 1.5, f64::INFINITY];

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
pub enum BlendFilter {
    /// Of any or none.
    Any,
    /// Those of the blends of these numbers.
    Only(Vec<i64>),
    /// Those of all other blends.
    AllBut(Vec<i64>),
}

impl BlendFilter {
    /// Those of all but these blends.
    pub fn all_but(blends: Vec<i64>) -> Self {
        if blends.is_empty() {
            Self::Any
        } else {
            Self::AllBut(blends)
        }
    }

    /// The condition, and its list as JSON; nothing where none rules a yarn out, since
    /// to look a blend up takes longer than to read it.
    fn condition(&self) -> Option<(&'static str, String)> {
        const LISTED: &str = " AND coalesce(blend, 0) IN (SELECT value FROM json_each(?))";
        const NOT_LISTED: &str = " AND coalesce(blend, 0) NOT IN (SELECT value FROM json_each(?))";
        match self {
            Self::Any => None,
            Self::Only(blends) => Some((LISTED, format!("{blends:?}"))),
            Self::AllBut(blends) => Some((NOT_LISTED, format!("{blends:?}"))),
        }
    }
}

/// What is read of every yarn.
const ENTRY: &str = "id, grist, classes, construction, blend, care";
/// And where its gauge is looked at: half of the time of a scan.
const GAUGE: &str = ", gauge_stitches_low, gauge_stitches_high, gauge_over_m, \
                     gauge_stockinette, gauge_stitch, gauge_strands";

impl ScanRange {
    /// All yarns with a grist, or all without.
    pub fn whole(with_grist: bool) -> Self {
        if with_grist {
            Self::AnyGrist
        } else {
            Self::NoGrist
        }
    }

    /// Whether it tells neither lengths per mass nor gauges apart.
    pub fn is_whole(self) -> bool {
        matches!(self, Self::AnyGrist | Self::NoGrist)
    }

    /// From its first end to its last.
    pub fn width(self) -> f64 {
        match self {
            Self::Grist { from, to } | Self::Gauge { from, to, .. } => to - from,
            Self::NoGauge | Self::Neither | Self::AnyGrist | Self::NoGrist => f64::INFINITY,
        }
    }

    /// The index in which the yarns stand, which of it, and the parameters of that.
    fn place(self) -> (&'static str, Vec<Value>) {
        match self {
            Self::Grist { from, to } => (
                "facts_by_grist WHERE grist >= ? AND grist < ?",
                vec![from.into(), to.into()],
            ),
            Self::Gauge {
                spread,
                from,
                to,
                with_grist,
            } => (
                BY_GAUGE,
                vec![
                    i64::from(with_grist).into(),
                    i64::from(spread).into(),
                    from.into(),
                    to.into(),
                ],
            ),
            Self::NoGauge => (
                "facts_by_grist WHERE grist IS NOT NULL AND gauge_stitches_low IS NULL",
                vec![],
            ),
            Self::Neither => (
                "facts_by_grist WHERE grist IS NULL AND gauge_stitches_low IS NULL",
                vec![],
            ),
            Self::AnyGrist => ("facts_by_grist WHERE grist IS NOT NULL", vec![]),
            Self::NoGrist => ("facts_by_grist WHERE grist IS NULL", vec![]),
        }
    }
}

/// In the words of the index.
const BY_GAUGE: &str = "facts_by_gauge WHERE gauge_stitches_low IS NOT NULL
     AND (grist IS NOT NULL) = ? AND
     CASE WHEN coalesce(gauge_strands, 1) <> 1 THEN 4
          WHEN gauge_stitches_high <= gauge_stitches_low THEN 0
          WHEN gauge_stitches_high <= gauge_stitches_low * 1.1 THEN 1
          WHEN gauge_stitches_high <= gauge_stitches_low * 1.25 THEN 2
          WHEN gauge_stitches_high <= gauge_stitches_low * 1.5 THEN 3
          ELSE 4 END = ?
     AND gauge_stitches_low * 0.1 / coalesce(gauge_over_m, 0.1) >= ?
     AND gauge_stitches_low * 0.1 / coalesce(gauge_over_m, 0.1) < ?";

/// Gauges that reach so many stitches over 10 cm, and those of several strands.
const REACHING: &str = " AND (gauge_stitches_high * 0.1 / coalesce(gauge_over_m, 0.1) >= ?
     OR coalesce(gauge_strands, 1) <> 1)";

/// What is looked at in the index.
#[derive(Debug, Clone, Copy)]
pub struct IndexScan<'b> {
    /// Which yarns.
    pub range: ScanRange,
    /// Of which blends.
    pub blends: &'b BlendFilter,
    /// Of those with a label gauge only those that reach so many stitches over 10 cm,
    /// or are of several strands.
    pub reaching: Option<f64>,
    /// Whether their gauge is read.
    pub with_gauge: bool,
}

impl IndexScan<'_> {
    fn sql(&self) -> (String, Vec<Value>) {
        let (place, mut params) = self.range.place();
        let gauge = if self.with_gauge { GAUGE } else { "" };
        let mut sql = format!("SELECT {ENTRY}{gauge} FROM facts INDEXED BY {place}");
        if let Some((condition, listed)) = self.blends.condition() {
            sql.push_str(condition);
            params.push(listed.into());
        }
        if let (ScanRange::Gauge { .. }, Some(stitches)) = (self.range, self.reaching) {
            sql.push_str(REACHING);
            params.push(stitches.into());
        }
        (sql, params)
    }
}

impl FromRow for IndexEntry {
    fn decode(row: &mut RowReader<'_, '_>) -> Result<Self, DecodeError> {
        Ok(Self {
            yarn: row.part()?,
            grist: row.cell()?,
            kind: Kind {
                classes: row.cell()?,
                construction: row.part()?,
                blend: row.cell()?,
                care: row.part()?,
            },
            gauge: if row.is_at_end() {
                None
            } else {
                decode_gauge(row)?
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
    /// Hands what there is to look at to `each`.
    pub fn scan_index<E: From<StoreError>>(
        &self,
        scan: &IndexScan<'_>,
        each: impl FnMut(IndexEntry) -> Result<(), E>,
    ) -> Result<(), E> {
        let (sql, params) = scan.sql();
        self.db
            .each("facts", &sql, rusqlite::params_from_iter(params), each)
    }

    /// At most `count` yarns by folded maker and name, those after `last`, and what the
    /// index tells of them.
    pub fn index_entries_after(
        &self,
        last: &NameKeys,
        count: u32,
    ) -> Result<Vec<(NameKeys, IndexEntry)>, StoreError> {
        let sql = format!(
            "SELECT maker_key, name_key, {ENTRY}{GAUGE} FROM yarn JOIN facts USING (id) \
             WHERE (maker_key, name_key) > (?, ?) ORDER BY maker_key, name_key LIMIT ?"
        );
        self.db.all("yarn", &sql, (&last.0, &last.1, count))
    }

    /// Whether at most so many have a length per mass, or have none.
    pub fn has_at_most(&self, few: u32, with_grist: bool) -> Result<bool, StoreError> {
        let (place, _) = ScanRange::whole(with_grist).place();
        let sql = format!(
            "SELECT count(*) <= ?1 FROM (SELECT 1 FROM facts INDEXED BY {place} LIMIT ?1 + 1)"
        );
        Ok(self.db.number(&sql, [few])? > 0)
    }

    /// At most so many blends, with their numbers.
    pub fn blends(&self, most: usize) -> Result<Vec<(i64, Blend)>, StoreError> {
        let sql = "SELECT id, parts FROM blend LIMIT ?";
        let most = i64::try_from(most).unwrap_or(i64::MAX);
        self.db.all("blend", sql, [most])
    }

    /// How many yarns there are of each blend; of those without one in the end.
    pub fn count_by_blend(&self) -> Result<Vec<(Option<Blend>, u64)>, StoreError> {
        let sql = "SELECT count(*), parts FROM facts JOIN yarn USING (id) \
                   JOIN blend ON blend.id = facts.blend GROUP BY facts.blend";
        let counted: Vec<(i64, Blend)> = self.db.all("blend", sql, [])?;
        let sql = "SELECT count(*) FROM facts JOIN yarn USING (id) WHERE blend IS NULL";
        let without = self.db.number(sql, [])?;
        let counted = counted
            .into_iter()
            .map(|(count, blend)| (Some(blend), count));
        let all = counted
            .chain([(None, without)])
            .filter(|(_, count)| *count > 0);
        Ok(all
            .map(|(blend, count)| (blend, count.unsigned_abs()))
            .collect())
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

    fn scan(range: ScanRange, blends: &BlendFilter) -> IndexScan<'_> {
        IndexScan {
            range,
            blends,
            reaching: None,
            with_gauge: true,
        }
    }

    fn seen(store: &Store, range: ScanRange) -> Vec<String> {
        seen_of(store, range, &BlendFilter::Any)
    }

    fn seen_of(store: &Store, range: ScanRange, blends: &BlendFilter) -> Vec<String> {
        names(store, &scan(range, blends))
    }

    fn names(store: &Store, scan: &IndexScan<'_>) -> Vec<String> {
        let reader = store.reader().unwrap();
        let mut names = Vec::new();
        let done: Result<(), StoreError> = reader.scan_index(scan, |entry| {
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
    fn entries_by_name_are_those_of_the_index_in_the_order_of_names() {
        let store = store();
        let reader = store.reader().unwrap();
        let mut by_name = Vec::new();
        let mut last = NameKeys::default();
        loop {
            let entries = reader.index_entries_after(&last, 2).unwrap();
            let Some((end, _)) = entries.last().cloned() else {
                break;
            };
            by_name.extend(entries);
            last = end;
        }
        assert!(by_name.is_sorted_by(|(a, _), (b, _)| a < b));
        let mut by_name: Vec<_> = by_name.into_iter().map(|(_, entry)| entry).collect();
        let mut scanned = Vec::new();
        for range in [ScanRange::AnyGrist, ScanRange::NoGrist] {
            let each = |entry| {
                scanned.push(entry);
                Ok::<_, StoreError>(())
            };
            let scan = scan(range, &BlendFilter::Any);
            reader.scan_index(&scan, each).unwrap();
        }
        for entries in [&mut by_name, &mut scanned] {
            entries.sort_by_key(|entry: &IndexEntry| entry.yarn.number());
        }
        assert!(by_name.len() > 5);
        assert_eq!(by_name, scanned);
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
    fn a_gauge_is_read_where_that_is_asked() {
        let store = store();
        let reader = store.reader().unwrap();
        let blends = BlendFilter::Any;
        for with_gauge in [true, false] {
            let scan = IndexScan {
                with_gauge,
                ..scan(ScanRange::AnyGrist, &blends)
            };
            let mut gauges = 0;
            let done: Result<(), StoreError> = reader.scan_index(&scan, |entry| {
                gauges += usize::from(entry.gauge.is_some());
                Ok(())
            });
            done.unwrap();
            assert_eq!(gauges, if with_gauge { 6 } else { 0 });
        }
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
        assert_eq!(from(3, 20.0, 22.0), ["widest"]);
        assert_eq!(from(4, 0.0, 1e9), ["double"]);
    }

    #[test]
    fn gauges_that_do_not_reach_far_enough_are_passed_over_but_not_of_several_strands() {
        let store = store();
        let reaching = |spread, stitches| {
            let range = ScanRange::Gauge {
                spread,
                from: 0.0,
                to: 1e9,
                with_grist: true,
            };
            let scan = IndexScan {
                reaching: Some(stitches),
                ..scan(range, &BlendFilter::Any)
            };
            names(&store, &scan)
        };
        assert_eq!(reaching(0, 21.9), ["even"]);
        assert_eq!(reaching(2, 25.0), ["wide"]);
        assert!(reaching(2, 25.1).is_empty());
        assert_eq!(reaching(4, 99.0), ["double"]);
    }

    #[test]
    fn few_are_told_from_many_by_whether_they_have_a_length_per_mass() {
        let store = store();
        let reader = store.reader().unwrap();
        let few = |most, with_grist| reader.has_at_most(most, with_grist).unwrap();
        assert!(few(8, true) && !few(7, true));
        assert!(few(1, false) && !few(0, false));
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
        assert_eq!(of(BlendFilter::Only(vec![number])), ["of a blend"]);
        assert_eq!(of(BlendFilter::AllBut(vec![number])), ["bare"]);
        assert_eq!(of(BlendFilter::Only(vec![NO_BLEND])), ["bare"]);
        assert_eq!(of(BlendFilter::Only(vec![NO_BLEND, number])).len(), 2);
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
            reader.scan_index(&scan(all, &BlendFilter::Any), |entry| {
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
        let (from, to) = (1.0, 2.0);
        let gauge = ScanRange::Gauge {
            spread: 0,
            from,
            to,
            with_grist: true,
        };
        let ranges = [
            ScanRange::Grist { from, to },
            gauge,
            ScanRange::NoGauge,
            ScanRange::Neither,
            ScanRange::AnyGrist,
            ScanRange::NoGrist,
        ];
        let filters = [BlendFilter::Any, BlendFilter::AllBut(vec![1])];
        let scans = ranges.iter().flat_map(|range| {
            filters.each_ref().map(|blends| IndexScan {
                reaching: Some(1.0),
                ..scan(*range, blends)
            })
        });
        for scan in scans {
            let (sql, params) = scan.sql();
            let plan = format!("EXPLAIN QUERY PLAN {sql}");
            let params = rusqlite::params_from_iter(params);
            let steps: Vec<(i64, i64, i64, String)> = reader.db.all("plan", &plan, params).unwrap();
            let plan: Vec<String> = steps.into_iter().map(|step| step.3).collect();
            let plan = plan.join("; ");
            assert!(plan.contains("COVERING INDEX facts_by_"), "{sql}: {plan}");
            let whole = matches!(scan.range, ScanRange::AnyGrist | ScanRange::NoGauge);
            assert!(whole || plan.starts_with("SEARCH"), "{sql}: {plan}");
        }
    }
}
