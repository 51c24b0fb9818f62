//! A pattern as far as yarn is concerned: its sizes, its yarn roles, what it is for, what
//! each size takes and the multiple of its stitches.

use super::{Care, Name, Printed, RecordError, StatedGauge, YarnFacts};
use crate::measure::{Grist, GristTolerance, Interval, Length, Mass, MeasureError};
use std::collections::HashSet;

/// How close to the body, which sets how far the gauge may lie.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Fit {
    /// Sits close: gauge within 2.5 %.
    Fitted,
    /// Has ease: within 4 %.
    Relaxed,
    /// Shawls, blankets, pads: within 8 %.
    Unfitted,
}

impl Fit {
    /// All of them.
    pub const ALL: [Self; 3] = [Self::Fitted, Self::Relaxed, Self::Unfitted];

    /// The word used here.
    pub fn name(self) -> &'static str {
        match self {
            Self::Fitted => "fitted",
            Self::Relaxed => "relaxed",
            Self::Unfitted => "unfitted",
        }
    }
}

/// A pattern: sizes in order, and each yarn with one need a size.
#[derive(Debug, Clone, PartialEq)]
pub struct Pattern {
    /// Its name.
    pub name: Name,
    /// What it is for.
    pub purpose: Purpose,
    /// How close it sits.
    pub fit: Fit,
    /// Its gauge, with stitch, flat or round, washed or not.
    pub gauge: Option<Printed<StatedGauge>>,
    /// Stitch multiple.
    pub multiple: Option<Printed<Multiple>>,
    /// What washing it asks for.
    pub care: Option<Printed<Care>>,
    /// Tolerance on grist that the designer states.
    pub tolerance: Option<Printed<GristTolerance>>,
    /// Whether its needs hold a margin already; `None` where it does not say.
    pub margin_included: Option<bool>,
    /// Sizes in the pattern's order.
    pub sizes: Vec<Size>,
    /// Yarn roles in the pattern's order.
    pub yarns: Vec<PatternYarn>,
    /// Anything else.
    pub notes: String,
}

impl Pattern {
    /// The pattern, where it has a size and a yarn, names are unique, and each
    /// yarn has one need a size.
    pub fn checked(self) -> Result<Self, RecordError> {
        let without = |part| RecordError::Without {
            whole: "a pattern",
            part,
        };
        if self.sizes.is_empty() {
            return Err(without("size"));
        }
        if self.yarns.is_empty() {
            return Err(without("yarn"));
        }
        unique("size", self.sizes.iter().map(|size| &size.name))?;
        unique("yarn", self.yarns.iter().map(|yarn| &yarn.key))?;
        self.yarns
            .iter()
            .try_for_each(|yarn| one_need_a_size(yarn, self.sizes.len()))?;
        (0..self.yarns.len()).try_for_each(|place| held_with_one_before(&self.yarns, place))?;
        Ok(self)
    }

    /// The yarns of each strand in the pattern's order: mostly one, several where they are
    /// held together.
    pub fn strands(&self) -> Vec<Vec<&PatternYarn>> {
        let mut strands: Vec<Vec<&PatternYarn>> = Vec::new();
        for yarn in &self.yarns {
            let mut made = strands.iter_mut();
            match made.find(|strand| strand.first().is_some_and(|it| yarn.is_held_with(it))) {
                Some(strand) => strand.push(yarn),
                None => strands.push(vec![yarn]),
            }
        }
        strands
    }
}

/// The yarn that one names stands before it, and does not itself name another.
fn held_with_one_before(yarns: &[PatternYarn], place: usize) -> Result<(), RecordError> {
    let (before, from) = yarns.split_at(place);
    let Some((yarn, with)) = from
        .first()
        .and_then(|it| Some((it, it.held_with.as_ref()?)))
    else {
        return Ok(());
    };
    let mut first = before.iter().filter(|it| it.held_with.is_none());
    if first.clone().any(|it| yarn.is_held_with(it)) {
        return Ok(());
    }
    Err(RecordError::HeldWith {
        key: yarn.key.to_string(),
        with: with.to_string(),
        first: first.next().map(|it| it.key.to_string()),
    })
}

fn unique<'a>(
    what: &'static str,
    names: impl Iterator<Item = &'a Name>,
) -> Result<(), RecordError> {
    let mut seen = HashSet::new();
    for name in names {
        if !seen.insert(crate::words::fold(name.as_str())) {
            return Err(RecordError::Twice {
                what,
                name: name.to_string(),
            });
        }
    }
    Ok(())
}

