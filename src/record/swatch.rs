//! A gauge as stated, with its stitch and how it was worked; and a swatch: one that was
//! measured of a yarn on a needle, or of several yarns held together.

use super::{Id, RecordError, Yarn};
use crate::measure::{Gauge, NeedleSize};

/// A swatch: what was measured before washing, after it, or both.
#[derive(Debug, Clone, PartialEq)]
pub struct Swatch {
    /// The needle.
    pub needle: NeedleSize,
    /// Gauge before washing, with stitch, flat or round and strands.
    pub before: Option<StatedGauge>,
    /// Counts after washing, over their own length.
    pub after: Option<Gauge>,
    /// The day it was measured, as `YYYY-MM-DD`.
    pub measured_on: String,
    /// Anything else.
    pub notes: String,
    /// Yarns that were held together with its own, one once for each of its strands.
    pub held_with: Vec<Id<Yarn>>,
}

/// The most strands of a swatch of different yarns.
const MOST_HELD: usize = 3;

impl Swatch {
    /// A swatch of what was counted `before` washing and `after` it. Stitch, flat
    /// or round, and strands are those of the gauge before washing; the other may
    /// repeat them.
    pub fn measured(
        needle: NeedleSize,
        before: Option<StatedGauge>,
        after: Option<StatedGauge>,
    ) -> Result<Self, RecordError> {
        let before = before.map(|before| counted(before, false)).transpose()?;
        let after = after.map(|after| counted(after, true)).transpose()?;
        if before.is_none() && after.is_none() {
            return Err(RecordError::NothingCounted);
        }
        if let Some(after) = &after
            && !is_repeated(after, before.as_ref())
        {
            return Err(RecordError::StatedAfterOnly);
        }
        Ok(Self {
            needle,
            before,
            after: after.map(|after| after.gauge),
            measured_on: String::new(),
            notes: String::new(),
            held_with: Vec::new(),
        })
    }

    /// The same of its yarn held together with these.
    pub fn held_with(self, held_with: Vec<Id<Yarn>>) -> Result<Self, RecordError> {
        self.check_strands(held_with.len())?;
        Ok(Self { held_with, ..self })
    }

    /// Whether its yarn may have been held together with so many others, by what is stated
    /// of its strands.
    pub fn check_strands(&self, others: usize) -> Result<(), RecordError> {
        let (yarns, most) = (others + 1, MOST_HELD);
        if yarns > most {
            return Err(RecordError::TooManyHeld { given: yarns, most });
        }
        match self.stated_strands() {
            Some(stated) if others > 0 && usize::from(stated) != yarns => {
                Err(RecordError::StrandsOtherwise { stated, yarns })
            }
            _ => Ok(()),
        }
    }

    fn stated_strands(&self) -> Option<u8> {
        self.before.as_ref()?.strands
    }

    /// How many strands it was worked with.
    pub fn strands(&self) -> u8 {
        match self.held_with.len() {
            0 => self.stated_strands().unwrap_or(1),
            others => u8::try_from(others).map_or(u8::MAX, |others| others.saturating_add(1)),
        }
    }

    /// Whether no other yarn than `own`, which it is of, was held.
    pub fn is_of_one(&self, own: Id<Yarn>) -> bool {
        self.held_with.iter().all(|yarn| *yarn == own)
    }

    /// The yarns of its strands, where it is of `own`: in an order that does not depend on
    /// which was named first, one once for each of its strands.
    pub fn strand(&self, own: Id<Yarn>) -> Vec<Id<Yarn>> {
        let mut yarns = match self.held_with.len() {
            0 => vec![own; usize::from(self.strands())],
            _ => self.held_with.iter().copied().chain([own]).collect(),
        };
        yarns.sort();
        yarns
    }

    /// The same as one strand of what its yarns are together.
    pub fn as_one_strand(mut self) -> Self {
        self.held_with.clear();
        if let Some(before) = &mut self.before {
            before.strands = None;
        }
        self
    }
}

