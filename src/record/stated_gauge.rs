//! A gauge with what was stated about it.

use crate::measure::Gauge;

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