fn one_need_a_size(yarn: &PatternYarn, sizes: usize) -> Result<(), RecordError> {
    if yarn.needs.len() == sizes {
        Ok(())
    } else {
        Err(RecordError::NeedsPerSize {
            key: yarn.key.to_string(),
            given: yarn.needs.len(),
            sizes,
        })
    }
}

/// One yarn role: its key, the yarn the sample was worked in, and the need of
/// each size, in the order of the pattern's sizes.
#[derive(Debug, Clone, PartialEq)]
pub struct PatternYarn {
    /// As the pattern calls it: A, B, MC, CC1.
    pub key: Name,
    /// The yarn of the sample, as `maker, name`, where the pattern says.
    pub called: Option<String>,
    /// What the pattern says of that yarn.
    pub reference: YarnFacts,
    /// Strands of it held together; 1 unless the pattern says otherwise. Needs
    /// count the metres of all strands, as one buys them.
    pub strands: u8,
    /// Key of a yarn before it with which it is held together as one strand.
    pub held_with: Option<Name>,
    /// One need a size.
    pub needs: Vec<Printed<Need>>,
}

impl PatternYarn {
    /// Whether it is held together with that yarn, in one strand.
    pub fn is_held_with(&self, first: &Self) -> bool {
        let fold = |name: &Name| crate::words::fold(name.as_str());
        self.held_with.as_ref().map(fold) == Some(fold(&first.key))
    }
}

/// One size, in the pattern's order.
#[derive(Debug, Clone, PartialEq)]
pub struct Size {
    /// As the pattern calls it.
    pub name: Name,
    /// Finished width (chest round, hat round, shawl across).
    pub width: Option<Printed<Length>>,
    /// Finished height.
    pub height: Option<Printed<Length>>,
    /// Stitches of that width, at the pattern's gauge.
    pub cast_on: Option<u32>,
    /// Rows of that height.
    pub rows: Option<u32>,
}

/// What the knitted thing is for.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Purpose {
    /// Clothes for grown people.
    Garment,
    /// Hats, scarves, bags.
    Accessory,
    /// Socks and stockings, whose heels rub.
    Socks,
    /// Blankets, cushions.
    Home,
    /// Dishcloths and face cloths: have to soak up water.
    Dishcloth,
    /// Hot pads, pot holders, oven gloves, tea cosies, hot mats: handled hot.
    HotPad,
    /// Knitted large and felted on purpose.
    Felted,
    /// Soft toys.
    Toy,
    /// Clothes of children, other than nightwear.
    Child,
    /// Nightwear of children: dressing gowns, robes and sleeping bags too.
    ChildNightwear,
    /// Anything for a baby.
    Baby,
}

impl Purpose {
    /// All of them.
    pub const ALL: [Self; 11] = [
        Self::Garment,
        Self::Accessory,
        Self::Socks,
        Self::Home,
        Self::Dishcloth,
        Self::HotPad,
        Self::Felted,
        Self::Toy,
        Self::Child,
        Self::ChildNightwear,
        Self::Baby,
    ];

    /// What both words together say: a cardigan for a child is a child's garment, since
    /// the rules for children hold for it. Nothing where they contradict each other.
    pub fn together(self, other: Self) -> Option<Self> {
        let is_general = |it| matches!(it, Self::Garment | Self::Accessory | Self::Home);
        let is_childs = |it| matches!(it, Self::Child | Self::Baby | Self::ChildNightwear);
        match (self, other) {
            (one, same) if one == same => Some(one),
            (childs, general) | (general, childs) if is_childs(childs) && is_general(general) => {
                Some(childs)
            }
            (Self::ChildNightwear, Self::Child | Self::Baby)
            | (Self::Child | Self::Baby, Self::ChildNightwear) => Some(Self::ChildNightwear),
            (Self::Baby, Self::Child) | (Self::Child, Self::Baby) => Some(Self::Baby),
            _ => None,
        }
    }

    /// The words used here.
    pub fn name(self) -> &'static str {
        match self {
            Self::Garment => "garment",
            Self::Accessory => "accessory",
            Self::Socks => "socks",
            Self::Home => "home",
            Self::Dishcloth => "dishcloth",
            Self::HotPad => "hot pad",
            Self::Felted => "felted",
            Self::Toy => "toy",
            Self::Child => "child's garment",
            Self::ChildNightwear => "child's nightwear",
            Self::Baby => "baby",
        }
    }
}