/// A gauge that can be one of a swatch, marked as washed or not.
fn counted(gauge: StatedGauge, washed: bool) -> Result<StatedGauge, RecordError> {
    let (when, other) = if washed {
        ("after", "before")
    } else {
        ("before", "after")
    };
    if gauge.gauge.over().is_none() {
        return Err(RecordError::OverNoLength { when });
    }
    if gauge.washed == Some(!washed) {
        return Err(RecordError::WashedOtherwise { when, other });
    }
    Ok(StatedGauge {
        washed: Some(washed),
        ..gauge
    })
}

/// Whether all that is stated `after` washing is stated before it too; no stitch
/// counts as stockinette.
fn is_repeated(after: &StatedGauge, before: Option<&StatedGauge>) -> bool {
    fn same<T: PartialEq>(after: Option<&T>, before: Option<&T>) -> bool {
        after.is_none() || after == before
    }
    let plain = after.is_stockinette() && before.is_none_or(StatedGauge::is_stockinette);
    let stitch = same(
        after.stitch.as_ref(),
        before.and_then(|b| b.stitch.as_ref()),
    );
    (plain || stitch)
        && same(
            after.worked.as_ref(),
            before.and_then(|b| b.worked.as_ref()),
        )
        && same(
            after.strands.as_ref(),
            before.and_then(|b| b.strands.as_ref()),
        )
}

/// A gauge and the conditions it was counted under; `None` where not stated.
#[derive(Debug, Clone, PartialEq)]
pub struct StatedGauge {
    /// The counts and the length they were counted over.
    pub gauge: Gauge,
    /// The stitch pattern.
    pub stitch: Option<Stitch>,
    /// Flat or in the round.
    pub worked: Option<FlatOrRound>,
    /// Whether it was counted after washing.
    pub washed: Option<bool>,
    /// Strands held together.
    pub strands: Option<u8>,
}

impl StatedGauge {
    /// A gauge about which nothing else is stated.
    pub fn bare(gauge: Gauge) -> Self {
        Self {
            gauge,
            stitch: None,
            worked: None,
            washed: None,
            strands: None,
        }
    }

    /// Whether it may be compared with a label's gauge, which is stockinette by
    /// common practice: stockinette, or no stitch stated.
    pub fn is_stockinette(&self) -> bool {
        matches!(self.stitch, None | Some(Stitch::Stockinette))
    }
}

/// The stitch pattern of a gauge.
#[derive(Debug, Clone, PartialEq, Eq, Hash)]
pub enum Stitch {
    /// Stockinette (stocking stitch), which labels use.
    Stockinette,
    /// Any other, as named.
    Other(String),
}

impl Stitch {
    /// The stitch of this name.
    pub fn named(text: &str) -> Self {
        const STOCKINETTE: [&str; 6] = [
            "stockinette",
            "stockinette stitch",
            "stocking stitch",
            "st st",
            "stst",
            "plain knit",
        ];
        if STOCKINETTE.contains(&crate::words::fold(text).as_str()) {
            Self::Stockinette
        } else {
            Self::Other(text.trim().to_owned())
        }
    }

    /// Whether two gauges are of one stitch. No stitch stated is stockinette, as
    /// on labels (common practice, no source).
    pub fn is_same(one: Option<&Self>, other: Option<&Self>) -> bool {
        let name = |stitch: Option<&Self>| match stitch {
            None | Some(Self::Stockinette) => None,
            Some(Self::Other(name)) => Some(crate::words::fold(name)),
        };
        name(one) == name(other)
    }

    /// Its name.
    pub fn name(&self) -> &str {
        match self {
            Self::Stockinette => "stockinette",
            Self::Other(name) => name,
        }
    }
}

/// Flat or in the round.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum FlatOrRound {
    /// Back and forth.
    Flat,
    /// In the round.
    InTheRound,
}

