//! A pattern as far as yarn is concerned: its sizes, its yarn roles, what it is for.

use super::{Care, Multiple, Name, Need, Printed, RecordError, StatedGauge, YarnFacts};
use crate::measure::{GristTolerance, Length};
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
        Ok(self)
    }
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
    /// One need a size.
    pub needs: Vec<Printed<Need>>,
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