/// A stitch pattern that repeats over `stitches`, with `plus` more at the edge.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub struct Multiple {
    /// Stitches of one repeat, at least 1.
    pub stitches: u32,
    /// Stitches beyond the repeats.
    pub plus: u32,
}

impl Multiple {
    /// Where any count will do.
    pub const ANY: Self = Self {
        stitches: 1,
        plus: 0,
    };

    /// The count nearest to `stitches` of the form n x repeat + plus, n at least
    /// 1; of two equally near ones the larger, also where the last bits of a
    /// quotient hide the tie (1e-9 of a repeat). `None` beyond what can be counted.
    pub fn nearest(self, stitches: f64) -> Option<u32> {
        let repeat = self.stitches.max(1);
        let repeats = ((stitches - f64::from(self.plus)) / f64::from(repeat) + 0.5 + 1e-9).floor();
        whole(repeats.max(1.0))?
            .checked_mul(repeat)?
            .checked_add(self.plus)
    }

    /// Whether `stitches` is n x repeat + plus, n at least 1.
    pub fn fits(self, stitches: u32) -> bool {
        let repeat = self.stitches.max(1);
        stitches
            .checked_sub(self.plus)
            .is_some_and(|rest| rest >= repeat && rest.is_multiple_of(repeat))
    }
}

#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "the range is checked just before"
)]
fn whole(value: f64) -> Option<u32> {
    (0.0..=f64::from(u32::MAX))
        .contains(&value)
        .then_some(value as u32)
}

/// What a pattern states for one size of one yarn.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Need {
    /// A length, or a range of lengths.
    Length(Interval<Length>),
    /// So many skeins of a known length.
    Skeins {
        /// How many; not always whole.
        count: f64,
        /// Length of one.
        skein: Length,
    },
    /// A mass, or a range of masses.
    Mass(Interval<Mass>),
}

/// A need in metres: what it may be, and what to buy for.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct NeedRange {
    /// The least that may do.
    pub at_least: Length,
    /// What to buy for.
    pub buy_for: Length,
}

impl Need {
    /// The need in metres. A length is that length. `n` skeins of `l` lie in
    /// ((ceil(n) - 1) l, n l] and are bought for as n l: the pattern rounded up
    /// to whole skeins. A mass goes through the reference grist: m = g x grist;
    /// `None` where that is unknown.
    pub fn in_metres(&self, reference: Option<Grist>) -> Option<Result<NeedRange, MeasureError>> {
        match *self {
            Self::Length(range) => Some(Ok(NeedRange {
                at_least: range.low(),
                buy_for: range.high(),
            })),
            Self::Skeins { count, skein } => Some(skeins_in_metres(count, skein)),
            Self::Mass(range) => reference.map(|grist| {
                Ok(NeedRange {
                    at_least: range.low().length_at(grist)?,
                    buy_for: range.high().length_at(grist)?,
                })
            }),
        }
    }
}

fn skeins_in_metres(count: f64, skein: Length) -> Result<NeedRange, MeasureError> {
    let fewer = ((count - 1e-9).ceil() - 1.0).max(0.0);
    Ok(NeedRange {
        at_least: Length::metres(fewer * skein.as_metres())?,
        buy_for: Length::metres(count * skein.as_metres())?,
    })
}

/// A run of rows whose stitch count stays or changes evenly.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct RowRange {
    /// How many rows.
    pub rows: u32,
    /// Stitches in the first of them.
    pub first: f64,
    /// Stitches in the last of them.
    pub last: f64,
}

#[cfg(test)]
mod multiple_tests {
    use super::*;
    use proptest::prelude::*;

    /// FlatOrRound example of common practice, no source; recomputed (case C61): 324
    /// stitches in repeats of 20 are 16 repeats and 4 over.
    #[test]
    fn a_count_that_is_no_multiple_goes_to_the_nearest() {
        let repeat = Multiple {
            stitches: 20,
            plus: 0,
        };
        assert!(!repeat.fits(324));
        assert_eq!(repeat.nearest(324.0), Some(320));
    }

