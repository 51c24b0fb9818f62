//! What to buy where each colour has a yarn of its own: one list over all colours. Of a
//! shade that several colours share the needs add up before whole skeins are counted.

use super::RoleAnswer;
use crate::{
    app::{
        AppError,
        question::{
            amounts::SizePurchase,
            answer::CandidateAnswer,
            candidate::Candidate,
            cover::{SizeCover, with_margin},
        },
    },
    measure::{Length, Money, Ratio},
    quantity::{Purchase, cost, purchase},
    record::{NeedRange, Printed},
    trade::Colour,
};

/// What to buy of one shade for one size.
#[derive(Debug, Clone)]
pub struct ShoppingLine {
    /// The size.
    pub size: String,
    /// The yarn.
    pub yarn: String,
    /// What one of it is called.
    pub counter: &'static str,
    /// The shade, where one is meant or some of it is there.
    pub shade: Option<String>,
    /// Its colour.
    pub colour: Option<Printed<Colour>>,
    /// Keys of the roles that it is for.
    pub roles: Vec<String>,
    /// What those need, strand metres, nothing spare.
    pub need: Length,
    /// Skeins for all of that, where none were there.
    pub skeins: u32,
    /// Skeins that the stash lacks.
    pub buy: u32,
    /// What those cost, where the price is known.
    pub cost: Option<Money>,
}

/// What several roles take of one shade in one size.
struct Group<'a> {
    candidate: &'a Candidate,
    shade: Option<&'a str>,
    roles: Vec<&'a str>,
    /// Of the first role: all have the same size, skein and margin.
    bought: &'a SizePurchase,
    need_m: f64,
    lacks_m: f64,
}

/// The list, size by size, in the order of roles.
pub(super) fn shopping(roles: &[RoleAnswer]) -> Result<Vec<ShoppingLine>, AppError> {
    let mut groups: Vec<Group<'_>> = Vec::new();
    for role in roles {
        for yarn in role.offered.each_yarn() {
            for bought in &yarn.skeins {
                let found = Group::of(role.key_of(yarn), yarn, bought)?;
                match groups.iter_mut().find(|known| known.is_same(&found)) {
                    Some(known) => known.add(&found),
                    None => groups.push(found),
                }
            }
        }
    }
    let sizes = sizes_of(roles);
    let place = |size: &str| sizes.iter().position(|bought| bought.size == size);
    groups.sort_by_key(|group| place(&group.bought.size));
    groups.iter().map(Group::line).collect()
}

/// The sizes in their order.
fn sizes_of(roles: &[RoleAnswer]) -> &[SizePurchase] {
    let yarns = roles.iter().flat_map(|role| role.offered.each_yarn());
    let counted = yarns.map(|yarn| yarn.skeins.as_slice());
    counted.max_by_key(|skeins| skeins.len()).unwrap_or(&[])
}

impl<'a> Group<'a> {
    fn of(
        key: &'a str,
        yarn: &'a CandidateAnswer,
        bought: &'a SizePurchase,
    ) -> Result<Self, AppError> {
        let candidate = &yarn.candidate;
        let cover = yarn.cover.iter().find(|cover| cover.size == bought.size);
        let there = cover.filter(|cover| !cover.cover.lots.is_empty());
        let there = there.map(|cover| cover.cover.shade.as_str());
        Ok(Self {
            candidate,
            shade: candidate.shade.as_deref().or(there),
            roles: vec![key],
            bought,
            need_m: bought.purchase.need.buy_for.as_metres(),
            lacks_m: lacks_m(bought, cover)?,
        })
    }

    /// Whether it is the same shade: two roles without one are of two colours.
    fn is_same(&self, other: &Self) -> bool {
        let is_shade = match self.shade {
            Some(_) => self.shade == other.shade,
            None => other.shade.is_none() && self.roles == other.roles,
        };
        is_shade
            && self.bought.size == other.bought.size
            && self.candidate.title == other.candidate.title
    }

    fn add(&mut self, other: &Self) {
        self.roles.extend(&other.roles);
        self.roles.dedup();
        self.need_m += other.need_m;
        self.lacks_m += other.lacks_m;
    }

    fn colour(&self) -> Option<Printed<Colour>> {
        let mut lots = self.candidate.lots.iter().map(|held| &held.lot);
        let found = lots.find(|lot| Some(lot.shade.as_str()) == self.shade && lot.colour.is_some());
        found.and_then(|lot| lot.colour.clone())
    }

    fn line(&self) -> Result<ShoppingLine, AppError> {
        let facts = &self.candidate.facts;
        let Purchase { skein, margin, .. } = self.bought.purchase;
        let need = Length::metres(self.need_m)?;
        let lacks = exactly(Length::metres(self.lacks_m)?);
        let buy = purchase(lacks, skein, Ratio::whole_percent(0))?.skeins;
        let price = self.candidate.price();
        let (length, mass) = (facts.skein_length(), facts.skein_mass());
        Ok(ShoppingLine {
            size: self.bought.size.clone(),
            yarn: self.candidate.title.clone(),
            counter: facts.counter(),
            shade: self.shade.map(str::to_owned),
            colour: self.colour(),
            roles: self.roles.iter().map(|key| (*key).to_owned()).collect(),
            need,
            skeins: purchase(exactly(need), skein, margin)?.skeins,
            buy,
            cost: price.and_then(|price| cost(price, buy, length, mass)),
        })
    }
}

fn exactly(metres: Length) -> NeedRange {
    NeedRange {
        at_least: metres,
        buy_for: metres,
    }
}

/// What the stash lacks for one role with its margin, m: all of it where there is none.
fn lacks_m(bought: &SizePurchase, cover: Option<&SizeCover>) -> Result<f64, AppError> {
    Ok(match cover {
        Some(cover) => cover.cover.missing_m.unwrap_or(0.0),
        None => with_margin(&bought.purchase)?.as_metres(),
    })
}