impl FlatOrRound {
    /// The words used here.
    pub fn name(self) -> &'static str {
        match self {
            Self::Flat => "flat",
            Self::InTheRound => "in the round",
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{
        measure::{Interval, Over},
        record::Stitch,
    };

    fn gauge(stitch: Option<&str>, over: Option<f64>) -> StatedGauge {
        let over = over.map(|cm| Over::centimetres(cm).unwrap());
        let mut stated = StatedGauge::bare(Gauge::new(Interval::one(20.0), None, over).unwrap());
        stated.stitch = stitch.map(Stitch::named);
        stated
    }

    fn measured(
        before: Option<StatedGauge>,
        after: Option<StatedGauge>,
    ) -> Result<Swatch, RecordError> {
        Swatch::measured(NeedleSize::millimetres(4.0).unwrap(), before, after)
    }

    #[test]
    fn a_swatch_has_a_gauge_over_a_length() {
        assert_eq!(measured(None, None), Err(RecordError::NothingCounted));
        for (before, after, when) in [
            (Some(gauge(None, None)), None, "before"),
            (None, Some(gauge(None, None)), "after"),
        ] {
            let told = measured(before, after);
            assert_eq!(told, Err(RecordError::OverNoLength { when }));
        }
    }

    #[test]
    fn the_order_in_which_yarns_were_named_says_nothing_of_the_strand() {
        let (dune, fen) = (Id::new(7), Id::new(3));
        let of = |yarns: &[Id<Yarn>]| {
            let swatch = measured(gauge(None, Some(10.0)).into(), None).unwrap();
            swatch.held_with(yarns.to_vec())
        };
        let pair = of(&[fen]).unwrap();
        assert_eq!((pair.strands(), pair.strand(dune)), (2, vec![fen, dune]));
        assert_eq!(of(&[dune]).unwrap().strand(fen), pair.strand(dune));
        assert!(!pair.is_of_one(dune) && of(&[dune]).unwrap().is_of_one(dune));
        let three = of(&[fen, dune]).unwrap();
        assert_eq!(three.strand(dune), [fen, dune, dune]);
        let (given, most) = (4, 3);
        let told = of(&[fen, fen, fen]);
        assert_eq!(told, Err(RecordError::TooManyHeld { given, most }));
    }

    #[test]
    fn two_strands_of_one_yarn_are_the_same_however_they_are_written() {
        let dune = Id::new(7);
        let mut stated = gauge(None, Some(10.0));
        stated.strands = Some(2);
        let swatch = measured(Some(stated), None).unwrap();
        assert_eq!((swatch.strands(), swatch.strand(dune)), (2, vec![dune; 2]));
        assert_eq!(swatch.clone().as_one_strand().strands(), 1);
        assert!(swatch.clone().held_with(vec![Id::new(3)]).is_ok());
        let (stated, yarns) = (2, 3);
        let told = swatch.held_with(vec![Id::new(3); 2]);
        assert_eq!(told, Err(RecordError::StrandsOtherwise { stated, yarns }));
    }

    #[test]
    fn a_gauge_that_says_otherwise_is_not_turned_silently() {
        let mut washed = gauge(None, Some(10.0));
        washed.washed = Some(true);
        assert!(measured(None, Some(washed.clone())).is_ok());
        let told = measured(Some(washed), None).unwrap_err();
        assert!(
            told.to_string()
                .contains("before washing says that it was counted after")
        );
    }

    #[test]
    fn a_stitch_that_only_the_washed_gauge_states_is_not_lost_silently() {
        let garter = || Some(gauge(Some("garter"), Some(10.0)));
        let bare = || Some(gauge(None, Some(10.0)));
        for before in [None, bare()] {
            let told = measured(before, garter());
            assert_eq!(told, Err(RecordError::StatedAfterOnly));
        }
        assert!(measured(garter(), garter()).is_ok());
        assert!(measured(garter(), bare()).is_ok());
        assert!(measured(None, Some(gauge(Some("stockinette"), Some(10.0)))).is_ok());
    }
}