    #[test]
    fn one_repeat_is_the_least() {
        let lace = Multiple {
            stitches: 6,
            plus: 3,
        };
        assert_eq!(lace.nearest(0.0), Some(9));
        assert!(!lace.fits(3) && lace.fits(9));
        assert_eq!(lace.nearest(f64::NAN), Some(9));
        assert_eq!(lace.nearest(1e12), None);
    }

    /// 45 x (21 / 18) and 75 x (23 / 30) are 52.5 and 57.5; computed, the quotient
    /// of counts may end a bit below.
    #[test]
    fn an_exact_tie_goes_to_the_larger() {
        for (count, own, pattern, larger) in [(45.0, 21.0, 18.0, 53), (75.0, 23.0, 30.0, 58)] {
            assert_eq!(Multiple::ANY.nearest(count * (own / pattern)), Some(larger));
            let per_metre: f64 = (own / 0.1) / (pattern / 0.1);
            assert_eq!(Multiple::ANY.nearest(count * per_metre), Some(larger));
        }
        assert_eq!(Multiple::ANY.nearest(115.5 - 1e-13), Some(116));
    }

    proptest! {
        #[test]
        fn prop_the_nearest_count_fits_and_none_that_fits_is_nearer(repeat in 1u32..60, plus in 0u32..40, wanted in 1u32..2000) {
            let multiple = Multiple { stitches: repeat, plus };
            let found = multiple.nearest(f64::from(wanted)).unwrap();
            prop_assert!(multiple.fits(found));
            let off = |count: u32| count.abs_diff(wanted);
            let nearer = (1..3000).filter(|count| multiple.fits(*count)).map(off).min();
            prop_assert_eq!(Some(off(found)), nearer);
        }
    }
}

#[cfg(test)]
mod need_tests {
    use super::*;

    fn metres(m: f64) -> Length {
        Length::metres(m).unwrap()
    }

    #[test]
    fn a_count_of_skeins_is_an_interval() {
        let need = Need::Skeins {
            count: 9.0,
            skein: metres(200.0),
        };
        let range = need.in_metres(None).unwrap().unwrap();
        assert_eq!(
            (range.at_least, range.buy_for),
            (metres(1600.0), metres(1800.0))
        );
    }

    #[test]
    fn half_a_skein_may_be_next_to_nothing() {
        let need = Need::Skeins {
            count: 0.5,
            skein: metres(200.0),
        };
        let range = need.in_metres(None).unwrap().unwrap();
        assert_eq!(
            (range.at_least, range.buy_for),
            (metres(0.0), metres(100.0))
        );
    }

    #[test]
    fn a_mass_needs_the_reference_grist() {
        let need = Need::Mass(Interval::one(Mass::grams(300.0).unwrap()));
        assert!(need.in_metres(None).is_none());
        let range = need
            .in_metres(Some(Grist::metres_per_gram(2.0).unwrap()))
            .unwrap()
            .unwrap();
        assert_eq!(range.buy_for, metres(600.0));
    }
}

#[cfg(test)]
mod strand_tests {
    use super::*;

    fn yarn(key: &str, held_with: Option<&str>) -> PatternYarn {
        let name = |text: &str| Name::new("a key", text).unwrap();
        PatternYarn {
            key: name(key),
            called: None,
            reference: YarnFacts::default(),
            strands: 1,
            held_with: held_with.map(name),
            needs: Vec::new(),
        }
    }

    #[test]
    fn a_yarn_is_held_with_one_before_it_that_is_held_with_none() {
        let sound = [yarn("A", None), yarn("B", Some("a")), yarn("C", Some("A"))];
        assert!((0..3).all(|place| held_with_one_before(&sound, place).is_ok()));
        for (yarns, first) in [
            (vec![yarn("A", Some("A"))], None),
            (vec![yarn("A", Some("B")), yarn("B", None)], None),
            (vec![yarn("A", None), yarn("B", Some("D"))], Some("A")),
            (
                vec![yarn("A", None), yarn("B", Some("A")), yarn("C", Some("B"))],
                Some("A"),
            ),
        ] {
            let refused: Vec<_> = (0..yarns.len())
                .filter_map(|place| held_with_one_before(&yarns, place).err())
                .collect();
            let [RecordError::HeldWith { first: named, .. }] = refused.as_slice() else {
                panic!("{refused:?}")
            };
            assert_eq!(named.as_deref(), first);
        }
    }
}
