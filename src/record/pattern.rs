//! A pattern as far as yarn is concerned.

use super::{Care, Multiple, Name, PatternYarn, Printed, Purpose, RecordError, Size, StatedGauge};
use crate::measure::GristTolerance;
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
    match yarn.needs.len() == sizes {
        true => Ok(()),
        false => Err(RecordError::NeedsPerSize {
            key: yarn.key.to_string(),
            given: yarn.needs.len(),
            sizes,
        }),
    }
}
