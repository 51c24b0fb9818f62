//! A project that cannot be made from the stash: why, and what to buy for it.

use super::{KeptProject, YarnOption};
use crate::{
    app::{CandidateAnswer, LeftOutReason},
    measure::{Length, Money},
};
use iso_currency::Currency;

/// A project that cannot be made.
#[derive(Debug, Clone)]
pub struct LeftOutProject {
    /// The pattern.
    pub pattern: String,
    /// The size.
    pub size: String,
    /// The project, where it is a kept one.
    pub kept: Option<KeptProject>,
    /// Whether its pattern has one yarn only.
    pub is_of_one_yarn: bool,
    /// Why.
    pub why: WhyLeftOut,
    /// The least to buy for it.
    pub buy: Option<ShoppingList>,
    /// Why nothing is bought, where a wish keeps from it.
    pub not_bought: Option<NotBought>,
}

/// What keeps from buying for a project.
#[derive(Debug, Clone, PartialEq)]
pub enum NotBought {
    /// Only the stash counts.
    StashOnly,
    /// The least to buy costs more than is to be spent.
    CostsMore {
        /// What it costs.
        least: Money,
        /// What may be spent.
        most: Money,
        /// Whether it is proved that nothing costs less.
        is_least: bool,
    },
    /// Nothing that would work has a price in this currency.
    NoPrice(Currency),
    /// The time was over before anything was found.
    OutOfTime,
}

/// Why a project cannot be made from the stash.
#[derive(Debug, Clone, PartialEq)]
pub enum WhyLeftOut {
    /// The pattern was removed.
    PatternGone,
    /// The pattern has other sizes now.
    SizeGone(Vec<String>),
    /// The pattern has no such role any more, for which a yarn was chosen by hand.
    RoleGone(String),
    /// A yarn that was chosen by hand was removed.
    PinGone(YarnOption),
    /// A yarn that was chosen by hand for this role will not work.
    PinWillNotWork(String, YarnOption),
    /// Nothing is there of a yarn that was chosen by hand for this role.
    PinNotInStash(String, YarnOption),
    /// The stash was not to be counted.
    StashNotCounted,
    /// How much this role takes is not known.
    NeedNotKnown(String),
    /// Nothing in the stash should or could work for this role.
    NothingFor(String),
    /// What in the stash should or could work for this role is not as wished: how many
    /// yarns, by reason.
    NothingAsWished(String, Vec<(LeftOutReason, u64)>),
    /// Of nothing that should or could work is there enough in one shade, or in one lot
    /// or place where that is wished.
    NotEnough {
        /// The role.
        role: String,
        /// The yarn that comes nearest.
        yarn: String,
        /// Its shade.
        shade: String,
        /// What there is of it.
        holds: Length,
        /// What the role takes of it.
        takes: Length,
        /// Whether one lot must be enough.
        is_one_lot: bool,
        /// Where it has to lie, where that is wished.
        place: Option<String>,
        /// Yarns that would work and are not as wished, by reason.
        left_out: Vec<(LeftOutReason, u64)>,
    },
    /// What it would take goes to others, of which more can be made, or which come first;
    /// how many yarns would work and are not as wished, by reason.
    OthersFirst(Vec<(LeftOutReason, u64)>),
}

impl WhyLeftOut {
    /// Whether no stash would help.
    pub fn is_beyond_planning(&self) -> bool {
        matches!(
            self,
            Self::PatternGone | Self::SizeGone(_) | Self::RoleGone(_) | Self::PinGone(_)
        )
    }
}

/// What to buy for one project.
#[derive(Debug, Clone)]
pub struct ShoppingList {
    /// What to buy for each role, or what of the stash it takes.
    pub yarns: Vec<PlannedPurchase>,
    /// What all costs, where all prices are known.
    pub cost: Option<Money>,
    /// What was to be least.
    pub counts: LeastOf,
    /// Whether that is proved for the yarns that were looked at.
    pub is_least: bool,
}

/// What is to be least of what is bought.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum LeastOf {
    /// What it costs.
    Money,
    /// How long it is, where prices are not known.
    Length,
}

/// What to buy for one role.
#[derive(Debug, Clone)]
pub struct PlannedPurchase {
    /// Key of the role.
    pub role: String,
    /// The yarn, and what it comes to for the role.
    pub offered: CandidateAnswer,
    /// The shade, where some of it is there already.
    pub shade: Option<String>,
    /// What the role takes.
    pub takes: Length,
    /// What of it is there already, m.
    pub from_stash: Length,
    /// Skeins to buy; 0 where the stash has enough.
    pub skeins: u32,
    /// What they cost.
    pub cost: Option<Money>,
}

/// What all costs; `None` where a price is not known, or currencies differ.
pub(super) fn total(yarns: &[PlannedPurchase]) -> Option<Money> {
    let bought = yarns.iter().filter(|yarn| yarn.skeins > 0);
    let costs: Vec<Money> = bought.map(|yarn| yarn.cost).collect::<Option<_>>()?;
    let first = *costs.first()?;
    let rest = costs.iter().skip(1);
    rest.copied().try_fold(first, |sum, cost| {
        let amount = sum.amount.checked_add(cost.amount)?;
        (sum.currency == cost.currency).then_some(Money { amount, ..sum })
    })
}
