//! The chance of running out, where it is asked for.

use super::{ChanceRequest, amounts::SizePurchase};
use crate::{
    app::{FaultKind, InputReader, QuestionFault, input::filled},
    label::cells,
    measure::{Mass, Ratio},
    quantity::{UncertainNeed, label_spread, use_spread},
    record::YarnFacts,
    trade::tolerable_shortfall,
};

/// How sure someone wants to be, and how much their own use varies.
#[derive(Debug, Clone, Copy)]
pub(in crate::app) struct Confidence {
    sure: Ratio,
    own_use: Option<Ratio>,
}

/// Skeins that are sure enough for one size.
#[derive(Debug, Clone)]
pub struct SizeChance {
    /// The size.
    pub size: String,
    /// How sure was asked for.
    pub sure: Ratio,
    /// The fewest skeins that are so sure.
    pub skeins: u32,
    /// Chance of running out with them, from 0 to 1.
    pub chance: f64,
    /// Counts about them, and the chance with each.
    pub about: Vec<(u32, f64)>,
}

/// What was counted as uncertain.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ChanceBasis {
    /// How far a skein may fall short of its label.
    pub label: LabelBasis,
    /// How far the own use lies from stated needs 95 times in 100, where told.
    pub own_use: Option<Ratio>,
    /// Whether a need is known as a range only.
    pub is_range: bool,
}

/// What a skein may fall short of its label.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum LabelBasis {
    /// So much of a skein of this mass.
    Skein {
        /// Mass of a skein.
        mass: Mass,
        /// What it may fall short.
        short: Mass,
    },
    /// No mass is known, or no tolerance is published for it.
    NotCounted,
    /// Of several yarns, whose skeins differ.
    EachYarn,
}

/// More skeins than this are not counted up to.
const MOST: u32 = 100_000;

impl Confidence {
    /// From what was typed; `None` where it was not asked for.
    pub(in crate::app) fn read(reader: &mut InputReader, request: &ChanceRequest) -> Option<Self> {
        let sure = reader.optional("sure", request.sure.as_deref(), cells::percent);
        let own_use = reader.optional("own-use", request.own_use.as_deref(), cells::percent);
        if filled(request.sure.as_deref()).is_none() && filled(request.own_use.as_deref()).is_some()
        {
            reader.fault("own-use", FaultKind::OnlyWith("sure"));
        }
        if own_use.is_some_and(|share| share.as_fraction() > 0.5) {
            reader.fault("own-use", QuestionFault::OwnUseTooFar);
        }
        let sure = sure?;
        if !(0.5..1.0).contains(&sure.as_fraction()) {
            reader.fault("sure", QuestionFault::NotSure(sure.as_percent()));
        }
        Some(Self { sure, own_use })
    }

    /// The skeins that are sure enough for each size, and the chances about them.
    /// The margin does not count: what it is for is counted instead.
    pub(in crate::app) fn chances(
        &self,
        purchases: &[SizePurchase],
        facts: &YarnFacts,
    ) -> Vec<SizeChance> {
        let chance = |bought: &SizePurchase| self.chance(bought, facts);
        purchases.iter().filter_map(chance).collect()
    }

    /// The same for one size.
    pub(in crate::app) fn chance(
        &self,
        bought: &SizePurchase,
        facts: &YarnFacts,
    ) -> Option<SizeChance> {
        let uncertain = UncertainNeed {
            need: bought.purchase.need,
            skein: bought.purchase.skein,
            skein_spread: facts.skein_mass().and_then(label_spread).unwrap_or(0.0),
            use_spread: self.own_use.map_or(0.0, use_spread),
        };
        let (skeins, chance) = uncertain.skeins_for(self.sure, MOST)?;
        let about = skeins.saturating_sub(2).max(1)..=skeins.saturating_add(1);
        Some(SizeChance {
            size: bought.size.clone(),
            sure: self.sure,
            skeins,
            chance,
            about: about.map(|n| (n, uncertain.chance(n))).collect(),
        })
    }

    /// What was counted as uncertain of one yarn.
    pub(in crate::app) fn basis(&self, facts: &YarnFacts, is_range: bool) -> ChanceBasis {
        let mass = facts.skein_mass();
        let label = mass.and_then(|mass| {
            let short = tolerable_shortfall(mass)?;
            Some(LabelBasis::Skein { mass, short })
        });
        ChanceBasis {
            label: label.unwrap_or(LabelBasis::NotCounted),
            own_use: self.own_use,
            is_range,
        }
    }

    /// The same of several yarns at once.
    pub(in crate::app) fn basis_of_all(&self, is_range: bool) -> ChanceBasis {
        ChanceBasis {
            label: LabelBasis::EachYarn,
            own_use: self.own_use,
            is_range,
        }
    }
}
