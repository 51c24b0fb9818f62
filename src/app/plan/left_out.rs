//! A project that cannot be made from the stash: why, and what to buy for it.

use super::{KeptProject, ShoppingList, YarnOption};
use crate::{
    app::LeftOutReason,
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
    /// Why.
    pub why: WhyLeftOut,
    /// The least to buy for it.
    pub buy: Option<ShoppingList>,
    /// Why nothing is bought, where a wish keeps from it.
    pub not_bought: Option<NotBought>,
}

/// The wish that keeps from buying for a project.
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
